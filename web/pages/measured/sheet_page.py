"""The sheet of a predicted day, to print; and the page that takes it back when it was filled in."""

import datetime
import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from starlette.responses import Response

from sizing.design import Design
from sizing.foundation import SPACE, SizingError, alike, clock, column, figures, one_decimal
from sizing.measured.day import (
    Compared,
    FilledRowAnswer,
    FilledSheetAnswer,
    QuantityName,
    Sheet,
    SheetAnswer,
    SheetLineAnswer,
    clear_day_of,
    compared,
    compared_answer,
    day_words,
    judged_roots,
    sheet_answer,
    sheet_of,
)
from sizing.measured.logs import read_sheet
from web.charts.experiments import MOST_MARKS, About, Drawn, Mark, measured_chart
from web.charts.kit.shapes import Chart, Table
from web.exports.measured import TO_FILL, filled_csv, sheet_csv
from web.forms.form import Texts, sentences_of, tidy, understand
from web.forms.sending import Fields, carried, filled, method_for, short_address
from web.pages.frame.leads import leads
from web.pages.frame.site import page, spreadsheet
from web.pages.frame.unfolded import Chapter, unfolded
from web.pages.garden.form_page import form
from web.pages.measured.boxes import instrument_boxes, instruments_told
from web.pages.measured.log_page import MOST_ROWS, LogPage, Section, Shown, WordTable, first_of, own_or_example

DAY, FROM, TO, AT = "sheet.day", "sheet.from_hour", "sheet.to_hour", "sheet.at"
USUAL = {FROM: "9", TO: "16"}
ASKED = {DAY: "Day", FROM: "From, hour of the clock", TO: "To"}
HOUR = re.compile(r"([0-9]{1,2}(?:[.,][0-9]{1,6})?)|([0-9]{1,2}):([0-5][0-9])")
METERS = instrument_boxes(
    "voltage_share_pct", "voltage_digit_v", "current_share_pct", "current_digit_a", "sun_height_reading_deg"
)
HINTS = {DAY: "Like 2026-05-31", FROM: "9 or 9:30", TO: "16 or 16:30"}


class Quantity(NamedTuple):
    """How a quantity is shown: its words, its unit, and what its number in the answer is multiplied by."""

    words: str
    unit: str
    factor: float


QUANTITIES: dict[QuantityName, Quantity] = {
    "sun_altitude_deg": Quantity("Height of the sun", "°", 1.0),
    "panel_voltage_v": Quantity("Volts at the panel", "V", 1.0),
    "panel_current_a": Quantity("Amperes at the panel", "A", 1.0),
    "flow_l_per_min": Quantity("Flow", "L/min", 1.0),
    "jet_height_m": Quantity("Jet", "cm", 100.0),
}


def hour_of(text: str) -> float | None:
    """An hour as people write it: 9, 9.5, 9,5 or 9:30; ``None`` where it is none.

    Examples
    --------
    >>> hour_of("9:30"), hour_of("9,5"), hour_of("noon"), hour_of("9:75")
    (9.5, 9.5, None, None)
    """
    match = HOUR.fullmatch(text.strip())
    if match is None:
        return None
    value = float(match[1].replace(",", ".")) if match[1] else int(match[2]) + int(match[3]) / 60
    return value if value <= 24 else None


def asked_day(fields: Fields) -> tuple[dict[str, str], dict[str, str]]:
    """The day and hours that were asked for as texts, and sentences about those that cannot be."""
    texts = {name: fields.get(name, "").strip()[:40] for name in ASKED}
    texts |= {name: usual for name, usual in USUAL.items() if not texts[name]}
    texts[DAY] = texts[DAY] or datetime.date.today().isoformat()
    errors = {}
    try:
        datetime.date.fromisoformat(texts[DAY])
    except ValueError:
        errors[DAY] = f"Day is “{texts[DAY]}”, which no calendar has; write it like 2026-05-31"
    for name in (FROM, TO):
        if hour_of(texts[name]) is None:
            errors[name] = (
                f"{ASKED[name].partition(',')[0]}: “{texts[name]}” is no hour between 0 and 24; write it like 9 or 9:30"
            )
    return texts, errors


@dataclass(frozen=True)
class Predicted:
    """What a sheet was asked with, what is wrong with that, and the sheet; or the form, where the design itself is wrong."""

    texts: Texts
    example: bool
    asked: dict[str, str]
    errors: dict[str, str]
    sheet: Sheet | None = None
    refused: Response | None = None


