"""Direction and tilt experiments as plain text for a terminal, at most 80 columns wide."""

from api.command.printed import Block, Sentence, Table, listed
from api.command.printed_class import SUN_CAUTION, problem_block, text_of
from sizing.foundation import column, figures
from sizing.measured.trials import ExperimentAnswer, SunHeightsAnswer, TurnedAnswer, TurnedQuantityAnswer, range_words

MOST_ROWS = 40


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
    rows = found.rows[:MOST_ROWS]
    columns = (
        [str(row.row) for row in rows],
        column([row.measured_deg for row in rows]),
        column([row.uncertainty_deg for row in rows]),
        column([row.computed_deg for row in rows]),
        [row.by for row in rows],
    )
    table = Table(heads, tuple(zip(*columns, strict=True)))
    return [[Sentence("Heights of the sun"), table], [Sentence(said, "- ") for said in found.sentences]]
