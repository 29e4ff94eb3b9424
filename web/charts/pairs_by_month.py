"""Months side by side: litres a day of the best few pairs as lines, of all pairs as a table."""

from collections.abc import Sequence
from dataclasses import dataclass

from sizing.foundation import column, formats
from web.charts.kit.axes import Frame, across, left_margin, ticks, up, vertical_axis
from web.charts.kit.crossing import Curve, drawn
from web.charts.kit.labels import spread
from web.charts.kit.many_lines import look
from web.charts.kit.shapes import QUIET, WIDTH, Chart, Line, Shape, Table, Text, picture

DRAWN = 4
"""The pairs that are drawn; the table has all of them."""
TOP, BOTTOM = 26.0, 230.0
ROOM, GAP = 60.0, 16.0
"""Kept free at the right for the labels, and how far they stand apart."""


@dataclass(frozen=True)
class PairMonths:
    """A pair by its short name, with litres a day in each of the twelve months."""

    label: str
    name: str
    water: Sequence[float]


def pairs_by_month(pairs: Sequence[PairMonths], chosen: Sequence[int], name: str = "pairs-by-month") -> Chart:
    """Litres a day over the months, a line for each of the first pairs.

    Parameters
    ----------
    pairs
        One or more, the best first.
    chosen
        Months (1 to 12) that count; their letters are bold.
    name
        Beginning of the ids in the page.
    """
    few = pairs[:DRAWN]
    marks = ticks(max(max(pair.water) for pair in few))
    frame = Frame(left_margin(marks), TOP, WIDTH - ROOM, BOTTOM, 12, marks[-1])
    shapes: list[Shape] = vertical_axis(frame, marks, "litres a day")
    for month, letter in enumerate(formats.MONTH_LETTERS):
        weight = 700 if month + 1 in chosen and len(chosen) < 12 else 400
        x = across(frame, month + 0.5)
        shapes.append(Text(x, BOTTOM + 18, letter, anchor="middle", weight=weight, fill=QUIET))
    heights = [up(frame, pair.water[-1]) for pair in few]
    for index, (pair, place) in enumerate(zip(few, spread(heights, GAP, TOP + 4, BOTTOM), strict=True)):
        colour, dash = look(index)
        (line,) = drawn(Curve(pair.label, [month + 0.5 for month in range(12)], pair.water), frame)
        shapes += [Line(line, colour, 2, dash), Line((line[-1], (WIDTH - ROOM + 8, place)), colour, 0.8)]
        shapes.append(Text(WIDTH - ROOM + 11, place + 5, pair.label, fill=colour))
    said = finding(few)
    about = f"Litres a day in each month, a line for each of {len(few)} pairs. {said}" if len(few) > 1 else said
    sheet = picture(WIDTH, BOTTOM + 24, shapes)
    return Chart(name, "Months side by side", about, said, sheet, table(pairs))


def finding(pairs: Sequence[PairMonths]) -> str:
    """Which pair gives most in most months, and where another one does."""
    best = [max(range(len(pairs)), key=lambda index: pairs[index].water[month]) for month in range(12)]
    wet = [month for month in range(12) if pairs[best[month]].water[month] > 0]
    if not wet:
        return "None of these pairs moves any water."
    if len(pairs) == 1:
        month = max(range(12), key=lambda each: pairs[0].water[each])
        return f"{pairs[0].label.capitalize()} gives most in {formats.MONTHS[month]}: {day(pairs[0].water[month])}."
    leads = max(range(len(pairs)), key=lambda index: (sum(best[month] == index for month in wet), -index))
    mine = [month + 1 for month in wet if best[month] == leads]
    top = max(mine, key=lambda month: pairs[leads].water[month - 1])
    said = f"Of the first {words_of(len(pairs))}, {pairs[leads].label} gives most in "
    said += "every month" if len(mine) == len(wet) else formats.month_span(mine)
    said += f", up to {day(pairs[leads].water[top - 1])} in {formats.MONTHS[top - 1]}"
    others = {best[month] for month in wet} - {leads}
    if len(others) == 1:
        said += f"; {pairs[others.pop()].label} in {formats.month_span(month + 1 for month in wet if month + 1 not in mine)}"
    return f"{said}."


def words_of(count: int) -> str:
    """A small number in words."""
    return {2: "two", 3: "three", 4: "four"}.get(count, str(count))


def day(water: float) -> str:
    """Litres a day in words."""
    return f"{formats.litres(water)} a day"


def table(pairs: Sequence[PairMonths]) -> Table:
    """All pairs, month by month."""
    texts = iter(column([water for pair in pairs for water in pair.water]))
    rows = tuple((f"{pair.label.capitalize()}: {pair.name}", *(next(texts) for _ in range(12))) for pair in pairs)
    return Table("Litres a day in each month", ("Pair", *formats.SHORT_MONTHS), rows)
