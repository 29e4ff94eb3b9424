"""Direction and tilt experiments as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Mapping
from typing import Any

from api.command.printed import Block, Sentence, Table, notes
from api.command.printed_class import SUN_CAUTION, problem_block, text_of
from sizing.foundation import column, figures
from sizing.measured.trials import range_words

MOST_ROWS = 40


def turned_text(found: Mapping[str, Any], encoding: str = "utf-8") -> str:
    """What a log of directions and tilts tells."""
    blocks: list[Block] = [[Sentence(found["verdict"])]]
    for trial in found["experiments"]:
        blocks.append([Sentence(trial["title"]), *(Sentence(said, "- ") for said in trial["explanation"])])
        for part in trial["quantities"]:
            blocks.append([group_table(trial, part)])
            blocks.append([Sentence(said, "- ") for said in part["sentences"]])
        left = {each["row"]: each for part in trial["quantities"] for each in part["left_out"]}
        blocks.append(problem_block([*left.values()]))
    blocks += height_blocks(found["sun_heights"])
    return text_of(
        [*blocks, problem_block(found["problems"]), notes("To know", found["notes"]), [Sentence(SUN_CAUTION)]], encoding
    )


def group_table(trial: Mapping[str, Any], part: Mapping[str, Any]) -> Table:
    """One quantity by direction or tilt: as read, comparable with its likely range, and the model's."""
    groups, unit = part["groups"], part["unit"]
    name = part["quantity"].removeprefix("panel_").partition("_")[0]
    heads = (
        ("facing" if trial["changed"] == "direction" else "tilt", "°"),
        ("readings", "no."),
        (f"{name} as read", unit),
        ("comparable", unit),
        ("likely range", unit),
        ("model", unit),
    )
    columns = [column([group[key] for group in groups]) for key in ("mean_as_read", "comparable_mean", "expected")]
    rows = tuple(
        (figures(group["angle_deg"]), str(group["readings"]), read, mean, span, model)
        for group, read, mean, span, model in zip(groups, columns[0], columns[1], range_words(groups), columns[2], strict=True)
    )
    return Table(heads, rows)


def height_blocks(found: Mapping[str, Any] | None) -> list[Block]:
    """Heights of the sun."""
    if found is None:
        return []
    heads = (("row", "no."), ("measured", "°"), ("give or take", "°"), ("computed", "°"), ("by", ""))
    rows = found["rows"][:MOST_ROWS]
    keys = ("measured_deg", "uncertainty_deg", "computed_deg")
    texts = zip(*(column([row[key] for row in rows]) for key in keys), strict=True)
    table = Table(heads, tuple((str(row["row"]), *text, row["by"]) for row, text in zip(rows, texts, strict=True)))
    return [[Sentence("Heights of the sun"), table], [Sentence(said, "- ") for said in found["sentences"]]]
