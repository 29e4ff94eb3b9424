"""What programs ask about measurements with: a design, a log as CSV text, and what the readings are good for.

These models are read like a design file: unknown fields are errors, and each wrong value has one sentence.
"""

import datetime
from typing import Any

from pydantic import Field, model_validator

from sizing.design.design import Design
from sizing.design.fields import Strict, number, part, text
from sizing.design.kept_measurements import day_exists
from sizing.design.site import DATE_PATTERN, clash
from sizing.fountain.components import fountain_of
from sizing.measured.bench.bench import Bench, bench_of
from sizing.measured.bench.settings import hose_of
from sizing.measured.logs.instruments import Instruments
from sizing.measured.logs.logs import read_bench
from sizing.measured.logs.rows import LARGEST

USUAL_NAME = "Measured pump"
USUAL_WATER, USUAL_VOLTAGE = 15.0, 12.0
"""[Cel, V] Of a bench test without a design."""
NAMED_DAY = "write it like 2026-05-31"


def logged() -> Any:
    """A field that holds a log as the text of a CSV."""
    extra: Any = {"label": "log", "unit": "", "advice": "send the CSV itself, its first row naming the columns"}
    return Field(
        min_length=1,
        max_length=LARGEST,
        description="A log: CSV with its first row naming the columns, at most 10,000 rows.",
        json_schema_extra=extra,
    )


def instrument(label: str, unit: str, most: float, advice: str, example: float) -> Any:
    """A field for what one kind of reading is good for; the usual one is taken where it is left out."""
    return number(label, unit, 0, most, advice, example, None)


class InstrumentsInput(Strict):
    """Standard uncertainties of the instruments; what is left out is as usual in schools."""

    volume_calibration_pct: float | None = instrument("mark of the bucket", "%", 50, "2 for a household bucket", 2)
    volume_reading_l: float | None = instrument("reading of the volume", "L", 100, "0.1 for a mark on a bucket", 0.1)
    time_reading_s: float | None = instrument("stopwatch", "s", 60, "0.3 with a thumb on it", 0.3)
    head_reading_m: float | None = instrument("tape", "m", 1, "0.01 for a tape measure", 0.01)
    voltage_share_pct: float | None = instrument("share of the voltmeter", "%", 20, "0.5 for a usual one", 0.5)
    voltage_digit_v: float | None = instrument("last digit of the voltmeter", "V", 5, "0.01 for a usual one", 0.01)
    current_share_pct: float | None = instrument("share of the ammeter", "%", 20, "1 for a usual one", 1)
    current_digit_a: float | None = instrument("last digit of the ammeter", "A", 5, "0.01 for a usual one", 0.01)
    sun_height_reading_deg: float | None = instrument("height of the sun", "deg", 45, "1 for a plumb line on a protractor", 1)
    stick_reading_m: float | None = instrument("stick and shadow", "m", 1, "0.01 for a tape measure", 0.01)


FACTORS = {"_pct": 0.01, "_l": 1e-3, "_s": 1.0, "_m": 1.0, "_v": 1.0, "_a": 1.0, "_deg": 1.0}
"""What the ends of the names mean: SI is the value times this."""


def instruments_of(given: InstrumentsInput | None) -> Instruments:
    """The instruments in SI; the usual ones where nothing was said.

    Examples
    --------
    >>> instruments_of(InstrumentsInput(volume_calibration_pct=0.5)).volume_calibration
    0.005
    """
    said = {} if given is None else given.model_dump(exclude_none=True)
    found = {}
    for name, value in said.items():
        end = name[name.rindex("_") :]
        found[name.removesuffix(end)] = value * FACTORS[end]
    return Instruments(**found)


