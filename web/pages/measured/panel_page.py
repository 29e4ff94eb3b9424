"""The page of a panel check."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from starlette.responses import Response

from sizing.design import Design
from sizing.foundation import SPACE, clock, figures
from sizing.measured.day import clear_day_of, day_words
from sizing.measured.logs import blanks, read_panel
from sizing.measured.panel_check import (
    BesideAnswer,
    PanelCheck,
    PanelReadingAnswer,
    panel_check_answer,
    panel_check_of,
    reading_roots,
    sitting_roots,
)
from web.charts.kit.shapes import Table
from web.charts.panel_readings import sitting_chart
from web.exports.measured import panel_csv
from web.pages.frame.site import spreadsheet
from web.pages.frame.unfolded import unfolded
from web.pages.measured.boxes import instrument_boxes, instruments_told
from web.pages.measured.log_page import MOST_ROWS, LogPage, Section, Shown, WordTable, first_of

METERS = instrument_boxes("voltage_share_pct", "voltage_digit_v", "current_share_pct", "current_digit_a")
WORKED = 4
"""Readings whose comparison unfolds on the page; the JSON has twelve."""
KINDS = {"open": "open circuit", "short": "short circuit", "loaded": "with a load"}


def found_of(design: Design, log: bytes, boxes: Mapping[str, str]) -> PanelCheck:
    """The panel check of a log."""
    return panel_check_of(read_panel(log), clear_day_of(design), instruments_told(boxes, METERS))


def answer(design: Design, log: bytes, boxes: Mapping[str, str]) -> Shown:
    """What stands on the page."""
    check = found_of(design, log, boxes)
    found = panel_check_answer(check)
    sections = []
    for number, (sat, sitting) in enumerate(zip(check.sittings, found.sittings, strict=True), 1):
        when = f"{day_words(sat.day)}, {clock(sitting.from_h)} to {clock(sitting.to_h)}"
        drawn = sitting_chart(sitting, found.readings, number)
        charts = [] if drawn is None else [replace(drawn, title=f"{drawn.title}, {when}")]
        said = [sentence for sentence in sitting.sentences if sentence != found.verdict]
        sections.append(Section(f"Readings of {when}", said, charts))
    sections.append(Section("Every reading beside the label", (READING_WORDS,), (), [readings_table(found.readings)]))
    roots = [root for sitting in check.sittings for root in sitting_roots(check, sitting)]
    worked = (at for at, row in enumerate(found.readings) if row.working)
    roots += [root for at in [*worked][:WORKED] for root in reading_roots(check, at)]
    return Shown(
        found.verdict,
        sections,
        found.problems,
        found.notes,
        unfolded("panel", "How the readings were judged, number by number", roots),
        (("readings.csv", "All readings as CSV"),),
    )


READING_WORDS = (
    "Measured over computed, first under a clear sky, then at the sun that the short circuit itself tells: haze and dirt change "
    "the first alone, shade and bad joints the second."
)


def readings_table(readings: Sequence[PanelReadingAnswer]) -> Table:
    """Every reading beside the label."""
    rows = tuple(
        (
            f"{row.row}, {clock(row.time_h)}",
            KINDS.get(row.kind, row.kind),
            f"{figures(row.voltage_v, 4)}{SPACE}V",
            f"{figures(row.current_a, 4)}{SPACE}A",
            beside(row.clear_sky),
            beside(row.told_sun),
        )
        for row in readings[:MOST_ROWS]
    )
    caption = f"Readings (measured) over the label’s curve (computed){first_of(len(readings))}"
    head = ("Row, time", "Kind", "Volts", "Amperes", "Under a clear sky", "At the sun told")
    return WordTable(caption, head, rows, (1,))


def beside(found: BesideAnswer | None) -> str:
    """A ratio and how far off it is."""
    if found is None:
        return "–"
    mark = "" if found.within else ", beyond its range"
    return f"{100 * found.ratio:.1f}{SPACE}% of {figures(found.computed)}{SPACE}{found.unit}{mark}"


def readings_file(design: Design, log: bytes, boxes: Mapping[str, str]) -> Response:
    """All readings as a table for spreadsheets."""
    return spreadsheet(panel_csv(panel_check_answer(found_of(design, log, boxes))), "panel-check.csv")


PANEL_PAGE = LogPage(
    address="/class/panel",
    title="Panel check: is it what its label says?",
    about=(
        "Unplug the panel from the pump and leave it where it stands. Read its volts with nothing joined (open circuit, 0 A), "
        "then for a second its amperes with the leads joined through the meter (short circuit, 0 V), then both with a few loads "
        "between, such as lamps or resistors. Take all of it within a few minutes of a clear hour.",
        "The readings are held against the label’s curve under the sun of that minute. The short circuit tells the sun by "
        "itself, so that haze and dirt can be parted from shade, warm cells and bad joints.",
        "Joining the leads of one small panel through a meter’s 10 A socket is usual; larger arrays and anything with a battery "
        "are not. Above 30 V or 10 A a licensed person measures; local code decides.",
    ),
    heading=blanks()["panel"].strip() + "\n",
    blank="/class/panel.csv",
    boxes=(),
    more=METERS,
    answer=answer,
    tables={"readings.csv": readings_file},
)
