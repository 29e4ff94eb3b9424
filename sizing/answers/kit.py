"""What an answer is made of: known fields only, each with its meaning and its unit.

An answer is built once from what a sizing found; HTTP writes it as JSON, the terminal prints it, pages and tables read it, and
the description of the interface comes from it. Its fields stand in the order in which they are written.
"""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, PlainSerializer, SerializerFunctionWrapHandler, model_serializer

from sizing.design.design import Design, PumpInput


class Exact(BaseModel):
    """Known fields only, numbers as numbers, no NaN and no infinity; never changed once it is built."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, frozen=True)


class Partial(Exact):
    """A part of an answer that leaves out what there is none of, in place of writing null."""

    @model_serializer(mode="wrap")
    def only_what_there_is(self, written: SerializerFunctionWrapHandler) -> dict[str, Any]:
        return {name: value for name, value in written(self).items() if value is not None}


def amount(description: str, unit: str, **limits: Any) -> Any:
    """A field that holds a number, with its meaning and its unit (UCUM code); ``limits`` as pydantic names them."""
    return Field(description=f"{description} [{unit}].", json_schema_extra={"unit": unit}, **limits)


def meaning(description: str, **limits: Any) -> Any:
    """A field without a unit, with its meaning; ``limits`` as pydantic names them (``ge``, ``le``, ``min_length`` ...)."""
    return Field(description=f"{description}.", **limits)


def as_given(part: BaseModel) -> dict[str, Any]:
    """A design or a part of it as plain data: what was given, without what was left out."""
    return part.model_dump(mode="json", exclude_unset=True, exclude_none=True)


GivenDesign = Annotated[Design, PlainSerializer(as_given)]
"""The design of an answer: written as it was given."""
GivenPump = Annotated[PumpInput, PlainSerializer(as_given)]
"""A pump of an answer, likewise."""


def plain(answer: BaseModel) -> dict[str, Any]:
    """An answer as plain data, ready for JSON: names and order of its fields, numbers in full.

    Examples
    --------
    >>> class Jet(Exact):
    ...     height_m: float = amount("Height of the jet", "m")
    >>> plain(Jet(height_m=0.618))
    {'height_m': 0.618}
    """
    return answer.model_dump(mode="json", by_alias=True)


def written(answer: BaseModel) -> bytes:
    """An answer as JSON in UTF-8: what ``plain`` holds, written in one go, which takes a fifth of the time.

    Examples
    --------
    >>> class Jet(Exact):
    ...     height_m: float = amount("Height of the jet", "m")
    >>> written(Jet(height_m=0.618))
    b'{"height_m":0.618}'
    """
    return answer.model_dump_json(by_alias=True).encode()
