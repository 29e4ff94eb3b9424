"""The tables of a comparison: pairs by rank, noon month by month, why pairs fail, the smallest panel for each pump, and the
chosen pair beside its neighbours."""

from collections.abc import Sequence
from dataclasses import dataclass

from sizing.comparison import Comparison, Money, PairFound, SmallestPanel, currencies_of
from sizing.foundation import LITRE, LITRE_PER_MINUTE, SHORT_MONTHS, SPACE, column, figures, length_unit, month_span, quantity
from sizing.hydraulic import Spillway
from sizing.money import chosen_of, neighbours
from sizing.report import Report
from sizing.uncertainty import Chance, chance_words
from web.charts.kit.shapes import Table
from web.charts.pair_names import Names, by_number, names_of, short, told
from web.charts.pictures_of_pairs import waterway_of
from web.pages.compare.choice_words import LARGE, headline, lead, mark

Column = tuple[str, Sequence[str]]

LISTED = 72
"""Of more pairs than this names and months stand in the keys and in the CSV alone, or the page would be long to load."""


@dataclass(frozen=True)
class PairRow:
    """One pair: rank, numbers, names, what its button sends, its mark, which pair beats it, where it is said why it fails,
    and its cells."""

    rank: int
    label: str
    names: str
    picks: str
    mark: str
    good: bool
    beaten_by: str
    why: str
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Reason:
    """A sentence with the pairs that it holds for; ``id`` is where links to it lead."""

    id: str
    pairs: str
    sentence: str


def pairs_table(found: Comparison, names: Names) -> tuple[tuple[str, ...], list[PairRow]]:
    """Heads of the columns of numbers, and all pairs by rank."""
    columns = columns_of(found)
    reasons = {rank: reason.id for reason, ranks in gathered(found, names) for rank in ranks}
    ranks = {each.pair: each.rank for each in found.pairs}
    rows = []
    for index, each in enumerate(found.pairs):
        unsized = [bool(each.refused) and not head.startswith("Price") for head, _ in columns]
        cells = tuple("–" if empty else texts[index] for empty, (_, texts) in zip(unsized, columns, strict=True))
        beaten = "" if each.beaten_by is None else f"pair {ranks[each.beaten_by]}"
        panel, pump = names.panels[each.pair.panel], names.pumps[each.pair.pump]
        good = mark(found, each).startswith(("likely meets the goal", "plays")) and not each.hours_not_borne
        rows.append(
            PairRow(
                rank=each.rank,
                label=short(names, each.pair),
                names=", ".join([*((panel[1], pump[1]) if len(found.pairs) <= LISTED else ()), *nozzle_said(each)]),
                picks=f"{panel[0] - 1}.{pump[0] - 1}.{each.pair.connection}{'' if each.own is None else f'.{each.bore:g}'}",
                mark=mark(found, each),
                good=good,
                beaten_by=beaten,
                why=reasons.get(each.rank, ""),
                cells=cells,
            )
        )
    return tuple(head for head, _ in columns), rows


def columns_of(found: Comparison) -> list[Column]:
    """The columns of numbers."""
    pairs = found.pairs
    large = max(each.water for each in pairs) >= LARGE
    jets = [f"{low}–{high}" if low != high else low for low, high in noon_ends(found)]
    goal = found.goal is not None
    window = max((each.goal.window_hours for each in pairs if each.goal is not None), default=0.0)
    hours = [each.goal.hours if each.goal is not None else 0.0 if goal else each.running_hours for each in pairs]
    worst = column([each.worst_water / LITRE for each in pairs])
    numbers: list[Column] = [
        (f"Hours that reach the goal, of {figures(window, 4)}" if goal else "Plays, hours a year", whole(hours)),
        (f"Water a year, {'m³' if large else 'L'}", column([each.water / (1 if large else LITRE) for each in pairs])),
        (
            "In the poorest month, L a day",
            [f"{text}{SPACE}{SHORT_MONTHS[each.worst_month - 1]}" for text, each in zip(worst, pairs, strict=True)],
        ),
        ("First sun that plays, W/m²", ["–" if each.first_sun is None else figures(each.first_sun) for each in pairs]),
        (f"{noon_words(found)[0]} at noon, {noon_words(found)[1]}", jets),
        (
            "Panel’s energy taken, %",
            ["–" if each.matching_factor is None else f"{100 * each.matching_factor:.0f}" for each in pairs],
        ),
        ("Above rated V / W / highest V, h", strained(pairs)),
    ]
    if goal:
        numbers.insert(0, ("Chance of the goal, %", ["–" if each.chance is None else chance_cell(each.chance) for each in pairs]))
    if not currencies_of(each.price for each in pairs):
        return numbers
    whole_price = money_column("Price", [each.price for each in pairs], 2)
    return [whole_price, *numbers, money_column("Price of a playing hour", [each.price_per_hour for each in pairs], 3)]


