"""The job of a fountain in whole sentences: where it stands, what it plays from, and the way of its water."""

from sizing.design import ControllerConnection, MonthlySky
from sizing.foundation import MILLIMETRE, SPACE, figures, length, quantity
from sizing.fountain import controller_words
from sizing.hydraulic import Nozzle, OpenPipe, Outlet, Spillway
from sizing.report import Report

SUN = {
    "built_in": "the built-in table for the place",
    "monthly": "twelve monthly values that were typed in",
    "weather_file": "the hours of a weather file",
}


def job(report: Report) -> list[str]:
    """The sentences: place and sky, panel and pump, pipe and outlet."""
    note = report.design.note
    return [place(report), powered(report), watered(report), *([sentence(note)] if note.strip() else [])]


def place(report: Report) -> str:
    """Where it stands and where its sun comes from."""
    found, sky = report.place, report.sky
    where = f"{side(found.latitude, 'north', 'south')}, {side(found.longitude, 'east', 'west')}"
    name = f"{found.name.strip()} ({where})" if found.name.strip() else where
    given = report.design.sky
    origin = given.origin if isinstance(given, MonthlySky) else sky.title if sky.kind == "weather_file" else ""
    named = f" ({origin})" if origin else ""
    return (
        f"A garden fountain at {name}, {quantity(found.elevation, 'm', 4)} above the sea; its sun is taken from "
        f"{SUN[sky.kind]}{named}."
    )


def side(angle: float, positive: str, negative: str) -> str:
    """An angle with its half of the earth.

    Examples
    --------
    >>> side(-41.2, "north", "south")
    '41.2° south'
    """
    return f"{figures(abs(angle), 4)}° {negative if angle < 0 else positive}"


def powered(report: Report) -> str:
    """Panel, connection and pump."""
    panel, pump, cable = report.fountain.panel_input, report.fountain.pump_input, report.design.cable
    number = panel.in_series * panel.in_parallel
    many = f", {number} of them ({panel.in_series} in series, {panel.in_parallel} in parallel)" if number > 1 else ""
    joined = report.design.connection
    how = (
        f"through a {controller_words(joined.controller_kind)} that passes on {quantity(joined.efficiency_pct, '%')}"
        if isinstance(joined, ControllerConnection)
        else "straight, without a controller"
    )
    return (
        f"It plays from the panel “{panel.name}”{many}, which drives the pump “{pump.name}” {how}, over "
        f"{quantity(cable.length_m, 'm')} of cable with conductors of {quantity(cable.area_mm2, 'mm2')}."
    )


def watered(report: Report) -> str:
    """Pump, pipe and outlet."""
    stands = "in the water" if report.fountain.pump_input.position == "submersible" else "beside the water"
    pipe = report.design.pipe
    bends = sum(fitting.count for fitting in pipe.fittings)
    fittings = "" if not bends else f" and {bends} fitting{'s' if bends > 1 else ''}"
    return (
        f"The pump stands {stands} and lifts it through {quantity(pipe.length_m, 'm')} of pipe with an inside diameter of "
        f"{quantity(pipe.inside_diameter_mm, 'mm')}{fittings} to {outlet(report.fountain.waterway.outlet)}."
    )


def outlet(found: Outlet) -> str:
    """An outlet with its size and height.

    Examples
    --------
    >>> outlet(OpenPipe(0.0191, 0.3)).replace("\\N{NO-BREAK SPACE}", " ")
    'an open pipe of 19.1 mm, 30 cm above the water'
    """
    height = f"{length(found.height)} above the water" if found.height > 0 else "level with the water"
    match found:
        case Nozzle(bore=bore, count=count, manifold=manifold):
            kind = f"{count} jets of {size(bore)} bore" if count > 1 else f"a jet of {size(bore)} bore"
            if manifold is not None:
                kind += f" on a {'ring' if manifold.branches > 1 else 'row'} of pipe {size(manifold.diameter)} wide inside"
        case OpenPipe(diameter=diameter):
            kind = f"an open pipe of {size(diameter)}"
        case Spillway(width=width):
            kind = f"a spillway {length(width)} wide"
    return f"{kind}, {height}"


def size(metres: float) -> str:
    """A small length in millimetres."""
    return f"{figures(metres / MILLIMETRE)}{SPACE}mm"


def sentence(text: str) -> str:
    """A note that somebody typed, with a full stop.

    Examples
    --------
    >>> sentence(" bought second-hand ")
    'bought second-hand.'
    """
    kept = text.strip()
    return kept if kept.endswith((".", "!", "?")) else f"{kept}."
