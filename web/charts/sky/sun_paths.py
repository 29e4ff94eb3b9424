"""The sun's way across the sky through the year, over the skyline of the garden: height against direction."""

from collections.abc import Callable, Sequence

import numpy as np

from sizing.foundation import formats
from sizing.light import SunPath, SunPaths
from sizing.place import Skyline, skyline_altitude
from web.charts.kit.axes import STRONG, Frame, across, thinned, up
from web.charts.kit.labels import Box, place, text_width
from web.charts.kit.shapes import (
    PAPER,
    QUIET,
    RULE,
    STONE,
    SUN,
    SUN_TEXT,
    TEXT_SIZE,
    WIDTH,
    Chart,
    Line,
    Points,
    Shape,
    Table,
    Text,
    picture,
)

At = Callable[[Sequence[tuple[float, float]]], Points]
"""From directions and heights [deg] to places on the sheet."""
TITLE = "The sun's way over this garden"
DRAWN = (12, 1, 2, 3, 4, 5, 6)
"""From 21 December to 21 June; the other half of the year takes nearly the same ways back."""
STRONG_DAYS = (6, 3, 12)
LEAST_REACH = 105.0
"""[deg] The picture shows at least so much to either side of its middle."""
EIGHTHS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
HILL = "#E2E6E9"
TOP, BOTTOM = 28.0, 228.0


def sun_over_garden(paths: SunPaths, skyline: Skyline, clock_ahead: Sequence[float] | None = None) -> Chart:
    """Height of the sun over its direction on the 21st of seven months, in front of the skyline.

    Parameters
    ----------
    paths : of the twelve months
    skyline : pairs of azimuth and altitude [deg]; empty for an open horizon
    clock_ahead : how far the clock is ahead of the sun on those twelve days [h], for the table
    """
    drawn = [path for path in paths.paths if path.month in DRAWN]
    low, high = reach(paths)
    hills = skyline_line(skyline, low, high)
    tallest = max([10.0, *(float(path.altitude.max()) for path in drawn if len(path.altitude)), *(top for _, top in hills)])
    marks = height_marks(tallest)
    frame = Frame(text_width(f"{marks[-1]:.0f}°", TEXT_SIZE) + 8, TOP, WIDTH, BOTTOM, high - low, marks[-1])

    def at(points: Sequence[tuple[float, float]]) -> Points:
        return tuple((across(frame, azimuth - low), up(frame, altitude)) for azimuth, altitude in points)

    lines = [(path, at(piece)) for path in drawn for piece in pieces(path)]
    shapes = height_axis(frame, marks)
    hours = [at(line) for line in hour_lines(drawn)]
    shapes += [Line(thinned(line), STRONG, 0.75, dash="2 3") for line in hours]
    shapes += [Line(thinned(line), SUN, 2.5 if path.month in STRONG_DAYS else 1.0, round=True) for path, line in lines]
    if skyline:
        shapes += hill(frame, at(hills))
    shapes += [*direction_axis(frame, low, high), *labels(frame, paths, drawn, at, [line for _, line in lines])]
    finding = path_finding(paths)
    about = f"Height of the sun over its direction on the 21st of the months from December to June. {finding}"
    return Chart("sun-over-garden", TITLE, about, finding, picture(WIDTH, BOTTOM + 40, shapes), height_table(paths, clock_ahead))


def reach(paths: SunPaths) -> tuple[float, float]:
    """First and last direction of the picture [deg]: where the sun ever is, in steps of 15."""
    seen = np.concatenate([path.azimuth for path in paths.paths])
    away = float(np.abs(seen - paths.centre).max()) if len(seen) else 0.0
    half = min(max(15.0 * np.ceil(away / 15.0), LEAST_REACH), 180.0)
    return paths.centre - half, paths.centre + half


def height_marks(tallest: float) -> tuple[float, ...]:
    """Heights to mark [deg], up to the first at or above the tallest.

    Examples
    --------
    >>> height_marks(37.0), height_marks(67.4), height_marks(88.0)
    ((0.0, 10.0, 20.0, 30.0, 40.0), (0.0, 20.0, 40.0, 60.0, 80.0), (0.0, 30.0, 60.0, 90.0))
    """
    step = 10.0 if tallest <= 40 else 20.0 if tallest <= 80 else 30.0
    return tuple(step * index for index in range(int(np.ceil(tallest / step)) + 1))


def skyline_line(skyline: Skyline, low: float, high: float) -> list[tuple[float, float]]:
    """The skyline from the first to the last direction of the picture, each of its corners kept."""
    if not skyline:
        return []
    corners = [azimuth + turn for azimuth, _ in skyline for turn in (-360.0, 0.0, 360.0)]
    seen = sorted({low, high, *(azimuth for azimuth in corners if low < azimuth < high)})
    heights = np.asarray(skyline_altitude(np.asarray(seen) % 360, skyline), dtype=float)
    return list(zip(seen, heights.tolist(), strict=True))


def pieces(path: SunPath) -> list[list[tuple[float, float]]]:
    """The parts of a path that a line can join, as direction and height [deg]."""
    points = list(zip(path.azimuth.tolist(), path.altitude.tolist(), strict=True))
    return [points[start:end] for start, end in path.pieces if end - start > 1]


def hour_lines(drawn: Sequence[SunPath]) -> list[list[tuple[float, float]]]:
    """For each full hour the sun's places on the days that are drawn, broken where they change sides of the picture."""
    order = sorted(drawn, key=lambda path: DRAWN.index(path.month))
    found: list[list[tuple[float, float]]] = []
    for hour in range(24):
        line: list[tuple[float, float]] = []
        for point in (spot for path in order if (spot := spot_at(path, hour)) is not None):
            if line and abs(point[0] - line[-1][0]) > 90:
                found.append(line)
                line = []
            line.append(point)
        found.append(line)
    return [line for line in found if len(line) > 1]


