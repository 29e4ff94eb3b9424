"""The kinds of field that a design file has: numbers with limits, units and advice, and short texts."""

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

TEXT_PATTERN = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"
"""No control characters: names are printed on terminals and pages."""
ID_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9_.-]*$"


def number(label: str, unit: str, low: float, high: float, advice: str, example: float, default: Any = ...) -> Any:
    """A number field with limits; label, unit and advice serve the form, the schema and the messages."""
    extra: Any = {"label": label, "unit": unit, "advice": advice}
    description = f"{label[0].upper()}{label[1:]} [{unit}], {low:g} to {high:g}."
    return Field(default=default, ge=low, le=high, description=description, examples=[example], json_schema_extra=extra)


def text(label: str, longest: int, default: Any = ..., pattern: str = TEXT_PATTERN) -> Any:
    """A text field of limited length without control characters."""
    shortest = 1 if default is ... else 0
    advice = (
        "use letters, digits, dots, dashes and underscores only"
        if pattern == ID_PATTERN
        else "shorten it or use plain characters"
    )
    extra: Any = {"label": label, "unit": "", "advice": advice}
    description = f"{label[0].upper()}{label[1:]}, at most {longest} characters."
    return Field(
        default=default,
        min_length=shortest,
        max_length=longest,
        pattern=pattern,
        description=description,
        json_schema_extra=extra,
    )


class Strict(BaseModel):
    """Refuses unknown fields, numbers in quotes, NaN and infinities."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, frozen=True)
