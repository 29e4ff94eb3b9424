"""A panel check as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Sequence

from api.command.printed import Block, Sentence, Table, listed
from api.command.printed_class import problem_block, text_of
from sizing.foundation import SPACE, clock, figures
from sizing.measured.panel_check import BesideAnswer, PanelCheckAnswer, PanelReadingAnswer

MOST_ROWS = 60


def panel_text(found: PanelCheckAnswer, encoding: str = "utf-8") -> str:
    """What a panel check tells."""
    blocks: list[Block] = [[Sentence(found.verdict)]]
    for sitting in found.sittings:
        when = f"{sitting.day}, {clock(sitting.from_h)} to {clock(sitting.to_h)}"
        said = [sentence for sentence in sitting.sentences if sentence != found.verdict]
        blocks.append([Sentence(when), *(Sentence(sentence, "- ") for sentence in said)])
    notes = listed("To know", [note.detail for note in found.notes])
    return text_of([*blocks, [readings_table(found.readings)], problem_block(found.problems), notes], encoding)


def readings_table(readings: Sequence[PanelReadingAnswer]) -> Table:
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
            str(row.row),
            clock(row.time_h),
            row.kind.replace("_", " "),
            figures(row.voltage_v, 4),
            figures(row.current_a, 4),
            of_label(row.clear_sky),
            of_label(row.told_sun),
        )
        for row in readings[:MOST_ROWS]
    ]
    return Table(heads, tuple(rows))


def of_label(beside: BesideAnswer | None) -> str:
    """A ratio in per cent."""
    return "-" if beside is None else f"{100 * beside.ratio:.1f}{SPACE}%"
