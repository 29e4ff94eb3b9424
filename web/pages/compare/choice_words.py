"""What a comparison comes to, in whole sentences: which pair to take, for how much, and what the next one lacks."""

from sizing.comparison import Comparison, PairFound, currencies_of, likely, money_words, suits
from sizing.foundation import LITRE, MONTHS, litres, percent, quantity
from sizing.operation import GoalFound
from sizing.report import goal_words
from sizing.uncertainty import chance_words
from web.charts.pair_names import Names, by_number, full, told, with_nozzle

LARGE = 10.0
"""[m3] From here on water is told in cubic metres."""


def headline(found: Comparison, names: Names) -> str:
    """The first line: the pair to take."""
    if len(found.pairs) == 1:
        return "There is nothing to compare yet: this design has one panel and one pump."
    if found.goal is None:
        return most_water(found, names)
    if found.cheapest is not None:
        return f"Cheapest that likely meets the goal: {named(names, found.cheapest)}, for {price_of(found.cheapest)}."
    number, every = sum(suits(each) for each in found.pairs), len(found.pairs)
    if number == 0:
        in_doubt = any(likely(each) and each.doubt for each in found.pairs)
        none = "No pair likely meets the goal"
        return f"{none} with what is known: ask the maker first." if in_doubt else f"{none}."
    first = named(names, found.pairs[0])
    if number == 1:
        return f"One pair likely meets the goal: {first}."
    count = f"{number} of {every}" if number < every else "Both" if every == 2 else f"All {every}"
    return f"{count} pairs likely meet the goal, most surely {first}."


def named(names: Names, found: PairFound) -> str:
    """A pair by its names, with its nozzle where that is not the design's."""
    return full(names, found.pair) + with_nozzle(found)


def most_water(found: Comparison, names: Names) -> str:
    """The first line where no goal is set."""
    first = found.pairs[0]
    if first.water <= 0:
        return "No pair plays at any time of the year."
    return f"Most water: {full(names, first.pair)}, {water(first.water)} a year{for_price(first)}."


def lead(found: Comparison, names: Names) -> list[str]:
    """The sentences below the first line."""
    if len(found.pairs) == 1:
        return []
    if found.goal is None:
        return [cheapest_that_plays(found, names)]
    return [f"Wanted: {goal_words(found.goal)}.", *prices_told(found)]


def prices_told(found: Comparison) -> list[str]:
    """How many pairs likely meet the goal and what that costs, or why prices do not decide."""
    meeting = [each for each in found.pairs if suits(each)]
    if found.cheapest is None:
        if len(meeting) < 2:
            return []
        many = len(currencies_of(each.price for each in found.pairs)) > 1
        why = "prices are in several currencies" if many else "no price is known for any of them"
        return [f"Which is cheapest cannot be told: {why}."]
    count = f"{len(meeting)} of {len(found.pairs)} pairs likely meet it"
    next_one = next((each for each in meeting if each is not found.cheapest and each.price is not None), None)
    if next_one is None:
        doubtful = any(each.doubt and each.goal is not None and each.goal.met for each in found.pairs)
        other = "No other pair is known to meet it." if doubtful else "No other pair likely meets it."
        return [f"{count}."] if len(meeting) > 1 else [other]
    return [f"{count}; the next costs {price_of(next_one)}."]


def runner_up(found: Comparison, names: Names) -> list[str]:
    """The nearest pair that does not meet the goal, and what it lacks."""
    near, none = found.nearly, not any(suits(each) for each in found.pairs)
    remedy = smallest_that_would(found, names) if none else []
    if near is None or near.goal is None:
        return ["None reaches it in any hour of the year.", *remedy] if none else []
    whose = "Would likely meet it, if its maker agrees" if likely(near) and not near.failure else "Nearest of those that do not"
    said = f"{whose}: {full(names, near.pair)}{for_price(near)}."
    why = [by_number(names, sentence) for sentence in (near.failure, near.doubt) if sentence]
    if near.goal.met or near.chance is None:
        return [said, *why, *remedy]
    sure = chance_words(near.chance.chance)
    return [said, f"Its chance is {sure}: we expect it to reach the goal on {days_of(near.goal)}.", *why, *remedy]


