"""The answers of a form read back: each with its question, and whether it is the worked example's own."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from web.fields import Choice, Field
from web.grids import Cell, Grid, grids
from web.questions import GROUPS


@dataclass(frozen=True)
class Given:
    """One answer: field, question, text, and whether it differs from the example."""

    name: str
    label: str
    text: str
    changed: bool


def answers(texts: Mapping[str, str], example: Mapping[str, str]) -> list[Given]:
    """All answers in the order of the form, those that count: ways not taken are left out, and cells that both leave empty."""
    found = []
    for asked in counted(texts, grids(texts)):
        text, usual = (said(asked, each) for each in (texts, example))
        if text or usual or not isinstance(asked, Cell):
            found.append(Given(asked.name, question(asked), text, text != usual))
    return found


def counted(texts: Mapping[str, str], tables: Mapping[str, Grid]) -> Iterator[Field | Choice | Cell]:
    """Everything asked, less what stands under ways that were not taken."""
    for group in GROUPS:
        for item in group.fields:
            yield item
            for way in item.ways if isinstance(item, Choice) else ():
                if way.words == said(item, texts):
                    yield from way.fields
                    yield from tables[way.table].cells.values() if way.table else ()
        for key in group.tables:
            yield from tables[key].cells.values()
        yield from group.more


def said(asked: Field | Choice | Cell, texts: Mapping[str, str]) -> str:
    """The text of an answer; of a choice, the way that was taken, in words."""
    text = texts.get(asked.name, "").strip()
    if not isinstance(asked, Choice):
        return text
    return next((way.words for way in asked.ways if way.value == text), asked.ways[0].words)


def question(asked: Field | Choice | Cell) -> str:
    """A question with its unit."""
    if isinstance(asked, Choice):
        return asked.question
    unit = asked.unit_words if isinstance(asked, Field) else asked.unit
    return f"{asked.label}, {unit}" if unit else asked.label
