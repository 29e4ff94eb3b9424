"""The page of a bench test: readings in, a pump out."""

from collections.abc import Callable, Mapping, Sequence

from starlette.responses import Response

from sizing.design import Design, read_as
from sizing.foundation import aligned, alike, column, figures, quantity
from sizing.measured import BenchBoxes, bench_asked
from sizing.measured.bench import (
    ApartAnswer,
    Bench,
    BenchAnswer,
    BenchRowAnswer,
    CurveRowAnswer,
    FitAnswer,
    LabelComparedAnswer,
    SettingAnswer,
    bench_answer,
    bench_roots,
    design_with_pump,
    setting_roots,
)
from sizing.measured.logs import blanks
from web.charts.experiments import About, Drawn, Mark, measured_chart, misses_chart
from web.charts.kit.shapes import INK, QUIET, Chart, Table
from web.exports.measured import curve_csv, readings_csv
from web.forms.form import texts_of
from web.pages.frame.site import spreadsheet
from web.pages.frame.unfolded import unfolded
from web.pages.measured.boxes import boxes_of, instrument_boxes, instruments_told, numbers_of
from web.pages.measured.log_page import MOST_ROWS, LogPage, Section, Shown, WordTable, first_of

OF_TEST = boxes_of(BenchBoxes, {"rated_voltage_v": "Those of the chosen pump if left empty"})
OF_INSTRUMENTS = instrument_boxes(
    "volume_calibration_pct",
    "volume_reading_l",
    "time_reading_s",
    "head_reading_m",
    "voltage_share_pct",
    "voltage_digit_v",
    "current_share_pct",
    "current_digit_a",
)
PLAIN = ("date",)
FLOW = "litres a minute"
WORKED = 4
"""Settings whose flow unfolds on the page; the JSON has forty."""


def found_of(design: Design, log: bytes, boxes: Mapping[str, str]) -> Bench:
    """The bench test of a log."""
    typed = numbers_of(boxes, [each for each in OF_TEST if each.name not in PLAIN])
    typed |= {name: boxes[name].strip() for name in PLAIN if boxes.get(name, "").strip()}
    asked = read_as(BenchBoxes, typed)
    return bench_asked(asked, log, design, instruments_told(boxes, OF_INSTRUMENTS))


def answer(design: Design, log: bytes, boxes: Mapping[str, str]) -> Shown:
    """What stands on the page."""
    bench = found_of(design, log, boxes)
    found = bench_answer(bench)
    first, *notes = found.notes
    pictures = [head_chart(found), misses(found), current_chart(found), efficiency_chart(found)]
    sections = [
        Section("The pump that follows", [efficiency_sentence(found.fit)], pictures, [curve_table(found)]),
        Section("Flow of each setting", (SETTING_WORDS,), (), [setting_table(found.settings)]),
        Section("What would help most", [one.sentence for one in found.advice]),
    ]
    if found.label is not None:
        sections.insert(1, Section("Beside its label", found.label.sentences, (), [label_table(found.label)]))
    if found.apart:
        sections.insert(1, Section("Readings that stand apart", (APART_WORDS,), (), [apart_table(found.apart)]))
    roots = [
        *bench_roots(bench),
        *(root for at in range(min(WORKED, len(found.settings))) for root in setting_roots(bench, at)),
    ]
    return Shown(
        first.detail,
        [section for section in sections if section.sentences or section.tables],
        found.problems,
        notes,
        unfolded("bench", "How the pump and the first flows were found, number by number", roots),
        (("curve.csv", "The curve as CSV"), ("readings.csv", "All readings as CSV")),
        texts_of(design_with_pump(design, found.pump)),
    )


SETTING_WORDS = (
    "Readings at the same volts and height are repeats of one setting; their mean is measured, and its uncertainty is "
    "computed from the mark of the bucket, the stopwatch and the scatter of the repeats (JCGM 100)."
)
APART_WORDS = "They were kept and count in the fit; look whether something was written down wrong, and mend or leave out the row."


def efficiency_sentence(fit: FitAnswer) -> str:
    """The best efficiency."""
    best, spread = alike([fit.best_efficiency_pct, fit.best_efficiency_uncertainty_pct], "%")
    at = quantity(fit.best_flow_l_per_min, "l/min")
    return f"At best, near {at}, it turns {best} of the electricity into lifted water, give or take {spread} (wire to water)."


