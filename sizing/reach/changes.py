"""What may be changed so that a goal is met: each change as JSON pointers with new values, and the design with it.

A change touches one thing: the nozzle's bore, the number of jets, the pipe, the panel, the pump, its tilt, its azimuth, or what
joins panel and pump. Asking for less, in fewer months or on fewer days of ten, is a change of the goal.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel

from sizing.design.design import ControllerConnection, Design, NozzleOutlet, OpenPipeOutlet, PanelInput
from sizing.design.reading import read_design
from sizing.foundation.errors import SizingError
from sizing.foundation.tables import USUAL_BORES
from sizing.report.what_if import COMMON_BORES, LIKELY_EFFICIENCY, Settings, changed_document

Part = Literal["nozzle", "jets", "pipe", "tilt", "azimuth", "connection", "panel", "pump", "months", "days"]

PARTS: tuple[Part, ...] = ("nozzle", "jets", "pipe", "tilt", "azimuth", "connection", "panel", "pump", "months", "days")
"""Everything that is changed, in the order in which equal changes are named."""
OF_GOAL: tuple[Part, ...] = ("months", "days")
"""Changes of what is asked for, not of the fountain."""
USUAL_JETS = (1, 2, 3, 4, 5, 6, 8, 10, 12)
USUAL_WATTS = (5, 10, 15, 20, 30, 40, 50, 60, 80, 100, 120, 150, 200)
"""[W] Small panels that shops have (common practice, no source)."""
MOST_BESIDE = 8
"""Panels side by side that a design may hold."""
WIDER_PIPES = 4
"""Sizes of pipe above the design's own that are tried."""
TILT_STEP, AZIMUTH_STEP = 5, 15
"""[deg] Between two tilts and two azimuths that are tried."""
MOST_TOGETHER = 2
"""Changes that are made at one time."""
ALIKE = 0.02
"""[1] Sizes nearer to the design's own than this are the same."""


@dataclass(frozen=True, eq=False)
class Change:
    """One change: what it touches, from what to what, the pointers with new values (``None`` takes out), and the design with it.

    ``size`` is how far it goes: the smaller one is taken where two do as well.
    """

    part: Part
    old: str | float
    new: str | float
    settings: Settings
    size: float
    design: Design

    @property
    def key(self) -> str:
        """Its name in an address."""
        new = f"{self.new:g}" if isinstance(self.new, float) else self.new
        return f"{self.part}:{new}"


Proposal = tuple[Part, str | float, str | float, Settings, float]


def changes_of(design: Design) -> tuple[Change, ...]:
    """Every change of the fountain that stays inside the limits of a design file, in the order of ``PARTS``."""
    own = with_chosen(design)
    document = own.model_dump(mode="json", exclude_unset=True)
    found = []
    for part, old, new, settings, size in (
        *nozzles(own),
        *jets(own),
        *pipes(own),
        *tilts(own),
        *azimuths(own),
        *connections(own),
        *panels(own),
        *pumps(own),
    ):
        try:
            changed = read_design(changed_document(document, settings))
        except SizingError:
            continue
        found.append(Change(part, old, new, settings, size, changed))
    return tuple(found)


def with_chosen(design: Design) -> Design:
    """The design with its pair named, as the first ones are sized where none is."""
    if design.chosen is not None:
        return design
    document = design.model_dump(mode="json", exclude_unset=True)
    return read_design(document | {"chosen": {"panel": design.panels[0].id, "pump": design.pumps[0].id}})


def nozzles(design: Design) -> Iterator[Proposal]:
    """Nozzles of other usual bores."""
    if isinstance(design.outlet, NozzleOutlet):
        own = design.outlet.bore_mm
        for bore in USUAL_BORES:
            if abs(bore / own - 1) > ALIKE:
                yield "nozzle", own, bore, (("/outlet/bore_mm", bore),), abs(math.log(bore / own))


