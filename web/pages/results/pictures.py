"""From a report to what the results page shows: pictures, tables and sentences, nothing computed anew."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sizing.electric import Conditions, at_conditions, current_at_voltage, maximum_power, open_circuit_voltage
from sizing.foundation import (
    LITRE,
    LITRE_PER_MINUTE,
    MONTHS,
    SHORT_MONTHS,
    SPACE,
    Worked,
    clock,
    column,
    compass,
    length,
    length_unit,
    quantity,
)
from sizing.hydraulic import Nozzle, Spillway, curve_at_speed
from sizing.operation import REASONS, Month, State, Supply, asked_of_panel, system_head
from sizing.report import Report, named
from web.charts.curves import head_and_flow, panel_and_pump
from web.charts.drawing.fountain import fountain_to_scale
from web.charts.drawing.scene import Fountain
from web.charts.kit.crossing import Curve, Point
from web.charts.kit.shapes import Chart, Table
from web.charts.month_and_hour import month_and_hour
from web.charts.path_strip import Reading, Station, stations
from web.charts.water_by_month import water_by_month

CURVE_STRENGTHS = (1, 3, 5, 7, 9)
"""Which of the report's strengths of sun are drawn: 200, 400, 600, 800, 1000 W/m²."""
POINTS_DRAWN = 40
STOPPED = {State.TOO_LITTLE_SUN: "off", State.BELOW_LOWEST_VOLTAGE: "on, off"}
"""What the strip shows for a number where the pump does not run, or starts and stops."""


