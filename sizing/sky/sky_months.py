"""What a sky holds, month by month, and how far it stands from the built-in climate.

The twelve months that ``monthly_of`` gives are what a design file types to repeat a weather file without it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.formats import MONTHS
from sizing.sky.climate import Months
from sizing.sky.monthly_values import CLEAREST_TYPED
from sizing.sky.solar_position import DAYS_IN_MONTH, DAYS_IN_YEAR, MONTH_OF_DAY, month_mean
from sizing.sky.weather import Sky

Array = NDArray[np.float64]

DULL, USUAL, BRIGHT = 0.1, 0.5, 0.9
"""[1] Quantiles of a month's days: what one calls a dull, a usual and a bright day."""
FARTHEST_SEEN = 0.20
"""[1] The year of the built-in climate was never farther off at the 30 places where it was compared (the worst was 17 %)."""
DIM_MONTH = 0.05
"""[kWh/m2 a day] A month with less sun in the built-in climate has no ratio worth showing."""
DOUBTS = {
    "file_far_away": "the weather file is of another place",
    "clock_shifted": "the clock of the weather file is likely wrong",
    "parts_do_not_add_up": "the parts of the weather file do not add up",
    "impossible_sun": "the weather file has months brighter than any sky",
    "seasons_reversed": "the typed months are brighter in winter than in summer",
}
"""Notes of a sky that speak against believing it, in short."""


@dataclass(frozen=True)
class SkyMonth:
    """One month of a sky.

    Sun on level ground of a mean, dull, usual and bright day [kWh/m2]; share of it that comes straight from the
    sun [1]; clearness [1]; mean air temperature [Cel]; how far the month may be off, one standard deviation [1].
    """

    month: int
    days: int
    sun: float
    sun_dull: float
    sun_usual: float
    sun_bright: float
    beam_share: float
    clearness: float
    air_temperature: float
    band: float


@dataclass(frozen=True)
class SkyYear:
    """Twelve months, the sun of the year [kWh/m2], its beam share [1], its band [1], and where it all comes from."""

    months: tuple[SkyMonth, ...]
    sun: float
    beam_share: float
    air_temperature: float
    band: float
    origin: str


@dataclass(frozen=True)
class Comparison:
    """Sun of one's own sky over the sun of the built-in one, by month (None where that is dark) and for the year [1].

    ``apart`` is the month that differs most, 1..12 (None where no month has a ratio); ``sentence`` says how far
    they are apart and which to believe.
    """

    month_ratio: tuple[float | None, ...]
    year_ratio: float
    apart: int | None
    sentence: str


def sky_months(sky: Sky) -> SkyYear:
    """What a sky holds, month by month.

    Parameters
    ----------
    sky : of any kind

    Examples
    --------
    >>> from sizing.place.place import Place
    >>> from sizing.sky.weather import built_in_sky
    >>> year = sky_months(built_in_sky(Place("school", 36.10, -79.95, 273.0)))
    >>> year.sun, year.months[5].sun, year.months[5].sun_dull, year.months[5].beam_share
    (1539., 5.95, 3.43, 0.52)
    """
    daily, diffuse = daily_sums(sky, sky.ghi), daily_sums(sky, sky.dhi)
    sun, spread = month_mean(daily), day_quantiles(daily)
    beam = beam_share(sun, month_mean(diffuse))
    months = tuple(
        SkyMonth(
            month=month + 1,
            days=DAYS_IN_MONTH[month],
            sun=float(sun[month]),
            sun_dull=float(spread[month, 0]),
            sun_usual=float(spread[month, 1]),
            sun_bright=float(spread[month, 2]),
            beam_share=float(beam[month]),
            clearness=float(sky.clearness[month]),
            air_temperature=float(sky.air_temperature_month[month]),
            band=sky.month_band,
        )
        for month in range(12)
    )
    return SkyYear(
        months=months,
        sun=float(daily.sum()),
        beam_share=float(beam_share(daily.sum(), diffuse.sum())),
        air_temperature=float(np.average(sky.air_temperature_month, weights=DAYS_IN_MONTH)),
        band=sky.year_band,
        origin=origin(sky),
    )


def daily_sums(sky: Sky, irradiance: Array) -> Array:
    """Sum of each of the 365 days [kWh/m2] of a sky's irradiance [W/m2]."""
    return np.asarray(irradiance.reshape(DAYS_IN_YEAR, sky.steps_per_day).sum(axis=1) * 24 / sky.steps_per_day / 1000)


def day_quantiles(daily: Array) -> Array:
    """Dull, usual and bright day of each month, shape (12, 3), from the values of 365 days."""
    return np.array([np.quantile(daily[month == MONTH_OF_DAY], [DULL, USUAL, BRIGHT]) for month in range(1, 13)])


def beam_share(whole: Array | float, diffuse: Array | float) -> Array:
    """Share of the sun on level ground that comes straight from the sun [1]; 0 in the dark."""
    lit = np.asarray(whole) > 0
    return np.where(lit, np.clip(1 - np.asarray(diffuse) / np.where(lit, whole, 1), 0, 1), 0.0)


