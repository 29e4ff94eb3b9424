"""Which notes of SAFETY.md apply to a design, in the order of that page, and the number of the design that asks for each.

Nothing here is permission. A note that the design rules out is left out; what the design does not say (where the panel
stands, how deep the basin is) never rules one out.
"""

from collections.abc import Callable
from dataclasses import dataclass

from sizing.installation.reasons import (
    Reason,
    aerosols,
    cable_protection,
    cold_voltage,
    dc_arc,
    digging,
    frost,
    fuse,
    hot_connectors,
    hot_surfaces,
    inspection,
    jet_and_eyes,
    licensed_work,
    looking_at_the_sun,
    mains_near_water,
    mosquitoes,
    open_water,
    panel_always_live,
    polarity,
    roof_and_ladder,
    slippery_paving,
    standing_water,
    suction,
    wet_limits,
    wind_load,
)
from sizing.installation.wires import Wires
from sizing.report.report import Report


@dataclass(frozen=True)
class SafetyNote:
    """One note that applies: its name and first sentence in SAFETY.md, why it applies to this design, and whether a
    licensed person must look because of it; ``False`` does not mean that none need look."""

    anchor: str
    title: str
    reason: str
    licensed: bool


def no_battery(_report: Report, _wires: Wires) -> Reason | None:
    """A design has no battery: panel and pump are joined by a cable, or by a controller without storage."""
    return None


NOTES: tuple[tuple[str, str, Callable[[Report, Wires], Reason | None]], ...] = (
    ("open-water", "Small children drown in very little water, quickly and without a sound.", open_water),
    ("mains-near-water", "No mains in this fountain, ever.", mains_near_water),
    ("battery", "A battery can give hundreds of amperes into a dropped spanner.", no_battery),
    ("roof-and-ladder", "A fall from a roof or a ladder kills or cripples.", roof_and_ladder),
    ("digging", "Find the buried cables and gas pipes before the first spade.", digging),
    ("wet-limits", '"Low voltage" has a special, lower meaning where people touch water.', wet_limits),
    ("cold-voltage", "Judge the panel by its open-circuit voltage on the coldest morning.", cold_voltage),
    ("panel-always-live", "A panel in daylight cannot be switched off.", panel_always_live),
    ("dc-arc", "Direct current does not put out its own spark.", dc_arc),
    ("hot-connectors", "A connector that is warm to the hand is failing.", hot_connectors),
    ("hot-surfaces", "Panels and dark pipes in the sun burn fingers.", hot_surfaces),
    ("fuse", "A fuse protects nothing when one panel is the only source.", fuse),
    (
        "polarity",
        "Plus and minus the wrong way round can destroy a pump or a controller and overheat a battery cable at once.",
        polarity,
    ),
    ("cable-protection", "A cable in a garden meets spades, mowers, rodents, sun and shoes.", cable_protection),
    ("wind-load", "The wind tears panels off.", wind_load),
    ("suction", "Fingers, hair and fish are drawn to a pump's intake.", suction),
    ("slippery-paving", "Spray drifts, and wet paving is slippery, the more so with algae or frost.", slippery_paving),
    ("jet-and-eyes", "A thin jet hurts an eye at close range.", jet_and_eyes),
    ("looking-at-the-sun", "Never look into the sun while measuring shade or skyline.", looking_at_the_sun),
    ("standing-water", "Basin water is not for drinking, and hands are washed after touching it.", standing_water),
    ("aerosols", "Fine spray from warm, stale water can carry Legionella into lungs.", aerosols),
    ("mosquitoes", "Standing water breeds mosquitoes within one to two weeks of warm days.", mosquitoes),
    ("frost", "Ice splits pumps, pipes and basins, and thin ice invites children.", frost),
    ("licensed-work", "Some of the work is for a licensed person, not for the club.", licensed_work),
    ("inspection", "Somebody who did not build it looks at it before the first run, and every year after.", inspection),
)
"""Name and first sentence of each note of SAFETY.md, in its order, and what finds the reason why it applies."""


def safety_of(report: Report, wires: Wires) -> tuple[SafetyNote, ...]:
    """Notes of SAFETY.md that apply to a design.

    Parameters
    ----------
    report : one finished sizing
    wires : its wiring, of the same report

    Returns
    -------
    Notes in the order of SAFETY.md, what hurts most first; each reason is one sentence with a number of the design, or
    with the plain fact where the design has none
    """
    found = ((anchor, title, reason_for(report, wires)) for anchor, title, reason_for in NOTES)
    return tuple(SafetyNote(anchor, title, why.sentence, why.licensed) for anchor, title, why in found if why is not None)
