"""The jet by month and hour of the day: twelve rows of hours, pale to deep."""

from collections.abc import Sequence
from itertools import pairwise

from sizing.foundation import column, formats
from web.charts.kit.axes import nice_step
from web.charts.kit.labels import text_width
from web.charts.kit.shapes import QUIET, RAMP, SAND, TEXT_SIZE, WIDTH, Cells, Chart, Line, Rectangle, Shape, Table, Text, picture
from web.charts.water_by_month import twelve

Grid = Sequence[Sequence[float | None]]
Span = tuple[float, float]
MOST_CLASSES = len(RAMP)
ROW, GRID_TOP, GRID_LEFT = 17.0, 24.0, 38.0
KEY_ROW, SWATCH = 22.0, 14.0


def digits(unit: str) -> int:
    """Figures that mean something: nobody reads a jet to the millimetre."""
    return 2 if unit == "cm" else 3


def sunlit_hours(grid: Grid) -> range:
    """The hours that ever have sun, and one more at either side."""
    lit = [hour for hour in range(24) if any(row[hour] is not None for row in grid)]
    return range(max(lit[0] - 1, 0), min(lit[-1] + 2, 24)) if lit else range(6, 18)


def classes(largest: float) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Upper limits of the steps of colour, and their colours from pale to deep."""
    if largest <= 0:
        return (), ()
    step = nice_step(largest, MOST_CLASSES)
    limits = ticks_of(step, largest)
    count = len(limits)
    spread = (RAMP[-1],) if count == 1 else tuple(RAMP[round(index * (len(RAMP) - 1) / (count - 1))] for index in range(count))
    return limits, spread


def ticks_of(step: float, largest: float) -> tuple[float, ...]:
    """Multiples of a step up to the first at or beyond the largest value."""
    limits = [step]
    while limits[-1] < largest * (1 - 1e-9):
        limits.append(float(f"{step * (len(limits) + 1):.12g}"))
    return tuple(limits)


def colour(value: float, limits: Sequence[float], colours: Sequence[str]) -> str:
    """Colour of a cell; sand where no water comes."""
    if value <= 0:
        return SAND
    for limit, shade in zip(limits, colours, strict=True):
        if value <= limit * (1 + 1e-9):
            return shade
    return colours[-1]


def month_and_hour(
    grid: Grid,
    *,
    quantity: str = "jet height",
    unit: str = "cm",
    hours: str = "hour of the day",
    playing: Sequence[Span | None] | None = None,
    litres_a_day: Sequence[float] | None = None,
    name: str = "month-and-hour",
) -> Chart:
    """Twelve rows of hours: what comes out of the fountain in each month and hour, pale to deep.

    Parameters
    ----------
    grid
        (12, 24) value in ``unit`` from each full hour to the next; None where the sun is down; zero
        where the sun shines and no water comes.
    quantity, unit
        What the values are ("jet height" in "cm", "flow" in "L/min").
    hours
        Which clock the hours follow.
    playing
        (12,) first and last hour of play to the minute, None where it stays dry; without it the full
        hours of the grid are named.
    litres_a_day
        (12,) added to the table of the months where it is given.
    name
        Beginning of the ids in the page.
    """
    twelve(grid, quantity)
    for row in grid:
        if len(row) != 24:
            raise ValueError(f"{quantity} needs 24 hours in each month, not {len(row)}")
    shown = sunlit_hours(grid)
    largest = max((formats.finite(value) for row in grid for value in row if value is not None), default=0.0)
    limits, colours = classes(largest)
    shapes = [Text(1, TEXT_SIZE + 1, f"{quantity}, {unit}", fill=QUIET), *hour_axis(shown, hours)]
    shapes += month_names()
    shapes += cells(grid, shown, limits, colours)
    key, height = colour_key(limits, colours, unit, GRID_TOP + 12 * ROW + 56)
    finding = hour_finding(grid, limits, unit)
    title = f"{quantity.capitalize()} by month and hour"
    about = f"One row for each month, one column for each hour from {shown[0]}:00 to {shown[-1] + 1}:00. {finding}"
    tables = hour_table(grid, shown, title, unit), day_table(grid, quantity, unit, playing, litres_a_day)
    return Chart(name, title, about, finding, picture(WIDTH, height, [*shapes, *key]), *tables)


def cell_width(shown: range) -> float:
    """Width of one hour."""
    return (WIDTH - GRID_LEFT) / len(shown)


def hour_axis(shown: range, title: str) -> list[Shape]:
    """Full hours below the rows, each at the left edge of its cells."""
    wide, bottom = cell_width(shown), GRID_TOP + 12 * ROW
    step = next(count for count in (1, 2, 3, 4, 6) if count * wide > text_width("12:00", TEXT_SIZE) + 4)
    shapes: list[Shape] = []
    for hour in range(shown[0], shown[-1] + 2):
        x = GRID_LEFT + (hour - shown[0]) * wide
        half = text_width(f"{hour}:00", TEXT_SIZE) / 2
        if hour % step == 0 and x + half <= WIDTH:
            shapes.append(Line(((x, bottom), (x, bottom + 4)), QUIET))
            shapes.append(Text(x, bottom + 18, f"{hour}:00", anchor="middle", fill=QUIET))
    return [*shapes, Text(WIDTH, bottom + 36, title, anchor="end", fill=QUIET)]


def month_names() -> list[Shape]:
    """Name of each month at the left of its row."""
    return [Text(GRID_LEFT - 6, GRID_TOP + row * ROW + 13, name, anchor="end") for row, name in enumerate(formats.SHORT_MONTHS)]


def cells(grid: Grid, shown: range, limits: Sequence[float], colours: Sequence[str]) -> list[Shape]:
    """The hours in which the sun is up, all of one colour together."""
    wide = cell_width(shown)
    corners: dict[str, list[tuple[float, float]]] = {}
    for month, row in enumerate(grid):
        for place, hour in enumerate(shown):
            value = row[hour]
            if value is not None:
                corner = (GRID_LEFT + place * wide + 0.5, GRID_TOP + month * ROW + 0.5)
                corners.setdefault(colour(value, limits, colours), []).append(corner)
    return [Cells(tuple(found), wide - 1, ROW - 1, shade) for shade, found in corners.items()]


def colour_key(limits: Sequence[float], colours: Sequence[str], unit: str, top: float) -> tuple[list[Shape], float]:
    """What the colours mean, in words, in as many columns as fit; also the height of the whole picture."""
    edges = [formats.figures(limit) for limit in limits]
    said = ["dry", *(f"up to {edge}{formats.SPACE}{unit}" for edge in edges[:1])]
    said += [f"{low} to {high}{formats.SPACE}{unit}" for low, high in pairwise(edges)]
    widest = max(text_width(text, TEXT_SIZE) for text in said) + SWATCH + 16
    columns = max(min(int(WIDTH // widest), 3), 1)
    rows = -(-len(said) // columns)
    shapes: list[Shape] = []
    for index, (text, shade) in enumerate(zip(said, (SAND, *colours), strict=True)):
        x, y = (index // rows) * WIDTH / columns, top + (index % rows) * KEY_ROW
        shapes.append(
            Rectangle(x + 0.5, y + 0.5, SWATCH, SWATCH, shade, stroke=QUIET if index == 0 else "none", stroke_width=0.5)
        )
        shapes.append(Text(x + SWATCH + 7, y + 12.5, text))
    return shapes, top + rows * KEY_ROW


def hour_finding(grid: Grid, limits: Sequence[float], unit: str) -> str:
    """Where in the year and the day the upper half of the colours lies, and which months stay dry."""
    if not limits:
        return "Dry at every hour of the year."
    half = limits[(len(limits) - 1) // 2] if len(limits) > 1 else 0.0
    over = [{hour for hour in range(24) if (row[hour] or 0) > half} for row in grid]
    months = [month + 1 for month, hours in enumerate(over) if hours]
    shared = set.intersection(*(hours for hours in over if hours))
    when = formats.month_span(months)
    if shared and max(shared) - min(shared) == len(shared) - 1:
        when = f"from {min(shared)}:00 to {max(shared) + 1}:00, {when}"
    amount = f"Over {formats.figures(half)}{formats.SPACE}{unit}" if half else "Plays"
    dry = [month + 1 for month, row in enumerate(grid) if not any(value or 0 for value in row)]
    return f"{amount} {when}." + (f" Dry all day in {formats.month_span(dry)}." if dry else "")


def hour_table(grid: Grid, shown: range, title: str, unit: str) -> Table:
    """Every cell as a number; a dash where the sun is down."""
    known = iter(column([value for row in grid for value in row if value is not None], digits(unit)))
    texts = [["–" if value is None else next(known) for value in row] for row in grid]
    rows = tuple((formats.SHORT_MONTHS[month], *texts[month][shown.start : shown.stop]) for month in range(12))
    return Table(f"{title}, {unit}; a dash where the sun is down", ("Month", *(f"{hour}:00" for hour in shown)), rows)


def whole_hours(row: Sequence[float | None]) -> Span | None:
    """Begin of the first and end of the last hour with water."""
    wet = [hour for hour in range(24) if (row[hour] or 0) > 0]
    return (wet[0], wet[-1] + 1) if wet else None


def day_table(
    grid: Grid, quantity: str, unit: str, playing: Sequence[Span | None] | None, litres_a_day: Sequence[float] | None
) -> Table:
    """First and last hour, peak, and litres a day of each month."""
    head = ["Month", "Plays from", "to", f"Highest, {unit}" if "height" in quantity else f"Most, {unit}"]
    spans = [whole_hours(row) for row in grid] if playing is None else list(playing)
    twelve(spans, "hours of play")
    columns = [formats.SHORT_MONTHS]
    columns += [tuple("dry" if span is None else formats.clock(span[end], 10) for span in spans) for end in (0, 1)]
    peaks = [max((value for value in row if value is not None), default=0.0) for row in grid]
    columns.append(column(peaks, digits(unit)))
    if litres_a_day is not None:
        twelve(litres_a_day, "litres a day")
        head.append("Litres a day")
        columns.append(column(litres_a_day))
    return Table(f"{quantity.capitalize()}, month by month", tuple(head), tuple(zip(*columns, strict=True)))
