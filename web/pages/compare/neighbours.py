"""Why this pair: the chosen panel and pump beside the two that stand next to them by rank."""

from dataclasses import dataclass

from sizing.comparison import Comparison, PairFound
from sizing.money import chosen_of, neighbours
from sizing.report import Report
from web.charts.kit.shapes import Table
from web.charts.pair_names import by_number, names_of, told
from web.pages.compare.choice_words import headline, lead, mark
from web.pages.compare.pairs_tables import pairs_table


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
    stands = f"Chosen here is number {own.rank} of {len(found.pairs)}: it {stated(mark(found, own))}."
    why = [by_number(names, own.failure)] if own.failure else []
    return Choice((headline(found, names), *lead(found, names)), (stands, *why), side_by_side(found, own))


def stated(said: str) -> str:
    """A mark as the end of a sentence.

    Examples
    --------
    >>> stated("meets the goal, cheapest"), stated("plays")
    ('meets the goal, and is the cheapest that does', 'plays')
    """
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
    lines.append(("In a word", *(row.mark for row in shown)))
    lines += [(head, *(row.cells[index] for row in shown)) for index, head in enumerate(heads)]
    titles = tuple(f"Number {each.rank}{', chosen' if each is own else ''}" for each in beside)
    return Table("The chosen pair and those next to it by rank", ("", *titles), tuple(lines))
