"""What a fountain is like at the end of a season and in year ten: what wears, clogs and dirties it, as changes of a design.

A published figure stands behind the panel alone; the rest is common practice without a source, and is said to be.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from sizing.design.design import Design, NozzleOutlet, OpenPipeOutlet
from sizing.foundation.formats import SPACE, figures
from sizing.foundation.sources import SOURCES
from sizing.foundation.tables import NOZZLE_KINDS
from sizing.fountain.components import index_of

Settings = tuple[tuple[str, Any], ...]
Worn = Literal["flow", "bore", "panel", "soiling"]

NARROWEST_PIPE = 2.0
"""[mm] The narrowest pipe end of a design file."""


@dataclass(frozen=True)
class Age:
    """What time has done: shares [1] of the pump's flow and the panel's current that are gone, bore lost [mm], light lost to
    dirt [%]."""

    key: str
    words: str
    flow: float
    bore: float
    panel: float
    soiling: float


AGES = (
    Age("season_end", "end of the season", 0.10, 0.2, 0.0, 10.0),
    Age("year_ten", "in year ten", 0.20, 0.6, 0.10, 10.0),
)


@dataclass(frozen=True)
class Wear:
    """One part of an age: what it is, in words, and the source key of its figure."""

    part: Worn
    words: str
    source: str

    @property
    def basis(self) -> str:
        """The publication behind it, in words; common practice where there is none."""
        source = SOURCES[self.source]
        return f"{source.publisher} {source.year}" if source.read != "practice" else "common practice, no source"


@dataclass(frozen=True)
class Aged:
    """A change of a design by age: key, words, settings as of a what-if, and its parts with what each rests on."""

    key: str
    words: str
    settings: Settings
    parts: tuple[Wear, ...]


def aged(design: Design) -> Iterator[Aged]:
    """The design at each age."""
    for age in AGES:
        worn = [*less_flow(design, age), *narrower(design, age), *weaker_panel(design, age), *dirtier(design, age)]
        yield Aged(age.key, age.words, tuple(setting for settings, _ in worn for setting in settings), tuple(w for _, w in worn))


def less_flow(design: Design, age: Age) -> Iterator[tuple[Settings, Wear]]:
    """A pump that gives less at every height: worn, with fibres and lime in it, behind a strainer half clogged."""
    at = chosen(design, "pump")
    pump, left = design.pumps[at], 1 - age.flow
    if pump.points is not None:
        settings: Settings = tuple(
            (f"/pumps/{at}/points/{index}/flow_l_per_min", round(point.flow_l_per_min * left, 6))
            for index, point in enumerate(pump.points)
        )
    else:
        settings = ((f"/pumps/{at}/max_flow_l_per_min", round((pump.max_flow_l_per_min or 0.0) * left, 6)),)
    words = f"{figures(100 * age.flow)}{SPACE}% less flow, by wear and by algae in strainer and pipe"
    yield settings, Wear("flow", words, "common_practice")


def narrower(design: Design, age: Age) -> Iterator[tuple[Settings, Wear]]:
    """An opening that lime has narrowed; a lip keeps its width."""
    outlet = design.outlet
    words = f"lime takes {figures(age.bore)}{SPACE}mm from the bore"
    if isinstance(outlet, NozzleOutlet):
        least = 1000 * NOZZLE_KINDS[outlet.nozzle_kind or "not_known"].narrowest
        yield (("/outlet/bore_mm", round(max(outlet.bore_mm - age.bore, least), 6)),), Wear("bore", words, "common_practice")
    elif isinstance(outlet, OpenPipeOutlet):
        width = outlet.inside_diameter_mm or design.pipe.inside_diameter_mm
        less = round(max(width - age.bore, NARROWEST_PIPE), 6)
        yield (("/outlet/inside_diameter_mm", less),), Wear("bore", words, "common_practice")


def weaker_panel(design: Design, age: Age) -> Iterator[tuple[Settings, Wear]]:
    """A panel of less current, and so of less power."""
    if age.panel == 0:
        return
    at = chosen(design, "panel")
    panel, left = design.panels[at], 1 - age.panel
    settings = tuple(
        (f"/panels/{at}/{name}", round(value * left, 6)) for name, value in (("imp_a", panel.imp_a), ("isc_a", panel.isc_a))
    )
    words = f"the panel gives {figures(100 * age.panel)}{SPACE}% less: half to one per cent a year"
    yield settings, Wear("panel", words, "jordan_2013")


def dirtier(design: Design, age: Age) -> Iterator[tuple[Settings, Wear]]:
    """Glass that nobody has washed, if it was cleaner."""
    if design.mounting.soiling_pct < age.soiling:
        words = f"dirt on the glass takes {figures(age.soiling)}{SPACE}% of the light"
        yield (("/mounting/soiling_pct", age.soiling),), Wear("soiling", words, "common_practice")


def chosen(design: Design, which: Literal["panel", "pump"]) -> int:
    """Position of the panel or pump that is sized."""
    ids = [panel.id for panel in design.panels] if which == "panel" else [pump.id for pump in design.pumps]
    return index_of(which, ids, getattr(design.chosen, which) if design.chosen else None)
