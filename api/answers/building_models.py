"""What building and keeping a fountain answers, as checked models: every field with its unit.

``BuildingAnswer`` mirrors ``sizing.money.answer``; an answer that does not fit it is a bug and never leaves the service.
"""

from typing import Literal

from pydantic import Field

from api.answers.models import Exact, amount, words
from sizing.design import Design


class CableSizeAnswer(Exact):
    size: str = words("Name of the size")
    family: str = words("iec for square millimetres, awg for wire gauge")
    area_mm2: float = amount("Area of one conductor", "mm2")
    resistance_ohm: float = amount("Resistance there and back", "Ohm")
    drop_share: float = amount("Largest share of the voltage that it keeps at the operating points that count", "1")
    drop_v: float = amount("Volts that it keeps there", "V")
    water_l: float = amount("Water of the year with it", "L")
    water_lost_l: float = amount("How much less that is than with the design's own cable", "L")


class FuseAnswer(Exact):
    needed: bool = words("Whether each string needs a fuse of its own")
    rating_a: float | None = amount("Rating that rules would take; null where none is needed", "A")
    sentence: str = words("Why")
    source: str = words("Source key")


class ColdDawnAnswer(Exact):
    air_temperature_c: float = amount("Air of the coldest dawn that is reckoned with", "Cel")
    voltage_v: float = amount("Open-circuit voltage of the whole array then", "V")


class VoltageLimitAnswer(Exact):
    family: str = words("Which rules name it, and where it holds")
    limit_v: float = amount("Limit of direct current", "V")
    exceeded: bool = words("Whether the cold voltage lies above it")
    sentence: str = words("The same in words")
    source: str = words("Source key")


class WiresAnswer(Exact):
    length_m: float = amount("Length of the cable one way", "m")
    conductor_temperature_c: float = amount("Temperature of the copper", "Cel")
    drop_limit: float = amount("Share of the voltage that good practice lets a cable keep", "1")
    own: CableSizeAnswer = words("The design's own cable")
    sizes: list[CableSizeAnswer] = words("Sizes around what is needed, thinnest first, square millimetres before wire gauge")
    smallest: str | None = words("Thinnest size in square millimetres under the limit; null where none is")
    next_size: str | None = words("The next thicker size; null where there is none")
    smallest_gauge: str | None = words("Thinnest wire gauge under the limit; null where none is")
    water_without_loss_l: float = amount("Water of the year with a cable without resistance", "L")
    sentence: str = words("What the cable costs and which size would do")
    short_circuit_current_a: float = amount("Short-circuit current of the whole array", "A")
    design_current_a: float = amount("Current that cable and switch must bear", "A")
    fuse: FuseAnswer = words("Whether strings need fuses of their own")
    cold_dawn: ColdDawnAnswer = words("The highest voltage that anybody can meet")
    voltage_limits: list[VoltageLimitAnswer] = words("Limits that two families of rules name; check current local code")
    licensed: list[str] = words("Why a licensed person must look; empty does not mean that none need look")


class SafetyNoteAnswer(Exact):
    note: str = words("Short name of the note in SAFETY.md")
    title: str = words("Its first sentence")
    reason: str = words("Why it applies to this design, with its number")
    licensed: bool = words("Whether a licensed person must look because of it; false does not mean that none need look")


class LookAnswer(Exact):
    when: str = words("When it is looked at")
    sentence: str = words("What is looked at, with its number")


class CareAnswer(Exact):
    looks: list[LookAnswer] = words("What is looked at, in the order of the year")
    club: list[str] = words("Work that a club can prepare where local rules let it")
    licensed: list[str] = words("Work and judgement for a licensed person, each with its reason")


