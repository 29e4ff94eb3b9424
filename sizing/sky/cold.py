"""The coldest air to design for: that of the coldest night of ten years, typed by people who know it or estimated.

Rules judge a panel's open-circuit voltage at the lowest temperature to be expected (IEC 62548, NEC 690.7), and a made-up or
typical year has none of the cold spells that bring it. Both estimates were fitted to the ten-year lows in the headers of 23
weather files (ASHRAE Fundamentals 2009 and 2017) from Antananarivo to Northway in Alaska, each place in turn left out: from
the coldest month's mean they miss by 3.5 K (root mean square), from the coldest hour of a weather file by 2.8 K. With
``MARGIN`` below them, 22 of the 23 lows are not colder than the first (Tampa is, by 5 K), and none is colder than the second.
Refused: the yearly range, latitude and clearness beside the mean (no better when each place was left out).
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import input_error
from sizing.foundation.formats import quantity
from sizing.foundation.working import formula
from sizing.sky.weather import Sky

Numeric = float | NDArray[np.float64]

POINTER = "#/place/coldest_air_c"
MARGIN = 5.0
"""[K] So much colder than estimated is reckoned with: enough at 22 of 23 places (cold_comparison)."""


@dataclass(frozen=True)
class ColdAir:
    """The coldest air to design for [Cel], the likeliest coldest of ten years [Cel], and where both come from.

    ``basis``: "typed" by people, or estimated from the coldest hour of a weather "file" or the "months" of the sky;
    ``start`` is that hour or month [Cel].
    """

    lowest: float
    usual: float
    basis: Literal["typed", "file", "months"]
    start: float


@formula("1.63 * coldest_month - 22", unit="Cel", source="cold_comparison")
def coldest_by_month(coldest_month: Numeric) -> Numeric:
    """Coldest night of ten years [Cel] from the mean of the coldest month [Cel].

    Examples
    --------
    >>> round(coldest_by_month(-3.6), 1)
    -27.9
    """
    return 1.63 * coldest_month - 22


@formula("1.06 * coldest_hour - 3.7", unit="Cel", source="cold_comparison")
def coldest_by_hour(coldest_hour: Numeric) -> Numeric:
    """Coldest night of ten years [Cel] from the coldest hour of a typical year's weather file [Cel].

    Examples
    --------
    >>> round(coldest_by_hour(-22.8), 1)
    -27.9
    """
    return 1.06 * coldest_hour - 3.7


def cold_air(sky: Sky, typed: float | None = None) -> ColdAir:
    """The coldest air to design for under a sky.

    Parameters
    ----------
    typed : what people know to be the coldest air of many years [Cel]; it goes before any estimate

    Raises
    ------
    SizingError : it was typed warmer than the mean of the coldest month

    Examples
    --------
    >>> from sizing.place.place import Place
    >>> from sizing.sky.weather import built_in_sky
    >>> found = cold_air(built_in_sky(Place("school", 39.72, -104.75, 1726.0)))
    >>> round(found.usual), round(found.lowest)
    (-25, -30)
    """
    month = min(sky.air_temperature_month)
    if typed is not None:
        if typed > month:
            raise input_error(
                POINTER,
                "too_warm",
                f"coldest air is {quantity(typed, 'Cel')}, warmer than the mean of the coldest month, "
                f"{quantity(round(month, 1), 'Cel')}; type the lowest temperature of many years, or leave it out.",
                -70,
                month,
            )
        return ColdAir(float(typed), float(typed), "typed", month)
    if sky.kind == "weather_file":
        hour = float(sky.air_temperature.min())
        found = float(coldest_by_hour(hour))
        return ColdAir(found - MARGIN, found, "file", hour)
    found = float(coldest_by_month(month))
    return ColdAir(found - MARGIN, found, "months", month)
