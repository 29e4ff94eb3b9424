"""A search over all directions as plain JSON data: the public answer of the HTTP interface and of ``--json``."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.units import LITRE
from sizing.foundation.version import MODEL_VERSION
from sizing.orientation.aims import Aim
from sizing.orientation.directions import AZIMUTHS, TILTS, as_table
from sizing.orientation.orientation import Orientation, Side
from sizing.orientation.seasons import TiltsFound
from sizing.orientation.sentences import (
    choice_sentence,
    compass_sentence,
    flatness_sentence,
    tilts_sentence,
    two_tilts_sentence,
    verdict,
)

UNITS = {"m3": "L", "h": "h"}


def orientation_answer(found: Orientation) -> dict[str, Any]:
    """Everything a search holds that can be written down; numbers in full, units in the names."""
    place, choice = found.place, found.choice
    return {
        "model_version": MODEL_VERSION,
        "title": found.design.title,
        "design": found.design.model_dump(mode="json", exclude_unset=True, exclude_none=True),
        "place": {
            "name": place.name,
            "latitude_deg": place.latitude,
            "longitude_deg": place.longitude,
            "elevation_m": place.elevation,
        },
        "mounting": {
            "tilt_deg": found.mounting.tilt,
            "azimuth_deg": found.mounting.azimuth,
            "compass_deg": found.mounting.compass_reading,
            "declination_deg": found.mounting.declination,
        },
        "sky": {"kind": found.sky.kind, "title": found.sky.title, "hour_basis": found.sky.hour_basis},
        "verdict": verdict(found, found.main),
        "compass": compass_sentence(found),
        "choice": {
            "months": list(choice.months),
            "from_hour": choice.hours[0],
            "to_hour": choice.hours[1],
            "months_from": choice.months_from,
            "hours_from": choice.hours_from,
            "sentence": choice_sentence(choice, found.sky.hour_basis),
        },
        "main_aim": found.main.key,
        "aims": [aim(found, each) for each in found.aims],
        "side_by_side": [side(found, each) for each in found.sides],
        "tilts": tilts(found.tilts),
        "equator_tilts": tilts(found.equator_tilts),
        "grid": {
            "tilt_deg": TILTS.tolist(),
            "azimuth_deg": AZIMUTHS.tolist(),
            "sun_kwh_per_m2": rows(found.sun),
            **{f"{each.key}_{UNITS[each.unit].lower()}": rows(each.values / scale(each)) for each in found.aims},
        },
    }


def rows(values: NDArray[np.float64]) -> list[list[float]]:
    """Values of the grid as lists, one for each tilt."""
    found: list[list[float]] = as_table(values).tolist()
    return found


def scale(aim: Aim) -> float:
    """What one unit of the answer is in the unit of the aim."""
    return LITRE if aim.unit == "m3" else 1.0


def aim(found: Orientation, aim: Aim) -> dict[str, Any]:
    """One thing to want: today, the best, and how far the two are apart."""
    return {
        "key": aim.key,
        "name": aim.words,
        "unit": UNITS[aim.unit],
        "outcome": aim.outcome.name.lower(),
        "today": aim.today / scale(aim),
        "best": {
            "tilt_deg": float(found.planes.tilt[aim.best]),
            "azimuth_deg": float(found.planes.azimuth[aim.best]),
            "value": float(aim.values[aim.best]) / scale(aim),
        },
        "given_up": aim.given_up,
        "within_deg": aim.flatness.angle,
        "sentence": verdict(found, aim),
        "within_sentence": flatness_sentence(aim),
    }


def side(found: Orientation, side: Side) -> dict[str, Any]:
    """One of the directions side by side."""
    values = {each.key: value / scale(each) for each, value in zip(found.aims, side.values, strict=True)}
    return {
        "name": side.name,
        "tilt_deg": side.tilt,
        "azimuth_deg": side.azimuth,
        "sun_kwh_per_m2": side.sun,
        "values": values,
    }


def tilts(found: TiltsFound) -> dict[str, Any]:
    """Tilting with the seasons at one azimuth."""
    two = found.two
    return {
        "azimuth_deg": found.azimuth,
        "fixed_tilt_deg": found.fixed,
        "fixed_water_l": float(found.fixed_water.sum()) / LITRE,
        "months": [
            {
                "month": month + 1,
                "best_tilt_deg": tilt,
                "best_water_l": float(found.monthly_water[month]) / LITRE,
                "fixed_water_l": float(found.fixed_water[month]) / LITRE,
            }
            for month, tilt in enumerate(found.monthly)
        ],
        "monthly_gain": found.gain,
        "two_tilts": None
        if two is None
        else {
            "seasons": [{"tilt_deg": season.tilt, "months": list(season.months)} for season in two.seasons],
            "water_l": two.water / LITRE,
            "gain": two.gain,
        },
        "sentence": tilts_sentence(found),
        "two_tilts_sentence": two_tilts_sentence(found),
    }