def jets(design: Design) -> Iterator[Proposal]:
    """Other numbers of jets."""
    if isinstance(design.outlet, NozzleOutlet):
        own = design.outlet.count
        for count in USUAL_JETS:
            if count != own:
                yield "jets", float(own), float(count), (("/outlet/count", count),), abs(math.log(count / own))


def pipes(design: Design) -> Iterator[Proposal]:
    """Wider pipes; an open end that had the pipe's own diameter keeps it."""
    own, outlet = design.pipe.inside_diameter_mm, design.outlet
    kept: Settings = ()
    if isinstance(outlet, OpenPipeOutlet) and outlet.inside_diameter_mm is None:
        kept = (("/outlet/inside_diameter_mm", own),)
    wider = [bore for bore in COMMON_BORES if bore > (1 + ALIKE) * own] if design.pipe.length_m > 0 else []
    for bore in wider[:WIDER_PIPES]:
        yield "pipe", own, bore, (("/pipe/inside_diameter_mm", bore), *kept), math.log(bore / own)


def tilts(design: Design) -> Iterator[Proposal]:
    """Other tilts of the panel."""
    own = design.mounting.tilt_deg
    for tilt in range(0, 91, TILT_STEP):
        if abs(tilt - own) >= 0.5:
            yield "tilt", own, float(tilt), (("/mounting/tilt_deg", float(tilt)),), abs(tilt - own) / 90


def azimuths(design: Design) -> Iterator[Proposal]:
    """Other directions of the panel, from true north; a compass reading gives way to them."""
    mounting = design.mounting
    own = mounting.azimuth_deg if mounting.azimuth_deg is not None else mounting.compass_deg or 0.0
    if mounting.tilt_deg == 0:
        return
    for azimuth in range(0, 360, AZIMUTH_STEP):
        turned = abs((azimuth - own + 180) % 360 - 180)
        if turned >= 0.5:
            settings: Settings = (("/mounting/azimuth_deg", float(azimuth)), ("/mounting/compass_deg", None))
            yield "azimuth", own, float(azimuth), settings, turned / 90


def connections(design: Design) -> Iterator[Proposal]:
    """A controller where there is none, or none where there is one."""
    if isinstance(design.connection, ControllerConnection):
        yield "connection", "controller", "direct", (("/connection", {"kind": "direct"}),), 1.0
    else:
        controller = {"kind": "controller", "efficiency_pct": LIKELY_EFFICIENCY}
        yield "connection", "direct", "controller", (("/connection", controller),), 1.0


def panels(design: Design) -> Iterator[Proposal]:
    """Other panels of the design, another number of the chosen one side by side, and other usual watts with its volts."""
    assert design.chosen is not None
    at = next(index for index, panel in enumerate(design.panels) if panel.id == design.chosen.panel)
    own = design.panels[at]
    watts, array = own.vmp_v * own.imp_a, array_watts(own)
    for panel in design.panels:
        if panel.id != own.id:
            size = abs(math.log(array_watts(panel) / array))
            yield "panel", own.id, panel.id, (("/chosen/panel", panel.id),), size
    for count in range(1, MOST_BESIDE + 1):
        if count != own.in_parallel:
            settings: Settings = ((f"/panels/{at}/in_parallel", count),)
            yield "panel", own.id, f"{own.id}*{count}", settings, abs(math.log(count / own.in_parallel))
    for other in USUAL_WATTS:
        if abs(other / watts - 1) > ALIKE:
            yield "panel", own.id, f"{other}W", of_watts(own, at, other / watts), abs(math.log(other / watts))


def of_watts(panel: PanelInput, at: int, factor: float) -> Settings:
    """A panel with the same volts and other amperes, of which no price is known."""
    name = f"{panel.vmp_v * panel.imp_a * factor:.0f} W panel of {panel.vmp_v:g} V"
    own = {"name": name, "imp_a": round(panel.imp_a * factor, 4), "isc_a": round(panel.isc_a * factor, 4), "price": None}
    return tuple((f"/panels/{at}/{field}", value) for field, value in own.items())


