"""What is answered on the basin, its water through the year and its frost."""

from typing import Literal, Self

from sizing.answers.kit import Exact, amount, meaning
from sizing.basin.basin import Basin
from sizing.basin.frost import Frost
from sizing.basin.water_balance import MonthOfWater, WaterBalance
from sizing.design.budget_input import Build, Wind
from sizing.foundation.units import LITRE


class BasinAnswer(Exact):
    given: bool = meaning("Whether the design names a basin; false for one that is proposed")
    words: str = meaning("The basin in words")
    shape: Literal["round", "rectangular"] = meaning("Shape of the water")
    build: Build = meaning("Dug or built with a liner, or a tub that is bought")
    wind: Wind = meaning("How open to the wind it lies")
    length_m: float = amount("Length of the water; diameter where it is round", "m")
    width_m: float = amount("Width of the water; diameter where it is round", "m")
    depth_m: float = amount("Depth of the water", "m")
    area_m2: float = amount("Surface of the water", "m2")
    rim_length_m: float = amount("Length of the rim", "m")
    volume_l: float = amount("Water that it holds", "L")
    highest_water_m: float | None = amount("Highest water of the year above the basin's; null at a spillway or without play", "m")
    falls_inside: bool | None = meaning("Whether the water falls back inside on a calm day; null without play")
    jet_check: str = meaning("The same in words")
    held_back_l: float = amount("Water that comes back when the pump stops", "L")
    level_rise_m: float = amount("How much it lifts the level", "m")
    freeboard_m: float = amount("Least height of the rim above the playing level", "m")
    held_back: str = meaning("The same in words")
    lowest_level_m: float = amount("Depth that stays over the bottom for the pump", "m")
    usable_depth_m: float = amount("Depth that may be lost before the pump draws air", "m")
    usable_volume_l: float = amount("Water that may be lost before the pump draws air", "L")
    turnover_h: float | None = amount("Playing hours in which all of it passes the pump; null without play", "h")
    turnover: str = meaning("The same in words")
    notes: list[str] = meaning("What else is to be said of its depth")
    assumptions: list[str] = meaning("What was assumed")

    @classmethod
    def of(cls, basin: Basin) -> Self:
        return cls(
            given=basin.given,
            words=basin.words,
            shape="round" if basin.round else "rectangular",
            build=basin.build,
            wind=basin.wind,
            length_m=basin.length,
            width_m=basin.width,
            depth_m=basin.depth,
            area_m2=basin.area,
            rim_length_m=basin.rim_length,
            volume_l=basin.volume / LITRE,
            highest_water_m=basin.top,
            falls_inside=basin.falls_inside,
            jet_check=basin.jet_check,
            held_back_l=basin.held_back / LITRE,
            level_rise_m=basin.rise,
            freeboard_m=basin.freeboard,
            held_back=basin.held_sentence,
            lowest_level_m=basin.lowest_level,
            usable_depth_m=basin.usable_depth,
            usable_volume_l=basin.usable_volume / LITRE,
            turnover_h=basin.turnover_hours,
            turnover=basin.turnover_sentence,
            notes=list(basin.notes),
            assumptions=list(basin.assumptions),
        )


class MonthOfWaterAnswer(Exact):
    month: int = meaning("Month, 1 to 12", ge=1, le=12)
    days: int = amount("Days of the month", "d")
    evaporation_mm_per_day: float = amount("Evaporation of open water on a mean day", "mm/d")
    rain_mm: float = amount("Rain of the month", "mm")
    evaporated_l_per_day: float = amount("Water that evaporates on a mean day", "L/d")
    splashed_l_per_day: float = amount("Water that splashes or drifts away", "L/d")
    rain_l_per_day: float = amount("Rain that falls into the basin", "L/d")
    rain_kept_l_per_day: float = amount("What of it makes up for losses", "L/d")
    overflow_l_per_day: float = amount("What of it runs over", "L/d")
    top_up_l_per_day: float = amount("Water that is topped up", "L/d")
    top_up_l_per_week: float = amount("The same in a week", "L")

    @classmethod
    def of(cls, month: MonthOfWater) -> Self:
        return cls(
            month=month.month,
            days=month.days,
            evaporation_mm_per_day=month.evaporation_mm_per_day,
            rain_mm=month.rain_mm,
            evaporated_l_per_day=month.evaporated_l_per_day,
            splashed_l_per_day=month.splashed_l_per_day,
            rain_l_per_day=month.rain_l_per_day,
            rain_kept_l_per_day=month.rain_kept_l_per_day,
            overflow_l_per_day=month.overflow_l_per_day,
            top_up_l_per_day=month.top_up_l_per_day,
            top_up_l_per_week=month.top_up_l_per_week,
        )


