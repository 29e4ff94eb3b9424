"""What a panel check says, in sentences: what is most likely, how much, what to do, and what the readings cannot tell."""

import numpy as np

from sizing.foundation.aligned_numbers import with_range
from sizing.foundation.formats import figures, percent, quantity
from sizing.measured.day.stage_residuals import CELL_READING
from sizing.measured.panel_check.diagnosis import Diagnosis, Explanation
from sizing.measured.panel_check.faults import SIZE, SUN, WARMTH
from sizing.measured.panel_check.shapes import Labelled

SURE, LIKELY = 0.95, 0.7
"""[1] From these likelihoods on an explanation is told as the one, or as the most likely."""
FRACTIONS = {2: "Half of", 3: "A third of", 4: "A quarter of", 6: "A sixth of"}
FAR_OFF = 3.0
"""[1] Where even the best misses by more than this, over what the meters allow, nothing is called likely."""
TOUCH_VOLTS, METER_AMPERES = 30.0, 10.0
"""[V, A] Above these a panel is no school experiment (common practice, no source)."""

NAMES = {
    "clean": "the panel as its label says",
    "dirt_or_haze": "less light: dirt on the glass, haze, or a panel that gives less than its label",
    "brighter": "more light than a usual clear sky brings, or a panel that gives more than its label",
    "hotter": "cells warmer than computed",
    "cooler": "cells cooler than computed",
    "shaded_group": "a part of the cells in the shade, led round by a bypass diode",
    "shaded_cell": "a cell or a row of cells in the shade, without a bypass diode",
    "resistance": "resistance in leads and joints",
    "string_off": "one of the panels side by side that gives nothing",
    "panel_off": "one of the panels in series that gives nothing",
}
ADVICE = {
    "clean": "Nothing needs to be done.",
    "dirt_or_haze": (
        "Wash the glass with plain water and measure again within the hour: what comes back was dirt; what stays is haze, or "
        "the panel. On a clearer day haze goes away."
    ),
    "brighter": "Check day, hour, tilt and direction; if they are right, be glad of it.",
    "hotter": "Let air pass behind the panel, and measure again when wind blows; cells in still air on a wall run warmer.",
    "cooler": "Wind, or a panel that was just carried out, keeps cells cool; leave it in the sun half an hour, measure again.",
    "shaded_group": "Look for a leaf, a branch’s shadow, a pole or dirt along one edge, take it away, and measure again.",
    "shaded_cell": "Look for a leaf, bird droppings or a thin shadow across a few cells, take it away, and measure again.",
    "resistance": "Look at plugs, clamps and screws: clean and tighten them, use short leads, and measure again.",
    "string_off": "Take the panels apart and measure each alone: one has a loose plug or is in the shade.",
    "panel_off": "Take the panels apart and measure each alone: one is bridged, broken or covered.",
}
NOTHING = "Nothing can be held against the label here: no reading is open, short or loaded with the sun up and no cloud."
LIGHT = ("dirt_or_haze", "brighter")
"""Explanations by the light alone."""
HIDDEN = {
    "shaded_group": "half the light lost on half of the cells",
    "shaded_cell": "a fifth of the light lost on one cell",
    "resistance": "a joint that takes a tenth of the power under a clear sky",
}


def less(share: float, uncertainty: float) -> str:
    """How much less or more than whole, with its likely range.

    Examples
    --------
    >>> less(0.94, 0.012).replace("\\xa0", " "), less(1.08, 0.01).replace("\\xa0", " ")
    ('6.0 ± 1.2 % less', '8.0 ± 1.0 % more')
    """
    return f"{with_range(100 * abs(share - 1), 100 * uncertainty, '%')} {'less' if share < 1 else 'more'}"