def origin(sky: Sky) -> str:
    """Where the months of a sky come from, in one sentence."""
    if sky.kind == "built_in":
        return (
            "The sun of each month is read from the built-in climate table (MERRA-2 re-analysis, dimmed to what weather stations "
            "measure), air temperature from ERA5; days and hours are made from the months by published formulas."
        )
    if sky.kind == "monthly":
        return "The sun of each month is typed; days and hours are made from the months by published formulas."
    return f"Every hour is that of the weather file ({sky.title})."


def side_by_side(own: Sky, built_in: Sky) -> Comparison:
    """One's own sky, typed or from a file, against the built-in climate of the same place.

    Parameters
    ----------
    own : typed months or a weather file
    built_in : the built-in sky at that place

    Examples
    --------
    >>> from sizing.place.place import Place
    >>> from sizing.sky.weather import built_in_sky, file_sky
    >>> measured, place = file_sky("pvlib/data/723170TYA.CSV")
    >>> found = side_by_side(measured, built_in_sky(place))
    >>> found.year_ratio, found.apart
    (1.018, 11)
    """
    ours, theirs = month_mean(daily_sums(own, own.ghi)), month_mean(daily_sums(built_in, built_in.ghi))
    known = theirs >= DIM_MONTH
    ratio = np.divide(ours, theirs, out=np.ones(12), where=known)
    days = np.asarray(DAYS_IN_MONTH)
    whole = float(theirs @ days)
    year = float(ours @ days) / whole if whole > 0 else 1.0
    apart = int(np.argmax(np.where(known, np.abs(np.log(np.maximum(ratio, 1e-9))), -1.0))) if np.any(known) else None
    return Comparison(
        month_ratio=tuple(float(value) if lit else None for value, lit in zip(ratio, known, strict=True)),
        year_ratio=year,
        apart=None if apart is None else apart + 1,
        sentence=f"{how_far(own, year, apart, ratio)}; {which_to_believe(own, built_in, year)}.",
    )


def how_far(own: Sky, year: float, apart: int | None, ratio: Array) -> str:
    """How far one's own sky is from the built-in climate, over the year and in the month that differs most."""
    names = {"weather_file": "the weather file has", "monthly": "the typed months have", "built_in": "this sky has"}
    text = f"Over the year {names[own.kind]} {difference(year, 'sun')} the built-in climate"
    if apart is None or abs(ratio[apart] - 1) < 0.005:
        return text
    return f"{text} (most apart in {MONTHS[apart]}: {difference(float(ratio[apart]))})"


def difference(ratio: float, noun: str = "") -> str:
    """A ratio in words, without or with what it is a ratio of.

    Examples
    --------
    >>> difference(1.082), difference(0.93, "sun"), difference(1.004, "sun")
    ('8 % more', '7 % less sun than', 'as much sun as')
    """
    percent = round(100 * abs(ratio - 1))
    if percent == 0:
        return f"as much {noun} as" if noun else "as much"
    words = f"{percent} % {'more' if ratio > 1 else 'less'}"
    return f"{words} {noun} than" if noun else words


def which_to_believe(own: Sky, built_in: Sky, year: float) -> str:
    """Which of two skies to believe, by how well each is known and what speaks against it."""
    doubts = [text for note in own.notes if (text := DOUBTS.get(note.code))]
    if doubts:
        return f"{doubts[0]}, so clear that up before you believe it"
    if own.kind == "built_in":
        return "both are the built-in climate"
    if abs(year - 1) > FARTHEST_SEEN:
        return (
            "the built-in climate was never that far off where it was compared with weather stations, "
            "so check the place, the unit and the order of the months before you believe it"
        )
    name = "the weather file" if own.kind == "weather_file" else "your own figures"
    if abs(year - 1) <= float(np.hypot(own.year_band, built_in.year_band)):
        return f"that is no more than the built-in climate usually is off, so believe {name} if measured near the garden"
    return (
        f"the built-in climate is off by as much in some places, more often in mountains, on coasts and under haze, "
        f"so believe {name} if measured near the garden"
    )


def monthly_of(sky: Sky) -> tuple[Months, Months]:
    """Twelve months of sun [kWh/m2 a day] and air temperature [Cel] that make a typed sky repeat this one.

    A month that a typed sky must call dark is 0, and none is brighter than a typed sky may be, so that a design
    file takes them for the same place.

    Parameters
    ----------
    sky : of any kind, most useful of a weather file

    Examples
    --------
    >>> from sizing.sky.weather import file_sky
    >>> sun, temperature = monthly_of(file_sky("pvlib/data/723170TYA.CSV")[0])
    >>> sun[:2], temperature[:2]
    ((2.41, 3.06), (0.3, 5.0))
    """
    sun = month_mean(daily_sums(sky, sky.ghi))
    clearness = np.asarray(sky.clearness)
    allowed = np.where(clearness > 0, np.minimum(CLEAREST_TYPED / np.where(clearness > 0, clearness, 1), 1), 0)
    return tuple((sun * allowed).tolist()), tuple(float(month) for month in sky.air_temperature_month)
