"""The small tables that a notebook shows: a title, a sentence, and rows of texts, safe to put into any page."""

from collections.abc import Sequence
from html import escape

from sizing.comparison.comparison import Comparison
from sizing.comparison.pairs import money_words
from sizing.foundation.aligned_numbers import column
from sizing.foundation.formats import SHORT_MONTHS, figures, length_unit, litres
from sizing.foundation.units import LITRE
from sizing.orientation.orientation import Orientation
from sizing.orientation.sentences import amount, direction
from sizing.report.answer import Answer

Column = tuple[str, Sequence[str]]


def html_table(title: str, sentence: str, columns: Sequence[Column]) -> str:
    """A title, a sentence and a table as HTML; whatever a design's texts hold, they stay texts.

    Examples
    --------
    >>> html_table("<b>", "", [("L", ["7.3"])])
    '<p><b>&lt;b&gt;</b></p><table><tr><th>L</th></tr><tr><td>7.3</td></tr></table>'
    """
    said = f"<b>{escape(title)}</b>" + (f"<br>{escape(sentence)}" if sentence else "")
    head = "".join(f"<th>{escape(name)}</th>" for name, _ in columns)
    rows = zip(*(texts for _, texts in columns), strict=True)
    body = "".join("<tr>" + "".join(f"<td>{escape(text)}</td>" for text in row) + "</tr>" for row in rows)
    return f"<p>{said}</p><table><tr>{head}</tr>{body}</table>"


def months_shown(found: Answer) -> list[Column]:
    """The twelve months in short: sun, hours, water with its likely range, flow, and the jet where there is one."""
    months = found.months
    columns: list[Column] = [
        ("", [SHORT_MONTHS[month.month - 1] for month in months]),
        ("sun, kWh/m² a day", column([month.poa_kwh_per_m2_day for month in months])),
        ("plays, h a day", column([month.running_h_per_day for month in months])),
        ("water, L a day", column([month.water_l_per_day for month in months])),
        ("likely from", column([month.water_low_l_per_day for month in months])),
        ("to", column([month.water_high_l_per_day for month in months])),
        ("flow, L/min", column([month.flow_l_per_min for month in months])),
    ]
    jets = [month.jet_height_m for month in months if month.jet_height_m is not None]
    if jets:
        unit, per_metre = length_unit(max(jets))
        columns.append((f"jet, {unit}", column([per_metre * jet for jet in jets])))
    return columns


def pairs_shown(found: Comparison) -> list[Column]:
    """The pairs by rank: water and hours of the year, price, and why a pair does not do what is wanted."""
    return [
        ("rank", [str(pair.rank) for pair in found.pairs]),
        ("panel", [pair.pair.panel for pair in found.pairs]),
        ("pump", [pair.pair.pump for pair in found.pairs]),
        ("connection", [pair.pair.connection for pair in found.pairs]),
        ("water a year", ["–" if pair.year is None else litres(pair.water / LITRE) for pair in found.pairs]),
        ("plays, h a year", ["–" if pair.year is None else figures(pair.running_hours) for pair in found.pairs]),
        ("price", ["–" if pair.price is None else money_words(pair.price) for pair in found.pairs]),
        ("why not", [pair.refused or pair.failure or pair.doubt for pair in found.pairs]),
    ]


def sides_shown(found: Orientation) -> list[Column]:
    """Today's direction, those beside it and the best: sun of the year and the value of each thing to want."""
    sides = found.sides
    columns: list[Column] = [
        ("", [side.name for side in sides]),
        ("direction", [direction(side.tilt, side.azimuth) for side in sides]),
        ("sun, kWh/m² a year", column([side.sun for side in sides])),
    ]
    for place, aim in enumerate(found.aims):
        columns.append((aim.words, [amount(side.values[place], aim.unit) for side in sides]))
    return columns