def explanation_sentence(one: Explanation, label: Labelled, widening: float) -> str:
    """What one explanation comes to, as a sentence."""
    numbers, spread = one.fit.numbers, one.fit.uncertainty * widening
    size, doubt = float(numbers[SIZE]), float(spread[SIZE])
    of_light = with_range(100 * size, 100 * doubt, "%")
    said = {
        "clean": "The panel does as its label says.",
        "dirt_or_haze": f"The light in the cells is {less(float(numbers[SUN]), float(spread[SUN]))} than a clear sky’s.",
        "brighter": f"The light in the cells is {less(float(numbers[SUN]), float(spread[SUN]))} than a clear sky’s.",
        "hotter": f"The cells would be {warmth_words(numbers, spread)} warmer than computed.",
        "cooler": f"The cells would be {warmth_words(numbers, spread)} cooler than computed.",
        "shaded_group": (
            f"{part(one.fit.suspect.parts)} the cells would have {of_light} of the light of the others; where more current flows "
            "a bypass diode leads round them."
        ),
        "shaded_cell": f"A cell or a row of cells would have {of_light} of the light of the others.",
        "resistance": f"Leads and joints would add {with_range(size, doubt, 'Ohm')}.",
        "string_off": f"One of {label.in_parallel} panels or strings side by side would give nothing.",
        "panel_off": f"One of {label.in_series} panels in series would give nothing.",
    }[one.key]
    if one.freed_sun and one.key not in LIGHT:
        said += f" With it the light would be {less(float(numbers[SUN]), float(spread[SUN]))} than a clear sky’s."
    if one.key in LIGHT and WARMTH in one.fit.suspect.free:
        side = "warmer" if numbers[WARMTH] > 0 else "cooler"
        said += f" Besides, the cells would be {warmth_words(numbers, spread)} {side} than computed."
    if one.key != "clean" and one.power < 0.995:
        said += f" That takes {percent(1 - one.power)} of the most power that a clear sky would give."
    return said


def warmth_words(numbers: np.ndarray, spread: np.ndarray) -> str:
    """By how much the cells are off."""
    return with_range(abs(float(numbers[WARMTH])), float(spread[WARMTH]), "K")


def part(parts: int) -> str:
    """One of equal parts, in words that begin a sentence.

    Examples
    --------
    >>> part(2), part(8)
    ('Half of', 'One of 8 equal parts of')
    """
    return FRACTIONS.get(parts, f"One of {parts} equal parts of")


def diagnosis_sentences(found: Diagnosis, label: Labelled) -> tuple[str, ...]:
    """The likeliest explanation, its rivals, what to do, and what the readings could not show."""
    best = found.best
    said = [verdict(found, label)]
    if best.key != "clean" and found.widening <= FAR_OFF:
        advice = [ADVICE[best.key]]
        if best.freed_sun and best.key not in LIGHT and best.fit.numbers[SUN] < 1:
            advice.insert(0 if light_costs_more(best) else 1, ADVICE["dirt_or_haze"])
        said += advice
        said += rivals_said(found)
    if best.key == "dirt_or_haze" and found.widening <= FAR_OFF:
        said.append("No reading at the panel can tell dirt from haze, or from a panel that gives less than its label.")
    if 1.5 < found.widening <= FAR_OFF:
        said.append(
            f"Even so the readings miss that curve by {figures(found.widening, 2)} times what the meters allow: a passing cloud, "
            "a loose clip or a slip of the pen; measure once more before anything is bought."
        )
    if found.hidden:
        *first, last = [HIDDEN[key] for key in found.hidden]
        unseen = f"{', '.join(first)} or {last}" if first else last
        said.append(
            f"These readings could not have shown {unseen}; readings with a load near the panel’s best volts, and a little "
            "above, would."
        )
    return tuple(said)


def verdict(found: Diagnosis, label: Labelled) -> str:
    """What the readings say first of all."""
    best, words = found.best, explanation_sentence(found.best, label, found.widening)
    if found.widening > FAR_OFF:
        return (
            f"Nothing explains these readings: even what comes nearest, {NAMES[best.key]}, misses them by "
            f"{figures(found.widening, 2)} times what the meters allow. Check day, hour and direction; a passing cloud, a loose "
            "clip or a slip of the pen does it too; measure once more."
        )
    if best.key == "clean":
        sun, spread = float(best.fit.numbers[SUN]), float(best.fit.uncertainty[SUN]) * found.widening
        text = "The readings agree with the panel’s label as well as meters and a clear sky allow."
        if abs(sun - 1) > max(spread, 0.01):
            text += (
                f" They fit best with {less(sun, spread)} light than a usual clear sky brings; no clear sky is known "
                f"better than that, so {'a little dirt or haze' if sun < 1 else 'clean air'} may be in it or not."
            )
        return text
    named = NAMES[best.key]
    if light_costs_more(best):
        named = f"{NAMES['dirt_or_haze']}; and besides to {named}"
    if best.likelihood is not None and best.likelihood >= SURE:
        return f"The readings point clearly to {named}. {words}"
    if best.likelihood is None or best.likelihood >= LIKELY:
        return f"Most of all the readings point to {named}. {words}"
    nearest = max((each.likelihood or 0.0) for each in found.ranked) == (best.likelihood or 0.0)
    return (
        f"The readings cannot tell for sure; {'nearest they come' if nearest else 'most plainly they point'} to {named}. {words}"
    )


