"""The commands of what a class measured: ``solar-fountain class ...``, each over a log or a day."""

import argparse
import json
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

from api.command.class_options import HOSE, clear_day, day_of, forms, hour_of, instruments, number_of, of_log, said_of_instruments
from api.command.files import log_bytes
from sizing.foundation import input_error

if TYPE_CHECKING:
    from sizing.answers import Exact

AnyAnswer = TypeVar("AnyAnswer", bound="Exact")
OUT = Callable[[argparse.Namespace, Callable[[argparse.Namespace], bytes]], int]


def add_class(commands: Any, put_out: OUT) -> None:
    """Put the commands below ``class``.

    Parameters
    ----------
    commands : subparsers of the whole command
    put_out : prints what a command gives, or one sentence for each thing that has to be changed
    """
    told = "What a class measured: bench tests, directions, panels, predicted days."
    below = commands.add_parser("class", help="work with what a class measured", description=told).add_subparsers(
        title="parts", required=True, metavar="PART"
    )

    def part(name: str, words: str, work: Callable[[argparse.Namespace], bytes]) -> argparse.ArgumentParser:
        parser: argparse.ArgumentParser = below.add_parser(name, help=words, description=f"{words[0].upper()}{words[1:]}.")
        parser.set_defaults(run=lambda options: put_out(options, work))
        return parser

    blank = part("blank", "print a table to fill in", blank_table)
    blank.add_argument("table", choices=("bench", "directions", "panel"), help="which table")
    bench = part("bench", "find the pump that follows from a bench test", bench_test)
    of_log(bench, needs_design=False)
    bench.add_argument(
        "--rated-volts", metavar="V", help="volts at which the pump's points are given; the design's pump by default"
    )
    bench.add_argument("--hose", nargs=2, metavar=("M", "MM"), help="length and inside diameter of the bench's own hose")
    bench.add_argument("--day", metavar="DAY", help="day of the test, like 2026-05-31")
    bench.add_argument("--into", metavar="FILE", help="write the design with this pump in place of its chosen one")
    bench.add_argument("--force", action="store_true", help="write over a file that is there already")
    directions = part("directions", "say what turning and tilting the panel did", turned_panel)
    of_log(directions, needs_design=True)
    panel = part("panel", "hold a panel against its label", panel_check)
    of_log(panel, needs_design=True)
    sheet = part("sheet", "predict a clear day, half hour by half hour, with room for what is measured", sheet_of_day)
    sheet.add_argument("design", metavar="DESIGN", help="design file (JSON)")
    sheet.add_argument("--day", required=True, metavar="DAY", help="day, like 2026-05-31")
    sheet.add_argument("--from-hour", default="9", metavar="H", help="first hour by the clock (9)")
    sheet.add_argument("--to-hour", default="16", metavar="H", help="last hour by the clock (16)")
    forms(sheet)
    filled = part("filled", "hold a sheet that was filled in against its prediction", filled_sheet)
    of_log(filled, needs_design=True)
    first = part("first-day", "say what to measure at the finished fountain, and judge the looks so far", first_day)
    first.add_argument("design", metavar="DESIGN", help="design file (JSON)")
    first.add_argument("--day", required=True, metavar="DAY", help="first clear day, like 2026-05-31")
    forms(first, table=False)


def blank_table(options: argparse.Namespace) -> bytes:
    """A table to fill in."""
    from sizing.measured.logs import blanks

    return blanks()[options.table].encode()


