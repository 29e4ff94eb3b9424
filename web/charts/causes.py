"""What makes a result unsure: a bar for each cause, longest first, for the water and for the jet."""

from collections.abc import Sequence
from dataclasses import dataclass

from sizing.foundation import formats
from web.charts.kit.shapes import INK, PAPER, QUIET, TEXT_SIZE, WATER, WIDTH, Chart, Line, Rectangle, Shape, Table, Text, picture

TOP, ROW, BAR = 30.0, 40.0, 8.0
LEAST = 0.05
"""[1] A smaller share is not drawn; the table has it."""
LEAST_SAID = 0.001
"""[1] A smaller share beside a bar is told as none."""
ROOM = 46.0
"""Kept free at the right for the number behind the longest bar."""


@dataclass(frozen=True)
class Share:
    """A cause in words, with its share [1] in the variance of the water and of the jet (``None``: there is no jet)."""

    words: str
    water: float
    jet: float | None


def causes_chart(shares: Sequence[Share], name: str = "causes") -> Chart:
    """Bars from zero to the whole, the cause with the largest share first.

    Parameters
    ----------
    shares
        All causes; those that hardly matter are left to the table.
    name
        Beginning of the ids in the page.
    """
    order = sorted(shares, key=lambda share: (-max(share.water, share.jet or 0.0), share.words))
    drawn = [share for share in order if max(share.water, share.jet or 0.0) >= LEAST]
    jets = any(share.jet is not None for share in drawn)
    largest = max((max(share.water, share.jet or 0.0) for share in drawn), default=1.0)
    shapes = key(jets)
    for index, share in enumerate(drawn):
        shapes += row(share, TOP + index * ROW, largest)
    if drawn:
        shapes.append(Line(((0.5, TOP), (0.5, TOP + len(drawn) * ROW - 4)), INK, 1))
    said = finding(order, jets)
    about = f"A bar for each cause, share of the variance. {said}"
    sheet = picture(WIDTH, TOP + len(drawn) * ROW + 2, shapes)
    return Chart(name, "What makes it unsure", about, said, sheet, table(order, jets))


def key(jets: bool) -> list[Shape]:
    """What the two kinds of bars mean, above them."""
    shapes: list[Shape] = [Rectangle(0, 5, 14, BAR, WATER), Text(20, TEXT_SIZE, "the year’s water", fill=QUIET)]
    if jets:
        shapes += [outlined(160, 5, 14), Text(180, TEXT_SIZE, "jet in the best month", fill=QUIET)]
    return shapes


def outlined(x: float, y: float, width: float) -> Rectangle:
    """A bar for the jet: told from the other by its outline, in grey too."""
    return Rectangle(x + 0.75, y + 0.75, max(width - 1.5, 0.5), BAR - 1.5, PAPER, stroke=WATER, stroke_width=1.5)


def row(share: Share, top: float, largest: float) -> list[Shape]:
    """A cause and its bars, the shares behind them."""
    shapes: list[Shape] = [Text(6, top + 13, share.words)]
    for place, value in enumerate((share.water, share.jet)):
        if value is None:
            continue
        y, wide = top + 17 + 9 * place, (WIDTH - ROOM) * value / largest
        if value >= LEAST:
            shapes.append(outlined(1, y, wide) if place else Rectangle(1, y, wide, BAR, WATER))
    both = [said_share(value) for value in (share.water, share.jet) if value is not None]
    shapes.append(Text(WIDTH, top + 13, " · ".join(both), anchor="end", fill=QUIET))
    return shapes


def finding(order: Sequence[Share], jets: bool) -> str:
    """Which cause leads, for the water and for the jet."""
    if not order or max(share.water for share in order) <= 0:
        return "Nothing plays, so there is nothing to be unsure of."
    first = max(order, key=lambda share: share.water)
    said = f"For the year’s water {first.words} counts most, with {formats.percent(first.water)} of the variance"
    if jets and max(share.jet or 0.0 for share in order) > 0:
        high = max(order, key=lambda share: share.jet or 0.0)
        also = "the same counts" if high is first else f"{high.words} counts"
        said += f"; for the jet {also} most, with {formats.percent(high.jet or 0.0)}"
    return f"{said}."


def table(order: Sequence[Share], jets: bool) -> Table:
    """The shares in numbers."""
    columns = [tuple(share.words for share in order), tuple(shown(share.water) for share in order)]
    head = ["Cause", "Water, % of variance"]
    if jets:
        columns.append(tuple(shown(share.jet or 0.0) for share in order))
        head.append("Jet, % of variance")
    return Table("Share of each cause", tuple(head), tuple(zip(*columns, strict=True)))


def said_share(share: float) -> str:
    """A share beside its bar; one that nobody could see is none.

    Examples
    --------
    >>> [said_share(share).replace(formats.SPACE, " ") for share in (0.547, 0.063, 0.0042, 0.0004)]
    ['55 %', '6 %', '0.4 %', '0 %']
    """
    return formats.percent(0.0 if share < LEAST_SAID else share, 2 if share >= 0.1 else 1)


def shown(share: float) -> str:
    """A share in percent, without its sign."""
    return f"{100 * share:.1f}"
