"""What is looked at before the first run and looked after later, and who may do which work: each with a number of the design.

Nothing here is permission. What a licensed person has to do follows from the notes of SAFETY.md that apply; the rest is work
that a club can prepare where local rules and the school let it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sizing.basin.basin import Basin
from sizing.basin.frost import FREEZING, Frost
from sizing.basin.water_balance import WaterBalance
from sizing.foundation.formats import MONTHS, duration, figures, length, litres, month_span, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.installation.reasons import array_power, plays
from sizing.installation.safety import SafetyNote
from sizing.installation.wires import Wires
from sizing.report.report import Report

FIRST, WEEKLY, MONTHLY, AUTUMN, SPRING, YEARLY = (
    "Before the first run",
    "Every week while it plays",
    "Every month",
    "Before the frost",
    "In spring",
    "Every year",
)
"""When something is looked at, in the order in which a year brings it."""


@dataclass(frozen=True)
class Look:
    """One thing to look at or to do: when, and one whole sentence with its number."""

    when: str
    sentence: str


@dataclass(frozen=True)
class Care:
    """``looks`` in the order of the year; ``club`` and ``licensed`` are whole sentences on who does what."""

    looks: tuple[Look, ...]
    club: tuple[str, ...]
    licensed: tuple[str, ...]


def care_of(
    report: Report, wires: Wires, basin: Basin, balance: WaterBalance, frost: Frost, notes: tuple[SafetyNote, ...]
) -> Care:
    """What a finished design asks of those who look after it.

    Parameters
    ----------
    wires, basin, balance, frost, notes : all of the same report
    """
    looks = (
        *(Look(FIRST, said) for said in first_run(report, wires, basin)),
        *(Look(WEEKLY, said) for said in every_week(report, balance)),
        *(Look(MONTHLY, said) for said in every_month(report, wires)),
        *(Look(AUTUMN, said) for said in before_frost(report, frost)),
        *(Look(SPRING, said) for said in in_spring(report)),
        *(Look(YEARLY, said) for said in every_year(report, wires)),
    )
    return Care(looks, tuple(club_work(report, basin)), tuple(licensed_work(wires, notes)))


def first_run(report: Report, wires: Wires, basin: Basin) -> Iterator[str]:
    """What somebody who did not build it looks at before the panel is uncovered."""
    yield (
        f"With the panel covered, check plus and minus at the pump's end against its marks; uncovered, the panels give up to "
        f"{quantity(wires.cold.voltage, 'V')}, and nobody touches bare ends."
    )
    yield (
        f"The water stands {length(basin.depth)} deep and covers the pump's intake before it runs, and the rim stands at least "
        f"{length(basin.freeboard)} above it."
    )
    outlet = report.fountain.waterway.outlet
    if plays(report):
        top = report.basin.top
        reaches = f"reaches {length(top)} at most" if top > 0 else f"leaves {length(outlet.height)}"
        yield f"Watch the water on a calm day in strong sun: it {reaches} above the basin, and all of it has to fall back inside."
        if basin.falls_inside is False:
            yield f"This basin is not expected to catch it all: {basin.jet_check}"
    yield (
        f"The switch stops the pump at once and can be reached without stepping into or over the {length(basin.width)} of water."
    )


def every_week(report: Report, balance: WaterBalance) -> Iterator[str]:
    """Water and strainer."""
    worst = int(np.argmax([month.top_up_l_per_week for month in balance.months]))
    most = balance.months[worst].top_up_l_per_week
    yield (
        f"Top the basin up: the thirstiest month is {MONTHS[worst]}, with about {litres(most)} a week."
        if most > 0
        else "Look at the water level; rain makes up for what is lost in every month of a usual year, about 0 L a week."
    )
    if plays(report):
        strong, flow = float(report.strengths[-1]), float(report.points.flow[-1]) / LITRE_PER_MINUTE
        sun = f"in strong sun ({quantity(strong, 'W/m2', 4)} on the cells)"
        yield f"Clean the strainer, and sooner if {sun} the flow is clearly less than {quantity(flow, 'l/min')}."


def every_month(report: Report, wires: Wires) -> Iterator[str]:
    """Panel, cable and connectors."""
    soiling = report.mounting.soiling
    yield (
        f"Wipe the panel with water and a soft cloth from the ground; {quantity(100 * soiling, '%', 2)} of the light is reckoned "
        "as lost to dirt, and a dirty panel loses more."
    )
    yield (
        f"Look along all {quantity(wires.length, 'm')} of cable for bites, cuts and bare copper, without touching; with any of "
        "them the panel is covered and the fountain stays off until it is mended."
    )


def before_frost(report: Report, frost: Frost) -> Iterator[str]:
    """What ice would split."""
    cold = sorted({*frost.months, *frost.single_nights})
    if cold:
        yield (
            f"Before the frost of {month_span(cold)}, switch off, take the pump indoors and empty all "
            f"{quantity(report.design.pipe.length_m, 'm')} of pipe and every valve."
        )
    elif frost.ten_years <= FREEZING:
        yield (
            "When frost is forecast, which is rare here, switch off and empty all "
            f"{quantity(report.design.pipe.length_m, 'm')} of pipe and every valve."
        )


def in_spring(report: Report) -> Iterator[str]:
    """What the winter may have done."""
    yield (
        f"Before it is filled again, look at the mount of the {array_power(report)} panel, tilted by "
        f"{quantity(report.mounting.tilt, 'deg', 2)}, and tighten what is loose."
    )


def every_year(report: Report, wires: Wires) -> Iterator[str]:
    """What a stranger's eye and a meter find."""
    yield (
        f"Somebody who did not build it goes through this list; by then the pump has run for about "
        f"{duration(round(report.year.running_hours))}."
    )
    yield (
        f"Short-circuit current in strong, steady sun, taken by somebody who may: {quantity(wires.short_circuit, 'A')} at "
        "1000 W/m², less in proportion; much less than that means dirt, shade or age."
    )


def club_work(report: Report, basin: Basin) -> Iterator[str]:
    """Work that a club can prepare."""
    yield f"Mark out and, once buried services are found and the place is agreed, dig or set the basin: {basin.words}."
    pipe = report.design.pipe
    bends = sum(fitting.count for fitting in pipe.fittings)
    yield (
        f"Lay {quantity(pipe.length_m, 'm')} of pipe of {quantity(pipe.inside_diameter_mm, 'mm')} bore with "
        f"{figures(bends)} fittings, and try it for leaks with a bucket."
    )
    yield (
        f"Measure shade, direction ({quantity(report.mounting.azimuth, 'deg', 3)}) and tilt "
        f"({quantity(report.mounting.tilt, 'deg', 2)}) of the panel's place."
    )
    hours = duration(round(report.year.running_hours))
    yield f"Keep the book: litres topped up, hours of play (about {hours} a year), and what was mended."


def licensed_work(wires: Wires, notes: tuple[SafetyNote, ...]) -> Iterator[str]:
    """Work and judgement that the notes give to a licensed person, each with its reason."""
    yield from wires.licensed
    yield from (f"{note.title} {note.reason}" for note in notes if note.licensed)
