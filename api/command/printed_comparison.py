"""A comparison of pumps and panels as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Iterable, Sequence

from api.command.printed import CAUTION, Block, Sentence, Table, heading, laid_out, listed
from sizing.answers import PlaceAnswer
from sizing.comparison import Comparison, Money, Pair, PairFound, currencies_of, likely, money_words, suits
from sizing.comparison import listed as together
from sizing.foundation import (
    LITRE,
    LITRE_PER_MINUTE,
    MONTHS,
    SHORT_MONTHS,
    SPACE,
    column,
    figures,
    length_unit,
    month_span,
)
from sizing.fountain import question
from sizing.report import goal_words
from sizing.uncertainty import chance_words

LONGEST_ID = 10
"""Ids up to this length stand in the tables; longer ones are numbered in a list before them."""
COST = (
    "By rank: price, water in the year and in a mean day of its poorest month, hours of play in the year, and the least sun on "
    "the panel that makes it play."
)
SMALLEST = "Smallest panel with which each pump just meets the goal, and with which it likely does (five times in six)"
SURE = (
    "How surely they meet the goal: its chance, days out of ten that reach it in the poorest month, and hours of it in the year."
)
RUN = (
    "How they run: share of the panel's energy that the motor takes; hours above the pump's rated volts, its rated watts and its "
    "highest voltage (? where that is not known); and the rank of a pair that is at least as good in everything."
)
Column = tuple[tuple[str, str], Sequence[str]]


def comparison_text(found: Comparison, encoding: str = "utf-8") -> str:
    """The whole comparison for people, in what the ``encoding`` of the terminal can show."""
    paragraphs: list[Block] = [
        heading(found.design.title, PlaceAnswer.of(found.place), found.sky.title),
        [Sentence(asked(found)), Sentence(found.ranked_by)],
        choice(found),
        *legend(found),
        *tables(found),
        nozzles(found),
        listed(SMALLEST, [f"{each.pump}: {each.sentence}" for each in found.smallest]),
        listed("Why pairs fail", failures(found)),
        listed("Ask before you buy", [question(each) for each in found.questions]),
        listed("Pairs without a price, by rank", grouped((each.rank, each.price_note) for each in found.pairs)),
        listed("Notes", [note.detail for note in found.notes]),
        [Sentence(CAUTION)],
    ]
    texts = ("\n".join(laid_out(paragraph, encoding)) for paragraph in paragraphs if paragraph)
    return "\n\n".join(texts) + "\n"


def asked(found: Comparison) -> str:
    """What is compared, and what for."""
    counts = f"{len(found.pairs)} pairs of {len(found.design.panels)} panels and {len(found.design.pumps)} pumps"
    counts = counts.replace("1 pairs", "1 pair").replace(" 1 panels", " 1 panel").replace(" 1 pumps", " 1 pump")
    if found.goal is None:
        return f"{counts}. The design sets no goal."
    return f"{counts}. Wanted: {goal_words(found.goal)}."


def words_of(pair: Pair) -> str:
    """A pair in words."""
    return f"panel {pair.panel} with pump {pair.pump}, {'joined directly' if pair.connection == 'direct' else 'controller'}"


def nozzle_words(found: PairFound) -> str:
    """The nozzle of a pair, where it is not the design's."""
    return "" if found.own is None or found.bore is None else f", nozzle of {figures(found.bore)} mm"


def choice(found: Comparison) -> Block:
    """The cheapest pair that meets the goal, and the nearest that does not."""
    if found.goal is None:
        return []
    lines = []
    cheapest, near = found.cheapest, found.nearly
    if cheapest is not None and cheapest.price is not None:
        hour = cheapest.price_per_hour
        each = "" if hour is None else f" ({money_words(hour, 2)} for each hour that it plays in one year)"
        pair = words_of(cheapest.pair) + nozzle_words(cheapest)
        text = f"Cheapest that likely meets the goal: {pair}, {money_words(cheapest.price)}{each}."
        lines.append(Sentence(text))
    elif not any(suits(each) for each in found.pairs):
        doubt = next((each.doubt for each in found.pairs if likely(each) and each.doubt), "")
        none = "No pair likely meets the goal"
        lines.append(Sentence(f"{none} with what is known. {doubt}" if doubt else f"{none}."))
    else:
        lines.append(Sentence("The prices given do not say which pair that likely meets the goal is cheapest."))
    if near is not None and near.goal is not None:
        sure = chance_words(0.0 if near.chance is None else near.chance.chance)
        days, month = figures(10 * near.goal.day_share[near.goal.poorest_month], 2), MONTHS[near.goal.poorest_month - 1]
        whose = (
            "Would likely meet it, if its maker agrees" if likely(near) and not near.failure else "Nearest of those that do not"
        )
        why = " ".join(filter(None, (near.failure, near.doubt)))
        text = f"{whose}: {words_of(near.pair)}; chance {sure}, reached on {days} of 10 days in {month}. {why}"
        lines.append(Sentence(text))
    return lines


