"""The basin's water through the year: what evaporates and splashes away, what rain brings, what is topped up from the tap.

A millimetre on a square metre is a litre. Rain counts as far as the month's losses; the rest runs over the rim.
"""

from dataclasses import dataclass, replace

import numpy as np

from sizing.basin.basin import Basin
from sizing.basin.evaporation import air_over_water, evaporation_worked
from sizing.basin.sentences import assumed_of_water, dry_spell_sentence, year_sentence
from sizing.foundation.formats import MONTHS
from sizing.foundation.units import LITRE
from sizing.foundation.working import Worked, assumed, by_method, formula, given, work
from sizing.hydraulic.outlet import Nozzle, OpenPipe
from sizing.operation.year import Month
from sizing.report.months_worked import named, year_worked
from sizing.report.report import Report
from sizing.sky.climate import built_in_rain

WIND_SPLASH = {"sheltered": 0.001, "open": 0.005, "exposed": 0.015}
"""[1] Share of a jet's water that the wind takes out of the basin; no figure was found that could be trusted: an assumption."""
NOZZLE_SPLASH, SHEET_SPLASH, PIPE_SPLASH = 1.0, 0.2, 0.1
"""[1] How much of that share a jet, a falling sheet and a bubbling pipe lose; an assumption."""


@dataclass(frozen=True)
class MonthOfWater:
    """One month, 1..12, a mean day each: evaporation [mm]; evaporated and splashed water, rain on the basin, what of it
    makes up for losses, what runs over, top-up [l]; rain of the month [mm]; top-up of a week [l]."""

    month: int
    days: int
    evaporation_mm_per_day: float
    rain_mm: float
    evaporated_l_per_day: float
    splashed_l_per_day: float
    rain_l_per_day: float
    rain_kept_l_per_day: float
    overflow_l_per_day: float
    top_up_l_per_day: float
    top_up_l_per_week: float


@dataclass(frozen=True, eq=False)
class WaterBalance:
    """Twelve months and their sums over a year [m3].

    ``thirstiest`` is the month 1..12 that loses most without rain, ``loss_per_day`` what it loses a day [m3].
    ``dry_spell_loss`` [m3] and ``level_fall`` [m] are those of ``dry_spell_days`` without rain in that month,
    ``days_lasting`` how long the usable water lasts (``None`` where nothing is lost), ``lasts`` whether that is enough.
    """

    months: tuple[MonthOfWater, ...]
    year_evaporated: float
    year_splashed: float
    year_rain: float
    year_rain_kept: float
    year_overflow: float
    year_top_up: float
    thirstiest: int
    loss_per_day: float
    dry_spell_days: int
    dry_spell_loss: float
    level_fall: float
    days_lasting: float | None
    lasts: bool
    sentence: str
    dry_spell_sentence: str
    assumptions: tuple[str, ...]
    working: tuple[Worked, ...]


@formula("open_water_evaporation * area", unit="l/d", source="hydrostatics")
def evaporated_water(open_water_evaporation: float, area: float) -> float:
    """Water that evaporates in a day [l]: depth [mm] times surface [m2].

    Examples
    --------
    >>> evaporated_water(5.2, 2.16)
    11.232
    """
    return open_water_evaporation * area


@formula("wind_share * outlet_share", unit="1", source="common_practice")
def splash_share(wind_share: float, outlet_share: float) -> float:
    """Share of the pumped water that does not come back [1]: of a jet in that wind, and of that outlet beside a jet.

    Examples
    --------
    >>> splash_share(0.005, 0.2)
    0.001
    """
    return wind_share * outlet_share


@formula("water_of_day * splash_share", unit="l/d", source="common_practice")
def splashed_water(water_of_day: float, splash_share: float) -> float:
    """Water that splashes and drifts away in a day [l] of that which is pumped [l].

    Examples
    --------
    >>> splashed_water(1910.0, 0.005)
    9.55
    """
    return water_of_day * splash_share


@formula("rain * area / days", unit="l/d", source="hydrostatics")
def rain_on_basin(rain: float, area: float, days: float) -> float:
    """Rain that falls into the basin on a mean day [l]: rain of the month [mm], surface [m2], days of the month.

    Examples
    --------
    >>> rain_on_basin(93.0, 2.16, 31.0)
    6.48
    """
    return rain * area / days


@formula("maximum(0, evaporated_water + splashed_water - rain_on_basin)", unit="l/d", source="hydrostatics")
def topped_up(evaporated_water: float, splashed_water: float, rain_on_basin: float) -> float:
    """Water that is filled in on a mean day [l]: losses [l] less rain [l], never below nothing.

    Examples
    --------
    >>> topped_up(11.2, 9.5, 6.5), topped_up(1.2, 0.0, 6.5)
    (14.2, 0.0)
    """
    return max(0.0, evaporated_water + splashed_water - rain_on_basin)


@formula("dry_spell * (evaporated_water + splashed_water)", unit="l", source="hydrostatics")
def lost_without_rain(dry_spell: float, evaporated_water: float, splashed_water: float) -> float:
    """Water lost in so many days without rain [l]; losses of a day [l].

    Examples
    --------
    >>> lost_without_rain(21.0, 11.2, 9.5)
    434.7
    """
    return dry_spell * (evaporated_water + splashed_water)


@formula("lost_without_rain / 1000 / area", unit="m", source="hydrostatics")
def level_fall(lost_without_rain: float, area: float) -> float:
    """Fall of the level [m] when so much is lost [l] from a surface [m2]; upright walls.

    Examples
    --------
    >>> level_fall(434.7, 2.16)
    0.20125
    """
    return lost_without_rain / 1000 / area