def head_chart(found: BenchAnswer) -> Chart:
    """Head over flow at every voltage, with the readings."""
    lines = curves(found, lambda row: (row.head_m, row.head_low_m, row.head_high_m))
    if found.label is not None and len(found.label.rows) > 1:
        rows = sorted(found.label.rows, key=lambda row: row.flow_l_per_min)
        points = ([row.flow_l_per_min for row in rows], [row.label_head_m for row in rows])
        lines.append(Drawn("label", *points, dash="2.5 2.5", colour=QUIET))
    finding = over_readings(found)
    about = About("bench-head", "Head over flow", f"Head over flow of the pump. {finding}", finding, FLOW, "head, m")
    return measured_chart(about, lines, head_marks(found.rows), curve_table(found))


def current_chart(found: BenchAnswer) -> Chart:
    """Current over flow at every voltage, with the readings."""
    finding = over_readings(found)
    about = About("bench-current", "Current over flow", f"Current over flow. {finding}", finding, FLOW, "current, A")
    lines = curves(found, lambda row: (row.current_a, row.current_low_a, row.current_high_a))
    return measured_chart(about, lines, current_marks(found.rows), curve_table(found))


def efficiency_chart(found: BenchAnswer) -> Chart:
    """Wire-to-water efficiency over flow at every voltage."""
    finding = f"The share of the electricity that lifts water: at {rated(found)} with its likely range, dashed at other volts."
    title, axis = "Wire-to-water efficiency over flow", "wire to water, %"
    about = About("bench-efficiency", title, f"{title}. {finding}", finding, FLOW, axis)
    lines = curves(found, lambda row: (row.efficiency_pct, row.efficiency_low_pct, row.efficiency_high_pct))
    return measured_chart(about, lines, (), curve_table(found))


def over_readings(found: BenchAnswer) -> str:
    """What the marks and lines of a picture are."""
    return (
        "Rings are readings, crosses stand apart, upright strokes are their uncertainties where they reach beyond; the line is "
        f"the pump at {rated(found)} with its likely range, dashed at other volts."
    )


def rated(found: BenchAnswer) -> str:
    """The rated voltage in words."""
    return quantity(found.rated_voltage_v, "V")


def head_marks(rows: Sequence[BenchRowAnswer]) -> list[Mark]:
    """The heads of the readings on a picture."""
    return [mark_of(row, row.head_m, row.head_off_m, row.head_off_times) for row in rows]


def current_marks(rows: Sequence[BenchRowAnswer]) -> list[Mark]:
    """Their currents."""
    return [mark_of(row, row.current_a, row.current_off_a, row.current_off_times) for row in rows]


def mark_of(row: BenchRowAnswer, value: float, off: float, times: float) -> Mark:
    """A reading with one standard uncertainty: its miss over how many of them it is."""
    spread = min(abs(off / times), value) if times else 0.0
    return Mark(row.flow_l_per_min, value, value - spread, value + spread, row.apart)


def curves(found: BenchAnswer, ends: Callable[[CurveRowAnswer], tuple[float, float, float]]) -> list[Drawn]:
    """A quantity of the pump over flow: at rated voltage with its likely range, dashed at the other voltages.

    Parameters
    ----------
    ends : value, lower and upper end of its likely range
    """
    lines = []
    for curve in (found.curve, *found.curves):
        flow = [row.flow_l_per_min for row in curve.rows]
        value, low, high = ([*numbers] for numbers in zip(*(ends(row) for row in curve.rows), strict=True))
        volts = quantity(curve.voltage_v, "V")
        if curve is found.curve:
            lines.append(Drawn(volts, flow, value, low, high))
        elif abs(curve.voltage_v - found.rated_voltage_v) > 0.3:
            lines.append(Drawn(volts, flow, value, dash="9 3.5", colour=INK))
    return lines


def misses(found: BenchAnswer) -> Chart:
    """How far each reading's head misses the common curve."""
    rows = found.rows
    finding = "Most readings should lie between the dashed lines, two standard uncertainties from the common curve."
    title, axes = "How far the readings miss the curve", (FLOW, "misses, in uncertainties")
    about = About("bench-misses", title, f"Misses over flow. {finding}", finding, *axes)
    return misses_chart(
        about,
        [row.flow_l_per_min for row in rows],
        [row.head_off_times for row in rows],
        [row.apart for row in rows],
        readings_table(rows),
    )


