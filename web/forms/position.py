"""Latitude and longitude as people write them, in two boxes or both in the first one."""

from collections.abc import Mapping

from sizing.foundation import InputError
from sizing.place import Axis, read_angle, read_coordinates
from web.forms.numbers import UnclearError, number

LATITUDE, LONGITUDE = "place.latitude_deg", "place.longitude_deg"
AXES: dict[str, Axis] = {LATITUDE: "latitude", LONGITUDE: "longitude"}
OF_AN_ANGLE = ("out_of_range", "wrong_axis")
"""Codes of angles that were understood, and cannot stand in their box."""
MARKS = "°'\"′″"


def position(texts: Mapping[str, str]) -> tuple[dict[str, float | str], dict[str, str]]:
    """What the two boxes say, by name, and a sentence for each that is unclear.

    Parameters
    ----------
    texts : of the form

    Examples
    --------
    >>> position({"place.latitude_deg": "36.1 N", "place.longitude_deg": "79 57 W"})[0]
    {'place.latitude_deg': 36.1, 'place.longitude_deg': -79.95}
    >>> position({"place.latitude_deg": "46.05, 14.51"})[0]
    {'place.latitude_deg': 46.05, 'place.longitude_deg': 14.51}
    """
    given = {name: text for name in AXES if (text := texts.get(name, "").strip())}
    if list(given) == [LATITUDE] and (both := pair(given[LATITUDE])) is not None:
        return dict(zip(AXES, both, strict=True)), {}
    found: dict[str, float | str] = {}
    unclear: dict[str, str] = {}
    for name, text in given.items():
        try:
            found[name] = angle(text, AXES[name])
        except UnclearError as error:
            found[name], unclear[name] = text, f"{AXES[name].capitalize()}: {error}"
    return found, unclear


def pair(text: str) -> tuple[float, float] | None:
    """Latitude and longitude where a text holds both."""
    try:
        return read_coordinates(text)
    except InputError:
        return None


def angle(text: str, axis: Axis) -> float | str:
    """One angle [deg]; what is none comes back as it was typed.

    Raises
    ------
    UnclearError
        if it can be read in two ways, belongs into the other box or has another unit.
    """
    plain: float | str = text
    doubt: UnclearError | None = None
    try:
        plain = number(text, "°")
    except UnclearError as error:
        doubt = error
    if not isinstance(plain, str):
        return plain
    try:
        return read_angle(text, axis)
    except InputError as error:
        (problem,) = error.problems
        if problem.code in OF_AN_ANGLE or any(mark in text for mark in MARKS):
            raise UnclearError(problem.detail) from None
    if doubt is not None:
        raise doubt
    return text
