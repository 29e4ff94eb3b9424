"""Boxes beside a log: made from the models that programs ask with, where label, unit and limits stand once, and read again."""

from collections.abc import Mapping, Sequence

from pydantic import BaseModel

from sizing.design import extra, read_as
from sizing.foundation import unit
from sizing.measured import InstrumentsInput, instruments_of
from sizing.measured.logs import Instruments
from web.forms.fields import UNIT_WORDS, Field
from web.forms.numbers import UnclearError, number


def boxes_of(model: type[BaseModel], hints: Mapping[str, str]) -> tuple[Field, ...]:
    """A box for every field of a model; ``hints`` take the place of a field's own advice.

    Examples
    --------
    >>> from sizing.measured.requests import InstrumentsInput
    >>> [box.label for box in boxes_of(InstrumentsInput, {})][:3]
    ['Mark of the bucket', 'Reading of the volume', 'Stopwatch']
    """
    return tuple(box(name, model, hints) for name in model.model_fields)


def instrument_boxes(*names: str) -> tuple[Field, ...]:
    """Boxes for what some instruments are good for.

    Examples
    --------
    >>> [box.label for box in instrument_boxes("time_reading_s", "head_reading_m")]
    ['Stopwatch', 'Tape']
    """
    return tuple(each for each in boxes_of(InstrumentsInput, {}) if each.name in names)


def box(name: str, model: type[BaseModel], hints: Mapping[str, str]) -> Field:
    """One box."""
    field = model.model_fields[name]
    label, code, advice = (extra(field, part) for part in ("label", "unit", "advice"))
    shown = "L" if code == "L" else unit(code) if code else ""
    hint = hints.get(name, advice)
    return Field(
        name,
        label[0].upper() + label[1:],
        UNIT_WORDS.get(code, {"L": "in litres", "s": "in seconds"}.get(code, "")),
        shown,
        hint[0].upper() + hint[1:],
        "decimal" if code else "",
    )


class UnclearBox(ValueError):  # noqa: N818 - told to the reader as a sentence beside its box
    """A box whose text is no number, or has two readings; ``name`` says which."""

    def __init__(self, name: str, sentence: str) -> None:
        super().__init__(sentence)
        self.name = name


def numbers_of(boxes: Mapping[str, str], fields: Sequence[Field]) -> dict[str, float | int | str]:
    """What number boxes say, by name; empty ones are left out.

    Raises
    ------
    UnclearBox
        for the first one that has two readings.
    """
    found: dict[str, float | int | str] = {}
    for each in fields:
        text = boxes.get(each.name, "").strip()
        if text:
            try:
                found[each.name] = number(text, each.suffix)
            except UnclearError as unclear:
                raise UnclearBox(each.name, f"{each.label}: {unclear}") from None
    return found


def instruments_told(boxes: Mapping[str, str], fields: Sequence[Field]) -> Instruments:
    """What the boxes of instruments say; the usual ones where they are empty.

    Raises
    ------
    UnclearBox, InputError
        for a box that has two readings, or is out of its limits.
    """
    return instruments_of(read_as(InstrumentsInput, numbers_of(boxes, fields)))
