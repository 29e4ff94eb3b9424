"""What the class measured as bytes: the same for the HTTP interface and for the command line."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel

from api.edge.problems import QUERY
from sizing.answers import Exact, written
from sizing.design import LARGEST_FILE, parse_json, read_as
from sizing.foundation import InputError, Problem, SizingError
from sizing.measured import BenchRequest, FirstDayRequest, LogRequest, SheetRequest, bench_asked, day_of, instruments_of
from sizing.measured.bench import BenchAnswer, bench_answer
from sizing.measured.day import (
    FilledSheetAnswer,
    FirstDayAnswer,
    SheetAnswer,
    clear_day_of,
    compared,
    compared_answer,
    declination_on,
    first_day_answer,
    kept_looks,
    sheet_answer,
    sheet_of,
    wanted_on,
)
from sizing.measured.logs import LARGEST, read_panel, read_sheet, read_turns
from sizing.measured.panel_check import PanelCheckAnswer, panel_check_answer, panel_check_of
from sizing.measured.trials import TurnedAnswer, trial_of, turned_answer

LARGEST_REQUEST = LARGEST + LARGEST // 10 + LARGEST_FILE
"""[byte] A log and a design in one document, where each end of a line is two characters."""

Asked = TypeVar("Asked", bound=BaseModel)
Work = Callable[[Any, Path | None], Exact]


def parsed(content: bytes, model: type[Asked]) -> Asked:
    """Read the bytes of a request.

    Raises
    ------
    InputError
        if it is too large, not UTF-8, not JSON, or any value is wrong.
    """
    return read_as(model, parse_json(content, LARGEST_REQUEST))


def answered(content: bytes, model: type[BaseModel], work: Work) -> bytes:
    """Read a request, do its work and write the answer; weather files are refused.

    Raises
    ------
    SizingError
        with one sentence per cause, each pointing into the request
    """
    asked = parsed(content, model)
    try:
        found = work(asked, None)
    except SizingError as error:
        raise InputError(*(in_request(problem) for problem in error.problems)) from None
    return written(found)


def in_request(problem: Problem) -> Problem:
    """A problem of a design, a log or a day, pointing into the request that holds them.

    Examples
    --------
    >>> [in_request(Problem(at, "x", "y")).pointer for at in ("#/pumps/0", "log", "?to_hour")]
    ['#/design/pumps/0', '#/log', '#/to_hour']
    """
    at = problem.pointer
    pointer = f"#/design{at[1:]}" if at.startswith("#") else f"#/{at.removeprefix(QUERY)}"
    return Problem(pointer, problem.code, problem.detail, problem.minimum, problem.maximum)


def bench_found(asked: BenchRequest, folder: Path | None) -> BenchAnswer:
    """A bench test."""
    instruments = instruments_of(asked.instruments)
    return bench_answer(bench_asked(asked, asked.log.encode(), asked.design, instruments, asked.name))


def turned_found(asked: LogRequest, folder: Path | None) -> TurnedAnswer:
    """A log of directions and tilts; a compass is turned to true north by the day of each row."""
    there = clear_day_of(asked.design, folder)
    log = read_turns(asked.log.encode(), lambda day: declination_on(there, day))
    return turned_answer(trial_of(log, there, instruments_of(asked.instruments)))


def panel_found(asked: LogRequest, folder: Path | None) -> PanelCheckAnswer:
    """A panel check."""
    there = clear_day_of(asked.design, folder)
    return panel_check_answer(panel_check_of(read_panel(asked.log.encode()), there, instruments_of(asked.instruments)))


def sheet_found(asked: SheetRequest, folder: Path | None) -> SheetAnswer:
    """A predicted day."""
    return sheet_answer(sheet_of(clear_day_of(asked.design, folder), day_of(asked), asked.from_hour, asked.to_hour))


def filled_found(asked: LogRequest, folder: Path | None) -> FilledSheetAnswer:
    """A filled sheet beside its prediction."""
    log = read_sheet(asked.log.encode())
    return compared_answer(compared(clear_day_of(asked.design, folder), log, instruments_of(asked.instruments)))


def first_day_found(asked: FirstDayRequest, folder: Path | None) -> FirstDayAnswer:
    """What to measure on a clear day, and the looks so far."""
    there = clear_day_of(asked.design, folder)
    kept = kept_looks(there)
    return first_day_answer(wanted_on(there, day_of(asked)), kept)


def bench_bytes(content: bytes) -> bytes:
    """The answer to a bench test."""
    return answered(content, BenchRequest, bench_found)


def turned_bytes(content: bytes) -> bytes:
    """The answer to a log of directions and tilts."""
    return answered(content, LogRequest, turned_found)


def panel_bytes(content: bytes) -> bytes:
    """The answer to a panel check."""
    return answered(content, LogRequest, panel_found)


def sheet_bytes(content: bytes) -> bytes:
    """The answer to a sheet's request."""
    return answered(content, SheetRequest, sheet_found)


def filled_bytes(content: bytes) -> bytes:
    """The answer to a filled sheet."""
    return answered(content, LogRequest, filled_found)


def first_day_bytes(content: bytes) -> bytes:
    """The answer to a first day's request."""
    return answered(content, FirstDayRequest, first_day_found)
