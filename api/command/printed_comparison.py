"""A comparison of pumps and panels as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Mapping, Sequence
from typing import Any

from api.command.printed import CAUTION, Block, Sentence, Table, heading, laid_out, notes
from sizing.answers import PlaceAnswer
from sizing.comparison import Money, money_words
from sizing.foundation import MONTHS, SHORT_MONTHS, SPACE, column, figures, length_unit, month_span

LONGEST_ID = 10
"""Ids up to this length stand in the tables; longer ones are numbered in a list before them."""
JOINED = {"direct": "direct", "controller": "controller"}


def comparison_text(found: Mapping[str, Any], encoding: str = "utf-8") -> str:
    """The whole answer for people.

    Parameters
    ----------
    found : the answer of a comparison
    encoding : of the terminal
    """
    paragraphs: list[Block] = [
        heading(found["title"], PlaceAnswer.model_validate(found["place"]), found["sky"]["title"]),
        [Sentence(asked(found)), Sentence(found["ranked_by"])],
        choice(found),
        *([Sentence(text)] for text in legend(found)),
        *tables(found),
        smallest(found),
        failures(found),
        unpriced(found),
        notes("Notes", found["notes"]),
        [Sentence(CAUTION)],
    ]
    texts = ("\n".join(laid_out(paragraph, encoding)) for paragraph in paragraphs if paragraph)
    return "\n\n".join(texts) + "\n"


def asked(found: Mapping[str, Any]) -> str:
    """What is compared, and what for."""
    design = found["design"]
    counts = f"{len(found['pairs'])} pairs of {len(design['panels'])} panels and {len(design['pumps'])} pumps"
    counts = counts.replace("1 pairs", "1 pair").replace(" 1 panels", " 1 panel").replace(" 1 pumps", " 1 pump")
    if found["goal"] is None:
        return f"{counts}. The design sets no goal."
    return f"{counts}. Wanted: {found['goal']['sentence']}."


def words_of(ids: Mapping[str, str]) -> str:
    """A pair in words."""
    return f"panel {ids['panel']} with pump {ids['pump']}, {'joined directly' if ids['connection'] == 'direct' else 'controller'}"


def choice(found: Mapping[str, Any]) -> Block:
    """The cheapest pair that meets the goal, and the nearest that does not."""
    if found["goal"] is None:
        return []
    by_ids = {(pair["panel"], pair["pump"], pair["connection"]): pair for pair in found["pairs"]}
    lines = []
    if found["cheapest"] is not None:
        pair = by_ids[tuple(found["cheapest"].values())]
        hour = pair["price_per_playing_hour"]
        each = "" if hour is None else f" ({money_words(Money(**hour), 2)} for each hour that it plays in one year)"
        lines.append(Sentence(f"Cheapest that meets the goal: {words_of(pair)}, {money_words(Money(**pair['price']))}{each}."))
    elif not any(pair["suits"] for pair in found["pairs"]):
        lines.append(Sentence("No pair meets the goal."))
    else:
        lines.append(Sentence("Which pair that meets the goal is cheapest cannot be told from the prices given."))
    if found["nearly"] is not None:
        pair = by_ids[tuple(found["nearly"].values())]
        days, month = figures(pair["goal"]["days_out_of_ten"], 2), MONTHS[pair["goal"]["poorest_month"] - 1]
        text = f"Nearest of those that do not: {words_of(pair)}; it reaches it on {days} of 10 days in {month}. {pair['failure']}"
        lines.append(Sentence(text))
    return lines


def labels(found: Mapping[str, Any], kind: str) -> dict[str, str]:
    """What stands in the tables for each id: the id, or its number in the design where ids are long."""
    ids = [part["id"] for part in found["design"][kind]]
    if all(len(name) <= LONGEST_ID for name in ids):
        return {name: name for name in ids}
    return {name: f"no. {place + 1}" for place, name in enumerate(ids)}


def legend(found: Mapping[str, Any]) -> list[str]:
    """The numbered panels and pumps, where ids are too long for the tables."""
    texts = []
    for kind in ("panels", "pumps"):
        named = labels(found, kind)
        if any(name != label for name, label in named.items()):
            texts.append(f"{kind.capitalize()}: " + "; ".join(f"{label} {name}" for name, label in named.items()) + ".")
    return texts


def tables(found: Mapping[str, Any]) -> list[Block]:
    """The pairs that could be sized, by rank: what they cost and give, how they run, and noon on usual days."""
    pairs = [pair for pair in found["pairs"] if not pair["refused"]]
    panels, pumps = labels(found, "panels"), labels(found, "pumps")
    both = len({pair["connection"] for pair in pairs}) > 1
    heads: list[tuple[str, str]] = [("rank", " "), ("panel", ""), ("pump", ""), *([("joined", "")] if both else [])]
    starts = [
        (
            str(pair["rank"]),
            panels[pair["panel"]],
            pumps[pair["pump"]],
            *([JOINED[pair["connection"]]] if both else []),
        )
        for pair in pairs
    ]
    blocks: list[Block] = []
    for about, more in ((COST, costs(found, pairs)), (RUN, runs(found, pairs)), (noon_about(found), noons(found, pairs))):
        own = [head for head, _ in more]
        before, first = (heads[:1], [start[:1] for start in starts]) if about == noon_about(found) else (heads, starts)
        lines = zip(*(texts for _, texts in more), strict=True)
        blocks.append([Sentence(about), Table((*before, *own), tuple((*a, *b) for a, b in zip(first, lines, strict=True)))])
    return blocks


COST = (
    "By rank: price, water in the year and in a mean day of its poorest month, hours of play in the year, and the least sun on "
    "the panel that makes it play."
)
RUN = (
    "How they run: days out of ten that reach the goal in the poorest month and hours of it in the year, where there is a goal; "
    "share of the panel's energy that the motor takes; hours above the pump's highest voltage; and the rank of a pair that is at "
    "least as good in everything."
)
Column = tuple[tuple[str, str], Sequence[str]]


def costs(found: Mapping[str, Any], pairs: Sequence[Mapping[str, Any]]) -> list[Column]:
    """Price, water, hours and the sun that starts it."""
    currencies = sorted({pair["price"]["currency"] for pair in pairs if pair["price"] is not None})
    one = len(currencies) == 1
    suns = [pair["first_playing_irradiance_w_per_m2"] for pair in pairs]
    return [
        (("price", currencies[0] if one else " "), [price_text(pair["price"], one) for pair in pairs]),
        (("year", "m³"), column([pair["water_l"] / 1000 for pair in pairs])),
        (("poorest", "L/day"), column([pair["worst_water_l_per_day"] for pair in pairs])),
        (("in", ""), [SHORT_MONTHS[pair["worst_month"] - 1] for pair in pairs]),
        (("plays", "h"), column([pair["running_h"] for pair in pairs])),
        (("from", "W/m²"), ["-" if sun is None else figures(sun) for sun in suns]),
    ]


def runs(found: Mapping[str, Any], pairs: Sequence[Mapping[str, Any]]) -> list[Column]:
    """Goal, matching factor, over-voltage, and which beats it."""
    ranks = {(pair["panel"], pair["pump"], pair["connection"]): pair["rank"] for pair in found["pairs"]}
    goal: list[Column] = []
    if found["goal"] is not None:
        goal = [
            (("goal", "of 10"), column([pair["goal"]["days_out_of_ten"] for pair in pairs], 2)),
            (("goal", "h"), column([pair["goal"]["hours"] for pair in pairs])),
        ]
    shares = [pair["matching_factor"] for pair in pairs]
    beaten = [pair["beaten_by"] for pair in pairs]
    return [
        *goal,
        (("taken", "%"), ["-" if share is None else f"{100 * share:.0f}" for share in shares]),
        (("over", "h"), column([pair["over_voltage_h"] for pair in pairs])),
        (("beaten by", "rank"), ["-" if ids is None else str(ranks[tuple(ids.values())]) for ids in beaten]),
    ]


def noon_about(found: Mapping[str, Any]) -> str:
    """What the third table shows, in which unit."""
    jet, unit = noon_unit(found)
    return (
        f"{'Jet' if jet else 'Flow'} from 12:00 to 13:00 on a usual day of each month, in {unit}, {month_span(found['months'])}."
    )


def noon_unit(found: Mapping[str, Any]) -> tuple[bool, str]:
    """Whether there is a jet, and the unit of what is shown."""
    jets = [each["jet_height_m"] for pair in found["pairs"] for each in pair["noon"]]
    if not jets or None in jets:
        return False, "L/min"
    return True, length_unit(max(jets))[0]


def noons(found: Mapping[str, Any], pairs: Sequence[Mapping[str, Any]]) -> list[Column]:
    """A column for each chosen month."""
    jet, unit = noon_unit(found)
    scale = {"cm": 100.0}.get(unit, 1.0)
    name = "jet_height_m" if jet else "flow_l_per_min"
    months = [each["month"] for each in pairs[0]["noon"]] if pairs else []
    values = column([pair["noon"][place][name] * scale for place in range(len(months)) for pair in pairs], 2)
    count = len(pairs)
    return [((SHORT_MONTHS[month - 1], " "), values[place * count : (place + 1) * count]) for place, month in enumerate(months)]


def price_text(price: Mapping[str, Any] | None, one_currency: bool) -> str:
    """A price in a table; the currency stands in the head where there is one only."""
    if price is None:
        return "-"
    amount = f"{price['amount']:.2f}" if price["amount"] < 10000 else figures(price["amount"], 5)
    return amount if one_currency else f"{amount}{SPACE}{price['currency']}"


def smallest(found: Mapping[str, Any]) -> Block:
    """The smallest panel for each pump."""
    lines = [Sentence(f"{each['pump']}: {each['sentence']}", "- ") for each in found["smallest_panels"]]
    return [Sentence("Smallest panel with which each pump meets the goal"), *lines] if lines else []


def failures(found: Mapping[str, Any]) -> Block:
    """Why pairs fail, by rank; then what keeps some from being sized, each cause once."""
    lines = [Sentence(f"{pair['rank']}, {words_of(pair)}: {pair['failure']}", "- ") for pair in found["pairs"] if pair["failure"]]
    lines += grouped(found, "refused", "cannot be sized")
    return [Sentence("Why pairs fail"), *lines] if lines else []


def grouped(found: Mapping[str, Any], name: str, why: str = "") -> list[Sentence]:
    """Each sentence once, with the ranks of the pairs that it holds for."""
    ranks: dict[str, list[str]] = {}
    for pair in found["pairs"]:
        if pair[name]:
            ranks.setdefault(pair[name], []).append(str(pair["rank"]))
    return [Sentence(f"{', '.join(places)}{why and ' ' + why}: {text}", "- ") for text, places in ranks.items()]


def unpriced(found: Mapping[str, Any]) -> Block:
    """Which pairs have no price, by what is missing."""
    lines = grouped(found, "price_note")
    return [Sentence("Pairs without a price, by rank"), *lines] if lines else []
