"""The answer in whole sentences: when it plays, how high, when it stays dry, and what sets the limit."""

from collections.abc import Sequence
from dataclasses import dataclass

from sizing.foundation.formats import MONTHS, clock, hour_span, length, month_span, percent, quantity, spans
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.fountain.components import Fountain
from sizing.hydraulic.outlet import Spillway
from sizing.hydraulic.pump import Pump
from sizing.operation.goal import Goal, GoalFound
from sizing.operation.jet_heights import JetHeights
from sizing.operation.operating_point import STATE_WORDS, State, own_electronics
from sizing.operation.strain import Strain
from sizing.operation.year import Month, Year
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.sentences import chance_words


@dataclass(frozen=True)
class Verdict:
    """One headline, one sentence on the poorest month, one on what sets the limit, one on the goal if there is any, one on
    the play above the highest voltage known for the pump if there is any."""

    headline: str
    dry: str
    limit: str
    goal: str = ""
    borne: str = ""


def verdict_of(
    fountain: Fountain,
    year: Year,
    first_sun: float | None,
    state_below: State,
    goal: Goal | None = None,
    found: GoalFound | None = None,
    chance: Chance | None = None,
    strain: Strain | None = None,
    borne: GoalFound | None = None,
) -> Verdict:
    """Say in words what the year holds.

    Parameters
    ----------
    first_sun : least sun on the cells that makes it play [W/m2]; ``None`` if none does
    state_below : what the fountain does just below that sun (or at full sun, if it never plays)
    goal, found, chance : what it should reach, how far it does and how surely; all or none
    strain, borne : what the year asks of the pump, and how far the goal is reached while the pump is known to bear it
    """
    best = max(year.months, key=lambda month: month.water)
    dry = months_at_rest(year)
    reached = "" if goal is None or found is None or chance is None else goal_sentence(goal, found, chance)
    above = too_high(year, strain, found, borne)
    return Verdict(headline(fountain, best, dry), dry_spell(year), limit(fountain, first_sun, state_below), reached, above)


def too_high(year: Year, strain: Strain | None, found: GoalFound | None, borne: GoalFound | None) -> str:
    """How much of the play is above the highest voltage known for the pump, and what is left without it."""
    if strain is None or strain.play_above <= 0:
        return ""
    volts = quantity(strain.allowed, "V")
    known = f"{volts}, the highest voltage of the pump" if strain.known else f"the rated {volts}, and nobody said that it may"
    hours, every = quantity(strain.play_above, "h"), quantity(year.running_hours, "h")
    left = quantity(year.water - strain.water_above, "m3")
    text = f"For {hours} of its {every} of play a year the pump gets more than {known}; without them it moves {left} a year"
    if found is not None and borne is not None and found.met and not borne.met:
        return f"{text} and does not meet the goal."
    return f"{text}."


def months_at_rest(year: Year) -> tuple[int, ...]:
    """Months whose usual day stays dry."""
    return tuple(month.month for month in year.months if month.month not in year.running_months)


def jets_sentence(jets: JetHeights) -> str:
    """Which height of the jet is a usual day's, a clear day's, and the highest of the year.

    Examples
    --------
    >>> said = jets_sentence(JetHeights(7, 13, 0.82, 1.08, 1.15)).replace("\N{NO-BREAK SPACE}", " ")
    >>> said[:57]
    'Jet above the outlet: 82 cm at 13:00 on a usual July day,'
    """
    if jets.highest <= 0:
        return "No jet rises at any time of the year."
    month, hour = MONTHS[jets.month - 1], clock(jets.hour)
    heights = (length(height) for height in (jets.usual, jets.clear, jets.highest))
    return (
        "Jet above the outlet: {} at {hour} on a usual {month} day, {} at {hour} on a clear {month} day, {} at its highest of "
        "the year."
    ).format(*heights, hour=hour, month=month)


def running_words(running: Sequence[int]) -> str:
    """In which months a mean day is meant, where a usual day of others stays dry; else empty.

    Examples
    --------
    >>> running_words([2, 3, 4]), running_words([6]), running_words(range(1, 13))
    ('in the 3 months that it runs (February to April)', 'in June', '')
    """
    if not running or len(running) == 12:
        return ""
    span = month_span(running)
    return f"in the {len(running)} months that it runs ({span})" if len(running) > 1 else f"in {span}"


