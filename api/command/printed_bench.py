"""A bench test as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Sequence

from api.command.printed import Sentence, Table, listed
from api.command.printed_class import problem_block, text_of
from sizing.foundation import aligned, column, figures
from sizing.measured.bench import BenchAnswer, CurveRowAnswer, SettingAnswer

MOST_SETTINGS = 40


def bench_text(found: BenchAnswer, encoding: str = "utf-8") -> str:
    """The pump that follows from a bench test."""
    first, *others = found.notes
    more = len(found.settings) - MOST_SETTINGS
    return text_of(
        [
            [Sentence(first.detail)],
            [Sentence(f"The pump at {figures(found.rated_voltage_v)} V, with likely ranges"), curve_table(found.curve.rows)],
            [Sentence("Flow of each setting, as measured"), setting_table(found.settings[:MOST_SETTINGS])],
            [Sentence(f"{more} more settings stand in the JSON.")] if more > 0 else [],
            [] if found.label is None else listed("Beside its label", found.label.sentences),
            listed("To know", [note.detail for note in others]),
            listed("What would help most", [one.sentence for one in found.advice]),
            problem_block(found.problems),
        ],
        encoding,
    )


def curve_table(rows: Sequence[CurveRowAnswer]) -> Table:
    """The pump's curve at rated voltage."""
    heads = (("flow", "L/min"), ("head", "m"), ("from", "m"), ("to", "m"), ("current", "A"), ("efficiency", "%"))
    numbers = (
        (row.flow_l_per_min, row.head_m, row.head_low_m, row.head_high_m, row.current_a, row.efficiency_pct) for row in rows
    )
    return Table(heads, tuple(aligned(numbers)))


def setting_table(rows: Sequence[SettingAnswer]) -> Table:
    """The settings of a bench test."""
    heads = (("volts", "V"), ("height", "m"), ("amperes", "A"), ("readings", "no."), ("flow", "L/min"), ("give or take", "L/min"))
    columns = (
        column([row.voltage_v for row in rows]),
        column([row.height_m for row in rows]),
        column([row.current_a for row in rows]),
        [str(row.repeats) for row in rows],
        column([row.flow_l_per_min for row in rows]),
        column([row.uncertainty_l_per_min for row in rows]),
    )
    return Table(heads, tuple(zip(*columns, strict=True)))