@dataclass(frozen=True)
class MonthlyTable:
    """The twelve months: text of each cell and where its working stands, if it has one of its own."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[tuple[str, str], ...], ...]


def is_spillway(report: Report) -> bool:
    return isinstance(report.fountain.waterway.outlet, Spillway)


def moment_words(report: Report) -> str:
    """The moment in words."""
    moment = report.moment
    if not moment.month:
        return f"with {quantity(float(moment.stations[0].roots[0].value), 'W/m2')} of sun in the cells"
    return f"at {clock(moment.hour)} on a {moment.sky} {MONTHS[moment.month - 1]} day"


def strip(report: Report) -> tuple[Station, ...]:
    """The path strip at the moment."""
    moment, found = report.moment, report.moment.operation
    by_name = {station.name: station.roots for station in moment.stations}
    sun = by_name["sun"]
    if "panel" not in by_name:
        return stations([Reading("sun", sun[0].value, "W/m2", "no sun on the panel, the fountain rests", anchor(sun[0]))])
    readings = [Reading("sun", sun[0].value, "W/m2", "in the cells, after glass and dirt", anchor(sun[0]))]
    panel, wire, pump = by_name["panel"], by_name["wire"], by_name["pump"]
    volts = f"{quantity(panel[1].value, 'V')} · {quantity(float(found.current[0]), 'A')}"
    readings.append(Reading("panel", panel[0].value, "W", volts, anchor(panel[0])))
    readings.append(Reading("wire", 100 * wire[0].value, "%", f"{quantity(wire[1].value, 'V', 2)} lost", anchor(wire[0])))
    if moment.state < State.PLAYS:
        word = STOPPED.get(moment.state, "dry")
        readings.append(Reading("pump", None, "", REASONS[moment.state], anchor(pump[0]), word=word))
        return stations(readings)
    pipe, outlet = by_name["pipe"], by_name["outlet"]
    if pump[0].unit == "W":
        readings.append(Reading("pump", pump[0].value, "W", "into the pump", anchor(pump[0])))
    else:
        readings.append(Reading("pump", 100 * pump[0].value, "%", "of rated speed", anchor(pump[0])))
    readings.append(Reading("pipe", pipe[0].value, "m", "head to overcome", anchor(pipe[0])))
    flow = quantity(pipe[1].value, "l/min")
    if is_spillway(report):
        readings.append(Reading("outlet", outlet[0].value, "l/min", "over the lip", anchor(outlet[0]), name="Spillway"))
    else:
        number, _, sign = length(outlet[0].value).partition(SPACE)
        label = "Jet" if isinstance(report.fountain.waterway.outlet, Nozzle) else "Bubble"
        readings.append(Reading("outlet", float(number), sign, flow, anchor(outlet[0]), name=label))
    return stations(readings)


def stance(report: Report) -> str:
    """How the panel stands, by true north, and by the compass where one was read."""
    mounting = report.mounting
    faces = f"{quantity(mounting.azimuth, 'deg', 4)} from true north ({compass(mounting.azimuth)})"
    leans = (
        "The panel lies flat" if mounting.tilt == 0 else f"The panel leans {quantity(mounting.tilt, 'deg', 3)} and faces {faces}"
    )
    if mounting.compass_reading is None or mounting.declination is None:
        return f"{leans}."
    side = "east" if mounting.declination >= 0 else "west"
    return (
        f"{leans}; the compass showed {quantity(mounting.compass_reading, 'deg', 4)} there on "
        f"{report.design.place.compass_date}, when its needle pointed {quantity(abs(mounting.declination), 'deg', 2)} {side} "
        "of true north."
    )


def anchor(root: Worked) -> str:
    """Where the working of a number stands on the page."""
    return f"#{root.name}"


def drawing(report: Report) -> Chart:
    """The fountain to scale."""
    feed = getattr(report.design.outlet, "feed", None)
    outlet, playing = report.fountain.waterway.outlet, report.moment.state >= State.PLAYS
    jet = None if is_spillway(report) else float(report.moment.operation.jet[0])
    best = None if is_spillway(report) else float(report.operation.jet.max())
    return fountain_to_scale(
        Fountain(
            outlet=report.design.outlet.kind,
            outlet_height=outlet.height,
            pump_position=report.fountain.pump_input.position,
            panel_tilt=report.design.mounting.tilt_deg,
            panel_faces=compass(report.mounting.azimuth),
            basin_width=report.basin.short if is_spillway(report) else report.basin.long,
            water_depth=report.basin.depth,
            proposed=not report.basin.given,
            jet_now=jet,
            jet_best=best,
            flow_now=float(report.moment.operation.flow[0]) / LITRE_PER_MINUTE if playing else 0.0,
            sheet_width=outlet.width if isinstance(outlet, Spillway) else None,
            jets=outlet.count if isinstance(outlet, Nozzle) else 1,
            jets_across=None if feed is None else feed.size_m,
            on_ring=feed is not None and feed.kind == "ring",
            sunlit=report.moment.state > State.NIGHT,
            moment=moment_words(report),
        )
    )


def water_chart(report: Report) -> Chart:
    """Litres a day in each month with its likely range."""
    days = np.array([month.days for month in report.year.months])
    low, high = ((band / days / LITRE).tolist() for band in report.water_band)
    return water_by_month([month.water / LITRE for month in report.year.months], low, high)


def hours_chart(report: Report) -> Chart:
    """What comes out in each month and hour of its usual day."""
    year, sky = report.year, report.sky
    sunny = np.zeros((12, 24), dtype=bool)
    lit = report.sun.poa > 0
    sunny[sky.month[lit] - 1, sky.hour[lit].astype(int)] = True
    if is_spillway(report):
        values, label, unit = year.usual_flow / LITRE_PER_MINUTE, "flow", "L/min"
    else:
        unit, per_metre = length_unit(float(year.usual_jet.max()))
        values, label = year.usual_jet * per_metre, "jet height"
    grid = [
        [value if sun else None for value, sun in zip(*rows, strict=True)]
        for rows in zip(values.tolist(), sunny.tolist(), strict=True)
    ]
    playing = [played(month) for month in year.months]
    litres = [month.water / LITRE for month in year.months]
    basis = next(words for words in ("true solar time", "clock time", "standard time") if sky.hour_basis.startswith(words))
    return month_and_hour(grid, quantity=label, unit=unit, hours=f"hour, {basis}", playing=playing, litres_a_day=litres)


def played(month: Month) -> tuple[float, float] | None:
    """From when to when it plays on a usual day of a month."""
    return None if month.first_hour is None or month.last_hour is None else (month.first_hour, month.last_hour)


def panel_chart(report: Report) -> Chart:
    """The panel's curves, the load line at the panel's end of the cable, and where they agree."""
    supply, line = report.fountain.supply, report.match.line
    direct = supply.controller_efficiency is None
    curves, points, tops = [], [], []
    for index in CURVE_STRENGTHS:
        sun, cell = float(report.strengths[index]), float(report.strength_temperature[index])
        conditions = at_conditions(supply.panel, sun, cell)
        end = float(np.asarray(open_circuit_voltage(conditions)))
        volts = np.concatenate([np.linspace(0.0, 0.7 * end, 12), np.linspace(0.7 * end, end, POINTS_DRAWN)[1:]])
        label = quantity(sun, "W/m2")
        curves.append(Curve(label, volts.tolist(), np.asarray(current_at_voltage(conditions, volts)).tolist()))
        if report.points.state[index] >= State.CANNOT_LIFT:
            current = float(report.points.current[index])
            points.append(Point(label, float(report.points.voltage[index]) + current * supply.cable_resistance, current))
            if not direct:
                tops.append(Point(label, *held_by_controller(supply, conditions, points[-1].x)))
    lifts = int(np.searchsorted(line.speed, line.lift_speed))
    nodes = np.unique(np.clip([0, *range(0, len(line.speed), 6), lifts - 1, lifts, len(line.speed) - 1], 0, len(line.speed) - 1))
    volts, amps = line.voltage[nodes], line.current[nodes]
    if not direct:  # the controller gives no more than the rated voltage, and there the line ends
        rated = report.fountain.pump.rated_voltage
        last = float(np.interp(rated, np.maximum.accumulate(volts), amps))
        volts, amps = np.append(volts[volts < rated], rated), np.append(amps[volts < rated], last)
    asked, amps = (volts + amps * supply.cable_resistance, amps) if report.match.voltage is None else asked_of_panel(report.match)
    load = Curve("what the pump asks", asked.tolist(), amps.tolist())
    return panel_and_pump(curves, load, points, tops)


def held_by_controller(supply: Supply, conditions: Conditions, terminal: float) -> tuple[float, float]:
    """Volts and amperes at which a controller holds the panel: the top of its power, or as many volts as go out where that
    is more and the controller only lowers them."""
    _, volts, amperes = (float(np.asarray(value)) for value in maximum_power(conditions))
    if supply.steps_up or terminal <= volts:
        return volts, amperes
    return terminal, float(np.asarray(current_at_voltage(conditions, terminal)))


def head_chart(report: Report) -> Chart:
    """The pump at several speeds against pipe and outlet."""
    pump, waterway = report.fountain.pump, report.fountain.waterway
    curves, points = [], []
    top = 0.0
    for index in CURVE_STRENGTHS:
        speed = float(report.points.speed[index])
        if speed <= 0:
            continue
        label = quantity(float(report.strengths[index]), "W/m2")
        flow, head = curve_at_speed(pump, speed, POINTS_DRAWN)
        curves.append(Curve(label, (flow / LITRE_PER_MINUTE).tolist(), head.tolist()))
        if report.points.flow[index] > 0:
            points.append(Point(label, float(report.points.flow[index]) / LITRE_PER_MINUTE, float(report.points.head[index])))
            top = max(top, float(report.points.flow[index]))
    flow = np.linspace(0.0, 1.15 * top if top > 0 else 0.3 * pump.largest_flow, POINTS_DRAWN)
    system = Curve("what pipe and outlet ask", (flow / LITRE_PER_MINUTE).tolist(), system_head(waterway, flow).tolist())
    return head_and_flow(curves, system, points)


def monthly_table(report: Report) -> MonthlyTable:
    """The twelve months in numbers; each number that is worked out leads to its working."""
    months = report.year.months
    spillway = is_spillway(report)
    unit, per_metre = ("L/min", 1 / LITRE_PER_MINUTE) if spillway else length_unit(max(month.jet for month in months))
    best = [month.flow if spillway else month.jet for month in months]
    columns = [
        SHORT_MONTHS,
        column([month.poa_insolation for month in months]),
        column([month.running_hours for month in months], 2),
        column([month.water / LITRE for month in months]),
        tuple(likely(low, high) for low, high in band_text(report)),
        column([value * per_metre for value in best], 2 if unit == "cm" else 3),
        tuple(span(month) for month in months),
        tuple(str(month.dry_days) for month in months),
    ]
    measure = f"Most at the best hour, {unit}" if spillway else f"Jet at the best hour, {unit}"
    head = ("Month", "Sun, kWh/m² a day", "Plays, h a day", "Water, L a day", "Likely water", measure, "Usual day", "Dry days")
    rows = []
    for month, texts in zip(months, zip(*columns, strict=True), strict=True):
        best_kind = "jet" if month.jet > 0 else "flow"
        kinds = ("", "sun", "running_hours", "water", "", best_kind, "", "")
        rows.append(tuple((text, f"#{named(kind, month)}" if kind else "") for text, kind in zip(texts, kinds, strict=True)))
    return MonthlyTable("The twelve months", head, tuple(rows))


def band_text(report: Report) -> list[tuple[str, str]]:
    """Low and high water of each month as text."""
    days = np.array([month.days for month in report.year.months])
    low, high = (column((band / days / LITRE).tolist(), 2) for band in report.water_band)
    return list(zip(low, high, strict=True))


def likely(low: str, high: str) -> str:
    """A likely range; one number where both ends are the same."""
    return low if low == high else f"{low} to {high}"


def span(month: Month) -> str:
    """From when to when it plays on a usual day."""
    hours = played(month)
    return "dry" if hours is None else f"{clock(hours[0], 10)}–{clock(hours[1], 10)}"


POINTS_HEAD = ("Sun, W/m²", "Cells, °C", "Voltage, V", "Current, A", "Speed, %", "Flow, L/min", "Head, m")


def points_table(report: Report) -> Table:
    """The operating points row by row, beginning with the strength of sun and ending with what the fountain does."""
    points = report.points
    plays = [bool(state >= State.PLAYS) for state in points.state]
    unit, per_metre = length_unit(float(points.jet.max()))
    columns = [
        tuple(f"{sun:g}" for sun in report.strengths),
        column(report.strength_temperature.tolist(), 2),
        column(points.voltage.tolist()),
        column(points.current.tolist()),
        tuple("–" if report.fountain.pump.table is not None else f"{100 * speed:.0f}" for speed in points.speed),
        only(plays, column((points.flow / LITRE_PER_MINUTE).tolist())),
        only(plays, column(points.head.tolist())),
    ]
    head: tuple[str, ...] = POINTS_HEAD
    if not is_spillway(report):
        columns.append(only(plays, column((points.jet * per_metre).tolist(), 2 if unit == "cm" else 3)))
        head = (*head, f"Jet, {unit}")
    columns.append(tuple(REASONS[State(int(state))] for state in points.state))
    return Table("Operating points", (*head, "What it does"), tuple(zip(*columns, strict=True)))


def only(plays: Sequence[bool], texts: Sequence[str]) -> tuple[str, ...]:
    """The texts of the rows in which it plays, a dash in the others."""
    return tuple(text if playing else "–" for text, playing in zip(texts, plays, strict=True))
