"""Boxes beside a log, made from the models that programs ask with: label, unit and limits stand there once."""

from collections.abc import Mapping

from pydantic import BaseModel

from sizing.design import extra
from sizing.foundation import unit
from sizing.measured import InstrumentsInput
from web.forms.fields import UNIT_WORDS, Field


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