def labels(ids: Sequence[str]) -> dict[str, str]:
    """What stands in the tables for each id: the id, or its number in the design where ids are long."""
    if all(len(name) <= LONGEST_ID for name in ids):
        return {name: name for name in ids}
    return {name: f"no. {place}" for place, name in enumerate(ids, 1)}


def panel_labels(found: Comparison) -> dict[str, str]:
    """What stands in the tables for each panel."""
    return labels([panel.id for panel in found.design.panels])


def pump_labels(found: Comparison) -> dict[str, str]:
    """What stands in the tables for each pump."""
    return labels([pump.id for pump in found.design.pumps])


def legend(found: Comparison) -> list[Block]:
    """The numbered panels and pumps, where ids are too long for the tables."""
    return [
        [Sentence(f"{kind}: " + "; ".join(f"{label} {name}" for name, label in named.items()) + ".")]
        for kind, named in (("Panels", panel_labels(found)), ("Pumps", pump_labels(found)))
        if any(name != label for name, label in named.items())
    ]


def tables(found: Comparison) -> list[Block]:
    """The pairs that could be sized, by rank: what they cost and give, how they run, and noon on usual days."""
    pairs = [each for each in found.pairs if not each.refused]
    rank: Column = (("rank", " "), [rank_text(each) for each in pairs])
    named = [rank, *names(found, pairs)]
    return [
        [Sentence(COST), table([*named, *costs(pairs)])],
        [Sentence(SURE), table([*named, *goals(pairs)])] if found.goal is not None else [],
        [Sentence(RUN), table([*named, *runs(found, pairs)])],
        [Sentence(noon_about(found)), table([rank, *noons(found, pairs)])],
    ]


def table(columns: Sequence[Column]) -> Table:
    """Columns side by side."""
    return Table(tuple(head for head, _ in columns), tuple(zip(*(texts for _, texts in columns), strict=True)))


def names(found: Comparison, pairs: Sequence[PairFound]) -> list[Column]:
    """Panel and pump of each pair, and what joins them where pairs differ in that."""
    panels, pumps = panel_labels(found), pump_labels(found)
    columns: list[Column] = [
        (("panel", ""), [panels[each.pair.panel] for each in pairs]),
        (("pump", ""), [pumps[each.pair.pump] for each in pairs]),
    ]
    joined = [each.pair.connection for each in pairs]
    return [*columns, (("joined", ""), joined)] if len(set(joined)) > 1 else columns


def rank_text(found: PairFound) -> str:
    """Rank of a pair, with a star where its nozzle is not the design's."""
    return f"{found.rank}*" if found.own is not None else str(found.rank)


def nozzles(found: Comparison) -> Block:
    """With which nozzles the pairs with a star stand; nothing where there are none."""
    ranks: dict[float, list[str]] = {}
    for each in found.pairs:
        if each.own is not None and each.bore is not None:
            ranks.setdefault(each.bore, []).append(str(each.rank))
    own = next((each.own.bore for each in found.pairs if each.own is not None), None)
    if own is None:
        return []
    said = "; ".join(f"{together(places)} with {figures(bore)} mm" for bore, places in sorted(ranks.items()))
    text = (
        f"* Not with your nozzle of {figures(own)} mm, but with the usual one nearest to it with which the pair likely meets the "
        f"goal: {said}. A nozzle has no price here; the smallest panels keep your own."
    )
    return [Sentence(text)]


def costs(pairs: Sequence[PairFound]) -> list[Column]:
    """Price, water, hours and the sun that starts it."""
    currencies = currencies_of(each.price for each in pairs)
    one = len(currencies) == 1
    return [
        (("price", currencies[0] if one else " "), [price_text(each.price, one) for each in pairs]),
        (("year", "m³"), column([each.water for each in pairs])),
        (("poorest", "L/day"), column([each.worst_water / LITRE for each in pairs])),
        (("in", ""), [SHORT_MONTHS[each.worst_month - 1] for each in pairs]),
        (("plays", "h"), column([each.running_hours for each in pairs])),
        (("from", "W/m²"), ["-" if each.first_sun is None else figures(each.first_sun) for each in pairs]),
    ]