def water_balance_of(report: Report, basin: Basin) -> WaterBalance:
    """The water of a finished sizing's basin, month by month.

    Parameters
    ----------
    report, basin : of the same design; the fountain need not play
    """
    air = air_over_water(report.sky, report.place, basin.wind)
    rain = built_in_rain(report.place.latitude, report.place.longitude)
    share, area = share_worked(report, basin), dict(basin.working[0].inputs)["area"]
    top_ups = [
        top_up_worked(evaporation_worked(air, month.month), rain[month.month - 1], month, pumped, share, area)
        for month, pumped in zip(report.year.months, report.months_worked, strict=False)
    ]
    months = tuple(month_of_water(worked, month) for worked, month in zip(top_ups, report.year.months, strict=True))
    losses = np.array([month.evaporated_l_per_day + month.splashed_l_per_day for month in months])
    worst = int(np.argmax(losses))
    loss = float(losses[worst]) * LITRE
    fall = fall_worked(top_ups[worst], basin)
    lasting = basin.usable_volume / loss if loss > 0 else None
    lasts = lasting is None or lasting >= basin.dry_spell_days
    balance = WaterBalance(
        months=months,
        year_evaporated=over_year(months, "evaporated_l_per_day"),
        year_splashed=over_year(months, "splashed_l_per_day"),
        year_rain=over_year(months, "rain_l_per_day"),
        year_rain_kept=over_year(months, "rain_kept_l_per_day"),
        year_overflow=over_year(months, "overflow_l_per_day"),
        year_top_up=over_year(months, "top_up_l_per_day"),
        thirstiest=worst + 1,
        loss_per_day=loss,
        dry_spell_days=basin.dry_spell_days,
        dry_spell_loss=dict(fall.inputs)["lost_without_rain"].value * LITRE,
        level_fall=fall.value,
        days_lasting=lasting,
        lasts=lasts,
        sentence="",
        dry_spell_sentence="",
        assumptions=assumed_of_water(report.sky.kind, basin.wind, share.value),
        working=(of_the_year(top_ups, report.year.months), fall),
    )
    weeks = [month.top_up_l_per_week for month in months]
    summed = year_sentence(
        balance.year_evaporated, balance.year_splashed, balance.year_rain, balance.year_rain_kept, balance.year_top_up, weeks
    )
    told = dry_spell_sentence(basin.dry_spell_days, worst + 1, loss, fall.value, basin.usable_depth, basin.depth, lasting)
    return replace(balance, sentence=summed, dry_spell_sentence=told)


def share_worked(report: Report, basin: Basin) -> Worked:
    """Share of the pumped water that splashes and drifts away."""
    outlet = report.fountain.waterway.outlet
    part = NOZZLE_SPLASH if isinstance(outlet, Nozzle) else PIPE_SPLASH if isinstance(outlet, OpenPipe) else SHEET_SPLASH
    return work(
        splash_share,
        wind_share=assumed("wind_share", WIND_SPLASH[basin.wind], "1", "common_practice"),
        outlet_share=assumed("outlet_share", part, "1", "common_practice"),
    )


def top_up_worked(evaporation: Worked, rain: float, month: Month, pumped: Worked, share: Worked, area: Worked) -> Worked:
    """Top-up of a month's mean day [l], unfolded down to sky, table and pump."""
    table = f"Rain and snow of {MONTHS[month.month - 1]} in the built-in table of 2 degrees, whatever the sky of the design."
    return work(
        topped_up,
        evaporated_water=work(evaporated_water, open_water_evaporation=evaporation, area=area),
        splashed_water=work(splashed_water, water_of_day=pumped, splash_share=share),
        rain_on_basin=work(
            rain_on_basin, rain=by_method("rain", rain, "mm", "era5", table), area=area, days=given("days", month.days, "d")
        ),
    )


def month_of_water(worked: Worked, month: Month) -> MonthOfWater:
    """The numbers of a month out of the working of its top-up."""
    parts = dict(worked.inputs)
    evaporated, splashed, rain = (parts[name].value for name in ("evaporated_water", "splashed_water", "rain_on_basin"))
    kept = min(rain, evaporated + splashed)
    return MonthOfWater(
        month=month.month,
        days=month.days,
        evaporation_mm_per_day=dict(parts["evaporated_water"].inputs)["open_water_evaporation"].value,
        rain_mm=dict(parts["rain_on_basin"].inputs)["rain"].value,
        evaporated_l_per_day=evaporated,
        splashed_l_per_day=splashed,
        rain_l_per_day=rain,
        rain_kept_l_per_day=kept,
        overflow_l_per_day=rain - kept,
        top_up_l_per_day=worked.value,
        top_up_l_per_week=7 * worked.value,
    )


def fall_worked(top_up: Worked, basin: Basin) -> Worked:
    """Fall of the level in a dry spell of the thirstiest month [m]."""
    parts, days = dict(top_up.inputs), basin.dry_spell_days
    lost = work(
        lost_without_rain,
        dry_spell=given("dry_spell", days, "d") if basin.given else assumed("dry_spell", days, "d", "common_practice"),
        evaporated_water=parts["evaporated_water"],
        splashed_water=parts["splashed_water"],
    )
    return work(level_fall, lost_without_rain=lost, area=dict(parts["evaporated_water"].inputs)["area"])


def of_the_year(top_ups: list[Worked], months: tuple[Month, ...]) -> Worked:
    """Top-up of the whole year [l] from the mean days of its months."""
    days = [replace(top_up, name=named("top_up", month)) for top_up, month in zip(top_ups, months, strict=True)]
    return replace(year_worked(days), name="top_up_of_year")


def over_year(months: tuple[MonthOfWater, ...], name: str) -> float:
    """Sum over the year [m3] of what a mean day of each month has [l]."""
    return sum(getattr(month, name) * month.days for month in months) * LITRE
