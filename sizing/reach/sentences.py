"""What would meet a goal, in whole sentences."""

from collections.abc import Callable

from sizing.comparison.pairs import Money, listed, money_words
from sizing.design.design import Design
from sizing.foundation.formats import MONTHS, SPACE, compass, figures, month_span, percent, quantity
from sizing.foundation.tables import USUAL_BORES
from sizing.operation.goal import Goal
from sizing.reach.changes import MOST_BESIDE, USUAL_WATTS, WIDER_PIPES, Change, Part
from sizing.reach.search import Cost, Offer, Reach
from sizing.reach.workshop import Reached
from sizing.report.what_if import LIKELY_EFFICIENCY
from sizing.uncertainty.sentences import outlook_words

UNPRICED: dict[Part, str] = {"nozzle": "the nozzle", "jets": "the nozzles", "pipe": "the pipe"}
TRIED = (
    f"We tried nozzles of {figures(USUAL_BORES[0])} to {figures(USUAL_BORES[-1])}{SPACE}mm, other numbers of jets, the next "
    f"{WIDER_PIPES} sizes of pipe, every tilt and direction of the panel, panels of {USUAL_WATTS[0]} to "
    f"{USUAL_WATTS[-1]}{SPACE}W with the volts of yours and up to {MOST_BESIDE} of them side by side, the other panels and "
    "pumps of the design, and a controller or none: one change at a time, then two together."
)


def change_words(design: Design, change: Change) -> str:
    """A change in words, what it is now in place of what."""
    old, new = ends(design, change)
    if change.part == "connection":
        return f"{new} between panel and pump" if change.new == "controller" else "no controller, panel straight to the pump"
    if change.part == "months":
        return f"the goal in {new} only"
    front = {"tilt": "the panel tilted ", "azimuth": "the panel facing ", "days": "the goal on "}.get(change.part, "")
    short = old.removeprefix("a nozzle of ").removeprefix("a pipe of ").removesuffix(" inside")
    return f"{front}{new} instead of {short}"


def ends(design: Design, change: Change) -> tuple[str, str]:
    """What a change replaces, and what it puts there, each as a few words with its unit."""
    said = ENDS[change.part]
    return said(design, change.old), said(change.design, change.new)


def jets_words(_: Design, count: str | float) -> str:
    """A number of jets."""
    return f"{figures(float(count))} jet{'' if count == 1 else 's'}"


def panel_words(design: Design, _: str | float) -> str:
    """The chosen panel of a design, as many as there are."""
    assert design.chosen is not None
    panel = next(panel for panel in design.panels if panel.id == design.chosen.panel)
    count = panel.in_series * panel.in_parallel
    return panel.name if count == 1 else f"{count} of {panel.name}"


def pump_words(design: Design, _: str | float) -> str:
    """The chosen pump of a design."""
    assert design.chosen is not None
    return next(pump.name for pump in design.pumps if pump.id == design.chosen.pump)


def joined_words(_: Design, kind: str | float) -> str:
    """What joins panel and pump."""
    return f"a controller of {figures(LIKELY_EFFICIENCY)}{SPACE}%" if kind == "controller" else "the cable alone"


def months_words(_: Design, months: str | float) -> str:
    """Months of a goal."""
    return month_span([int(month) for month in str(months).split(",")])


ENDS: dict[Part, Callable[[Design, str | float], str]] = {
    "nozzle": lambda _, bore: f"a nozzle of {figures(float(bore))}{SPACE}mm",
    "jets": jets_words,
    "pipe": lambda _, bore: f"a pipe of {figures(float(bore))}{SPACE}mm inside",
    "tilt": lambda _, tilt: f"{figures(float(tilt))}°",
    "azimuth": lambda _, azimuth: f"{compass(float(azimuth))} ({figures(float(azimuth))}°)",
    "connection": joined_words,
    "panel": panel_words,
    "pump": pump_words,
    "months": months_words,
    "days": lambda _, days: f"{figures(float(days))} days out of 10",
}


def offer_words(design: Design, offer: Offer) -> str:
    """All changes of an offer, with a capital letter."""
    said = " and ".join(change_words(design, change) for change in offer.changes)
    return said[0].upper() + said[1:]


def reached_words(reached: Reached) -> str:
    """How far a goal is reached."""
    days = f"{10 * reached.poorest:.1f}".removesuffix(".0")
    month = MONTHS[reached.poorest_month - 1]
    poorest = f"in {month}" if len(reached.day_share) == 1 else f"in {month}, its poorest month"
    if reached.hours == 0:
        return f"never reaches it: its largest flow in these hours is {percent(reached.flow_share)} of the least that does"
    return f"reaches it on {days} of 10 days {poorest}" if reached.poorest > 0 else f"reaches it on no day {poorest}"


def cost_words(cost: Cost) -> str:
    """What changes cost: in money where that is known, else in watts of panel."""
    unpriced = listed([UNPRICED[part] for part in cost.unpriced])
    apart = f", {unpriced} not counted" if unpriced else ""
    watts = f"{quantity(abs(cost.watts), 'W', 2)} {'more' if cost.watts > 0 else 'less'} panel" if abs(cost.watts) >= 0.5 else ""
    if cost.money is None:
        return f"{watts or 'no more panel'}{apart}"
    money = cost.money.amount
    amount = money_words(Money(abs(money), cost.money.currency))
    said = f"{amount} {'more' if money > 0 else 'less'}" if abs(money) >= 0.005 else "the same price"
    return f"{said}{f' ({watts})' if watts else ''}{apart}"


def ask_words(offer: Offer) -> str:
    """What has to be asked first; empty where nothing has."""
    if offer.ask_volts is None:
        return ""
    return f"Ask the pump’s maker first: is {quantity(offer.ask_volts, 'V', 3)} allowed? Its highest voltage is not known."


def chance_said(offer: Offer) -> str:
    """How surely the goal is met."""
    return "" if offer.chance is None else outlook_words(offer.chance)


def offer_sentence(design: Design, offer: Offer) -> str:
    """An offer with its chance, what is reached, what it costs and what is to be asked."""
    reached = f"{chance_said(offer)}; it {reached_words(offer.reached)}"
    return f"{offer_words(design, offer)}: {reached}; {cost_words(offer.cost)}. {ask_words(offer)}".strip()


def headline(found: Reach) -> str:
    """The first line: what to do."""
    if found.chance.outlook == "likely":
        return "Your goal is likely met as it is."
    if not found.offers:
        return "Nothing within these limits meets your goal."
    first = found.offers[0]
    said = " and ".join(change_words(found.design, change) for change in first.changes)
    if first.ask_volts is not None:
        return f"This may meet your goal, if the pump may have these volts: {said}."
    if first.chance is None or first.chance.outlook != "likely":
        return f"Nothing likely meets your goal. This comes nearest: {said}."
    return f"This would likely meet your goal: {said}."


def lead(found: Reach, goal_words: Callable[[Goal], str]) -> list[str]:
    """The sentences below the first line."""
    wanted = f"Wanted: {goal_words(found.goal)}."
    own = f"As it is, the fountain {reached_words(found.own)}. That the goal is met: {outlook_words(found.chance)}."
    if found.chance.outlook == "likely" or found.offers:
        return [wanted, own]
    near = found.nearest
    if near is None:
        return [wanted, own, TRIED, "No change and no two changes come nearer than the design as it is."]
    return [wanted, own, TRIED, f"Nearest comes this: {offer_words(found.design, near)}; it {reached_words(near.reached)}."]