def strained(pairs: Sequence[PairFound]) -> list[str]:
    """Hours above rated volts, rated watts and the highest voltage, which may not be known."""
    volts, watts = (
        whole([0.0 if each.strain is None else getattr(each.strain, name) for each in pairs])
        for name in ("above_rated_voltage", "above_rated_power")
    )
    highest = ["?" if each.doubt else f"{each.over_voltage_hours:.0f}" for each in pairs]
    return [f"{volt} / {watt} / {most}" for volt, watt, most in zip(volts, watts, highest, strict=True)]


def nozzle_said(found: PairFound) -> list[str]:
    """The nozzle of a pair, where it is not the design's."""
    if found.own is None or found.bore is None or found.own.bore is None:
        return []
    return [f"nozzle {quantity(found.bore, 'mm')}, not {figures(found.own.bore)}"]


def chance_cell(found: Chance) -> str:
    """A chance in a column of per cent."""
    return chance_words(found.chance).replace("more than ", ">").replace("less than ", "<").removesuffix(f"{SPACE}%")


def whole(hours: Sequence[float]) -> tuple[str, ...]:
    """Hours of a year, whole."""
    return column([round(value) for value in hours], max(len(str(round(max(hours, default=0)))), 1))


def money_column(head: str, prices: Sequence[Money | None], decimals: int) -> Column:
    """Prices; their currency stands in the head where it is one, else in each cell."""
    currencies = currencies_of(prices)
    one = len(currencies) == 1
    texts = []
    for price in prices:
        said = "–" if price is None else f"{price.amount:.{decimals}f}"
        texts.append(said if one or price is None else f"{said}{SPACE}{price.currency}")
    return (f"{head}, {currencies[0]}" if one else head, texts)


def noon_words(found: Comparison) -> tuple[str, str, float]:
    """What is shown at noon, its unit, and how many of it make a metre or a cubic metre a second."""
    if isinstance(waterway_of(found).outlet, Spillway):
        return "Flow", "L/min", 1 / LITRE_PER_MINUTE
    unit, per_metre = length_unit(max((max(each.noon_jet.values()) for each in found.pairs if each.noon_jet), default=0.0))
    return "Jet", unit, per_metre


def noon_values(found: Comparison, each: PairFound) -> list[float]:
    """Jet or flow at noon in the chosen months, in the unit that is shown; zeros where the pair could not be sized."""
    thing, _, scale = noon_words(found)
    values = each.noon_jet if thing == "Jet" else each.noon_flow
    return [scale * values[month] for month in found.months] if values is not None else [0.0] * len(found.months)


def noon_ends(found: Comparison) -> list[tuple[str, str]]:
    """Poorest and best noon of each pair."""
    values = [noon_values(found, each) for each in found.pairs]
    texts = column([end for row in values for end in (min(row), max(row))], 2)
    return list(zip(texts[::2], texts[1::2], strict=True))


def noon_table(found: Comparison, names: Names) -> Table:
    """Jet or flow at noon in each chosen month, for each pair that could be sized."""
    sized = [each for each in found.pairs if not each.refused]
    texts = iter(column([value for each in sized for value in noon_values(found, each)], 2))
    thing, unit, _ = noon_words(found)
    rows = tuple((f"{each.rank}. {short(names, each.pair)}", *(next(texts) for _ in found.months)) for each in sized)
    caption = f"{thing} from 12:00 to 13:00 on a usual day, {unit}, {month_span(found.months)}"
    return Table(caption, ("Pair", *(SHORT_MONTHS[month - 1] for month in found.months)), rows)


def reasons_of(found: Comparison, names: Names) -> list[Reason]:
    """Why pairs fail or cannot be sized, each sentence once, by rank."""
    return [reason for reason, _ in gathered(found, names)]


