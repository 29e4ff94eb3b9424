"""What would meet a goal, as a table for spreadsheets (RFC 4180)."""

from sizing.reach import OfferAnswer, ReachAnswer
from web.exports.months import csv_text

HEAD = (
    *("design", "place", "number", "part", "from", "to", "second_part", "second_from", "second_to", "goal_met", "chance"),
    *("outlook", "goal_hours", "goal_poorest_month", "goal_days_out_of_ten", "more_watts", "more_money", "currency"),
    *("not_counted", "ask_volts", "ask"),
)


def offers_csv(found: ReachAnswer) -> str:
    """One row for each offer, by rank; where there is none, what comes nearest has the number 0."""
    rows = [cells(found, number, offer) for number, offer in enumerate(found.offers, 1)]
    if not rows and found.nearest is not None:
        rows = [cells(found, 0, found.nearest)]
    return csv_text([[*HEAD], *rows])


def cells(found: ReachAnswer, number: int, offer: OfferAnswer) -> list[object]:
    """The cells of one offer."""
    changes = [cell for change in offer.changes for cell in (change.part, change.before, change.after)]
    reached, cost = offer.reached, offer.cost
    days = min(month.days_out_of_ten for month in reached.months)
    return [
        found.title, found.place.name, number, *changes, *([None] * (6 - len(changes))), "yes" if reached.met else "no",
        offer.chance and offer.chance.chance, offer.chance and offer.chance.outlook,
        reached.hours, reached.poorest_month, days, cost.watts, cost.money and cost.money.amount,
        cost.money and cost.money.currency, " ".join(cost.not_counted), offer.ask_volts, offer.ask,
    ]  # fmt: skip
