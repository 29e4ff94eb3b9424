"""Which stage is in doubt, and why it may be: what a class can look at, in the order of what is likely and easy."""

from collections.abc import Sequence

from sizing.foundation.aligned_numbers import give_or_take, one_decimal
from sizing.foundation.formats import percent
from sizing.foundation.working import Worked, by_method
from sizing.measured.day.stage_residuals import DOUBT, StageResidual
from sizing.measured.logs.instruments import chance_of_any

NAMES = {
    "sun": "the height of the sun",
    "panel": "light and panel",
    "motor": "the motor’s current at its volts",
    "pump": "pump and pipe: the flow at the volts",
    "outlet": "the outlet: the jet at its flow",
}
"""What each stage is called in a sentence."""
WHY = {
    "sun": 2
    * (
        "the instrument’s zero or its plumb line, a stick that leans, a clock that is off (an hour is summer time), or another "
        "day or place than the design’s",
    ),
    "panel": (
        "dirt on the glass, thin haze, a leaf’s or a wire’s shadow, a panel that does not stand as the design says, or one "
        "weaker than its label; wash it, look for shadows, check tilt and direction, and measure again on another clear day",
        "air cleaner than usual in that month, bright clouds beside the sun, a panel stronger than its label or better turned "
        "to the sun than the design says; check tilt and direction, and measure again on another clear day",
    ),
    "motor": (
        "a pump that runs partly dry or draws air, or volts that are lost in a long or thin cable or a loose clamp; see that the "
        "strainer stays under water, measure the volts at the pump too, and bench-test the pump",
        "a stiff or clogged wheel, grit in the bearing, or a winding taken too weak; take the pump apart as its maker allows, "
        "clean it, and bench-test it",
    ),
    "pump": (
        "a clogged strainer or nozzle, a kink, air in the pipe, a narrower or longer pipe or more lift than the design says, "
        "or a pump below its curve; clean and straighten first, measure the volts at the pump too, then bench-test it",
        "less lift, a wider pipe or nozzle than the design says, a bucket that holds less than its mark, or a pump above its "
        "curve; measure lift and bore, and weigh the bucket’s water",
    ),
    "outlet": (
        "a jet that breaks up or leans in the wind, a rough or crooked nozzle, a bore wider than the design says, or a flow read "
        "too large; measure on a still morning and measure the bore",
        "a bore narrower than the design says, a flow read too small, or a stick whose zero is not at the nozzle",
    ),
}  # fmt: skip
"""What makes a stage give less, and more, than was computed (common practice, no source)."""
WHY_DRIFT = {
    "sun": 2 * ("a clock that is off (an hour is summer time), or another place than the design’s",),
    "panel": (
        "a panel that faces further east than the design says, a shadow in the afternoon, haze that came up, or a clock that is "
        "off; check the direction, look for shadows, and measure again on another clear day",
        "a panel that faces further west than the design says, a shadow in the morning, haze that went away, or a clock that is "
        "off; check the direction, look for shadows, and measure again on another clear day",
    ),
}
"""What makes a stage give less, and more, the later it is (common practice, no source)."""
RARE = 0.05
"""[1] What chance alone makes more often than this is told as "perhaps" (usual practice)."""
WHOLE = {"voltage": "the volts", "current": "the amperes", "flow": "the flow", "jet": "the jet"}
FIRST = ("flow", "jet", "current", "voltage")
"""In which order whole quantities are told: what a fountain is for comes first."""


def stage_sentence(residual: StageResidual) -> str:
    """One stage in a sentence.

    Examples
    --------
    >>> import numpy as np
    >>> from sizing.measured.day.stage_residuals import judged
    >>> found = judged("panel", np.array([3, 4]), np.array([0.80, 0.82]), 1.0, 0.05, np.array([0.02, 0.02]))
    >>> stage_sentence(found)[:79].replace("\N{NO-BREAK SPACE}", " ")
    'Light and panel: 19.0 % less than computed, give or take 5.2 %, from 2 readings'
    """
    name = NAMES[residual.stage][0].upper() + NAMES[residual.stage][1:]
    if residual.ratio is None:
        return f"{name}: nothing was read that tells."
    count = "1 reading" if residual.count == 1 else f"{residual.count} readings"
    if residual.stage == "sun":
        side = "higher" if residual.ratio > 0 else "lower"
        size = give_or_take(abs(residual.ratio), residual.uncertainty, f"{side} than computed", "deg")
    else:
        side = "more" if residual.ratio > 1 else "less"
        size = give_or_take(100 * abs(residual.ratio - 1), 100 * residual.uncertainty, f"{side} than computed")
    away = f"{one_decimal(abs(residual.off))} standard uncertainties away"
    judged = "in doubt" if residual.doubtful else "as it should be"
    if not residual.drifts:
        return f"{name}: {size}, from {count}; {away}, so {judged}."
    return f"{name}: {size}, from {count}, and {drift_words(residual)}, so {judged}."


