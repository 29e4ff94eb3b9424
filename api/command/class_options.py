"""Options that commands over a class's logs have in common, and how their texts are read."""

import argparse
import datetime
from dataclasses import replace
from pathlib import Path
from typing import Any

from sizing.foundation import input_error

USUAL_INSTRUMENTS = (
    "volume_calibration_pct 2, volume_reading_l 0.1, time_reading_s 0.3, head_reading_m 0.01, voltage_share_pct 0.5, "
    "voltage_digit_v 0.01, current_share_pct 1, current_digit_a 0.01, sun_height_reading_deg 1, stick_reading_m 0.01"
)
"""Written out, since reading the models for it would take as long as the whole rest of the start."""
HOSE = ("hose_length_m", "hose_diameter_mm")
OPTIONS = {"rated_voltage_v": "--rated-volts", **dict.fromkeys(HOSE, "--hose")}
"""Which option a number comes from."""


def forms(parser: argparse.ArgumentParser, table: bool = True) -> None:
    """How the answer may be printed."""
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the answer as JSON, the same as the HTTP interface gives")
    if table:
        form.add_argument("--csv", action="store_true", help="print a table for spreadsheets")


def of_log(parser: argparse.ArgumentParser, needs_design: bool) -> None:
    """A log, and the design that it belongs to."""
    parser.add_argument("log", metavar="LOG", help="log (CSV), or - for standard input")
    parser.add_argument("--design", required=needs_design, metavar="DESIGN", help="design file (JSON)")
    parser.add_argument(
        "--instrument",
        nargs=2,
        action="append",
        default=[],
        metavar=("NAME", "VALUE"),
        help=f"what an instrument is good for, one standard uncertainty, as often as needed; usual are {USUAL_INSTRUMENTS}",
    )
    forms(parser)


def said_of_instruments(options: argparse.Namespace) -> dict[str, object]:
    """What the options say of instruments, by the names of the HTTP interface."""
    from sizing.design import read_as
    from sizing.foundation import InputError
    from sizing.measured import InstrumentsInput

    said: dict[str, object] = {}
    for name, text in options.instrument:
        if name not in InstrumentsInput.model_fields:
            detail = f"“{name[:40]}” is not known; choose one of {', '.join(InstrumentsInput.model_fields)}"
            raise input_error("--instrument", "unknown_name", detail)
        said[name] = number_of(text, name)
    try:
        read_as(InstrumentsInput, said)
    except InputError as error:
        raise InputError(*(replace(problem, pointer="--instrument") for problem in error.problems)) from None
    return said


def instruments(options: argparse.Namespace) -> Any:
    """The instruments of the options, in SI."""
    from sizing.measured import InstrumentsInput, instruments_of

    return instruments_of(InstrumentsInput.model_validate(said_of_instruments(options)))


def number_of(text: str, name: str) -> float:
    """The number of an option."""
    try:
        return float(text)
    except ValueError:
        option = OPTIONS.get(name, "--instrument")
        raise input_error(option, "not_a_number", f"“{text[:20]}” is no number; write it like 12 or 1.5") from None


def clear_day(name: str) -> Any:
    """The design of a file, ready for real days."""
    from api.command.files import design_bytes
    from sizing.design import parse_design
    from sizing.measured.day import clear_day_of

    return clear_day_of(parse_design(design_bytes(name)), Path() if name == "-" else Path(name).parent)


def day_of(text: str) -> datetime.date:
    """The day of an option."""
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise input_error("--day", "not_a_text", f"“{text[:20]}” is no day of a calendar; write it like 2026-05-31") from None


def hour_of(text: str, name: str) -> float:
    """The hour of an option: 9.5 or 9:30."""
    hours, _, minutes = text.partition(":")
    try:
        value = float(hours) + (float(minutes) / 60 if minutes else 0.0)
    except ValueError:
        value = -1.0
    if not 0 <= value <= 24:
        option = "--" + name.replace("_", "-")
        raise input_error(option, "out_of_range", f"“{text[:20]}” is no hour between 0 and 24; write it like 9.5 or 9:30")
    return value
