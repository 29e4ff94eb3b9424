"""The answers of a form read back: each with its question, and whether it is the worked example's own."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from web.forms.fields import Checks, Choice, Field
from web.forms.grids import Cell, Grid, grids
from web.forms.panel_and_pump import SERIES
from web.forms.questions import called, groups_of
from web.forms.several import count, only_chosen

Asked = Field | Choice | Checks | Cell


@dataclass(frozen=True)
class Given:
    """One answer: field, question, text, and whether it differs from the example."""

    name: str
    label: str
    text: str
    changed: bool


def answers(texts: Mapping[str, str], example: Mapping[str, str]) -> list[Given]:
    """All answers in the order of the form, those that count: ways not taken are left out, and what both leave empty.

    Of several panels and pumps the answers are those of the ones that are sized, after a line with the names of all.
    """
    found = list(choice_lines(texts))
    texts = only_chosen(texts)
    for asked in counted(texts, grids(texts)):
        text, usual = said(asked, texts), said(asked, example)
        if text or usual:
            found.append(Given(asked.name, question(asked), text, text != usual))
    return found


def choice_lines(texts: Mapping[str, str]) -> Iterator[Given]:
    """The names of several panels or pumps."""
    for series in SERIES:
        number = count(texts, series.key)
        if number > 1:
            names = "; ".join(called(series, texts, index) for index in range(number))
            yield Given(series.key, f"{series.title}s to choose from; below, the one that is sized", names, True)


def counted(texts: Mapping[str, str], tables: Mapping[str, Grid]) -> Iterator[Asked]:
    """Everything asked, less what stands under ways that were not taken."""
    for group in groups_of(texts):
        for item in group.fields:
            yield item
            for way in item.ways if isinstance(item, Choice) else ():
                if way.words == said(item, texts):
                    yield from (each for each in way.fields)
                    yield from tables[way.table].cells.values() if way.table else ()
        for key in group.tables:
            yield from tables[key].cells.values()
        yield from (field for field in group.more if counts(field, texts))


def counts(field: Field, texts: Mapping[str, str]) -> bool:
    """Whether a field counts: the price of a controller only where there is one."""
    return not field.name.startswith("connection.price") or texts.get("connection.kind") == "controller"


def said(asked: Asked, texts: Mapping[str, str]) -> str:
    """The text of an answer; of a choice, the way that was taken, in words."""
    text = texts.get(asked.name, "").strip()
    if isinstance(asked, (Field, Cell)):
        return text
    if isinstance(asked, Checks):
        return ", ".join(words for name, words in asked.boxes if texts.get(name, "").strip())
    return next((way.words for way in asked.ways if way.value == text), asked.ways[0].words)


def question(asked: Asked) -> str:
    """A question with its unit."""
    if isinstance(asked, Choice | Checks):
        return asked.question
    unit = asked.unit_words if isinstance(asked, Field) else asked.unit
    return f"{asked.label}, {unit}" if unit else asked.label
