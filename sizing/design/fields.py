"""The kinds of field that a design file has: numbers with limits, units and advice, short texts, objects and lists."""

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

TEXT_PATTERN = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"
"""No control characters: names are printed on terminals and pages."""
ID_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9_.-]*$"
PLAIN = "use plain characters on one line"
SAME_ID = "use letters, digits, dots, dashes and underscores only"


def number(label: str, unit: str, low: float, high: float, advice: str, example: float, default: Any = ...) -> Any:
    """A number field with limits; label, unit and advice serve the form, the schema and the messages."""
    extra: Any = {"label": label, "unit": unit, "advice": advice}
    description = f"{label[0].upper()}{label[1:]} [{unit}], {low:g} to {high:g}."
    return Field(default=default, ge=low, le=high, description=description, examples=[example], json_schema_extra=extra)


def text(label: str, longest: int, default: Any = ..., pattern: str = TEXT_PATTERN, advice: str = PLAIN) -> Any:
    """A text field of limited length without control characters."""
    extra: Any = {"label": label, "unit": "", "advice": advice}
    return Field(
        default=default,
        min_length=1 if default is ... else 0,
        max_length=longest,
        pattern=pattern,
        description=f"{label[0].upper()}{label[1:]}, at most {longest} characters.",
        json_schema_extra=extra,
    )


def part(label: str, advice: str, default: Any = ...) -> Any:
    """A field that holds an object with fields of its own, or one word of several."""
    extra: Any = {"label": label, "unit": "", "advice": advice}
    return Field(default=default, description=f"{label[0].upper()}{label[1:]}: {advice}.", json_schema_extra=extra)


def rows(label: str, row: str, least: int, most: int, advice: str, default: Any = ...) -> Any:
    """A field that holds a list; ``row`` names one entry in a sentence."""
    extra: Any = {"label": label, "row": row, "unit": "", "advice": advice}
    return Field(
        strict=False,
        default=default,
        min_length=least,
        max_length=most,
        description=f"{label[0].upper()}{label[1:]}: {advice}.",
        json_schema_extra=extra,
    )


def without_point(value: object) -> object:
    """A whole number written with a decimal point, as JSON allows, taken as the whole number it is."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


Whole = Annotated[int, BeforeValidator(without_point)]


class Strict(BaseModel):
    """Refuses unknown fields, numbers in quotes, NaN and infinities."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, frozen=True)
