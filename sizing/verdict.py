"""The answer in whole sentences: when it plays, how high, when it stays dry, and what sets the limit."""

from dataclasses import dataclass

from sizing.assembly import Fountain
from sizing.operating_point import State
from sizing.outlet import Spillway
from sizing.units import LITRE_PER_MINUTE
from sizing.words import MONTHS, hour_span, length, month_span, quantity
from sizing.year import Month, Year


@dataclass(frozen=True)
class Verdict:
    """One headline, one sentence on the poorest month, one on what sets the limit."""

    headline: str
    dry: str
    limit: str


def verdict_of(fountain: Fountain, year: Year, first_sun: float | None, state_below: State) -> Verdict:
    """Say in words what the year holds.

    Parameters
    ----------
    first_sun : least sun on the cells that makes it play [W/m2]; ``None`` if none does
    state_below : what the fountain does just below that sun (or at full sun, if it never plays)
    """
    best = max(year.months, key=lambda month: month.water)
    return Verdict(headline(fountain, best), dry_spell(year), limit(fountain, first_sun, state_below))


def headline(fountain: Fountain, best: Month) -> str:
    """When it plays on a usual day of its best month, and how high or how much."""
    name = MONTHS[best.month - 1]
    if best.water <= 0:
        return "This fountain does not play at any time of the year."
    if best.first_hour is None or best.last_hour is None:
        return f"Even in {name}, its best month, it stays dry on a usual day."
    span = hour_span(best.first_hour, best.last_hour)
    return f"Plays from about {span} on a usual {name} day, {measure(fountain, best)} at its best hour."


def measure(fountain: Fountain, month: Month) -> str:
    """The jet's height, or the flow over a spillway, at the best hour of a month's usual day."""
    flow = quantity(month.flow / LITRE_PER_MINUTE, "l/min", 2)
    if isinstance(fountain.waterway.outlet, Spillway):
        return f"{flow} over the lip"
    return f"{length(month.jet)} high"


def dry_spell(year: Year) -> str:
    """How often the poorest month stays dry, or which months do all through."""
    poorest = max(year.months, key=lambda month: (month.dry_days / month.days, -month.water))
    name = MONTHS[poorest.month - 1]
    if poorest.dry_days == 0:
        return "It plays for some time on every day of the year."
    dry = [month.month for month in year.months if month.dry_days == month.days]
    if dry:
        return "It stays dry all year." if len(dry) == 12 else f"It stays dry all through {month_span(dry)}."
    return f"In {name}, its poorest month, it stays dry on {poorest.dry_days} of {poorest.days} days."


def limit(fountain: Fountain, first_sun: float | None, state_below: State) -> str:
    """The sun it needs, and why less does not do."""
    pump = fountain.pump
    lift = length(fountain.waterway.outlet.height)
    causes = {
        State.TOO_LITTLE_SUN: "the panel's current does not start the motor",
        State.BELOW_LOWEST_VOLTAGE: f"the pump gets less than its lowest voltage of {quantity(pump.lowest_voltage, 'V')}",
        State.CANNOT_LIFT: f"the pump turns but cannot lift the water {lift}",
    }
    cause = causes.get(state_below, "there is no sun")
    if first_sun is None:
        return f"Even in full sun {cause}."
    return (
        f"It needs about {quantity(first_sun, 'W/m2', 2)} of sun on the panel (clear noon sun is near 1000); with less, {cause}."
    )
