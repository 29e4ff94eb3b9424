"""The strip of stations: the way of the sun and the water, one number at each station."""

from collections.abc import Sequence
from dataclasses import dataclass

from sizing.foundation import formats

ORDER = ("sun", "panel", "wire", "pump", "pipe", "outlet", "basin")
NAMES = {key: key.capitalize() for key in ORDER}
SUNNY, TURN = ("sun", "panel", "wire"), "pump"


@dataclass(frozen=True)
class Reading:
    """What a station shows: number with UCUM unit or a word in place of both, a second line, a link.

    ``name`` stands for the station's own name ("Jet" for the outlet of a nozzle) where it is given.
    """

    key: str
    value: float | None
    unit: str
    sub: str
    href: str
    word: str = ""
    name: str = ""


@dataclass(frozen=True)
class Station:
    """A station ready to print; ``part`` is sun, turn or water and sets its colour."""

    key: str
    name: str
    number: str
    unit: str
    sub: str
    href: str
    part: str


def stations(readings: Sequence[Reading]) -> tuple[Station, ...]:
    """Order the readings along the path and write their numbers; a station without a reading is left out.

    Parameters
    ----------
    readings
        One for each station that has something to show; keys as in ``ORDER``, each at most once.
    """
    keys = [reading.key for reading in readings]
    unknown = [key for key in keys if key not in ORDER]
    if unknown:
        raise ValueError(f"the path has no station {unknown[0]}; its stations are {', '.join(ORDER)}")
    if len(set(keys)) != len(keys):
        raise ValueError("a station stands on the path once only")
    return tuple(station(reading) for reading in sorted(readings, key=lambda reading: ORDER.index(reading.key)))


def station(reading: Reading) -> Station:
    """Write one station."""
    part = "sun" if reading.key in SUNNY else "turn" if reading.key == TURN else "water"
    number, unit = (
        (reading.word or "–", "") if reading.value is None else (formats.figures(reading.value), formats.unit(reading.unit))
    )
    return Station(reading.key, reading.name or NAMES[reading.key], number, unit, reading.sub, reading.href, part)