def gathered(found: Comparison, names: Names) -> list[tuple[Reason, list[int]]]:
    """The same with the ranks of the pairs that each holds for."""
    said: dict[str, list[PairFound]] = {}
    for each in found.pairs:
        if sentence := each.refused or " ".join(filter(None, (each.failure, each.doubt))):
            said.setdefault(by_number(names, sentence), []).append(each)
    return [
        (Reason(f"why-{pairs[0].rank}", several(pairs, names), sentence), [each.rank for each in pairs])
        for sentence, pairs in said.items()
    ]


def several(pairs: Sequence[PairFound], names: Names) -> str:
    """Which pairs a sentence holds for."""
    if len(pairs) == 1:
        return f"Pair {pairs[0].rank} ({short(names, pairs[0].pair)})"
    ranks = [str(each.rank) for each in pairs]
    return f"Pairs {', '.join(ranks[:-1])} and {ranks[-1]}"


def smallest_table(found: Comparison, names: Names) -> Table | None:
    """The least watts for each pump at even chance and likely, or why none does; ``None`` without a goal."""
    if not found.smallest:
        return None
    rows = []
    for each in found.smallest:
        number, name = names.pumps[each.pump]
        if each.watts is None or each.like is None:
            rows.append((f"{number}. {name}", "–", "–", by_number(names, each.sentence)))
            continue
        panel = next(panel for panel in found.design.panels if panel.id == each.like)
        volts = quantity(panel.vmp_v * panel.in_series, "V")
        joined = "" if not names.joins_differ else ", joined directly" if each.connection == "direct" else ", behind a controller"
        rows.append(
            (
                f"{number}. {name}",
                f"{each.watts}",
                "–" if each.likely is None else f"{each.likely.watts}",
                f"with the volts of panel {names.panels[each.like][0]} ({volts}){joined}{at_that(each)}",
            )
        )
    head = ("Pump", "Just meets it, W", "Likely meets it, W", "In a word")
    caption = "The smallest panel for each pump, in whole watts: with everything as taken, and with a chance of five in six"
    return Table(caption, head, tuple(rows))


def at_that(found: SmallestPanel) -> str:
    """How sure the goal is with the watts that just meet it, and whether any make it likely."""
    sure = "" if found.chance is None else f"; just meeting it has a chance of {chance_words(found.chance)}"
    return sure if found.likely is not None else f"{sure}; no size makes it likely"


# The chosen pair beside the two that stand next to it by rank


@dataclass(frozen=True)
class Choice:
    """What the comparison says, how the chosen pair stands in it, and the table of neighbours."""

    verdict: tuple[str, ...]
    chosen: tuple[str, ...]
    table: Table


def choice(found: Comparison, report: Report) -> Choice | None:
    """The section; ``None`` where there is one pair alone."""
    if len(found.pairs) == 1:
        return None
    names = names_of(found)
    own = chosen_of(found, report)
    stands = f"Your pair is number {own.rank} of {len(found.pairs)}: it {stated(mark(found, own))}."
    why = [by_number(names, sentence) for sentence in (own.failure, own.doubt) if sentence]
    return Choice((headline(found, names), *lead(found, names)), (stands, *why), side_by_side(found, own))


def stated(said: str) -> str:
    """A mark as the end of a sentence.

    Examples
    --------
    >>> stated("likely meets the goal, cheapest"), stated("plays")
    ('likely meets the goal, and is the cheapest that does', 'plays')
    """
    said = f"is {said}" if said.startswith("unlikely") else said
    return said.replace(", cheapest", ", and is the cheapest that does")


def side_by_side(found: Comparison, own: PairFound) -> Table:
    """One column for each of the neighbours."""
    names = names_of(found)
    heads, rows = pairs_table(found, names)
    beside = neighbours(found, own)
    shown = [next(row for row in rows if row.rank == each.rank) for each in beside]
    lines: list[tuple[str, ...]] = [
        ("Panel", *(told(names.panels, each.pair.panel, "panel") for each in beside)),
        ("Pump", *(told(names.pumps, each.pair.pump, "pump") for each in beside)),
    ]
    if names.joins_differ:
        lines.append(("Joined", *(each.pair.connection for each in beside)))
    if any(each.own is not None for each in found.pairs):
        lines.append(("Nozzle, mm", *("–" if each.bore is None else figures(each.bore) for each in beside)))
    lines.append(("In a word", *(row.mark for row in shown)))
    lines += [(head, *(row.cells[index] for row in shown)) for index, head in enumerate(heads)]
    titles = tuple(f"Number {each.rank}{', chosen' if each is own else ''}" for each in beside)
    return Table("The chosen pair and those next to it by rank", ("", *titles), tuple(lines))