class BenchBoxes(Strict):
    """What is asked beside the log of a bench test."""

    rated_voltage_v: float | None = number(
        "rated voltage", "V", 1, 120, "read it from the pump's label, or give a design", 12, None
    )
    hose_length_m: float | None = number("length of the bench's hose", "m", 0, 20, "from the pump to its end", 1.5, None)
    hose_diameter_mm: float | None = number("inside diameter of the bench's hose", "mm", 2, 100, "measure the bore", 13, None)
    date: str | None = text("day of the bench test", 10, None, DATE_PATTERN, NAMED_DAY)

    @model_validator(mode="after")
    def whole_hose_and_day(self) -> "BenchBoxes":
        if self.date is not None:
            day_exists(self.date, "day of the bench test", "date")
        if (self.hose_length_m is None) != (self.hose_diameter_mm is None):
            lacking = "hose_length_m" if self.hose_length_m is None else "hose_diameter_mm"
            raise clash("missing", lacking, "the bench's hose has one number; give its length and its inside diameter")
        return self


def bench_asked(asked: BenchBoxes, log: bytes, design: Design | None, instruments: Instruments, name: str | None = None) -> Bench:
    """A bench test: with a design, its chosen pump is the label and its outlet the lift.

    Parameters
    ----------
    log : a CSV
    name : of the pump; that of the design's where it is left out

    Raises
    ------
    InputError
        if the log is none, or gives no pump.
    """
    fountain = None if design is None else fountain_of(design)
    water = USUAL_WATER if design is None else design.water_temperature_c
    hose = None
    if asked.hose_length_m is not None and asked.hose_diameter_mm is not None:
        hose = hose_of(asked.hose_length_m, asked.hose_diameter_mm / 1000, water)
    return bench_of(
        read_bench(log),
        asked.rated_voltage_v or (fountain.pump.rated_voltage if fountain else USUAL_VOLTAGE),
        instruments,
        fountain.pump if fountain else None,
        fountain.pump_input if fountain else None,
        name or (fountain.pump_input.name if fountain else USUAL_NAME),
        water,
        fountain.waterway.outlet.height if fountain else None,
        hose,
        asked.date,
    )


class BenchRequest(BenchBoxes):
    """A bench test: with a design, its chosen pump is what the readings are held against."""

    design: Design | None = part("design", "its chosen pump is compared with the readings", None)
    log: str = logged()
    name: str = text("pump name", 80, USUAL_NAME)
    instruments: InstrumentsInput | None = part("instruments", "what the readings are good for", None)

    @model_validator(mode="after")
    def volts_are_known(self) -> "BenchRequest":
        if self.rated_voltage_v is None and self.design is None:
            raise clash("missing", "rated_voltage_v", "rated voltage is missing; add it, between 1 and 120 V, or give a design")
        return self


class LogRequest(Strict):
    """A log that was taken at a design's place: directions and tilts, a panel check, or a filled sheet."""

    design: Design = part("design", "whose place, panel and pump the readings are of")
    log: str = logged()
    instruments: InstrumentsInput | None = part("instruments", "what the readings are good for", None)


class SheetRequest(Strict):
    """A day to predict."""

    design: Design = part("design", "whose day is predicted")
    day: str = text("day of the sheet", 10, pattern=DATE_PATTERN, advice=NAMED_DAY)
    from_hour: float = number("first hour of the sheet", "h", 0, 24, "9.5 is half past nine", 9, 9.0)
    to_hour: float = number("last hour of the sheet", "h", 0, 24, "9.5 is half past nine", 16, 16.0)

    @model_validator(mode="after")
    def in_the_calendar(self) -> "SheetRequest":
        day_exists(self.day, "day of the sheet", "day")
        return self


class FirstDayRequest(Strict):
    """A clear day on which the finished fountain is looked at."""

    design: Design = part("design", "the finished fountain; its measurements are judged")
    day: str = text("first clear day", 10, pattern=DATE_PATTERN, advice=NAMED_DAY)

    @model_validator(mode="after")
    def in_the_calendar(self) -> "FirstDayRequest":
        day_exists(self.day, "first clear day", "day")
        return self


def day_of(request: SheetRequest | FirstDayRequest) -> datetime.date:
    """The day that was asked about."""
    return datetime.date.fromisoformat(request.day)
