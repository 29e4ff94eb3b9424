"""What a comparison of pumps and panels answers, as checked models: every field with its unit.

``ComparisonAnswer`` mirrors ``sizing.comparison.answer``; an answer that does not fit it is a bug and never leaves
the service.
"""

from typing import Annotated, Literal

from pydantic import Field

from api.answers.orientation_models import Months, YearOfSunAnswer
from sizing.answers import Exact, NoteAnswer, PlaceAnswer, amount
from sizing.answers import meaning as words
from sizing.design import Design

ConnectionName = Literal["direct", "controller"]
MOST_PAIRS = 144
"""Twelve pumps, six panels, two connections."""


class PairIds(Exact):
    panel: str = words("Id of the panel in the design")
    pump: str = words("Id of the pump in the design")
    connection: ConnectionName = words("What joins them: the cable alone, or a controller")


class MoneyAnswer(Exact):
    amount: float = words("Amount in the currency")
    currency: str = words("Currency, three capital letters (ISO 4217)")


class WantedAnswer(Exact):
    jet_height_m: float | None = amount("Jet to reach; null where a flow is asked for", "m")
    flow_l_per_min: float | None = amount("Flow to reach; null where a jet is asked for", "L/min")
    from_hour: float = amount("Hour of the day from which it counts", "h")
    to_hour: float = amount("Hour of the day until which it counts", "h")
    months: Months = words("Months in which it counts, 1 to 12")
    days_out_of_ten: float = amount("Days out of ten of every month that must reach it", "1")
    sentence: str = words("The same in words")


class NoonAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
    jet_height_m: float | None = amount("Jet height in the hour from 12:00 on a usual day; null for a spillway", "m")
    flow_l_per_min: float = amount("Flow in that hour", "L/min")


class ReachedAnswer(Exact):
    met: bool = words("Whether enough days of every month of the goal reach it")
    hours: float = amount("Hours of a year, inside the hours and months of the goal, that reach it", "h")
    window_hours: float = amount("All hours of a year inside the hours and months of the goal", "h")
    poorest_month: int = Field(ge=1, le=12, description="The month on the fewest days of which it is reached.")
    days_out_of_ten: float = amount("Days out of ten of that month that reach it", "1")


class PairAnswer(Exact):
    rank: int = Field(ge=1, le=MOST_PAIRS, description="Place in the order, 1 is first.")
    panel: str = words("Id of the panel in the design")
    pump: str = words("Id of the pump in the design")
    connection: ConnectionName = words("What joins them: the cable alone, or a controller")
    panel_name: str = words("Name of the panel")
    pump_name: str = words("Name of the pump")
    suits: bool = words("Whether it meets the goal (or plays, where there is none) and never runs above the highest voltage")
    refused: str = words("Why the pair cannot be sized at all; empty where it could")
    failure: str = words("Why it does not do what is wanted; empty where it does")
    water_l: float | None = amount("Water lifted in the year; like all numbers null where the pair could not be sized", "L")
    worst_month: int | None = Field(ge=1, le=12, description="Month with least water in a mean day, 1 to 12.")
    worst_water_l_per_day: float | None = amount("Water of a mean day in it", "L/d")
    running_h: float | None = amount("Hours that it plays in the year", "h")
    over_voltage_h: float | None = amount("Hours of the year above the pump's highest voltage", "h")
    water_l_per_day: Annotated[list[float], Field(min_length=12, max_length=12)] | None = amount(
        "Water of a mean day of each month, January first", "L/d"
    )
    noon: list[NoonAnswer] = Field(max_length=12, description="Noon on a usual day of each chosen month.")
    goal: ReachedAnswer | None = words("How far it reaches the goal; null where there is none")
    first_playing_irradiance_w_per_m2: float | None = amount(
        "Least sun on the cells that makes it play; null where none does", "W/m2"
    )
    matching_factor: float | None = amount(
        "Share of the panel's energy at maximum power that the motor takes while it turns, over the year", "1"
    )
    price: MoneyAnswer | None = words("Price of panels, pump and controller; null where one is not known")
    price_note: str = words("Why there is no price; empty where there is one")
    price_per_playing_hour: MoneyAnswer | None = words("That price over the hours of play of one year")
    beaten_by: PairIds | None = words("A pair at least as good in everything and better in something; null if there is none")


class SmallestPanelAnswer(Exact):
    pump: str = words("Id of the pump in the design")
    power_w: int | None = Field(ge=1, le=1000, description="Least power at standard test conditions that meets the goal [W].")
    like_panel: str | None = words("Id of the panel whose volts it has, its current scaled")
    connection: ConnectionName | None = words("What joins them")
    sentence: str = words("The same in words, or why no panel does")


class ComparisonAnswer(Exact):
    """Every pump with every panel of a design over the same year, by rank."""

    model_version: str = words("Version of the model; it changes when a number changes")
    title: str = words("Title of the design")
    design: Design = words("The design as it was understood")
    place: PlaceAnswer = words("The place")
    sky: YearOfSunAnswer = words("The year of sun")
    goal: WantedAnswer | None = words("What the fountain should reach; null where the design has no goal")
    months: Months = words("Chosen months: those of the goal, else all")
    ranked_by: str = words("What the order rests on")
    pairs: list[PairAnswer] = Field(min_length=1, max_length=MOST_PAIRS, description="All pairs by rank.")
    cheapest: PairIds | None = words("The pair that meets the goal at the least known price")
    nearly: PairIds | None = words("The pair that comes nearest to the goal of those that do not meet it")
    smallest_panels: list[SmallestPanelAnswer] = Field(
        max_length=12, description="For each pump the smallest panel that would meet the goal; empty without a goal."
    )
    notes: list[NoteAnswer] = words("What to know of the comparison")