def array_watts(panel: PanelInput) -> float:
    """Watts of all panels of an array at standard test conditions."""
    return panel.vmp_v * panel.imp_a * panel.in_series * panel.in_parallel


def pumps(design: Design) -> Iterator[Proposal]:
    """Other pumps of the design."""
    assert design.chosen is not None
    for pump in design.pumps:
        if pump.id != design.chosen.pump:
            yield "pump", design.chosen.pump, pump.id, (("/chosen/pump", pump.id),), 1.0


# Changes put together


def together(design: Design, changes: Iterable[Change]) -> Design:
    """A design with several changes, each of which was read on its own."""
    found = with_chosen(design)
    for change in changes:
        for pointer, _ in change.settings:
            way = pointer.strip("/").split("/")
            found = put(found, way, value_at(change.design, way))
    return found


def value_at(model: Any, way: list[str]) -> Any:
    """The part of a design that a pointer leads to."""
    for name in way:
        model = model[int(name)] if isinstance(model, tuple) else getattr(model, name)
    return model


def put(model: Any, way: list[str], value: Any) -> Any:
    """A design with one part replaced."""
    if not way:
        return value
    name, *rest = way
    if isinstance(model, tuple):
        return tuple(put(each, rest, value) if index == int(name) else each for index, each in enumerate(model))
    assert isinstance(model, BaseModel)
    return model.model_copy(update={name: put(getattr(model, name), rest, value)})


def read_again(design: Design, changes: Iterable[Change]) -> Design:
    """A design with several changes, read from its document once more, as a file of it would be.

    Raises
    ------
    SizingError
        where two changes that are possible alone are not possible together.
    """
    document = with_chosen(design).model_dump(mode="json", exclude_unset=True)
    return read_design(changed_document(document, tuple(setting for change in changes for setting in change.settings)))


# Asking for less


def fewer_months(design: Design, months: Sequence[int]) -> Change | None:
    """The goal in some of its months alone; ``None`` where that is none or all of them."""
    assert design.goal is not None
    if not 0 < len(months) < len(design.goal.months):
        return None
    dropped = len(design.goal.months) - len(months)
    return of_goal(design, "months", spelled(design.goal.months), spelled(months), ("/goal/months", list(months)), dropped / 12)


def fewer_days(design: Design, days: int) -> Change | None:
    """The goal on fewer days of ten; ``None`` where no day would be left, or not fewer."""
    assert design.goal is not None
    own = design.goal.days_out_of_ten
    if not 1 <= days < own:
        return None
    return of_goal(design, "days", float(own), float(days), ("/goal/days_out_of_ten", days), (own - days) / 10)


def of_goal(design: Design, part: Part, old: str | float, new: str | float, setting: tuple[str, Any], size: float) -> Change:
    """A change of the goal."""
    changed = put(with_chosen(design), setting[0].strip("/").split("/"), tuple(setting[1]) if part == "months" else setting[1])
    return Change(part, old, new, (setting,), size, changed)


def spelled(months: Iterable[int]) -> str:
    """Months as an address holds them."""
    return ",".join(str(month) for month in sorted(months))


def changes_of_key(design: Design, key: str) -> tuple[Change, ...]:
    """The changes that an offer's key names; none where it names one that this design does not have."""
    known = {change.key: change for change in changes_of(design)}
    found = []
    for name in key.split("+")[:MOST_TOGETHER]:
        part, _, new = name.partition(":")
        change = known.get(name)
        if design.goal is not None and part == "days" and new.isascii() and new.isdigit() and len(new) <= 2:
            change = fewer_days(design, int(new))
        if design.goal is not None and part == "months":
            change = fewer_months(design, [month for month in sorted(design.goal.months) if str(month) in new.split(",")])
        if change is None:
            return ()
        found.append(change)
    return tuple(found)
