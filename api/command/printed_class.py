"""What the class measured as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Sequence

from api.command.printed import CAUTION, Block, Sentence, Table, laid_out, listed
from sizing.answers import RowProblemAnswer
from sizing.foundation import alike, clock, column, figures, one_decimal, with_unit
from sizing.measured.day import FilledSheetAnswer, FirstDayAnswer, KeptAnswer, QuantityName, RangeAnswer, SheetAnswer
from sizing.measured.trials import ExperimentAnswer, SunHeightsAnswer, TurnedAnswer, TurnedQuantityAnswer, range_words

SUN_CAUTION = "Never look into the sun: measure its height by a shadow, or with an instrument that is turned away from it."
MOST_HEIGHTS = 40


def text_of(paragraphs: Sequence[Block], encoding: str) -> str:
    """Paragraphs for a terminal, the caution last."""
    whole = [*paragraphs, [Sentence(CAUTION)]]
    return "\n\n".join("\n".join(laid_out(paragraph, encoding)) for paragraph in whole if paragraph) + "\n"


def sheet_text(found: SheetAnswer, encoding: str = "utf-8") -> str:
    """A predicted day."""
    lines = found.lines
    heads = [("at", ""), ("sun", "°"), ("toward", "°"), ("panel", "V"), ("panel", "A"), ("flow", "L/min")]
    heads += [("jet", "cm")] if found.has_jet else []
    ranges = [spans([line.ranges[name] for line in lines], READ[name][2]) for name in found.ranged]
    suns = (column([line.sun_altitude_deg for line in lines], 2), column([line.sun_azimuth_deg for line in lines], 2))
    times = [clock(line.time_h) for line in lines]
    what = "Volts, amperes, flow and jet" if found.has_jet else "Volts, amperes and flow"
    about = (
        f"{found.title}, by the clock of {found.time_zone}: what should be measured with the pump on the panel. "
        f"{what} stand with the ends of their likely range: two times in three the truth lies between."
    )
    causes = ", ".join(f"{cause.words} {100 * cause.share:.0f} %" for cause in found.causes[:4] if cause.share >= 0.005)
    return text_of(
        [
            [Sentence(about)],
            [Table(tuple(heads), tuple(zip(times, *suns, *ranges, strict=True)))],
            [Sentence(f"What makes the flow unsure, by its share: {causes}.")] if causes else [],
            listed("To know", [note.detail for note in found.notes]),
            [Sentence(SUN_CAUTION)],
        ],
        encoding,
    )


def spans(ranges: Sequence[RangeAnswer], factor: float) -> list[str]:
    """A column of ranges: "12.4 to 13.5"."""
    texts = column([factor * end for each in ranges for end in (each.low, each.high)])
    return [f"{low} to {high}" for low, high in zip(texts[::2], texts[1::2], strict=True)]


def problem_block(found: Sequence[RowProblemAnswer]) -> Block:
    """What could not be read of a log."""
    if not found:
        return []
    told = [f"{place_of(each)}{each.sentence}" for each in found[:20]]
    more = [f"and {len(found) - 20} more"] if len(found) > 20 else []
    return [Sentence("Not read as it stands"), *(Sentence(text, "- ") for text in (*told, *more))]


def place_of(problem: RowProblemAnswer) -> str:
    """Row and column of what could not be read, as the beginning of a sentence."""
    if not problem.row:
        return ""
    return f"row {problem.row}, {problem.column}: " if problem.column else f"row {problem.row}: "


def filled_text(found: FilledSheetAnswer, encoding: str = "utf-8") -> str:
    """A filled sheet beside its prediction."""
    heads = (("row", "no."), ("day", ""), ("at", ""), ("what", ""), ("measured", ""), ("likely", ""), ("off by", "uncertainties"))
    rows = []
    for row in found.rows[:60]:
        for name, side in row.sides.items():
            words, code, factor = READ[name]
            if side.measured is not None and side.off is not None:
                measured, low, high = column([factor * end for end in (side.measured, side.low, side.high)])
                texts = (words, with_unit(measured, code), f"{low} to {with_unit(high, code)}", one_decimal(side.off))
                rows.append((str(row.row), row.day, clock(row.time_h), *texts))
    more = len(found.rows) - 60
    return text_of(
        [
            [Sentence(found.verdict)],
            [Sentence(stage.sentence, "- ") for stage in found.stages],
            [Table(heads, tuple(rows))],
            [Sentence(f"{more} more rows stand in the JSON and in the CSV.")] if more > 0 else [],
            problem_block(found.problems),
            listed("To know", [note.detail for note in found.notes]),
        ],
        encoding,
    )


READ: dict[QuantityName, tuple[str, str, float]] = {
    "sun_altitude_deg": ("sun", "deg", 1.0),
    "panel_voltage_v": ("volts", "V", 1.0),
    "panel_current_a": ("amperes", "A", 1.0),
    "flow_l_per_min": ("flow", "l/min", 1.0),
    "jet_height_m": ("jet", "cm", 100.0),
}
"""Words and unit of each quantity, and what its number in the answer is multiplied by."""


def first_day_text(found: FirstDayAnswer, encoding: str = "utf-8") -> str:
    """What to measure on a first clear day, and the looks so far."""
    heads = (("at", ""), ("what", ""), ("expected", ""), ("accept from", ""), ("to", ""))
    rows = [
        (clock(line.time_h), words, *alike([factor * end for end in (each.value, each.least, each.most)], code))
        for line in found.lines
        for name in found.quantities
        for each, (words, code, factor) in [(line.accepted[name], READ[name])]
    ]
    about = f"{found.title}, by the clock of {found.time_zone}: measure with the pump on the panel; accept what lies between."
    return text_of(
        [
            [Sentence(about)],
            [Table(heads, tuple(rows))],
            *kept_blocks(found.kept),
            listed("To know", [note.detail for note in found.notes]),
            [Sentence(SUN_CAUTION)],
        ],
        encoding,
    )


def kept_blocks(kept: KeptAnswer | None) -> list[Block]:
    """The looks that a design holds."""
    if kept is None:
        return []
    heads = (("day", ""), ("at", ""), ("what", ""), ("measured", ""), ("expected", ""), ("", ""))
    rows = []
    for look in kept.looks:
        for each in look.readings:
            words, code, factor = READ[each.quantity]
            numbers = alike([factor * each.measured, factor * each.expected], code)
            rows.append((look.day, clock(look.time_h), words, *numbers, each.verdict))
    return [
        [Sentence("Looks so far"), Table(heads, tuple(rows))],
        [Sentence(kept.sentence), Sentence(kept.last.verdict)],
        [Sentence(trend.sentence, "- ") for trend in kept.trends],
    ]


def turned_text(found: TurnedAnswer, encoding: str = "utf-8") -> str:
    """What a log of directions and tilts tells."""
    blocks: list[Block] = [[Sentence(found.verdict)]]
    for trial in found.experiments:
        blocks.append([Sentence(trial.title), *(Sentence(said, "- ") for said in trial.explanation)])
        for part in trial.quantities:
            blocks.append([group_table(trial, part)])
            blocks.append([Sentence(said, "- ") for said in part.sentences])
        blocks.append(problem_block(trial.left_out))
    blocks += height_blocks(found.sun_heights)
    to_know = listed("To know", [note.detail for note in found.notes])
    return text_of([*blocks, problem_block(found.problems), to_know, [Sentence(SUN_CAUTION)]], encoding)


def group_table(trial: ExperimentAnswer, part: TurnedQuantityAnswer) -> Table:
    """One quantity by direction or tilt: as read, comparable with its likely range, and the model's."""
    groups, unit = part.groups, part.unit
    name = part.quantity.removeprefix("panel_").partition("_")[0]
    heads = (
        ("facing" if trial.changed == "direction" else "tilt", "°"),
        ("readings", "no."),
        (f"{name} as read", unit),
        ("comparable", unit),
        ("likely range", unit),
        ("model", unit),
    )
    columns = (
        [figures(group.angle_deg) for group in groups],
        [str(group.readings) for group in groups],
        column([group.mean_as_read for group in groups]),
        column([group.comparable_mean for group in groups]),
        range_words([(group.low, group.high) for group in groups]),
        column([group.expected for group in groups]),
    )
    return Table(heads, tuple(zip(*columns, strict=True)))


def height_blocks(found: SunHeightsAnswer | None) -> list[Block]:
    """Heights of the sun."""
    if found is None:
        return []
    heads = (("row", "no."), ("measured", "°"), ("give or take", "°"), ("computed", "°"), ("by", ""))
    rows = found.rows[:MOST_HEIGHTS]
    columns = (
        [str(row.row) for row in rows],
        column([row.measured_deg for row in rows]),
        column([row.uncertainty_deg for row in rows]),
        column([row.computed_deg for row in rows]),
        [row.by for row in rows],
    )
    table = Table(heads, tuple(zip(*columns, strict=True)))
    return [[Sentence("Heights of the sun"), table], [Sentence(said, "- ") for said in found.sentences]]
