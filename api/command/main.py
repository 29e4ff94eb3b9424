"""The command line: ``solar-fountain size DESIGN.json``, ``solar-fountain orient DESIGN.json``,
``solar-fountain compare DESIGN.json``, ``solar-fountain reach DESIGN.json``,
``solar-fountain report DESIGN.json``, ``solar-fountain class ...``,
``solar-fountain example``, ``solar-fountain schema`` and ``solar-fountain serve``.

Exit codes: 0 done, 2 something given cannot be used, 3 something went wrong here, 130 interrupted. Heavy
imports wait until they are needed, so that ``--help`` answers at once.
"""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

from api.command.class_command import add_class
from api.command.files import design_bytes
from api.command.starting_command import add_starting
from sizing.foundation import MODEL_VERSION

if TYPE_CHECKING:
    from pydantic import BaseModel

DONE, BAD_INPUT, INTERNAL, INTERRUPTED = 0, 2, 3, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    try:
        code = run(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        turn_off(sys.stdout)
        return DONE
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        if os.environ.get("SOLAR_FOUNTAIN_DEBUG") == "1":
            raise
        say(f"something went wrong here ({type(error).__name__}); set SOLAR_FOUNTAIN_DEBUG=1 to see where")
        turn_off(sys.stdout)
        return INTERNAL
    return code


def run(arguments: Sequence[str] | None) -> int:
    """Read the options and do what they ask."""
    try:
        options = parser().parse_args(arguments)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else BAD_INPUT
    chosen: int = options.run(options)
    return chosen


def parser() -> argparse.ArgumentParser:
    """All commands and options."""
    top = argparse.ArgumentParser(prog="solar-fountain", description="Sizes a garden fountain that runs straight off the sun.")
    top.add_argument("--version", action="version", version=f"solar-fountain {MODEL_VERSION}")
    commands = top.add_subparsers(title="commands", required=True, metavar="COMMAND")
    size = commands.add_parser("size", help="size one design", description="Size one design file and print what it will do.")
    size.add_argument("design", metavar="DESIGN", help="design file (JSON), or - for standard input")
    form = size.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the answer as JSON, the same as the HTTP interface gives")
    form.add_argument("--csv", action="store_true", help="print the months as a table for spreadsheets")
    size.add_argument("--month", metavar="N", help="month of the moment that is worked out, 1 to 12")
    size.add_argument("--hour", metavar="N", help="hour of that moment, 0 to 23")
    size.add_argument("--sky", metavar="SKY", help="sky of that moment: clear, usual or dull")
    size.add_argument("--irradiance", dest="irradiance_w_per_m2", metavar="W", help="or a strength of sun on the cells, in W/m2")
    size.set_defaults(run=size_design)
    orient = commands.add_parser(
        "orient", help="find the best direction", description="Size one design file in every direction and print which is best."
    )
    orient.add_argument("design", metavar="DESIGN", help="design file (JSON), or - for standard input")
    form = orient.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the answer as JSON, the same as the HTTP interface gives")
    form.add_argument("--csv", action="store_true", help="print every direction as a table for spreadsheets")
    orient.add_argument("--months", metavar="LIST", help="months that count, such as 4,5,6; those of the goal, else all")
    orient.add_argument("--from-hour", metavar="H", help="hour of the day from which it counts; that of the goal, else 8")
    orient.add_argument("--to-hour", metavar="H", help="hour of the day until which it counts; that of the goal, else 15")
    orient.set_defaults(run=orient_design)
    compare = commands.add_parser(
        "compare", help="compare pumps and panels", description="Size every pump with every panel of one design file, by rank."
    )
    compare.add_argument("design", metavar="DESIGN", help="design file (JSON), or - for standard input")
    form = compare.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the answer as JSON, the same as the HTTP interface gives")
    form.add_argument("--csv", action="store_true", help="print every pair as a table for spreadsheets")
    compare.add_argument("--both-connections", action="store_true", help="each pair directly and behind a controller")
    compare.set_defaults(run=compare_design)
    reach = commands.add_parser(
        "reach", help="find what would meet the goal", description="Search for the cheapest few changes that meet the goal."
    )
    reach.add_argument("design", metavar="DESIGN", help="design file (JSON) with a goal, or - for standard input")
    form = reach.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the answer as JSON, the same as the HTTP interface gives")
    form.add_argument("--csv", action="store_true", help="print the changes as a table for spreadsheets")
    reach.set_defaults(run=reach_goal)
    report = commands.add_parser(
        "report", help="write the page to print and sign", description="Size one design file and write the page to print."
    )
    report.add_argument("design", metavar="DESIGN", help="design file (JSON), or - for standard input")
    form = report.add_mutually_exclusive_group(required=True)
    form.add_argument("--html", metavar="FILE", help="file to write, or - for standard output")
    form.add_argument("--json", action="store_true", help="print what building it asks for, as the HTTP interface gives it")
    report.add_argument("--force", action="store_true", help="write over a file that is there already")
    report.set_defaults(run=report_design)
    add_class(commands, put_out)
    add_starting(commands, put_out)
    serve = commands.add_parser("serve", help="open the pages and the HTTP interface on this computer")
    serve.add_argument("--port", default="8000", metavar="N", help="port to listen at (8000); 0 takes a free one")
    serve.add_argument("--host", default="127.0.0.1", metavar="ADDRESS", help="address to listen at; 0.0.0.0 lets others in")
    serve.add_argument("--workers", default="1", metavar="N", help="processes that compute (1)")
    serve.add_argument("--open", action="store_true", help="open the first page in the browser")
    serve.set_defaults(run=serve_pages)
    return top


def size_design(options: argparse.Namespace) -> int:
    """Size one design file and print the answer."""
    return put_out(options, answer_of)


def orient_design(options: argparse.Namespace) -> int:
    """Search all directions for one design file and print which is best."""
    return put_out(options, directions_of)


def compare_design(options: argparse.Namespace) -> int:
    """Size every pump with every panel of one design file and print them by rank."""
    return put_out(options, pairs_of)


def reach_goal(options: argparse.Namespace) -> int:
    """Search for what would meet the goal of one design file and print it."""
    return put_out(options, offers_of)


def report_design(options: argparse.Namespace) -> int:
    """Size one design file and write the page to print."""
    from api.command.reports import report_of

    return put_out(options, report_of)


def put_out(options: argparse.Namespace, work: Callable[[argparse.Namespace], bytes]) -> int:
    """Print what some work gives, or one sentence for each thing that has to be changed."""
    from sizing.foundation import SizingError

    try:
        printed = work(options)
    except SizingError as error:
        for problem in error.problems:
            place = problem.pointer
            if place[0] == "?":
                place = "--" + place[1:].removesuffix("_w_per_m2").replace("_", "-")
            say(f"{place}: {' '.join(problem.detail.split())}")
        return BAD_INPUT
    try:
        sys.stdout.buffer.write(printed)
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        raise
    except OSError:
        say("the output could not be written; check that there is room where it goes")
        turn_off(sys.stdout)
        return INTERNAL
    return DONE


def answer_of(options: argparse.Namespace) -> bytes:
    """What one sizing prints, in the encoding of the output; JSON is always UTF-8."""
    from api.answers.asked import asked_when
    from sizing.design import parse_design

    content = design_bytes(options.design)
    named = ((name, getattr(options, name)) for name in ("month", "hour", "sky", "irradiance_w_per_m2"))
    given = [(name, text) for name, text in named if text is not None]
    when = asked_when(given)
    design = parse_design(content)
    from sizing.report import size, sizing_answer, what_ifs  # last: the whole model, which a wrong file need not wait for

    folder = Path() if options.design == "-" else Path(options.design).parent
    report = size(design, folder, when)
    found = sizing_answer(report)
    if options.json:
        return json_line(found)
    from api.command.printed import report_text
    from api.command.printed_sure import change_blocks, obstacle_blocks, sure_blocks
    from web.exports import months_csv

    if options.csv:
        return months_csv(found).encode()
    encoding = sys.stdout.encoding or "utf-8"
    more = [*obstacle_blocks(found), *sure_blocks(found), *change_blocks(what_ifs(report), found)]
    return report_text(found, encoding, more).encode(encoding)


def json_line(answer: "BaseModel") -> bytes:
    """An answer as the HTTP interface writes it, with the end of a line."""
    from sizing.answers import written

    return written(answer) + b"\n"


def directions_of(options: argparse.Namespace) -> bytes:
    """What a search over all directions prints, in the encoding of the output; JSON is always UTF-8."""
    from api.answers.orientations import asked_wanted
    from api.command.printed_orientation import orientation_text
    from sizing.design import parse_design
    from sizing.orientation import orient, orientation_answer
    from web.exports import orientation_csv

    given = [(name, getattr(options, name)) for name in ("months", "from_hour", "to_hour")]
    wanted = asked_wanted((name, text) for name, text in given if text is not None)
    folder = Path() if options.design == "-" else Path(options.design).parent
    found = orient(parse_design(design_bytes(options.design)), folder, wanted)
    if options.json:
        return json_line(orientation_answer(found))
    if options.csv:
        return orientation_csv(orientation_answer(found)).encode()
    encoding = sys.stdout.encoding or "utf-8"
    return orientation_text(found, encoding).encode(encoding)


def pairs_of(options: argparse.Namespace) -> bytes:
    """What a comparison prints, in the encoding of the output; JSON is always UTF-8."""
    from sizing.design import parse_design

    design = parse_design(design_bytes(options.design))
    from api.command.printed_comparison import comparison_text
    from sizing.comparison import compare, comparison_answer
    from web.exports import pairs_csv

    folder = Path() if options.design == "-" else Path(options.design).parent
    found = compare(design, folder, both_connections=options.both_connections)
    if options.json:
        return json_line(comparison_answer(found))
    if options.csv:
        return pairs_csv(comparison_answer(found)).encode()
    encoding = sys.stdout.encoding or "utf-8"
    return comparison_text(found, encoding).encode(encoding)


def offers_of(options: argparse.Namespace) -> bytes:
    """What a search for changes prints, in the encoding of the output; JSON is always UTF-8."""
    from sizing.design import parse_design

    design = parse_design(design_bytes(options.design))
    from api.command.printed_reach import reach_text
    from sizing.reach import reach, reach_answer
    from web.exports import offers_csv

    found = reach(design, Path() if options.design == "-" else Path(options.design).parent)
    if options.json:
        return json_line(reach_answer(found))
    if options.csv:
        return offers_csv(reach_answer(found)).encode()
    encoding = sys.stdout.encoding or "utf-8"
    return reach_text(found, encoding).encode(encoding)


def serve_pages(options: argparse.Namespace) -> int:
    """Answer on a port of this computer until stopped."""
    from api.http.serving import ServingError, serve

    try:
        serve(options.host, options.port, options.workers, options.open)
    except ServingError as error:
        say(str(error))
        return BAD_INPUT
    return DONE


def say(sentence: str) -> None:
    """One line on the error output, with plain letters where it cannot show others."""
    from api.command.printed import shown

    print(shown(sentence, sys.stderr.encoding or "utf-8"), file=sys.stderr, flush=True)


def turn_off(stream: TextIO | Any) -> None:
    """Send what is left of an output nowhere, so that leaving does not complain about it."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
    except (OSError, ValueError):
        return


if __name__ == "__main__":
    sys.exit(main())
