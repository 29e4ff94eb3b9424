"""The map of directions: tilt upwards, the way the panel faces across, each field as deep as it brings water or hours."""

from collections.abc import Sequence
from itertools import groupby, pairwise

from sizing.foundation import formats
from sizing.orientation import AZIMUTHS, TILTS, Aim, Orientation, amount, as_table, best_words, degrees, flatness_sentence
from web.charts.kit.labels import Box, Placed, place, text_box
from web.charts.kit.shapes import (
    INK,
    PAPER,
    QUIET,
    RAMP,
    SAND,
    TEXT_SIZE,
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

LIMITS = (0.5, 0.7, 0.8, 0.9, 0.95, 1.0)
"""[1] Upper ends of the steps of colour, as shares of the best."""
LEFT, TOP, ROW = 38.0, 26.0, 12.0
WIDE = (WIDTH - LEFT) / len(AZIMUTHS)
BOTTOM = TOP + ROW * len(TILTS)
KEY_TOP, KEY_ROW, SWATCH = BOTTOM + 50, 22.0, 14.0
SIGN = 7.0
"""Half the width of the sign of the best; that of today fits into it."""


def direction_map(found: Orientation, aim: Aim) -> Chart:
    """One field for each tilt and direction, with signs for today's choice and for the best.

    Parameters
    ----------
    found : the search
    aim : what the map shows; some direction must bring some of it
    """
    shares = as_table(aim.values / float(aim.values.max()))
    middle = 180.0 if found.place.latitude >= 0 else 0.0
    turns = [(middle - 180 + azimuth) % 360 for azimuth in AZIMUTHS]
    shapes: list[Shape] = [Text(1, TEXT_SIZE + 1, "tilt from level", fill=QUIET)]
    for row in range(len(TILTS)):
        shapes += row_of(row, [float(shares[row, round(turn / 10)]) for turn in turns])
    shapes += axes(turns)
    shapes += signs(found, aim, middle)
    most = amount(float(aim.values[aim.best]), aim.unit)
    finding = f"Best for {aim.words}: {best_words(found.planes, aim)}, {most}. {flatness_sentence(aim)}".strip()
    title = f"{aim.words[0].upper()}{aim.words[1:]} by tilt and direction"
    about = f"A map of 19 tilts and 37 directions in steps of colour, percent of the best. {finding}"
    shapes += key()
    return Chart(
        "direction-map", title, about, finding, picture(WIDTH, KEY_TOP + 3 * KEY_ROW, shapes), map_table(shares.tolist(), title)
    )


def colour(share: float) -> str:
    """Colour of a field; sand where nothing comes."""
    if share <= 0:
        return SAND
    return next(shade for limit, shade in zip(LIMITS, RAMP, strict=True) if share <= limit + 1e-9)


def row_of(row: int, shares: Sequence[float]) -> list[Shape]:
    """The fields of one tilt; neighbours of one colour are one piece."""
    shapes: list[Shape] = []
    top, column = BOTTOM - (row + 1) * ROW, 0
    for shade, fields in groupby(colour(share) for share in shares):
        count = len(list(fields))
        shapes.append(Rectangle(LEFT + column * WIDE, top, count * WIDE, ROW, shade))
        column += count
    return shapes


def axes(turns: Sequence[float]) -> list[Shape]:
    """Tilts at the left, and below the four directions with their degrees."""
    shapes: list[Shape] = []
    for tilt in (0, 30, 60, 90):
        y = BOTTOM - (tilt / 5 + 0.5) * ROW
        shapes += [Text(LEFT - 8, y + 5, f"{tilt}°", anchor="end", fill=QUIET), Line(((LEFT - 5, y), (LEFT, y)), QUIET)]
    for column, turn in enumerate(turns):
        if turn % 90:
            continue
        x = LEFT + (column + 0.5) * WIDE
        anchor = "start" if column == 0 else "end" if column == len(turns) - 1 else "middle"
        at = {"start": LEFT, "end": WIDTH, "middle": x}[anchor]
        shapes.append(Line(((x, BOTTOM), (x, BOTTOM + 5)), QUIET))
        shapes.append(Text(at, BOTTOM + 19, formats.compass(turn), anchor=anchor))
        shapes.append(Text(at, BOTTOM + 36, f"{turn:.0f}°", anchor=anchor, fill=QUIET))
    return shapes


def spot(tilt: float, azimuth: float, middle: float) -> tuple[float, float]:
    """Where a plane stands on the sheet; a level one in the middle."""
    turned = (azimuth - middle + 180) % 360 if tilt > 0 else 180.0
    return LEFT + (turned / 10 + 0.5) * WIDE, BOTTOM - (tilt / 5 + 0.5) * ROW


def signs(found: Orientation, aim: Aim, middle: float) -> list[Shape]:
    """A diamond with its word for the best, a ring for today's choice."""
    best = spot(float(found.planes.tilt[aim.best]), float(found.planes.azimuth[aim.best]), middle)
    today = spot(found.mounting.tilt, found.mounting.azimuth, middle)
    x, y = best
    corners = ((x, y - SIGN), (x + SIGN, y), (x, y + SIGN), (x - SIGN, y))
    shapes: list[Shape] = [
        Line(corners, INK, 1.5, fill=PAPER, closed=True),
        Circle(*today, 4.5, PAPER, INK, 1.5),
        Circle(*today, 1.5, INK),
    ]
    marks = [Box(x - SIGN, y - SIGN, x + SIGN, y + SIGN) for x, y in (best, today)]
    sheet = Box(LEFT, TOP, WIDTH, BOTTOM)
    for label in place([beside("best", best), beside("today", today)], sheet, marks):
        shapes += plate(label)
    return shapes


def beside(word: str, at: tuple[float, float]) -> list[Text]:
    """Places for the word of a sign: right, left, above, below, and farther off."""
    x, y = at
    near = [
        Text(x + 12, y + 5, word, weight=600),
        Text(x - 12, y + 5, word, anchor="end", weight=600),
        Text(x, y - 14, word, anchor="middle", weight=600),
        Text(x, y + 22, word, anchor="middle", weight=600),
    ]
    corners = [(12.0, -10.0, "start"), (12.0, 20.0, "start"), (-12.0, -10.0, "end"), (-12.0, 20.0, "end")]
    return near + [Text(x + across, y + down, word, anchor=anchor, weight=600) for across, down, anchor in corners]


def plate(label: Placed | None) -> list[Shape]:
    """A word on white, so that it reads on any colour."""
    if label is None:
        return []
    box = text_box(label.text)
    white = Rectangle(box.left - 3, box.top - 2, box.right - box.left + 6, box.bottom - box.top + 4, PAPER, radius=3)
    return [white, label.text]


def key() -> list[Shape]:
    """What the colours mean, in three columns."""
    edges = [f"{100 * limit:.0f}" for limit in LIMITS]
    said = [
        "nothing",
        f"up to {edges[0]}{formats.SPACE}%",
        *(f"{low} to {high}{formats.SPACE}%" for low, high in pairwise(edges)),
    ]
    shapes: list[Shape] = [Text(WIDTH, TEXT_SIZE + 1, "percent of the best", anchor="end", fill=QUIET)]
    for index, (text, shade) in enumerate(zip(said, (SAND, *RAMP), strict=True)):
        x, y = (index // 3) * WIDTH / 3, KEY_TOP + (index % 3) * KEY_ROW
        edge = QUIET if index == 0 else "none"
        shapes.append(Rectangle(x + 0.5, y + 0.5, SWATCH, SWATCH, shade, stroke=edge, stroke_width=0.5))
        shapes.append(Text(x + SWATCH + 7, y + 12.5, text))
    return shapes


def map_table(shares: Sequence[Sequence[float]], title: str) -> Table:
    """Every field in percent of the best, tilt by tilt."""
    head = ("Tilt", *(f"{azimuth:.0f}°" for azimuth in AZIMUTHS))
    rows = tuple(
        (f"{degrees(float(tilt))}°", *(f"{100 * share:.0f}" for share in row)) for tilt, row in zip(TILTS, shares, strict=True)
    )
    return Table(f"{title}, percent of the best; directions clockwise from north", head, rows)
