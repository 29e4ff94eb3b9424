"""Which stage is in doubt, and why it may be: what a class can look at, in the order of what is likely and easy."""

from collections.abc import Sequence

from sizing.stage_doubts import DOUBT, STAGES, Doubt
from sizing.words import figures, percent, quantity

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
        "a pump that runs partly dry or draws air, or a motor’s no-load current taken too large; see that the strainer stays "
        "under water, and bench-test the pump",
        "a stiff or clogged wheel, grit in the bearing, or a winding taken too weak; take the pump apart as its maker allows, "
        "clean it, and bench-test it",
    ),
    "pump": (
        "a clogged strainer or nozzle, a kink, air in the pipe, a narrower or longer pipe or more lift than the design says, "
        "or a pump below its curve; clean and straighten first, then bench-test the pump",
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


def stage_sentence(doubt: Doubt) -> str:
    """One stage in a sentence.

    Examples
    --------
    >>> import numpy as np
    >>> from sizing.stage_doubts import judged
    >>> found = judged("panel", np.array([3, 4]), np.array([0.80, 0.82]), 1.0, 0.05, np.array([0.02, 0.02]))
    >>> stage_sentence(found)[:78].replace("\N{NO-BREAK SPACE}", " ")
    'Light and panel: 19 % less than computed, give or take 5.2 %, from 2 readings;'
    """
    name = NAMES[doubt.stage][0].upper() + NAMES[doubt.stage][1:]
    if doubt.ratio is None:
        return f"{name}: nothing was read that tells."
    count = "1 reading" if doubt.count == 1 else f"{doubt.count} readings"
    if doubt.stage == "sun":
        side = "higher" if doubt.ratio > 0 else "lower"
        size = (
            f"{quantity(abs(doubt.ratio), 'deg', 2)} {side} than computed, give or take {quantity(doubt.uncertainty, 'deg', 2)}"
        )
    else:
        side = "more" if doubt.ratio > 1 else "less"
        size = f"{percent(abs(doubt.ratio - 1))} {side} than computed, give or take {percent(doubt.uncertainty)}"
    away = f"{figures(abs(doubt.off), 2)} standard uncertainties away"
    judged = "in doubt" if doubt.doubtful else "as it should be"
    return f"{name}: {size}, from {count}; {away}, so {judged}."


def likely_stage(found: Sequence[Doubt]) -> Doubt | None:
    """The stage that lies farthest off; ``None`` where none is in doubt."""
    doubtful = [doubt for doubt in found if doubt.doubtful]
    return max(doubtful, key=lambda doubt: abs(doubt.off)) if doubtful else None


def verdict_sentence(found: Sequence[Doubt]) -> str:
    """Which stage is off most likely, and why it may be; or that all agree."""
    worst = likely_stage(found)
    read = [doubt for doubt in found if doubt.ratio is not None]
    if worst is None:
        lacking = [NAMES[stage] for stage in STAGES if stage not in [doubt.stage for doubt in read]]
        open_ = f" Nothing was read about {'; '.join(lacking)}." if lacking and read else ""
        if not read:
            return "No reading tells anything of a stage by itself: read volts and amperes at the panel at the same moment."
        return f"Every stage that was read does what was computed, within {DOUBT:g} standard uncertainties.{open_}"
    wanted = 0.0 if worst.stage == "sun" else 1.0
    why = WHY[worst.stage][1 if (worst.ratio or 0.0) > wanted else 0]
    others = [NAMES[doubt.stage] for doubt in read if doubt.doubtful and doubt is not worst]
    also = f" Also in doubt: {'; '.join(others)}." if others else ""
    return f"Most likely off is {NAMES[worst.stage]}. Look for {why}.{also}"