def predicted(fields: Fields) -> Predicted:
    """Read what was asked, and predict the day."""
    texts, example = own_or_example(tidy(fields))
    found = understand(texts)
    asked, errors = asked_day(fields)
    made = Predicted(texts, example, asked, errors)
    if found.design is None:
        return replace(made, refused=form(texts, found.errors))
    if errors:
        return made
    try:
        there = clear_day_of(found.design)
    except SizingError as error:
        return replace(made, refused=form(texts, sentences_of(texts, error.problems)))
    first, last, worked = hour_of(asked[FROM]), hour_of(asked[TO]), hour_of(fields.get(AT, ""))
    try:
        return replace(made, sheet=sheet_of(there, datetime.date.fromisoformat(asked[DAY]), first or 0.0, last or 0.0, worked))
    except SizingError as error:
        problem = error.problems[0]
        name = {"?day": DAY, "?to_hour": TO}.get(problem.pointer, FROM)
        return replace(made, errors={name: problem.detail[0].upper() + problem.detail[1:]})


def sheet_page(fields: Fields) -> Response:
    """A predicted day, to print and fill in."""
    made = predicted(fields)
    if made.refused is not None:
        return made.refused
    texts, asked, errors, sheet = made.texts, made.asked, made.errors, made.sheet
    kept = filled(texts)
    answer = None if sheet is None else sheet_answer(sheet)
    return page(
        "class_sheet.html",
        422 if errors else 200,
        current="/class/sheet",
        title=texts.get("title", ""),
        example=made.example,
        leads=leads(kept, "/class/sheet"),
        carried=carried(kept),
        method=method_for(kept),
        asked=asked,
        labels=ASKED,
        hints=HINTS,
        errors=errors,
        sheet=answer,
        lines=[] if answer is None else printed_lines(answer),
        verdict="" if answer is None else best_sentence(answer.lines),
        facing=""
        if answer is None
        else f"{figures(answer.tilt_deg)}° steep, facing {figures(answer.azimuth_deg)}° from true north",
        csv=short_address("/class/sheet.csv", kept | asked),
        working=None if sheet is None else working_of(sheet),
        at=AT,
        unfolded=AT in fields,
    )


def best_sentence(lines: Sequence[SheetLineAnswer]) -> str:
    """What the day should bring at best, in a sentence."""
    jets = any(line.jet_height_m.value > 0 for line in lines)
    name: QuantityName = "jet_height_m" if jets else "flow_l_per_min"
    words = "jet should be highest" if jets else "flow should be largest"
    best = max(lines, key=lambda line: line.ranges[name].value)
    found = best.ranges[name]
    if found.value <= 0:
        return "At none of these hours does the pump lift water."
    _, unit, factor = QUANTITIES[name]
    low, high = column([factor * found.low, factor * found.high])
    return f"On a clear day the {words} at {clock(best.time_h)}: {low} to {high}{SPACE}{unit}, two times in three."


def printed_lines(found: SheetAnswer) -> list[tuple[str, ...]]:
    """The lines of a sheet as texts, each column with as many decimals as its likely ranges bear."""
    lines = found.lines
    columns = [[clock(line.time_h) for line in lines]]
    columns += [[f"{line.sun_altitude_deg:.0f}" for line in lines], [f"{line.sun_azimuth_deg:.0f}" for line in lines]]
    for name in found.ranged:
        factor, ranges = QUANTITIES[name].factor, [line.ranges[name] for line in lines]
        widest = max(factor * (each.high - each.low) for each in ranges)
        decimals = min(max(math.ceil(-math.log10(widest / 5)), 0), 3) if widest > 0 else 0
        ends = [(f"{factor * each.low:.{decimals}f}", f"{factor * each.high:.{decimals}f}") for each in ranges]
        columns.append([low if low == high else f"{low} to {high}" for low, high in ends])
    return list(zip(*columns, strict=True))


def working_of(sheet: Sheet) -> Chapter:
    """The best moment, number by number."""
    title = f"How the numbers of {clock(sheet.moment.time)} were computed"
    return unfolded("sheet", title, [root for station in sheet.moment.stations for root in station.roots])


def sheet_table(fields: Fields) -> Response:
    """The same as a table for spreadsheets, with empty columns."""
    made = predicted(fields)
    if made.sheet is None:
        return sheet_page(fields)
    return spreadsheet(sheet_csv(sheet_answer(made.sheet)), f"clear-day-{made.sheet.day.isoformat()}.csv")


def found_of(design: Design, log: bytes, boxes: Mapping[str, str]) -> Compared:
    """A filled sheet beside its prediction."""
    return compared(clear_day_of(design), read_sheet(log), instruments_told(boxes, METERS))


