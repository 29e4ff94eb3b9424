"""The page of direction and tilt experiments."""

from collections.abc import Mapping

from starlette.responses import Response

from sizing.design import Design
from sizing.foundation import column, quantity
from sizing.measured.day import clear_day_of, declination_on
from sizing.measured.logs import blanks, read_turns
from sizing.measured.trials import (
    ExperimentAnswer,
    OrientationTrial,
    SunHeightsAnswer,
    TurnedQuantityAnswer,
    range_words,
    trial_of,
    trial_roots,
    turned_answer,
)
from web.charts.experiments import About, Drawn, Mark, measured_chart
from web.charts.kit.shapes import Chart, Table
from web.exports.measured import turned_csv
from web.pages.frame.site import spreadsheet
from web.pages.frame.unfolded import unfolded
from web.pages.measured.boxes import instrument_boxes, instruments_told
from web.pages.measured.log_page import MOST_ROWS, LogPage, Section, Shown, WordTable, first_of

SIGHTS = instrument_boxes("sun_height_reading_deg", "stick_reading_m")
HELD = {"direction": "tilted", "tilt": "facing"}
STEPS = {"direction": 90.0, "tilt": 15.0}
"""[deg] Between the numbers below a picture."""
NAMES = {"panel_current_a": "current", "panel_voltage_v": "voltage", "panel_power_w": "power", "flow_l_per_min": "flow"}


def found_of(design: Design, log: bytes, boxes: Mapping[str, str]) -> OrientationTrial:
    """The experiments of a log."""
    clear_day = clear_day_of(design)
    return trial_of(read_turns(log, lambda day: declination_on(clear_day, day)), clear_day, instruments_told(boxes, SIGHTS))


def answer(design: Design, log: bytes, boxes: Mapping[str, str]) -> Shown:
    """What stands on the page."""
    trial = found_of(design, log, boxes)
    found = turned_answer(trial)
    sections = [
        section
        for number, experiment in enumerate(found.experiments, 1)
        for section in experiment_sections(experiment, f"trial-{number}")
    ]
    if found.sun_heights is not None:
        heights = found.sun_heights
        sections.append(Section("Heights of the sun", heights.sentences, (), [heights_table(heights)]))
    working = unfolded("turned", "How readings were made comparable, number by number", trial_roots(trial))
    tables = (("groups.csv", "Directions and tilts as CSV"),)
    return Shown(found.verdict, sections, found.problems, found.notes, working, tables)


def experiment_sections(found: ExperimentAnswer, key: str) -> list[Section]:
    """One experiment: how it was made comparable, each quantity, and the readings that do not count."""
    sections = [Section(found.title, found.explanation)]
    sections += [quantity_section(found, part, key) for part in found.quantities]
    if left := found.left_out:
        rows = tuple((str(each.row), each.sentence) for each in left[:MOST_ROWS])
        table = WordTable(f"{found.title}: not counted{first_of(len(left))}", ("Row", "Why"), rows, (1,))
        sections.append(Section("Readings that were not counted", (), (), [table]))
    return sections


def quantity_section(found: ExperimentAnswer, part: TurnedQuantityAnswer, key: str) -> Section:
    """One quantity of an experiment: what the readings say, the picture, the numbers."""
    name, changed = NAMES[part.quantity], found.changed
    title = f"{name.capitalize()} by {changed}, {HELD[changed]} {found.held_deg:.0f}°"
    finding = f"Rings are means of the readings with their likely ranges, the line is the design’s {name} under a clear sky."
    axes = (f"{changed}, degrees", f"{name}, {part.unit}")
    about = About(f"{key}-{name}", title, f"{title}. {finding}", finding, *axes, x_step=STEPS[changed])
    table = group_table(title, changed, part)
    return Section(title, part.sentences, [chart(about, part, table)], [table], 3)


def chart(about: About, part: TurnedQuantityAnswer, table: Table) -> Chart:
    """Means over the model's line."""
    ends = [(group.angle_deg, group.comparable_mean, group.low, group.high) for group in part.groups]
    marks = [Mark(angle, mean, mean if low is None else low, mean if high is None else high) for angle, mean, low, high in ends]
    return measured_chart(about, [Drawn("design", part.model.angle_deg, part.model.value)], marks, table)


def group_table(title: str, changed: str, part: TurnedQuantityAnswer) -> Table:
    """Directions or tilts side by side."""
    groups, unit = part.groups, part.unit
    head = ("Direction" if changed == "direction" else "Tilt", "Readings", f"as read, {unit}", f"comparable, {unit}")
    columns = (
        [group.words for group in groups],
        [str(group.readings) for group in groups],
        column([group.mean_as_read for group in groups]),
        column([group.comparable_mean for group in groups]),
        range_words([(group.low, group.high) for group in groups]),
        column([group.expected for group in groups]),
    )
    rows = tuple(zip(*columns, strict=True))
    return Table(f"{title}: means (measured) and the design (computed)", (*head, "likely range", f"design, {unit}"), rows)


def heights_table(found: SunHeightsAnswer) -> Table:
    """Heights of the sun."""
    rows = found.rows[:MOST_ROWS]
    columns = (
        [str(row.row) for row in rows],
        [row.by for row in rows],
        column([row.measured_deg for row in rows]),
        column([row.uncertainty_deg for row in rows]),
        column([row.computed_deg for row in rows]),
    )
    head = ("Row", "by", "Measured, °", "give or take, °", "Computed, °")
    return WordTable(f"Heights of the sun{first_of(len(found.rows))}", head, tuple(zip(*columns, strict=True)), (1,))


def groups_file(design: Design, log: bytes, boxes: Mapping[str, str]) -> Response:
    """Directions and tilts as a table for spreadsheets."""
    return spreadsheet(turned_csv(turned_answer(found_of(design, log, boxes))), "directions.csv")


TURNED_PAGE = LogPage(
    address="/class/directions",
    title="Which way, how steep: turning the panel",
    about=(
        "Hold the panel at one tilt and turn it from direction to direction, or hold the direction and change the tilt. Each row "
        f"is one reading: day and time by the clock on the wall, direction ({quantity(180, 'deg')} is south; a compass reading "
        "goes into its own column and is turned to true north), tilt, and what was read: volts, amperes, flow.",
        "Go round several times, on several days or by several teams: then a passing haze cannot fake a direction, and it can be "
        "said how sure a difference is. Write clouds into the column sky; such readings are shown and not counted.",
        "Heights of the sun may stand in the same table, by a sighting instrument or by a stick and its shadow. Never look into "
        "the sun: turn the instrument away from it, or let it throw its shadow.",
    ),
    heading=blanks()["directions"].strip() + "\n",
    blank="/class/directions.csv",
    boxes=(),
    more=SIGHTS,
    answer=answer,
    tables={"groups.csv": groups_file},
)