def readings_table(rows: Sequence[BenchRowAnswer]) -> Table:
    """Every reading's misses."""
    count, rows = len(rows), rows[:MOST_ROWS]
    texts = aligned((row.flow_l_per_min, row.head_off_times, row.current_off_times) for row in rows)
    return Table(
        f"How far readings miss the common curve, in standard uncertainties{first_of(count)}",
        ("Row", "Flow, L/min", "by head", "by current"),
        tuple((f"{row.row} {row.team}".strip(), *text) for row, text in zip(rows, texts, strict=True)),
    )


def curve_table(found: BenchAnswer) -> Table:
    """The pump at rated voltage."""
    head = ("Flow, L/min", "Head, m", "likely from, m", "to, m", "Current, A", "Wire to water, %")
    rows = (
        (row.flow_l_per_min, row.head_m, row.head_low_m, row.head_high_m, row.current_a, row.efficiency_pct)
        for row in found.curve.rows
    )
    return Table(f"The pump at {rated(found)}, computed from the readings", head, tuple(aligned(rows)))


def setting_table(settings: Sequence[SettingAnswer]) -> Table:
    """The settings."""
    rows = settings[:MOST_ROWS]
    texts = aligned((row.voltage_v, row.height_m, row.current_a, row.flow_l_per_min, row.uncertainty_l_per_min) for row in rows)
    head = ("Volts, V", "Height, m", "Amperes, A", "Flow, L/min", "give or take, L/min", "Readings")
    caption = f"Settings: means of what was measured{first_of(len(settings))}"
    return Table(caption, head, tuple((*text, str(row.repeats)) for row, text in zip(rows, texts, strict=True)))


def label_table(label: LabelComparedAnswer) -> Table:
    """The label's points beside the bench."""
    rows = label.rows
    head = ("Flow, L/min", "Head by label, m", "by bench, m", "give or take, m", "Current by label, A", "by bench, A")
    columns = (
        column([row.flow_l_per_min for row in rows]),
        column([row.label_head_m for row in rows]),
        column([row.head_m for row in rows]),
        column([row.head_uncertainty_m for row in rows], 2),
        column([row.label_current_a for row in rows]),
        column([row.current_a for row in rows]),
    )
    caption = f"Label (published) and bench (measured) at {quantity(label.voltage_v, 'V')}"
    return Table(caption, head, tuple(zip(*columns, strict=True)))


def apart_table(apart: Sequence[ApartAnswer]) -> Table:
    """Readings that stand apart."""
    rows = tuple(
        (
            str(one.row),
            one.team,
            one.quantity,
            *alike([one.measured, one.expected], one.unit),
            figures(one.times_uncertainty, 2),
        )
        for one in apart[:MOST_ROWS]
    )
    head = ("Row", "Team", "What", "Measured", "By all others", "Off by (uncertainties)")
    return WordTable(f"Readings that stand apart{first_of(len(apart))}", head, rows, (1, 2))


def curve_file(design: Design, log: bytes, boxes: Mapping[str, str]) -> Response:
    """The curve as a table for spreadsheets."""
    return spreadsheet(curve_csv(bench_answer(found_of(design, log, boxes))), "pump-curve.csv")


def readings_file(design: Design, log: bytes, boxes: Mapping[str, str]) -> Response:
    """All readings as a table for spreadsheets."""
    return spreadsheet(readings_csv(bench_answer(found_of(design, log, boxes))), "bench-readings.csv")


BENCH_PAGE = LogPage(
    address="/class/bench",
    title="Bench test: from a bucket to a pump curve",
    about=(
        "Let the pump lift water through a short hose into a bucket. Each row is one filling: the volts and amperes at the "
        "pump, how high the hose’s end stands above the water, how much flowed, and how many seconds it took. Take five "
        "heights, from low to where the water hardly runs any more, each four times; then the same at two other voltages.",
        "All readings together give one pump: its head and current at any voltage, its winding and its no-load current, each "
        "with a likely range, and the reading that would help most. That pump can take the place of the one in the design.",
        "Mains near water can kill: use a panel or a battery of low voltage, keep mains and chargers away from the water, and "
        "never let the pump run dry. Local code and licensed people decide what may be used.",
    ),
    heading=blanks()["bench"].strip() + "\n",
    blank="/class/bench.csv",
    boxes=OF_TEST,
    more=OF_INSTRUMENTS,
    answer=answer,
    tables={"curve.csv": curve_file, "readings.csv": readings_file},
)