class YearOfWaterAnswer(Exact):
    evaporated_l: float = amount("Water that evaporates in a year", "L")
    splashed_l: float = amount("Water that splashes or drifts away", "L")
    rain_l: float = amount("Rain that falls into the basin", "L")
    rain_kept_l: float = amount("What of it makes up for losses", "L")
    overflow_l: float = amount("What of it runs over", "L")
    top_up_l: float = amount("Water that is topped up", "L")

    @classmethod
    def of(cls, balance: WaterBalance) -> Self:
        return cls(
            evaporated_l=balance.year_evaporated / LITRE,
            splashed_l=balance.year_splashed / LITRE,
            rain_l=balance.year_rain / LITRE,
            rain_kept_l=balance.year_rain_kept / LITRE,
            overflow_l=balance.year_overflow / LITRE,
            top_up_l=balance.year_top_up / LITRE,
        )


class WaterBalanceAnswer(Exact):
    months: list[MonthOfWaterAnswer] = meaning("The twelve months, January first", min_length=12, max_length=12)
    year: YearOfWaterAnswer = meaning("Sums of the year")
    thirstiest_month: int = meaning("Month that loses most without rain", ge=1, le=12)
    loss_l_per_day: float = amount("What it loses a day without rain", "L/d")
    dry_spell_days: int = amount("Longest dry spell that is reckoned with", "d")
    dry_spell_loss_l: float = amount("Water lost in it", "L")
    level_fall_m: float = amount("How much the level falls in it", "m")
    days_lasting: float | None = amount("Days that the usable water lasts; null where nothing is lost", "d")
    lasts: bool = meaning("Whether the usable water lasts the dry spell out")
    sentence: str = meaning("The year in words")
    dry_spell: str = meaning("The dry spell in words")
    assumptions: list[str] = meaning("What was assumed")

    @classmethod
    def of(cls, balance: WaterBalance) -> Self:
        return cls(
            months=[MonthOfWaterAnswer.of(month) for month in balance.months],
            year=YearOfWaterAnswer.of(balance),
            thirstiest_month=balance.thirstiest,
            loss_l_per_day=balance.loss_per_day / LITRE,
            dry_spell_days=balance.dry_spell_days,
            dry_spell_loss_l=balance.dry_spell_loss / LITRE,
            level_fall_m=balance.level_fall,
            days_lasting=balance.days_lasting,
            lasts=balance.lasts,
            sentence=balance.sentence,
            dry_spell=balance.dry_spell_sentence,
            assumptions=list(balance.assumptions),
        )


class FrostAnswer(Exact):
    months: list[int] = meaning("Months that freeze, 1 to 12")
    single_nights: list[int] = meaning("Months with single frosty nights")
    mean_lowest_c: list[float] = amount("Mean of the days' lowest temperatures of each month, January first", "Cel")
    coldest_c: list[float] = amount("Coldest air of each month, January first", "Cel")
    hard_nights: list[int] = meaning("Nights of each month with hard frost, January first")
    ten_years_c: float = amount("The coldest air to reckon with in ten years", "Cel")
    sentence: str = meaning("The same in words")
    judged: str = meaning("How it was judged")
    advice: list[str] = meaning("What to do before it")

    @classmethod
    def of(cls, frost: Frost) -> Self:
        return cls(
            months=list(frost.months),
            single_nights=list(frost.single_nights),
            mean_lowest_c=list(frost.mean_lowest),
            coldest_c=list(frost.coldest),
            hard_nights=list(frost.hard_nights),
            ten_years_c=frost.ten_years,
            sentence=frost.sentence,
            judged=frost.judged,
            advice=list(frost.advice),
        )
