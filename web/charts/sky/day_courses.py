"""How the sun of a dull, a usual and a bright day runs, with the same days without passing clouds."""

from collections.abc import Sequence

from sizing.foundation import MONTHS, column, figures
from sizing.sky import DayCourse
from web.charts.kit.axes import Frame, across, left_margin, on_sheet, thinned, ticks, vertical_axis
from web.charts.kit.labels import text_width
from web.charts.kit.shapes import INK, QUIET, RULE, SUN, TEXT_SIZE, WATER, WIDTH, Chart, Line, Shape, Table, Text, picture

TITLE = "A dull, a usual and a bright day"
UNIT = "W/m²"
LOOKS = {"dull": QUIET, "usual": WATER, "bright": SUN}
CALM_DASH = "3 3"
WIDTHS = {"dull": 1.4, "usual": 2.2, "bright": 2.2}
KEY_TOP, KEY_ROW = 240.0, 20.0


def day_courses_chart(days: Sequence[DayCourse], clock: str) -> Chart:
    """Sun on level ground over the hours of three days.

    Parameters
    ----------
    days : dull, usual and bright day of one month
    clock : whose hours these are, for the axis
    """
    first, last = lit_hours(days)
    marks = ticks(max(1.0, *(float(day.sun.max()) for day in days)))
    frame = Frame(left_margin(marks), 26, WIDTH, 196, last - first, marks[-1])
    shapes = [*vertical_axis(frame, marks, UNIT), *hours_axis(frame, first, last, clock)]
    for day in days:
        if day.calm is not None:
            shapes.append(course(frame, first, day.hour.tolist(), day.calm.tolist(), LOOKS[day.kind], 1.0, CALM_DASH))
    for day in days:
        shapes.append(course(frame, first, day.hour.tolist(), day.sun.tolist(), LOOKS[day.kind], WIDTHS[day.kind]))
    month, made_up = MONTHS[days[0].month - 1], days[0].calm is not None
    finding = courses_finding(days)
    about = f"Three lines over the hours of a day in {month}, {UNIT} on level ground. {finding}"
    height = KEY_TOP + KEY_ROW * (2 if made_up else 1) + 4
    whole = picture(WIDTH, height, [*shapes, *key(made_up)])
    return Chart("day-courses", f"{TITLE} in {month}", about, finding, whole, courses_table(days))


def lit_hours(days: Sequence[DayCourse]) -> tuple[float, float]:
    """Whole hours between which there is sun on any of the days."""
    lit = [float(hour) for day in days for hour, sun in zip(day.hour, day.sun, strict=True) if sun > 0]
    if not lit:
        return 0.0, 24.0
    return float(int(min(lit))), float(min(int(max(lit)) + 1, 24))


def course(
    frame: Frame, first: float, hour: Sequence[float], sun: Sequence[float], colour: str, width: float, dash: str = ""
) -> Shape:
    """The line of one day, from the first lit step to the last."""
    lit = [place for place, value in enumerate(sun) if value > 0]
    steps = range(lit[0], lit[-1] + 1) if lit else range(0)
    points = on_sheet(frame, [float(hour[step]) - first for step in steps], [float(sun[step]) for step in steps])
    return Line(thinned(points, 0.4), colour, width, dash)


def hours_axis(frame: Frame, first: float, last: float, clock: str) -> list[Shape]:
    """Every third hour, named where its name has room, and whose clock it is."""
    shapes: list[Shape] = []
    for hour in range(int(first), int(last) + 1):
        if hour % 3 == 0:
            x, words = across(frame, hour - first), f"{hour}:00"
            half = text_width(words, TEXT_SIZE) / 2
            shapes.append(Line(((x, frame.top), (x, frame.bottom)), RULE))
            if frame.left <= x - half and x + half <= WIDTH:
                shapes.append(Text(x, frame.bottom + 18, words, anchor="middle", fill=QUIET))
    return [*shapes, Text(frame.right, frame.bottom + 35, clock, anchor="end", fill=QUIET)]


def key(made_up: bool) -> list[Shape]:
    """Which line is which."""
    shapes: list[Shape] = []
    x = 1.0
    for kind, colour in LOOKS.items():
        shapes += [Line(((x, KEY_TOP + 7), (x + 18, KEY_TOP + 7)), colour, 2.6), Text(x + 24, KEY_TOP + 12, f"{kind} day")]
        x += 24 + text_width(f"{kind} day", TEXT_SIZE) + 22
    if made_up:
        y = KEY_TOP + KEY_ROW
        words = "the same day if no cloud passed"
        shapes += [Line(((1, y + 7), (19, y + 7)), INK, 1.0, CALM_DASH), Text(25, y + 12, words)]
    return shapes


def courses_finding(days: Sequence[DayCourse]) -> str:
    """The strongest sun of each day and, where clouds are made up, how far they pull the usual day down."""
    tops = {day.kind: figures(float(day.sun.max()), 2) for day in days}
    month = MONTHS[days[0].month - 1]
    return (
        f"In {month} the sun reaches {tops['bright']} {UNIT} at its strongest on a bright day, {tops['usual']} {UNIT} on a "
        f"usual day and {tops['dull']} {UNIT} on a dull day."
    )


def courses_table(days: Sequence[DayCourse]) -> Table:
    """The mean of every hour with sun, day by day."""
    first, last = (int(hour) for hour in lit_hours(days))
    hours = range(first, last)
    columns = [tuple(f"{hour}:00" for hour in hours), *(column([mean_of_hour(day, hour) for hour in hours]) for day in days)]
    head = ("Hour from", *(f"{day.kind.capitalize()} day" for day in days))
    return Table(f"{TITLE}, {UNIT}, mean of each hour", head, tuple(zip(*columns, strict=True)))


def mean_of_hour(day: DayCourse, hour: int) -> float:
    """Mean sun from an hour to the next [W/m2]; 0 where no step begins in it."""
    inside = day.sun[(day.hour >= hour) & (day.hour < hour + 1)]
    return float(inside.mean()) if len(inside) else 0.0
