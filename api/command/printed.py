"""The answer as plain text for a terminal, at most 80 columns wide.

First the report is put together from sentences and tables, then both are laid out in the characters that
the terminal can show: one that cannot show degrees or superscripts gets plain letters. Numbers come from
``sizing.foundation.formats``.
"""

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sizing.foundation import (
    MONTHS,
    NARROW_SPACE,
    SHORT_MONTHS,
    SPACE,
    clock,
    column,
    figures,
    length,
    length_unit,
    litres,
    percent,
    quantity,
)

if TYPE_CHECKING:  # an error is told with ``shown``, and must not wait for the whole model
    from sizing.answers import PlaceAnswer
    from sizing.report import Answer, MonthAnswer, StationAnswer, YearAnswer

WIDTH = 80
SPELLED = {"°C": "deg C", "°": " deg", "²": "2", "³": "3", "−": "-", "×": "x", "·": ".", "Ω": "ohm", "⁻": "-"}
SPELLED |= {"’": "'", "“": '"', "”": '"'}
CAUTION = (
    "These numbers help you plan; they permit nothing. Water can drown a small child in minutes and electricity near water can "
    "kill. Your local code decides what may be built, and licensed people decide what is safe: ask them before anything is dug, "
    "wired or switched on."
)


@dataclass(frozen=True)
class Sentence:
    """A text to be wrapped; ``mark`` stands before its first line."""

    text: str
    mark: str = ""


@dataclass(frozen=True)
class Table:
    """Columns under two head lines, quantity and unit; a column without a unit holds words."""

    heads: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, ...], ...]


Block = Sequence[Sentence | Table]


def shown(text: str, encoding: str = "utf-8") -> str:
    """A text in characters that the encoding has, without any that move the cursor or turn the writing round.

    Examples
    --------
    >>> shown("12\\u00a0V at 40 °C\\x1b[2J"), shown("12 V at 40 °C, 47.4° N, λ", "ascii")
    ('12 V at 40 °C?[2J', '12 V at 40 deg C, 47.4 deg N, ?')
    """
    plain = text.replace(SPACE, " ").replace(NARROW_SPACE, " ")
    plain = "".join(letter if letter.isprintable() else "?" for letter in plain)
    try:
        plain.encode(encoding)
    except UnicodeEncodeError:
        for sign, letters in SPELLED.items():
            plain = plain.replace(sign, letters)
    return plain.encode(encoding, "replace").decode(encoding)


def wrapped(sentence: Sentence, encoding: str) -> list[str]:
    """A sentence in lines; a number stays with its unit."""
    words = (shown(word, encoding).replace(" ", SPACE) for word in sentence.text.split(" "))
    indent = " " * len(sentence.mark)
    lines = textwrap.wrap(" ".join(words), WIDTH, initial_indent=sentence.mark, subsequent_indent=indent, break_on_hyphens=False)
    return [line.replace(SPACE, " ") for line in lines]


def columns(table: Table, encoding: str) -> list[str]:
    """A table in lines: numbers to the right, words to the left."""
    heads, units = zip(*table.heads, strict=True)
    lines = [[shown(text, encoding) for text in line] for line in (heads, units, *table.rows)]
    widths = [max(len(line[place]) for line in lines) for place in range(len(heads))]

    def put(place: int, text: str) -> str:
        return text.ljust(widths[place]) if units[place] == "" else text.rjust(widths[place])

    texts = ("  ".join(put(place, text) for place, text in enumerate(line)).rstrip() for line in lines)
    return [text for text in texts if text]


def report_text(found: "Answer", encoding: str = "utf-8", after_months: Sequence[Block] = ()) -> str:
    """The whole answer of a sizing for people.

    Parameters
    ----------
    encoding : of the terminal
    after_months : further paragraphs, such as how sure it is and what changes would do
    """
    verdict, heights = found.verdict, "" if found.jets is None else found.jets.sentence
    paragraphs: list[Block] = [
        heading(found.title, found.place, found.sky.title),
        [Sentence(text) for text in (verdict.headline, verdict.dry, verdict.limit, verdict.borne, heights) if text],
        [] if found.goal is None else [Sentence(found.goal.sentence)],
        listed("Warnings", [note.detail for note in found.warnings]),
        *month_blocks(found),
        *after_months,
        *point_blocks(found),
        *moment_blocks(found),
        listed("Ask before you buy", [each.sentence for each in found.questions]),
        listed("Assumptions", [note.detail for note in found.assumptions]),
        [Sentence(CAUTION)],
    ]
    texts = ("\n".join(laid_out(paragraph, encoding)) for paragraph in paragraphs if paragraph)
    return "\n\n".join(texts) + "\n"


def laid_out(blocks: Block, encoding: str) -> list[str]:
    """Sentences and tables as lines."""
    return [
        line for block in blocks for line in (columns(block, encoding) if isinstance(block, Table) else wrapped(block, encoding))
    ]


def heading(title: str, place: "PlaceAnswer", sky: str) -> Block:
    """Title, place and sky."""
    north = f"{figures(abs(place.latitude_deg), 4)}°{SPACE}{'N' if place.latitude_deg >= 0 else 'S'}"
    east = f"{figures(abs(place.longitude_deg), 4)}°{SPACE}{'E' if place.longitude_deg >= 0 else 'W'}"
    where = ", ".join(text for text in (place.name, north, east, quantity(place.elevation_m, "m", 4)) if text)
    return [Sentence(title or "A garden fountain"), Sentence(f"{where}. {sky}.")]


