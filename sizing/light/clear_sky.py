"""The sun of a real day without clouds, at any moment: what a class would measure under a blue sky.

Ineichen and Perez's clear sky with the usual turbidity of the air in that month and place. Real clear days differ:
after rain the air is cleaner, before a storm hazier.
"""

from functools import lru_cache

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from pvlib.atmosphere import alt2pres, get_absolute_airmass, get_relative_airmass
from pvlib.clearsky import ineichen, lookup_linke_turbidity

from sizing.light.irradiance import Light
from sizing.place.place import Place
from sizing.sky.solar_position import eccentricity, extraterrestrial_normal, position_by_clock

CLEAR_SKY_SHARE = 0.06
"""[1] Standard uncertainty of the sun of a clear day: 5 % on level ground (reno_2012), a little more facing the sun."""


def clear_sky(moments: NDArray[np.datetime64], place: Place) -> Light:
    """Sun of moments without clouds; nothing at night.

    Parameters
    ----------
    moments : of UTC, shape (moments,)

    Examples
    --------
    >>> garden = Place("garden", 46.05, 14.51, 300.0)
    >>> light = clear_sky(np.array(["2026-06-21T11:00", "2026-06-21T23:00"], dtype="datetime64[ms]"), garden)
    >>> light.zenith.round(1), light.dni.round(-1)
    (array([ 22.6, 110.5]), array([740.,   0.]))
    """
    moments, at = np.unique(moments, return_inverse=True)  # teams read at the same minute
    zenith, azimuth = position_by_clock(moments, place.latitude, place.longitude, place.elevation)
    day = (moments.astype("datetime64[D]") - moments.astype("datetime64[Y]").astype("datetime64[D]")).astype(int) + 1
    above_air = np.asarray(extraterrestrial_normal(np.asarray(eccentricity(np.minimum(day, 365).astype(float)))))
    months = moments.astype("datetime64[M]").astype(int) % 12 + 1
    haze = np.zeros(13)
    for month in np.unique(months):
        haze[month] = turbidity(int(month), place.latitude, place.longitude)
    up = np.flatnonzero(zenith < 90)
    parts = {name: np.zeros(len(moments)) for name in ("ghi", "dhi", "dni")}
    if len(up):
        air_mass = get_absolute_airmass(get_relative_airmass(zenith[up]), alt2pres(place.elevation))
        found = ineichen(zenith[up], air_mass, haze[months[up]], place.elevation, above_air[up])
        for name, values in parts.items():
            values[up] = np.maximum(found[name], 0)
    return Light(zenith[at], azimuth[at], above_air[at], **{name: values[at] for name, values in parts.items()})


@lru_cache(maxsize=1024)
def turbidity(month: int, latitude: float, longitude: float) -> float:
    """Linke turbidity [1] of a month, 1..12, at a place: how many clean dry atmospheres would dim the beam as much.

    Examples
    --------
    >>> turbidity(6, 46.05, 14.51)
    5.2
    """
    middle = pd.DatetimeIndex([f"2025-{month:02d}-15"])
    return float(lookup_linke_turbidity(middle, latitude, longitude, interp_turbidity=False).iloc[0])
