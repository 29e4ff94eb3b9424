"""A panel check as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Mapping
from typing import Any

from api.command.printed import Block, Sentence, Table, notes
from api.command.printed_class import problem_block, text_of
from sizing.answers import RowProblemAnswer
from sizing.foundation import SPACE, clock, figures

MOST_ROWS = 60


def panel_text(found: Mapping[str, Any], encoding: str = "utf-8") -> str:
    """What a panel check tells."""
    blocks: list[Block] = [[Sentence(found["verdict"])]]
    for sitting in found["sittings"]:
        when = f"{sitting['day']}, {clock(sitting['from_h'])} to {clock(sitting['to_h'])}"
        said = [sentence for sentence in sitting["sentences"] if sentence != found["verdict"]]
        blocks.append([Sentence(when), *(Sentence(sentence, "- ") for sentence in said)])
    return text_of(
        [
            *blocks,
            [readings_table(found)],
            problem_block([RowProblemAnswer(**each) for each in found["problems"]]),
            notes("To know", found["notes"]),
        ],
        encoding,
    )


def readings_table(found: Mapping[str, Any]) -> Table:
    """Readings beside the label's curve."""
    heads = (
        ("row", "no."),
        ("at", ""),
        ("kind", ""),
        ("volts", "V"),
        ("amperes", "A"),
        ("clear sky", "of label"),
        ("own sun", "of label"),
    )
    rows = [
        (
            str(row["row"]),
            clock(row["time_h"]),
            row["kind"].replace("_", " "),
            figures(row["voltage_v"], 4),
            figures(row["current_a"], 4),
            *("-" if row[name] is None else f"{100 * row[name]['ratio']:.1f}{SPACE}%" for name in ("clear_sky", "told_sun")),
        )
        for row in found["readings"][:MOST_ROWS]
    ]
    return Table(heads, tuple(rows))