def light_costs_more(one: Explanation) -> bool:
    """Whether less light takes more of the power than the fault that was found with it: power is light times fault."""
    return one.key not in LIGHT and one.freed_sun and float(one.fit.numbers[SUN]) ** 2 < one.power


def rivals_said(found: Diagnosis) -> list[str]:
    """Other explanations that fit as well, or nearly."""
    if not found.rivals:
        return []
    named = "; or ".join(NAMES[each.key] for each in found.rivals)
    best = found.best.likelihood or 0.0
    nearly = "just as well" if (found.rivals[0].likelihood or 0.0) > 0.8 * best else "nearly as well"
    return [f"Fitting {nearly}: {named}."]


def sun_sentence(share: float, uncertainty: float, told: float, clear_share: float) -> str:
    """What the short circuit tells of the sun: its share of a clear sky's, how sure, and in the cells [W/m2]."""
    near = abs(share - 1) <= 2 * share * float(np.hypot(uncertainty / share, clear_share))
    judged = (
        "so this alone is no sign of anything"
        if near
        else f"so something {'takes' if share < 1 else 'adds'} light, day, hour or direction are off, or it is another panel"
    )
    of_clear = with_range(100 * share, 100 * uncertainty, "%")
    tells = f"The short circuit tells {quantity(told, 'W/m2')} in the cells, {of_clear} of what a clear sky usually brings"
    return f"{tells}; clear skies differ by {percent(clear_share)}, {judged}."


def shape_sentence(compared: int, beyond: int) -> str:
    """How the rest of the curve lies at the sun that the short circuit tells."""
    if beyond == 0:
        return f"At that sun {'the other reading lies' if compared == 1 else f'all {compared} others lie'} on the label’s curve."
    return (
        f"At that sun {beyond} of {compared} others {'lies' if beyond == 1 else 'lie'} off the label’s curve by more than two "
        "uncertainties: its shape has changed, which dirt or haze alone does not do."
    )


def cloud_sentence(compared: int, beyond: int) -> str:
    """How readings under clouds lie at the sun of the short circuit nearest in time: all that can be asked of them."""
    if beyond == 0:
        lie = "the reading lies" if compared == 1 else f"all {compared} readings lie"
        return f"Under clouds only the shape counts: at the sun of the nearest short circuit {lie} on the label’s curve."
    return (
        f"Under clouds only the shape counts: at the sun of the nearest short circuit {beyond} of {compared} "
        f"{'reading' if compared == 1 else 'readings'} {'lies' if beyond == 1 else 'lie'} off the label’s curve. Light under "
        "clouds changes within seconds, so this is no sign of a fault; on a clear day measure again."
    )


def cold_sentence(row: int, measured: float, label: Labelled, cells: float, times: float) -> str:
    """Open-circuit volts above the label's, explained by the cold."""
    begins = f"Row {row}: {quantity(measured, 'V')} is above the label’s {quantity(label.voc, 'V')}"
    if abs(times) <= 2:
        return f"{begins}, and right: the cells are at {quantity(cells, 'Cel', 2)}, and cold cells have more volts."
    return (
        f"{begins}; cells at {quantity(cells, 'Cel', 2)} alone do not explain it (they are known to {figures(CELL_READING)} K); "
        "check the meter’s range, and how many panels are in series."
    )


def safety_sentence(voc: float, isc: float) -> str:
    """Whether this panel may be joined through a meter by pupils.

    Parameters
    ----------
    voc, isc : of the whole array by its label [V, A]
    """
    if voc > TOUCH_VOLTS or isc > METER_AMPERES:
        return (
            f"This array has {quantity(voc, 'V')} open and {quantity(isc, 'A')} short by its label: above "
            f"{figures(TOUCH_VOLTS)} V or {figures(METER_AMPERES)} A leave measuring to a licensed person; parting leads in the "
            "sun can draw an arc. Never join the leads of a battery. Local code decides."
        )
    return (
        f"Joining the leads of a small panel ({quantity(voc, 'V')}, {quantity(isc, 'A')}) through a meter’s 10 A range is "
        "usual and does the panel no harm: cover it with a cloth while you clip on and off, and do it for seconds. Never do so "
        "with a battery, nor with larger arrays. Local code and licensed people decide."
    )
