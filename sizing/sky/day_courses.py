"""How the sun of three days runs: a dull, a usual and a bright day of one month, step by step."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.sky.sky_months import BRIGHT, DULL, USUAL
from sizing.sky.solar_position import DAYS_IN_YEAR, MONTH_OF_DAY, month_mean
from sizing.sky.weather import Sky

Array = NDArray[np.float64]

Kind = Literal["dull", "usual", "bright"]
KINDS: dict[Kind, float] = {"dull": DULL, "usual": USUAL, "bright": BRIGHT}
"""[1] Share of the month's days that have less sun than each."""


@dataclass(frozen=True, eq=False)
class DayCourse:
    """One day of a sky: day 0..364 of the year and month 1..12; hour [h] on the sky's clock at the middle of each step and
    sun on level ground [W/m2], shape (steps,); ``calm`` the same day without passing clouds, None where hours were read."""

    kind: Kind
    day: int
    month: int
    hour: Array
    sun: Array
    calm: Array | None


def sunniest_month(sky: Sky) -> int:
    """Month 1..12 with most sun on level ground in a mean day; the first of equals."""
    return int(np.argmax(month_mean(by_day(sky.ghi, sky).mean(axis=1)))) + 1


def day_courses(sky: Sky, month: int | None = None) -> tuple[DayCourse, DayCourse, DayCourse]:
    """A dull, a usual and a bright day of a month, by their sun on level ground.

    Parameters
    ----------
    month : 1..12; the sunniest where it is not given

    Examples
    --------
    >>> from sizing.place.place import Place
    >>> from sizing.sky.weather import built_in_sky
    >>> dull, usual, bright = day_courses(built_in_sky(Place("school", 52.3, 4.8, 0.0)))
    >>> bool(dull.sun.sum() < usual.sun.sum() < bright.sun.sum()), dull.month
    (True, 6)
    """
    chosen = month or sunniest_month(sky)
    days = np.flatnonzero(chosen == MONTH_OF_DAY)
    sun, hour = by_day(sky.ghi, sky), by_day(sky.hour, sky)
    order = days[np.argsort(sun[days].sum(axis=1), kind="stable")]
    calm = None if sky.calm is None else by_day(sky.calm.ghi, sky)
    dull, usual, bright = (
        DayCourse(kind, int(at), chosen, hour[at], sun[at], None if calm is None else calm[at])
        for kind, at in ((kind, order[round(share * (len(days) - 1))]) for kind, share in KINDS.items())
    )
    return dull, usual, bright


def by_day(values: Array, sky: Sky) -> Array:
    """Values of the year's steps, a row for each day."""
    return values.reshape(DAYS_IN_YEAR, sky.steps_per_day)