def spot_at(path: SunPath, hour: int) -> tuple[float, float] | None:
    """Where the sun stands at a full hour; None while it is down."""
    index = np.flatnonzero(np.abs(path.hour - hour) < 1e-9)
    return (float(path.azimuth[index[0]]), float(path.altitude[index[0]])) if len(index) else None


def hill(frame: Frame, top: Points) -> list[Shape]:
    """The skyline, filled down to level ground."""
    feet = ((top[-1][0], frame.bottom), (top[0][0], frame.bottom))
    return [Line((*top, *feet), HILL, 0.5, fill=HILL, closed=True), Line(top, STONE, 1.5)]


def height_axis(frame: Frame, marks: Sequence[float]) -> list[Shape]:
    """Rules across the frame with their height above level."""
    shapes: list[Shape] = [Text(1, TEXT_SIZE + 1, "height above level", fill=QUIET)]
    for mark in marks:
        y = up(frame, mark)
        shapes.append(Line(((frame.left, y), (frame.right, y)), RULE))
        shapes.append(Text(frame.left - 6, y + 5, f"{mark:.0f}°", anchor="end", fill=QUIET))
    return shapes


def direction_axis(frame: Frame, low: float, high: float) -> list[Shape]:
    """Level ground with the eight directions below it."""
    shapes: list[Shape] = [Line(((frame.left, frame.bottom), (frame.right, frame.bottom)), STRONG)]
    for turn in range(-4, 9):
        azimuth = 45.0 * turn
        if low <= azimuth <= high:
            x = across(frame, azimuth - low)
            shapes.append(Line(((x, frame.bottom), (x, frame.bottom + 4)), STRONG))
            half = text_width(EIGHTHS[turn % 8], TEXT_SIZE) / 2
            shapes.append(Text(min(x, WIDTH - half), frame.bottom + 19, EIGHTHS[turn % 8], anchor="middle"))
    return [*shapes, Text(frame.right, frame.bottom + 36, "direction; dotted: full hours by the sun", anchor="end", fill=QUIET)]


def labels(frame: Frame, paths: SunPaths, drawn: Sequence[SunPath], at: At, lines: Sequence[Points]) -> list[Shape]:
    """Days at the strong lines and hours along the highest one, where they cover nothing."""
    wanted = []
    for month in STRONG_DAYS:
        path = next(path for path in drawn if path.month == month)
        spots = [spot for hour in (11, 13, 10, 14, 9, 15) if (spot := spot_at(path, hour)) is not None]
        said = f"21 {formats.SHORT_MONTHS[month - 1]}"
        wanted.append(
            [Text(x, y + lift, said, anchor="middle", fill=SUN_TEXT, weight=600) for x, y in at(spots) for lift in (-6, 17)]
        )
    summer = next(path for path in drawn if path.month == (6 if paths.centre else 12))
    for hour in (12, 6, 18, 8, 16, 10, 14, 0):
        spot = spot_at(summer, hour)
        if spot is not None:
            ((x, y),) = at([spot])
            wanted.append([Text(x + aside, y - 5, str(hour), anchor="middle", fill=QUIET) for aside in (0, -8, 8)])
    sheet = Box(frame.left, 18, WIDTH, frame.bottom)
    placed = [found for found in place([each for each in wanted if each], sheet, lines=lines) if found is not None]
    plates: list[Shape] = []
    for found in placed:
        if found.crossings:
            box = found.box
            middle = (box.top + box.bottom) / 2
            plates.append(Line(((box.left, middle), (box.right, middle)), PAPER, box.bottom - box.top))
    return [*plates, *(found.text for found in placed)]


def path_finding(paths: SunPaths) -> str:
    """How high the sun climbs at the turns of the year."""
    tops = []
    for month in STRONG_DAYS:
        height = next(path.altitude for path in paths.paths if path.month == month)
        name = f"21 {formats.MONTHS[month - 1]}"
        tops.append(f"{height.max():.0f}° on {name}" if len(height) else f"not at all on {name}")
    return f"The sun climbs to {tops[0]}, {tops[1]} and {tops[2]}."


def height_table(paths: SunPaths, clock_ahead: Sequence[float] | None) -> Table:
    """When and where the sun rises and sets on the 21st of each month, and how high it climbs."""
    rows = []
    for path, ahead in zip(paths.paths, [0.0] * 12 if clock_ahead is None else clock_ahead, strict=True):
        hours = float(path.hour[-1] - path.hour[0]) if len(path.hour) else 0.0
        ends = ["–"] * 4
        if 0 < hours < 24:
            ends = [said for end in (0, -1) for said in (when(float(path.hour[end]) + ahead), f"{path.azimuth[end] % 360:.0f}")]
        top = f"{path.altitude.max():.0f}" if hours else "–"
        rows.append((f"21 {formats.MONTHS[path.month - 1]}", *ends[:2], top, *ends[2:], f"{hours:.1f}"))
    basis = "hours by the sun" if clock_ahead is None else "hours by the clock"
    caption = f"The sun on the 21st of each month over level ground, {basis}; a dash where it does not rise or set"
    head = ("Day", "Rises", "at, ° from north", "Highest, °", "Sets", "at, ° from north", "Up, h")
    return Table(caption, head, tuple(rows))


def when(hour: float) -> str:
    """An hour of the clock to five minutes; what passes midnight comes round again.

    Examples
    --------
    >>> when(7.32), when(24.3)
    ('7:20', '0:20')
    """
    return formats.clock(round(hour * 12) / 12 % 24)