def smallest_that_would(found: Comparison, names: Names) -> list[str]:
    """The smallest panel that would likely meet the goal, where there is one."""
    likely = [(each.likely.watts, each.pump) for each in found.smallest if each.likely is not None]
    if not likely:
        return ["No size of panel would do with any of these pumps; why stands below."] if found.smallest else []
    watts, pump = min(likely)
    return [f"A panel of {quantity(float(watts), 'W', 4)} would likely do for {told(names.pumps, pump, 'pump')}."]


def days_of(goal: GoalFound) -> str:
    """Days out of ten of the poorest month in words.

    Examples
    --------
    >>> days_of(GoalFound(False, 7.3, 93.0, 0.0, {3: 0.523, 6: 0.7}, 3)), days_of(GoalFound(False, 7.3, 93.0, 0.0, {3: 0.0}, 3))
    ('5.2 of 10 days in March', 'no day in March')
    """
    days = f"{10 * goal.day_share[goal.poorest_month]:.1f}".removesuffix(".0")
    return f"{'no day' if days == '0' else f'{days} of 10 days'} in {MONTHS[goal.poorest_month - 1]}"


def cheapest_that_plays(found: Comparison, names: Names) -> str:
    """What the cheapest pair gives, beside the one that gives most."""
    first = found.pairs[0]
    playing = [each for each in found.pairs if each.water > 0]
    currencies = currencies_of(each.price for each in playing)
    if not playing:
        return "Why each stays dry stands below."
    if len(currencies) != 1:
        why = "prices are in several currencies" if currencies else "no prices are given"
        return f"Which pair is cheapest cannot be told: {why}."
    cheapest = min((each for each in playing if each.price is not None), key=lambda each: (each.price.amount, each.rank))  # type: ignore[union-attr]
    if cheapest is first:
        return "It is the cheapest that plays, too."
    share = percent(cheapest.water / first.water) if first.water > 0 else ""
    gives = f"gives {water(cheapest.water)}, {share} of that"
    return f"The cheapest that plays, {full(names, cheapest.pair)} for {price_of(cheapest)}, {gives}."


def price_of(found: PairFound) -> str:
    """Price of a pair in words."""
    return money_words(found.price) if found.price is not None else "an unknown price"


def for_price(found: PairFound) -> str:
    """Price of a pair behind its name, nothing where it is not known."""
    return f", for {money_words(found.price)}" if found.price is not None else ""


def water(amount: float) -> str:
    """Water [m3] in words.

    Examples
    --------
    >>> [water(amount).replace("\\N{NO-BREAK SPACE}", " ") for amount in (143.7, 0.0731)]
    ['144 m³', '73.1 L']
    """
    return quantity(amount, "m3") if amount >= LARGE else litres(amount / LITRE)


def volts_of(found: PairFound) -> str:
    """The volts that the maker must allow."""
    return quantity(max((each.asked for each in found.questions), default=0.0), "V")


def mark(found: Comparison, each: PairFound) -> str:
    """What a pair comes to, in a few words."""
    if each.refused:
        return "cannot be sized"
    if each.goal is None:
        played = "plays" if each.water > 0 else "stays dry"
        above = f"{played}, above its highest voltage" if each.over_voltage_hours > 0 else played
        return f"{played}, if the maker allows {volts_of(each)}" if each.doubt else above
    outlook = "unlikely" if each.chance is None else each.chance.outlook
    if outlook == "likely":
        if each.over_voltage_hours > 0:
            return "likely meets the goal, above its highest voltage"
        if each.doubt:
            return f"likely meets the goal, if the maker allows {volts_of(each)}"
        return "likely meets the goal, cheapest" if each is found.cheapest else "likely meets the goal"
    if outlook == "even":
        return "may meet the goal or miss it"
    if each.goal.hours <= 0:
        return "never reaches the goal"
    return f"unlikely to meet the goal: {days_of(each.goal)}"