def headline(fountain: Fountain, best: Month, dry: tuple[int, ...] = ()) -> str:
    """When it plays on a usual day of its best month, and how high or how much; the months whose usual day stays dry."""
    name = MONTHS[best.month - 1]
    if best.water <= 0:
        return "This fountain does not play at any time of the year."
    if best.first_hour is None or best.last_hour is None:
        return f"Even in {name}, its best month, it stays dry on a usual day."
    span = hour_span(best.first_hour, best.last_hour)
    rest = f"; it stays dry on a usual day in {month_span(dry)}" if dry else ""
    return f"Plays from about {span} on a usual {name} day, {measure(fountain, best)} at its best hour{rest}."


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
    lowest, stutters = quantity(pump.lowest_voltage, "V"), STATE_WORDS[State.BELOW_LOWEST_VOLTAGE]
    causes = {
        State.TOO_LITTLE_SUN: no_start(pump),
        State.BELOW_LOWEST_VOLTAGE: f"the pump {stutters}, for it gets less than its lowest voltage of {lowest}",
        State.CANNOT_LIFT: f"the pump {'turns but ' if pump.table is None else ''}cannot lift the water {lift}",
    }
    cause = causes.get(state_below, "there is no sun")
    if first_sun is None:
        return f"Even in full sun {cause}."
    return (
        f"It needs about {quantity(first_sun, 'W/m2', 2)} of sun on the panel (clear noon sun is near 1000); with less, {cause}."
    )


def no_start(pump: Pump) -> str:
    """Why too little sun leaves a pump standing."""
    if own_electronics(pump):
        return "the panel's power is too little for this pump"
    return "the panel's current does not start the motor"


def goal_words(goal: Goal) -> str:
    """A goal in words.

    Examples
    --------
    >>> goal_words(Goal(0.5, None, ((10.0, 15.0),), (5, 6, 7), 0.7)).replace("\N{NO-BREAK SPACE}", " ")
    'a jet of 50 cm for 90 % of the time from 10:00 to 15:00, May to July, on 7 days out of 10'
    >>> goal = Goal(0.5, None, ((10.0, 11.0), (12.0, 14.0)), (5,), 0.7, 1.0, jet_to=0.8)
    >>> goal_words(goal).replace("\N{NO-BREAK SPACE}", " ")
    'a jet of 50 cm to 80 cm all the time from 10:00 to 11:00 and 12:00 to 14:00, May, on 7 days out of 10'
    """
    time = "all the time" if goal.window_share >= 1 else f"for {percent(goal.window_share)} of the time"
    return f"{wanted_words(goal)} {time} from {spans(goal.windows)}, {month_span(goal.months)}, on {days_words(goal)}"


def wanted_words(goal: Goal) -> str:
    """The jet or the flow that a goal asks for."""
    if goal.jet is not None:
        return f"a jet of {length(goal.jet)}" + ("" if goal.jet_to is None else f" to {length(goal.jet_to)}")
    least = quantity((goal.flow or 0) / LITRE_PER_MINUTE, "l/min")
    return least if goal.flow_to is None else f"{least} to {quantity(goal.flow_to / LITRE_PER_MINUTE, 'l/min')}"


def days_words(goal: Goal) -> str:
    """How many days of ten must count."""
    return f"{goal.day_share * 10:.0f} days out of 10"


def goal_sentence(goal: Goal, found: GoalFound, chance: Chance) -> str:
    """How sure a goal is, and what its poorest month has to say."""
    asked, sure = goal_words(goal), chance_words(chance.chance)
    if found.hours == 0 and chance.outlook == "unlikely":
        return f"The goal is not met ({asked}): no hour of it is ever reached."
    month, days = MONTHS[found.poorest_month - 1], f"{10 * found.day_share[found.poorest_month]:.1f}".removesuffix(".0")
    named = f"In {month}" if len(goal.months) == 1 else f"In {month}, the poorest of its months,"
    expected = f"{named} we expect {days} of 10 days to reach it."
    if chance.outlook == "likely":
        return f"The goal is likely met ({asked}). The chance is {sure}. {expected}"
    if chance.outlook == "even":
        return f"The goal may be met or missed ({asked}). The chance is {sure}. {expected}"
    return f"The goal is unlikely to be met ({asked}). The chance is {sure}. {expected}"