def goals(pairs: Sequence[PairFound]) -> list[Column]:
    """How surely and how far each pair reaches the goal."""
    reached = [each.goal for each in pairs if each.goal is not None]
    return [
        (("chance", "%"), ["-" if each.chance is None else f"{100 * each.chance.chance:.0f}" for each in pairs]),
        (("goal", "of 10"), column([10 * goal.day_share[goal.poorest_month] for goal in reached], 2)),
        (("goal", "h"), column([goal.hours for goal in reached])),
    ]


def runs(found: Comparison, pairs: Sequence[PairFound]) -> list[Column]:
    """Matching factor, over-voltage, and which beats it."""
    ranks = {each.pair: each.rank for each in found.pairs}
    return [
        (("taken", "%"), ["-" if each.matching_factor is None else f"{100 * each.matching_factor:.0f}" for each in pairs]),
        (("> V", "h"), strains([each.strain.above_rated_voltage if each.strain else 0.0 for each in pairs])),
        (("> W", "h"), strains([each.strain.above_rated_power if each.strain else 0.0 for each in pairs])),
        (("over", "h"), over_highest(pairs)),
        (("beaten by", "rank"), ["-" if each.beaten_by is None else str(ranks[each.beaten_by]) for each in pairs]),
    ]


def strains(hours: Sequence[float]) -> tuple[str, ...]:
    """Hours of a year, whole."""
    return tuple(f"{value:.0f}" for value in hours)


def over_highest(pairs: Sequence[PairFound]) -> list[str]:
    """Hours above the highest voltage; a question mark where it is not known and matters."""
    return ["?" if each.doubt else text for each, text in zip(pairs, strains([p.over_voltage_hours for p in pairs]), strict=True)]


def noon_about(found: Comparison) -> str:
    """What the third table shows, in which unit."""
    thing, unit, _ = noon_unit(found)
    return f"{thing} from 12:00 to 13:00 on a usual day of each month, in {unit}, {month_span(found.months)}."


def noon_unit(found: Comparison) -> tuple[str, str, float]:
    """What is shown at noon, its unit, and how many of it make a metre or a cubic metre a second."""
    if found.design.outlet.kind == "spillway":
        return "Flow", "L/min", 1 / LITRE_PER_MINUTE
    unit, per_metre = length_unit(max(max(each.noon_jet.values()) for each in found.pairs if each.noon_jet))
    return "Jet", unit, per_metre


def noons(found: Comparison, pairs: Sequence[PairFound]) -> list[Column]:
    """A column for each chosen month."""
    thing, _, scale = noon_unit(found)
    months = sorted(found.months)
    shown = [(each.noon_jet if thing == "Jet" else each.noon_flow) or {} for each in pairs]
    texts = iter(column([noon[month] * scale for month in months for noon in shown], 2))
    return [((SHORT_MONTHS[month - 1], " "), [next(texts) for _ in pairs]) for month in months]


def price_text(price: Money | None, one_currency: bool) -> str:
    """A price in a table; the currency stands in the head where there is one only."""
    if price is None:
        return "-"
    amount = f"{price.amount:.2f}" if price.amount < 10000 else figures(price.amount, 5)
    return amount if one_currency else f"{amount}{SPACE}{price.currency}"


def failures(found: Comparison) -> list[str]:
    """Why pairs fail, by rank; then what keeps some from being sized, each cause once."""
    failing = [f"{each.rank}, {words_of(each.pair)}: {each.failure}" for each in found.pairs if each.failure]
    return failing + grouped(((each.rank, each.refused) for each in found.pairs), " cannot be sized")


def grouped(said: Iterable[tuple[int, str]], why: str = "") -> list[str]:
    """Each sentence once, with the ranks of the pairs that it holds for; where there is none, nothing."""
    ranks: dict[str, list[str]] = {}
    for rank, sentence in said:
        if sentence:
            ranks.setdefault(sentence, []).append(str(rank))
    return [f"{', '.join(places)}{why}: {sentence}" for sentence, places in ranks.items()]