def drift_words(residual: StageResidual) -> str:
    """How a stage changes through the day."""
    drift, spread = residual.drift or 0.0, residual.drift_uncertainty
    share, code = (1, "deg") if residual.stage == "sun" else (100, "%")
    size = give_or_take(share * abs(drift), share * spread, "an hour", code)
    return f"{'rising' if drift > 0 else 'falling'} by {size}, {one_decimal(abs(residual.drift_off))} standard uncertainties"


def comparisons(found: Sequence[StageResidual]) -> int:
    """How many comparisons the stages made: each that was read, and each drift."""
    return sum((residual.ratio is not None) + (residual.drift is not None) for residual in found)


def by_chance(found: Sequence[StageResidual]) -> Worked | None:
    """How often chance alone makes one comparison lie as far off as the farthest does; ``None`` where none is in residual."""
    worst = likely_stage(found)
    if worst is None:
        return None
    count = comparisons(found)
    told = "By the normal distribution: one less the chance that all comparisons lie nearer than that."
    return by_method(
        "by_chance",
        chance_of_any(worst.distance, count),
        "1",
        "jcgm_100",
        told,
        distance=Worked("distance", worst.distance, "1", "computed", "jcgm_100", "", "The farthest of them, without its sign."),
        comparisons=Worked("comparisons", count, "1", "measured"),
    )


def likely_stage(found: Sequence[StageResidual]) -> StageResidual | None:
    """The stage that lies farthest off; ``None`` where none is in residual."""
    doubtful = [residual for residual in found if residual.doubtful]
    return max(doubtful, key=lambda residual: residual.distance) if doubtful else None


def verdict_sentence(found: Sequence[StageResidual], wholes: Sequence[StageResidual]) -> str:
    """Which stage is off most likely, and why it may be; or that all agree.

    Parameters
    ----------
    found : the stages; wholes : volts, amperes, flow and jet against the prediction, all stages together
    """
    worst = likely_stage(found)
    read = [residual for residual in found if residual.ratio is not None]
    if worst is None:
        return agreement(found, wholes)
    wanted = 0.0 if worst.stage == "sun" else 1.0
    why = WHY[worst.stage][1 if (worst.ratio or 0.0) > wanted else 0]
    if worst.drifts:
        why = WHY_DRIFT[worst.stage][1 if (worst.drift or 0.0) > 0 else 0]
    others = [NAMES[residual.stage] for residual in read if residual.doubtful and residual is not worst]
    also = f" Also in doubt: {'; '.join(others)}." if others else ""
    chance = by_chance(found)
    if chance is not None and chance.value > RARE:
        return (
            f"Perhaps {NAMES[worst.stage]} is off; but of {comparisons(found)} comparisons one lies so far away by chance alone "
            f"{percent(float(chance.value))} of the time, so measure again first. Then look for {why}.{also}"
        )
    return f"Most likely off is {NAMES[worst.stage]}. Look for {why}.{also}"


def agreement(found: Sequence[StageResidual], wholes: Sequence[StageResidual]) -> str:
    """Where no stage by itself is in doubt: that all agree, or that all together do not."""
    read = [residual for residual in found if residual.ratio is not None]
    off = next((whole for name in FIRST for whole in wholes if whole.stage == name and whole.doubtful), None)
    on_path = [residual for residual in read if residual.stage in ("panel", "motor", "pump")]
    both = "read volts and amperes at the panel at the same moment"
    if off is not None:
        side = "more" if (off.ratio or 0.0) > 1 else "less"
        come = "come" if off.stage in ("voltage", "current") else "comes"
        text = (
            f"{WHOLE[off.stage][0].upper()}{WHOLE[off.stage][1:]} {come} to "
            f"{give_or_take(100 * abs((off.ratio or 0.0) - 1), 100 * off.uncertainty, f'{side} than predicted')}"
        )
        if not on_path:
            return f"{text}; which stage it is cannot be told from that alone: {both}."
        most = max(on_path, key=lambda residual: residual.distance)
        return f"{text}, though no stage is far off by itself; farthest is {NAMES[most.stage]}, so look there first."
    if not on_path:
        told = next((whole for name in FIRST for whole in wholes if whole.stage == name and whole.ratio is not None), None)
        if told is None:
            return f"No reading tells anything of a stage by itself: {both}."
        is_are = "are" if told.stage in ("voltage", "current") else "is"
        return (
            f"{WHOLE[told.stage][0].upper()}{WHOLE[told.stage][1:]} {is_are} as predicted to {percent(told.uncertainty)}, one "
            f"standard uncertainty; what each stage does by itself cannot be told from that alone: {both}."
        )
    lacking = [NAMES[residual.stage] for residual in found if residual.ratio is None]
    open_ = f" Nothing was read about {'; '.join(lacking)}." if lacking else ""
    return f"Every stage that was read does what was computed, within {DOUBT:g} standard uncertainties.{open_}"