def answer_filled(design: Design, log: bytes, boxes: Mapping[str, str]) -> Shown:
    """What stands on the page of a filled sheet."""
    side_by_side = found_of(design, log, boxes)
    found = compared_answer(side_by_side)
    charts = [drawn for name in QUANTITIES if name != "sun_altitude_deg" and (drawn := chart(found, name))]
    sections = [
        Section("Stage by stage", [stage.sentence for stage in found.stages], (), ()),
        Section("Measured and predicted", (), charts, [rows_table(found)]),
    ]
    roots = judged_roots(side_by_side)
    working = unfolded("filled", "How the stages were judged, number by number", roots)
    return Shown(found.verdict, sections, found.problems, found.notes, working, (("rows.csv", "All rows as CSV"),))


def chart(found: FilledSheetAnswer, name: QuantityName) -> Chart | None:
    """One quantity through the day with most of its readings, where there are at least two."""
    words, unit, factor = QUANTITIES[name]
    rows = rows_of_a_day([row for row in found.rows if row.sides[name].measured is not None])
    once = {row.time_h: row.sides[name] for row in rows}
    if len(rows) < 2 or all(side.high <= 0 for side in once.values()):
        return None
    step = max(len(rows) // MOST_MARKS, 1)
    marks = [mark for index, row in enumerate(rows) if (mark := mark_of(row, name)).apart or index % step == 0]
    predicted = [factor * side.predicted for side in once.values()]
    low, high = [factor * side.low for side in once.values()], [factor * side.high for side in once.values()]
    finding = (
        "Rings were measured, crosses lie more than two standard uncertainties off; the line is the prediction with its range."
    )
    about = About(
        f"filled-{name.replace('_', '-')}",
        words,
        f"{words} through the day. {finding}",
        finding,
        "hour of the clock",
        f"{words.lower()}, {unit}",
        float(int(min(once))),
    )
    texts = zip(*(column(values[:MOST_ROWS]) for values in (predicted, low, high)), strict=True)
    table = Table(
        f"{words} on {day_words(datetime.date.fromisoformat(rows[0].day))}, predicted{first_of(len(once))}",
        ("Time", f"Predicted, {unit}", "from", "to"),
        tuple((clock(hour), *text) for hour, text in zip(once, texts, strict=False)),
    )
    return measured_chart(about, [Drawn("predicted", list(once), predicted, low, high)], marks, table)


def mark_of(row: FilledRowAnswer, name: QuantityName) -> Mark:
    """A reading in a picture; one that lies more than two standard uncertainties off stands apart."""
    side = row.sides[name]
    value = QUANTITIES[name].factor * (side.measured or 0.0)
    return Mark(row.time_h, value, value, value, abs(side.off or 0.0) > 2)


def rows_of_a_day(rows: Sequence[FilledRowAnswer]) -> list[FilledRowAnswer]:
    """The rows of the day with most of them, in the order of the clock: the prediction is a line on one day only."""
    fullest = Counter(row.day for row in rows).most_common(1)
    return sorted((row for row in rows if row.day == fullest[0][0]), key=lambda row: row.time_h)


def rows_table(found: FilledSheetAnswer) -> Table:
    """Every reading beside its prediction."""
    readings = [(row, name, side) for row in found.rows for name, side in row.sides.items() if side.measured is not None]
    rows = []
    for row, name, side in readings[:MOST_ROWS]:
        words, unit, factor = QUANTITIES[name]
        measured, low, high = alike([factor * end for end in (side.measured or 0.0, side.low, side.high)], unit)
        rows.append((f"{row.row}, {clock(row.time_h)}", words, measured, f"{low} to {high}", one_decimal(side.off or 0.0)))
    head = ("Row, time", "What", "Measured", "Predicted, likely range", "Off by (uncertainties)")
    return WordTable(f"Readings beside their prediction{first_of(len(readings))}", head, tuple(rows), (1,))


def filled_file(design: Design, log: bytes, boxes: Mapping[str, str]) -> Response:
    """A filled sheet as a table for spreadsheets."""
    return spreadsheet(filled_csv(compared_answer(found_of(design, log, boxes))), "measured-and-predicted.csv")


FILLED_PAGE = LogPage(
    address="/class/filled",
    title="Predicted, then measured",
    about=(
        "Paste the sheet that was filled in, or its columns day, time and what was measured; the predictions are computed anew "
        "for the minute of each row.",
        "Each stage is judged by what was measured at its two ends: light and panel by whether the amperes fit the volts under "
        "that sun, the motor by its amperes at its volts, pump and pipe by the flow at the volts, the outlet by the jet at the "
        "flow. So it can be said where along the path something is off, and what may be the reason.",
    ),
    heading=",".join(("day", "time", *TO_FILL)) + "\n",
    blank="/class/filled.csv",
    boxes=(),
    more=METERS,
    answer=answer_filled,
    tables={"rows.csv": filled_file},
)