def listed(title: str, sentences: Sequence[str]) -> Block:
    """Sentences in a list under a title; nothing where there are none."""
    return [Sentence(title), *(Sentence(sentence, "- ") for sentence in sentences)] if sentences else []


def with_jet(heights: Sequence[float | None]) -> tuple[tuple[tuple[str, str], ...], list[tuple[str, ...]]]:
    """Head and texts of the jet heights, one tuple for each row; empty for a spillway, which has no jet."""
    jets = [height for height in heights if height is not None]
    if len(jets) < len(heights):
        return (), [()] * len(heights)
    unit, per_metre = length_unit(max(jets))
    texts = column([per_metre * height for height in jets], 2 if unit == "cm" else 3)
    return (("jet", unit),), [(text,) for text in texts]


def month_blocks(found: "Answer") -> list[Block]:
    """The months: sun, hours, water with its likely range, flow and jet of the usual day, dry days."""
    months = found.months
    jet_head, jets = with_jet([month.jet_height_m for month in months])
    heads = (("", ""), ("sun", "kWh/m²"), ("plays", "h"), ("water", "L"), ("from", "L"), ("to", "L"), ("flow", "L/min"))
    numbers = (
        column([month.poa_kwh_per_m2_day for month in months]),
        column([month.running_h_per_day for month in months]),
        column([month.water_l_per_day for month in months]),
        column([month.water_low_l_per_day for month in months]),
        column([month.water_high_l_per_day for month in months]),
        column([month.flow_l_per_min for month in months]),
    )
    rows = [
        (SHORT_MONTHS[month.month - 1], *texts, *jet, *hours_of(month), str(month.dry_days))
        for month, jet, *texts in zip(months, jets, *numbers, strict=True)
    ]
    about = (
        "Month by month. Sun, hours and water are those of a mean day, water with its likely range; "
        f"flow, jet and hours are those of the usual day, in {found.sky.hour_basis}."
    )
    ends = (("starts", "at"), ("stops", "at"), ("dry", "days"))
    return [[Sentence(about)], [Table((*heads, *jet_head, *ends), tuple(rows))], [Sentence(year_sentence(found.year))]]


def hours_of(month: "MonthAnswer") -> Iterable[str]:
    """When it starts and stops on the usual day."""
    return ("-" if hour is None else clock(hour, 5) for hour in (month.first_hour, month.last_hour))


def year_sentence(year: "YearAnswer") -> str:
    """The sums of the year."""
    water, low, high = (
        quantity(litre / 1000, "m3") if year.water_l >= 10000 else litres(litre)
        for litre in (year.water_l, year.water_low_l, year.water_high_l)
    )
    hours, sun = quantity(year.running_h, "h"), quantity(year.poa_kwh_per_m2, "kW.h/m2")
    return f"The year: {water} of water ({low} to {high}), {hours} of play, {sun} of sun on the panel."


def point_blocks(found: "Answer") -> list[Block]:
    """Panel, pump and pipe together at ten strengths of sun."""
    from sizing.operation import STATE_WORDS, State  # waits, as it loads the computing

    points = found.operating_points
    jet_head, jets = with_jet([point.jet_height_m for point in points])
    heads = (
        ("sun", "W/m²"),
        ("cells", "°C"),
        ("motor", "V"),
        ("motor", "A"),
        ("speed", "ratio"),
        ("flow", "L/min"),
        ("head", "m"),
    )
    speeds = column([point.speed_ratio or 0.0 for point in points], 3)
    numbers = (
        column([point.irradiance_w_per_m2 for point in points], 4),
        column([point.cell_temperature_c for point in points], 2),
        column([point.voltage_v for point in points], 3),
        column([point.current_a for point in points], 3),
        tuple("-" if point.speed_ratio is None else text for point, text in zip(points, speeds, strict=True)),
        column([point.flow_l_per_min for point in points], 3),
        column([point.head_m for point in points], 3),
    )
    rows = [
        (*texts, *jet, STATE_WORDS[State[point.state.upper()]]) for point, jet, *texts in zip(points, jets, *numbers, strict=True)
    ]
    return [[Sentence("Operating points")], [Table((*heads, *jet_head, ("state", "")), tuple(rows))]]


def moment_blocks(found: "Answer") -> list[Block]:
    """One moment, station by station."""
    moment = found.moment
    when = "at this strength of sun"
    if moment.month is not None and moment.time_h is not None:
        when = f"{clock(moment.time_h)} on a {moment.sky} day in {MONTHS[moment.month - 1]}"
    rows = tuple(
        (station.name, (station.working_id or "").replace("_", " "), station_value(station)) for station in moment.stations
    )
    heads = (("station", ""), ("quantity", ""), ("value", ""))
    return [[Sentence(f"One moment, {when}; the fountain: {moment.reason}.")], [Table(heads, rows)]]


def station_value(station: "StationAnswer") -> str:
    """The number of a station with a unit that people use."""
    if station.unit == "m":
        return length(station.value)
    if station.unit == "1" and str(station.working_id).endswith("share"):
        return percent(station.value)
    return quantity(station.value, station.unit)