class BasinAnswer(Exact):
    given: bool = words("Whether the design names a basin; false for one that is proposed")
    shape: Literal["round", "rectangular"] = words("Shape of the water")
    build: Literal["liner", "tub"] = words("Dug or built with a liner, or a tub that is bought")
    wind: Literal["sheltered", "open", "exposed"] = words("How open to the wind it lies")
    length_m: float = amount("Length of the water; diameter where it is round", "m")
    width_m: float = amount("Width of the water; diameter where it is round", "m")
    depth_m: float = amount("Depth of the water", "m")
    area_m2: float = amount("Surface of the water", "m2")
    rim_length_m: float = amount("Length of the rim", "m")
    volume_l: float = amount("Water that it holds", "L")
    highest_water_m: float | None = amount("Highest water of the year above the basin's; null at a spillway or without play", "m")
    falls_inside: bool | None = words("Whether the water falls back inside on a calm day; null without play")
    jet_check: str = words("The same in words")
    held_back_l: float = amount("Water that comes back when the pump stops", "L")
    level_rise_m: float = amount("How much it lifts the level", "m")
    freeboard_m: float = amount("Least height of the rim above the playing level", "m")
    held_back: str = words("The same in words")
    lowest_level_m: float = amount("Depth that stays over the bottom for the pump", "m")
    usable_depth_m: float = amount("Depth that may be lost before the pump draws air", "m")
    usable_volume_l: float = amount("Water that may be lost before the pump draws air", "L")
    turnover_h: float | None = amount("Playing hours in which all of it passes the pump; null without play", "h")
    turnover: str = words("The same in words")
    notes: list[str] = words("What else is to be said of its depth")
    assumptions: list[str] = words("What was assumed")
    words: str = words("The basin in words")


class MonthOfWaterAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
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


class YearOfWaterAnswer(Exact):
    evaporated_l: float = amount("Water that evaporates in a year", "L")
    splashed_l: float = amount("Water that splashes or drifts away", "L")
    rain_l: float = amount("Rain that falls into the basin", "L")
    rain_kept_l: float = amount("What of it makes up for losses", "L")
    overflow_l: float = amount("What of it runs over", "L")
    top_up_l: float = amount("Water that is topped up", "L")


class WaterBalanceAnswer(Exact):
    months: list[MonthOfWaterAnswer] = Field(min_length=12, max_length=12, description="The twelve months, January first.")
    year: YearOfWaterAnswer = words("Sums of the year")
    thirstiest_month: int = Field(ge=1, le=12, description="Month that loses most without rain.")
    loss_l_per_day: float = amount("What it loses a day without rain", "L/d")
    dry_spell_days: int = amount("Longest dry spell that is reckoned with", "d")
    dry_spell_loss_l: float = amount("Water lost in it", "L")
    level_fall_m: float = amount("How much the level falls in it", "m")
    days_lasting: float | None = amount("Days that the usable water lasts; null where nothing is lost", "d")
    lasts: bool = words("Whether the usable water lasts the dry spell out")
    sentence: str = words("The year in words")
    dry_spell: str = words("The dry spell in words")
    assumptions: list[str] = words("What was assumed")


class FrostAnswer(Exact):
    months: list[int] = words("Months that freeze, 1 to 12")
    single_nights: list[int] = words("Months with single frosty nights")
    mean_lowest_c: list[float] = amount("Mean of the days' lowest temperatures of each month, January first", "Cel")
    coldest_c: list[float] = amount("Coldest air of each month, January first", "Cel")
    hard_nights: list[int] = words("Nights of each month with hard frost, January first")
    sentence: str = words("The same in words")
    judged: str = words("How it was judged")
    advice: list[str] = words("What to do before it")


class PriceAnswer(Exact):
    amount: float = words("Price of one, in the currency")
    currency: str = words("Currency, three capital letters (ISO 4217)")
    source: str = words("Where it was seen")
    date: str = words("Day it was seen")


class PartAnswer(Exact):
    part: str = words("Key of the part")
    group: str = words("Group of the list")
    name: str = words("Name for people")
    quantity: float = words("How many of the unit")
    unit: str = words("Unit of the quantity")
    reason: str = words("Why, with a number of the design")
    price: PriceAnswer | None = words("Price of one; null where it is missing, which is never zero")
    total: str | None = words("Quantity times price, exact to the cent; null without a price in the budget's currency")


