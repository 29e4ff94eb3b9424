"""Water month by month: bars from zero with their likely range."""

from collections.abc import Sequence

from sizing.foundation import column, formats
from web.charts.kit.axes import Frame, left_margin, ticks, up, vertical_axis
from web.charts.kit.labels import text_width
from web.charts.kit.shapes import INK, PAPER, QUIET, TEXT_SIZE, WATER, WIDTH, Chart, Line, Rectangle, Shape, Table, Text, picture


def twelve(values: Sequence[object], what: str) -> None:
    """Refuse what is not one value for each month."""
    if len(values) != 12:
        raise ValueError(f"{what} needs 12 months, not {len(values)}")


def water_by_month(
    values: Sequence[float],
    low: Sequence[float] | None = None,
    high: Sequence[float] | None = None,
    *,
    unit: str = "litres a day",
    short_unit: str = "L",
    name: str = "water-by-month",
    title: str = "Water by month",
) -> Chart:
    """Bars from zero, one for each month, with the likely range where it is known.

    Parameters
    ----------
    values
        (12,) one value for each month, in ``unit``, not negative.
    low, high
        (12,) ends of the likely range, or neither.
    unit, short_unit
        The quantity above the axis, and its sign behind a number.
    name, title
        Beginning of the ids in the page; heading.
    """
    twelve(values, title)
    if (low is None) != (high is None):
        raise ValueError(f"{title} needs both ends of the likely range or neither")
    for ends in (low, high):
        twelve(ends if ends is not None else values, f"{title}, likely range,")
    marks = ticks(max(*values, *(high if high is not None else ())))
    frame = Frame(left_margin(marks), 26, WIDTH, 210, 12, marks[-1])
    shapes = vertical_axis(frame, marks, unit)
    for index, value in enumerate(values):
        shapes += month_bar(frame, index, value, f"{formats.MONTHS[index]}: {formats.quantity(value)} {unit}")
        if low is not None and high is not None:
            shapes += likely_range(frame, index, low[index], high[index])
    if high is not None and max(high) > 0:
        shapes += range_key()
    finding = water_finding(values, short_unit, unit)
    return Chart(
        name,
        title,
        f"Twelve bars, {unit}. {finding}",
        finding,
        picture(WIDTH, frame.bottom + 22, shapes),
        water_table(values, low, high, unit, title),
    )


def bar_middle(frame: Frame, index: int) -> float:
    """Middle of the bar of a month (0 to 11)."""
    return frame.left + (frame.right - frame.left) * (index + 0.5) / 12


def month_bar(frame: Frame, index: int, value: float, tip: str) -> list[Shape]:
    """One bar and the letter of its month; a month without water shows its nought."""
    middle, width = bar_middle(frame, index), (frame.right - frame.left) / 12 * 0.72
    top = up(frame, value)
    letter = Text(middle, frame.bottom + 17, formats.MONTH_LETTERS[index], anchor="middle")
    if value <= 0:
        return [Text(middle, frame.bottom - 5, "0", anchor="middle", fill=QUIET), letter]
    height = max(frame.bottom - top, 1.0)
    return [Rectangle(middle - width / 2, frame.bottom - height, width, height, WATER, tip=tip), letter]


def likely_range(frame: Frame, index: int, low: float, high: float) -> list[Shape]:
    """A thin line from the low to the high end, cased in white so that it shows on the bar too."""
    if not formats.finite(high) > formats.finite(low):
        return []
    return range_mark(bar_middle(frame, index), up(frame, low), up(frame, high))


def range_mark(x: float, low: float, high: float) -> list[Shape]:
    """The mark of a likely range between two heights on the sheet."""
    drawn = ((x - 4, low), (x + 4, low), (x, low), (x, high), (x - 4, high), (x + 4, high))
    return [Line(drawn, PAPER, 4.5), Line(drawn, INK, 1.5)]


def range_key() -> list[Shape]:
    """What the thin lines mean, above the bars at the right."""
    key = Text(WIDTH, TEXT_SIZE + 1, "likely range", anchor="end", fill=QUIET)
    return [key, *range_mark(WIDTH - text_width(key.content, TEXT_SIZE) - 8, TEXT_SIZE + 2, 4)]


def water_finding(values: Sequence[float], short_unit: str, unit: str) -> str:
    """The most, the least, and the months without any."""
    most, least = max(values), min(values)
    if most <= 0:
        return "No water in any month."
    day = " a day" if unit.endswith(" a day") else ""
    if most == least:
        return f"The same in every month: {formats.figures(most)}{formats.SPACE}{short_unit}{day}."
    best = formats.MONTHS[list(values).index(most)]
    sentence = f"Most in {best}: {formats.figures(most)}{formats.SPACE}{short_unit}{day}"
    dry = [index + 1 for index, value in enumerate(values) if value <= 0]
    if dry:
        return f"{sentence}; none in {formats.month_span(dry)}."
    return (
        f"{sentence}; least in {formats.MONTHS[list(values).index(least)]}: {formats.figures(least)}{formats.SPACE}{short_unit}."
    )


def water_table(
    values: Sequence[float], low: Sequence[float] | None, high: Sequence[float] | None, unit: str, title: str
) -> Table:
    """The numbers behind the bars."""
    columns = [column(values)]
    head = ["Month", unit.capitalize()]
    if low is not None and high is not None:
        columns += [column(low), column(high)]
        head += ["Likely at least", "Likely at most"]
    return Table(f"{title}, {unit}", tuple(head), tuple(zip(formats.MONTHS, *columns, strict=True)))
