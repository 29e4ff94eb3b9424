"""The sun of each month: bars for the mean, the dull, usual and bright day on them, another climate beside."""

from collections.abc import Sequence

from sizing.foundation import formats
from sizing.sky import SkyMonth, SkyYear
from web.charts.kit.axes import Frame, left_margin, ticks, up, vertical_axis
from web.charts.kit.labels import text_width
from web.charts.kit.shapes import (
    INK,
    PAPER,
    QUIET,
    SUN,
    TEXT_SIZE,
    WATER,
    WIDTH,
    Chart,
    Circle,
    Line,
    Rectangle,
    Shape,
    Table,
    Text,
    picture,
)
from web.charts.water_by_month import bar_middle, twelve

TITLE = "Sun on level ground"
UNIT = "kWh/m² a day"
HEAD = (
    *("Month", "Mean day", "Dull day", "Usual day", "Bright day"),
    *("Straight from the sun, %", "Clearness", "Air, °C", "May be off by, %"),
)
KEY_TOP, KEY_ROW = 232.0, 20.0


def sky_by_month(year: SkyYear, built_in: SkyYear | None = None) -> Chart:
    """Bars from zero for the mean day of each month, with its dull, usual and bright day.

    Parameters
    ----------
    year : the sky that is used
    built_in : the built-in climate beside it, where the sky is another one
    """
    twelve(year.months, TITLE)
    others = [] if built_in is None else [month.sun for month in built_in.months]
    marks = ticks(max(*(max(month.sun, month.sun_bright) for month in year.months), *others, 0.0))
    frame = Frame(left_margin(marks), 26, WIDTH, 204, 12, marks[-1])
    shapes = vertical_axis(frame, marks, UNIT)
    for index, month in enumerate(year.months):
        bar, *days = month_bar(frame, index, month)
        other = other_mark(bar_middle(frame, index), up(frame, others[index]), bar_width(frame)) if others else []
        shapes += [bar, *other, *days]
    keys = key(built_in is not None)
    finding = sky_finding(year)
    about = f"Twelve bars, {UNIT}, each with a line from the dull to the bright day. {finding}"
    height = KEY_TOP + KEY_ROW * (2 if built_in is not None else 1) + 4
    return Chart("sky-by-month", TITLE, about, finding, picture(WIDTH, height, [*shapes, *keys]), sky_table(year))


def bar_width(frame: Frame) -> float:
    """Width of the bar of a month."""
    return (frame.right - frame.left) / 12 * 0.72


def month_bar(frame: Frame, index: int, month: SkyMonth) -> list[Shape]:
    """Bar, days and letter of one month; a month in the dark shows its nought."""
    middle, width = bar_middle(frame, index), bar_width(frame)
    letter = Text(middle, frame.bottom + 17, formats.MONTH_LETTERS[index], anchor="middle")
    if month.sun <= 0:
        return [Text(middle, frame.bottom - 5, "0", anchor="middle", fill=QUIET), letter]
    height = max(frame.bottom - up(frame, month.sun), 1.0)
    tip = f"{formats.MONTHS[index]}: {formats.quantity(month.sun)} {UNIT}"
    bar = Rectangle(middle - width / 2, frame.bottom - height, width, height, SUN, tip=tip)
    return [bar, *days_mark(middle, *(up(frame, sun) for sun in (month.sun_dull, month.sun_usual, month.sun_bright))), letter]


def days_mark(x: float, dull: float, usual: float, bright: float) -> list[Shape]:
    """A line from the dull to the bright day with a dot at the usual one, between heights on the sheet."""
    drawn = ((x - 4, dull), (x + 4, dull), (x, dull), (x, bright), (x - 4, bright), (x + 4, bright))
    return [Line(drawn, PAPER, 4.5), Line(drawn, INK, 1.5), Circle(x, usual, 3.5, INK, PAPER, 1.0)]


def other_mark(x: float, y: float, width: float) -> list[Shape]:
    """A bar's width in blue where another climate stands."""
    ends = ((x - width / 2 - 2, y), (x + width / 2 + 2, y))
    return [Line(ends, PAPER, 5.5), Line(ends, WATER, 3.0)]


def key(other: bool) -> list[Shape]:
    """What bars, dots and lines mean, below the months."""
    shapes: list[Shape] = [Rectangle(1, KEY_TOP, 12, 12, SUN), Text(19, KEY_TOP + 11, "mean day")]
    x = 19 + text_width("mean day", TEXT_SIZE) + 22
    shapes += [*days_mark(x, KEY_TOP + 14, KEY_TOP + 6, KEY_TOP - 2), Text(x + 10, KEY_TOP + 11, "dull, usual and bright day")]
    if other:
        shapes += [*other_mark(10, KEY_TOP + KEY_ROW + 6, 14), Text(25, KEY_TOP + KEY_ROW + 11, "mean day by the built-in table")]
    return shapes


def sky_finding(year: SkyYear) -> str:
    """The brightest and the dullest month, and how far their days differ."""
    suns = [month.sun for month in year.months]
    best, least = (year.months[suns.index(pick(suns))] for pick in (max, min))
    if best.sun <= 0:
        return "No sun in any month."
    return (
        f"Most in {formats.MONTHS[best.month - 1]}: {day(best.sun)} (a dull day {day(best.sun_dull)}, a bright one "
        f"{day(best.sun_bright)}); least in {formats.MONTHS[least.month - 1]}: {day(least.sun)}."
    )


def day(sun: float) -> str:
    """Sun of a day with its unit."""
    return formats.quantity(sun, "kWh/m2", 2)


def sky_table(year: SkyYear) -> Table:
    """The numbers behind the bars, and what else is known of each month."""
    months = year.months
    columns: list[Sequence[str]] = [
        formats.MONTHS,
        *(fixed([getattr(month, name) for month in months], 2) for name in ("sun", "sun_dull", "sun_usual", "sun_bright")),
        fixed([100 * month.beam_share for month in months], 0),
        fixed([month.clearness for month in months], 2),
        fixed([month.air_temperature for month in months], 1),
        fixed([100 * month.band for month in months], 0),
    ]
    return Table(f"{TITLE}, {UNIT}, and the air", HEAD, tuple(zip(*columns, strict=True)))


def fixed(values: Sequence[float], decimals: int) -> tuple[str, ...]:
    """A column with the same decimals and a proper minus.

    Examples
    --------
    >>> fixed([7.319, -0.0191], 1)
    ('7.3', '0.0')
    """
    return tuple(f"{round(formats.finite(value), decimals) + 0.0:.{decimals}f}".replace("-", formats.MINUS) for value in values)


def beside_table(own: SkyYear, built_in: SkyYear, ratios: Sequence[float | None]) -> Table:
    """One's own months beside the built-in ones; a dash where the ratio says nothing."""
    columns = [
        formats.MONTHS,
        fixed([month.sun for month in own.months], 2),
        fixed([month.sun for month in built_in.months], 2),
        tuple("–" if ratio is None else f"{100 * ratio:.0f}" for ratio in ratios),
    ]
    head = ("Month", "Yours", "Built-in table", "Yours, % of it")
    return Table(f"{TITLE}, {UNIT}: your values beside the built-in table", head, tuple(zip(*columns, strict=True)))