class GroupAnswer(Exact):
    group: str = words("Group of the list")
    total: str = words("Sum of what is priced in it")


class SumAnswer(Exact):
    currency: str = words("Currency, three capital letters (ISO 4217)")
    total: str = words("Sum in it")


class CostsAnswer(Exact):
    currency: str = words("Currency of the budget; empty where nothing is priced")
    groups: list[GroupAnswer] = words("Sums by group")
    parts: str = words("Sum of all parts that are priced")
    contingency_pct: float = amount("What is added for what nobody thought of", "%")
    contingency: str = words("The same in money")
    delivery: str | None = words("Delivery; null where none is given")
    tax_pct: float = amount("Tax on all of it", "%")
    tax: str = words("The same in money")
    total: str = words("All together; at least, where prices are missing")
    missing: list[str] = words("Parts without a price")
    other_currency: list[str] = words("What stands in another currency and is not added")
    other_sums: list[SumAnswer] = words("Sums of what stands in other currencies")
    unused_prices: list[str] = words("Keys of prices for parts that the design does not need")
    sentence: str = words("The total in words")


class ReplacementAnswer(Exact):
    name: str = words("Part that wears out")
    least: int = words("How often it is bought again within ten years, at least")
    most: int = words("How often at most")
    reason: str = words("Its life, and where that is from")
    least_cost: str | None = words("Least cost; null without a price")
    most_cost: str | None = words("Most cost; null without a price")


class TenYearsAnswer(Exact):
    replacements: list[ReplacementAnswer] = words("What wears out within ten years")
    water_l: float = amount("Water from the tap in ten years", "L")
    water_cost: str | None = words("Its cost; null without a price of water")
    running_h: float = amount("Hours of play in ten years", "h")
    low: str = words("Cost of ten years, low")
    high: str = words("Cost of ten years, high")
    per_hour_low: str | None = words("Price of an hour of play, low; null without play or prices")
    per_hour_high: str | None = words("The same, high")
    complete: bool = words("Whether every price that counts is there")
    sentences: list[str] = words("The ten years in words")


class PairCostAnswer(Exact):
    rank: int = words("Place by rank, 1 is first")
    chosen: bool = words("Whether it is the pair that the design chooses")
    panel_name: str = words("Name of the panel")
    pump_name: str = words("Name of the pump")
    water_l: float = amount("Water of a year", "L")
    running_h: float = amount("Hours of play in a year", "h")
    currency: str = words("Currency of its budget; empty where nothing is priced")
    total: str = words("To buy, all together; at least, where prices are missing")
    missing: list[str] = words("Parts without a price")
    low: str = words("Cost of ten years, low")
    high: str = words("Cost of ten years, high")
    per_hour_low: str | None = words("Price of an hour of play over ten years, low; null without play or prices")
    per_hour_high: str | None = words("The same, high")
    difference: str = words("What differs from the chosen pair, in words; empty for that one")


class BuildingAnswer(Exact):
    model_version: str = words("Version of the model")
    title: str = words("Title of the design")
    design: Design = words("The design as it was understood")
    wires: WiresAnswer = words("Cable, fuse and voltages")
    safety: list[SafetyNoteAnswer] = words("Notes of SAFETY.md that apply, what hurts most first; none of them is permission")
    basin: BasinAnswer = words("The basin of the design, or the one that is proposed")
    water: WaterBalanceAnswer = words("What evaporates, splashes away, rains in and is topped up")
    frost: FrostAnswer = words("When it freezes")
    care: CareAnswer = words("What is looked at through the year, and who does what")
    parts: list[PartAnswer] = words("What must be bought")
    not_needed: list[str] = words("What is not listed, and why")
    costs: CostsAnswer = words("The budget of these parts; money is exact text")
    ten_years: TenYearsAnswer = words("What ten years cost, low and high")
    pairs: list[PairCostAnswer] = words("The chosen pair and those next to it by rank; none where there is one alone")
