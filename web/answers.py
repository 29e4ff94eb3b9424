"""The answers of a form read back: each with its question, and whether it is the worked example's own."""

from collections.abc import Mapping
from dataclasses import dataclass

from web.fields import GROUPS, Choice, Field
from web.form import Texts
from web.grids import grids


@dataclass(frozen=True)
class Given:
    """One answer: field, question, text, and whether it differs from the example."""

    name: str
    label: str
    text: str
    changed: bool


def answers(texts: Texts, example: Mapping[str, str]) -> list[Given]:
    """All answers in the order of the form; cells of tables only where one of the two holds something."""
    found: list[Given] = []

    def add(name: str, label: str, text: str) -> None:
        found.append(Given(name, label, text, texts.get(name, "").strip() != example.get(name, "").strip()))

    tables = grids(texts)
    for group in GROUPS:
        for item in (*group.fields, *group.more):
            if isinstance(item, Field):
                add(item.name, item.label, texts.get(item.name, ""))
            else:
                add(item.name, item.question, chosen(item, texts))
                for field in opened_by(item, texts):
                    add(field.name, field.label, texts.get(field.name, ""))
        for key in group.tables:
            for row in tables[key].rows:
                for cell in row.cells:
                    if texts.get(cell.name, "").strip() or example.get(cell.name, "").strip():
                        add(cell.name, cell.label, texts.get(cell.name, ""))
    return found


def chosen(choice: Choice, texts: Texts) -> str:
    """The way that was chosen, in words."""
    value = texts.get(choice.name, choice.ways[0][0])
    return next((words for key, words, _ in choice.ways if key == value), value)


def opened_by(choice: Choice, texts: Texts) -> tuple[Field, ...]:
    """The fields of the way that was chosen."""
    value = texts.get(choice.name, choice.ways[0][0])
    return next((inner for key, _, inner in choice.ways if key == value), ())