def bench_test(options: argparse.Namespace) -> bytes:
    """The pump that follows from a bench test."""
    from api.answers.measurements import bench_found
    from api.command.files import design_bytes
    from api.command.printed_bench import bench_text
    from sizing.design import parse_json, read_as, read_design
    from sizing.foundation import text_of
    from sizing.measured import BenchRequest
    from sizing.measured.logs import LARGEST
    from web.exports import curve_csv

    if options.into and not options.design:
        raise input_error("--into", "missing", "a pump is put into a design; name the design file with --design")
    if options.rated_volts is None and options.design is None:
        raise input_error("--rated-volts", "missing", "the volts of the pump's points are missing; write them, or name a design")
    data = None if options.design is None else parse_json(design_bytes(options.design))
    design = None if data is None else read_design(data)
    asked: dict[str, object] = {"log": text_of(log_bytes(options.log), "bench log", "log", LARGEST, "keep fewer rows")}
    asked |= {} if data is None else {"design": data}
    asked |= {} if options.day is None else {"date": day_of(options.day).isoformat()}
    given = {"rated_voltage_v": options.rated_volts, **dict(zip(HOSE, options.hose or (), strict=False))}
    asked |= {name: number_of(text, name) for name, text in given.items() if text is not None}
    asked |= {"instruments": said_of_instruments(options)}
    found = bench_found(read_as(BenchRequest, asked), None)
    if design is not None and options.into:
        from api.command.files import refuse_file, write
        from sizing.measured.bench import design_with_pump

        refuse_file(options.into, options.design, options.force, "--into")
        write(options.into, written(design_with_pump(design, found.pump)), options.force, "--into")
    return told(options, found, bench_text, curve_csv)


def written(design: Any) -> bytes:
    """A design as a file to keep."""
    given = design.model_dump(mode="json", exclude_unset=True)
    return json.dumps(given, indent=2, ensure_ascii=False, allow_nan=False).encode() + b"\n"


def turned_panel(options: argparse.Namespace) -> bytes:
    """What a log of directions and tilts tells."""
    from api.command.printed_class import turned_text
    from sizing.measured.day import declination_on
    from sizing.measured.logs import read_turns
    from sizing.measured.trials import trial_of, turned_answer
    from web.exports import turned_csv

    there = clear_day(options.design)
    log = read_turns(log_bytes(options.log), lambda day: declination_on(there, day))
    return told(options, turned_answer(trial_of(log, there, instruments(options))), turned_text, turned_csv)


def panel_check(options: argparse.Namespace) -> bytes:
    """What a panel check tells."""
    from api.command.printed_panel import panel_text
    from sizing.measured.logs import read_panel
    from sizing.measured.panel_check import panel_check_answer, panel_check_of
    from web.exports import panel_csv

    found = panel_check_of(read_panel(log_bytes(options.log)), clear_day(options.design), instruments(options))
    return told(options, panel_check_answer(found), panel_text, panel_csv)


def sheet_of_day(options: argparse.Namespace) -> bytes:
    """A predicted day."""
    from api.command.printed_class import sheet_text
    from sizing.measured.day import sheet_answer, sheet_of
    from web.exports import sheet_csv

    hours = [hour_of(getattr(options, name), name) for name in ("from_hour", "to_hour")]
    sheet = sheet_of(clear_day(options.design), day_of(options.day), *hours)
    return told(options, sheet_answer(sheet), sheet_text, sheet_csv)


def filled_sheet(options: argparse.Namespace) -> bytes:
    """A filled sheet beside its prediction."""
    from api.command.printed_class import filled_text
    from sizing.measured.day import compared, compared_answer
    from sizing.measured.logs import read_sheet
    from web.exports import filled_csv

    log = read_sheet(log_bytes(options.log))
    found = compared(clear_day(options.design), log, instruments(options))
    return told(options, compared_answer(found), filled_text, filled_csv)


def first_day(options: argparse.Namespace) -> bytes:
    """What to measure on a first clear day."""
    from api.command.printed_class import first_day_text
    from sizing.measured.day import first_day_answer, kept_looks, wanted_on

    there = clear_day(options.design)
    kept = kept_looks(there)
    return told(options, first_day_answer(wanted_on(there, day_of(options.day)), kept), first_day_text, None)


def told(
    options: argparse.Namespace,
    answer: AnyAnswer,
    text: Callable[[AnyAnswer, str], str],
    table: Callable[[AnyAnswer], str] | None,
) -> bytes:
    """An answer in the form that was asked for."""
    from sizing.answers import written

    if options.json:
        return written(answer) + b"\n"
    if table is not None and options.csv:
        return table(answer).encode()
    encoding = sys.stdout.encoding or "utf-8"
    return text(answer, encoding).encode(encoding)
