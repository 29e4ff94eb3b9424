"""Twelve typed months in the unit that was chosen for them, brought to a design file's kWh/m2 a day."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from sizing.design import MonthlySky
from sizing.foundation import Note
from sizing.place import Place
from sizing.sky import DAYS_IN_MONTH, TYPED_UNITS, doubtful_unit, shown_values
from web.forms.position import LATITUDE, LONGITUDE, position

UNIT = "sky.unit"
"""Name of the list of units; a design file holds kWh/m2 a day only."""
UNIT_WORDS = {str(code): unit.words.replace("m2", "m²") for code, unit in TYPED_UNITS.items()}
OF_DESIGN = next(iter(UNIT_WORDS))
SIGNS = {
    "kwh_per_m2_day": "kWh/m²",
    "kwh_per_m2_month": "kWh/m²",
    "mj_per_m2_day": "MJ/m²",
    "mj_per_m2_month": "MJ/m²",
    "w_per_m2": "W/m²",
    "peak_sun_hours": "h",
}


def chosen_unit(texts: Mapping[str, str]) -> str:
    """The unit of the typed sun; that of the design file where none is chosen."""
    unit = texts.get(UNIT, OF_DESIGN)
    return unit if unit in UNIT_WORDS else OF_DESIGN


def sun_of_day(value: Any, month: int, unit: str) -> Any:
    """Sun of a mean day [kWh/m2] from what was typed for a month (0..11); what is no number stays as it is.

    Examples
    --------
    >>> sun_of_day(142.6, 0, "kwh_per_m2_month"), sun_of_day("abc", 0, "w_per_m2")
    (4.6, 'abc')
    """
    if unit == OF_DESIGN or not isinstance(value, int | float):
        return value
    day_sun = next(known.day_sun for code, known in TYPED_UNITS.items() if code == unit)
    return float(np.asarray(day_sun(np.array([float(value)]), np.array([float(DAYS_IN_MONTH[month])])))[0])


def unit_note(sky: object, place: Place, texts: Mapping[str, str]) -> Note | None:
    """A warning where the typed months hardly can be in their unit."""
    if not isinstance(sky, MonthlySky):
        return None
    unit = chosen_unit(texts)
    return doubtful_unit(place, shown_values(sky.ghi_kwh_per_m2_day, unit), unit)


def unit_error(texts: Mapping[str, str], sun: Sequence[Any]) -> dict[str, str]:
    """The same as a sentence beside the list of units, where wrong months keep the design from being read."""
    where, _ = position(texts)
    numbers = [*sun, where.get(LATITUDE), where.get(LONGITUDE)]
    if len(sun) != 12 or not all(isinstance(value, int | float) and math.isfinite(value) for value in numbers):
        return {}
    place = Place("", float(where[LATITUDE]), float(where[LONGITUDE]), 0.0)
    if abs(place.latitude) > 90 or abs(place.longitude) > 180:
        return {}
    unit = chosen_unit(texts)
    note = doubtful_unit(place, shown_values([float(value) for value in sun], unit), unit)
    return {} if note is None else {UNIT: note.detail.replace("m2", "m²")}


def in_unit(said: str, text: str, unit: str) -> str:
    """A sentence on a wrong month in the unit that was chosen."""
    if unit == OF_DESIGN:
        return said
    said = said.replace("between 0 and 12 kWh/m² a day", f"in {UNIT_WORDS[unit]}") if "it must be" not in said else said
    return (
        f"{said} (typed: {text.strip()[:20]}, as {UNIT_WORDS[unit]})" if "it must be" in said or "kWh/m2 a day" in said else said
    )
