"""What may be given as a design: a file's name, its JSON text, plain data, or a design that was read already."""

from collections.abc import Mapping
from os import PathLike, fspath
from pathlib import Path
from typing import Any

from sizing.design import reading
from sizing.design.design import Design
from sizing.design.files import file_bytes
from sizing.foundation.errors import InputError, Problem

DesignLike = Design | Mapping[str, Any] | str | bytes | PathLike[str]


def read_design(source: DesignLike) -> Design:
    """Read and check a design.

    Parameters
    ----------
    source : name of a design file, its JSON text (it begins with a brace), plain data as ``json.load`` gives it, or a design

    Raises
    ------
    InputError
        with one sentence for each thing that has to be changed.

    Examples
    --------
    >>> read_design("examples/quince_court_jet.json").pumps[0].rated_voltage_v
    12.0
    >>> read_design("examples/nowhere.json")
    Traceback (most recent call last):
    sizing.foundation.errors.InputError: examples/nowhere.json: there is no such file; check the name and the folder
    """
    if isinstance(source, Design):
        return source
    if isinstance(source, Mapping):
        return reading.read_design(dict(source))
    if isinstance(source, bytes):
        return reading.parse_design(source)
    if isinstance(source, PathLike):
        return from_file(fspath(source))
    if isinstance(source, str):
        return reading.parse_design(source.encode("utf-8", "replace")) if is_json(source) else from_file(source)
    return reading.read_design(source)


def is_json(text: str) -> bool:
    """Whether a text is a design itself and no file's name.

    Examples
    --------
    >>> is_json('{"schema_version": 1}'), is_json("garden.json"), is_json("")
    (True, False, False)
    """
    return text.lstrip("\ufeff \t\r\n").startswith(("{", "["))


def from_file(name: str) -> Design:
    """The design of a file; what is wrong with it begins with the file's name."""
    try:
        return reading.parse_design(file_bytes(name))
    except InputError as error:
        told = (Problem(each.pointer, each.code, f"{name}: {each.detail}", each.minimum, each.maximum) for each in error.problems)
        raise InputError(*told) from None


def folder_of(source: DesignLike, folder: str | PathLike[str] | None) -> Path | None:
    """Where a weather file is looked for: the folder that is named, else beside the design file, else nowhere.

    Examples
    --------
    >>> folder_of("examples/weather_file_jet.json", None).name, folder_of({}, None)
    ('examples', None)
    """
    if folder is not None:
        return Path(folder)
    if isinstance(source, PathLike) or (isinstance(source, str) and not is_json(source)):
        return Path(source).parent
    return None
