"""A year of sky told by the clock on the wall instead of by the sun or by a weather file's own clock."""

from dataclasses import replace

import numpy as np

from sizing.sky.clock import clock_shift, summer_time
from sizing.sky.solar_position import DAYS_IN_YEAR
from sizing.sky.weather import Sky


def on_the_clock(sky: Sky, longitude: float, time_zone: str) -> Sky:
    """The same year with its steps in the order of the clock, summer time included.

    Each day's steps are moved by the whole number of steps that is nearest to the clock's lead, so an hour is
    off by half a step at most; what passes midnight comes back at the other end of its own day. Nothing of a day
    is lost or added.

    Parameters
    ----------
    longitude : of the place [deg], east positive
    time_zone : name in the tz database

    Raises
    ------
    InputError
        if there is no such zone.

    Examples
    --------
    >>> from sizing.place.place import Place
    >>> from sizing.sky.weather import built_in_sky
    >>> sky = on_the_clock(built_in_sky(Place("school", 46.05, 14.51, 298.0)), 14.51, "Europe/Ljubljana")
    >>> sky.hour_basis
    'clock time of Europe/Ljubljana, summer time from 30 March to 25 October'
    """
    per_day = sky.steps_per_day
    steps = np.rint(clock_shift(sky.hour_basis, longitude, time_zone) * per_day / 24).astype(int)
    day = np.arange(DAYS_IN_YEAR)[:, None]
    source = (day * per_day + (np.arange(per_day)[None, :] - steps[:, None]) % per_day).ravel()
    changes = summer_time(time_zone)
    basis = f"clock time of {time_zone}" + (f", {changes}" if changes else "")
    return replace(
        sky,
        hour_basis=basis,
        zenith=sky.zenith[source],
        azimuth=sky.azimuth[source],
        extraterrestrial_normal=sky.extraterrestrial_normal[source],
        ghi=sky.ghi[source],
        dhi=sky.dhi[source],
        dni=sky.dni[source],
        air_temperature=sky.air_temperature[source],
        wind_speed=sky.wind_speed[source],
    )
