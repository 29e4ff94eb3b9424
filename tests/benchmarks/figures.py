"""What every benchmark gives back, and how times are taken: medians of repeats that lie between one another."""

import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """One line of the table: the work, what was measured, what is to be reached, and whether it is (None: told only)."""

    work: str
    measured: str
    reach: str
    reached: bool | None


def seconds(function: Callable[[], object]) -> float:
    """How long one call takes [s]."""
    start = time.perf_counter()
    function()
    return time.perf_counter() - start


def taking_turns(functions: Sequence[Callable[[], object]], repeats: int) -> list[float]:
    """Median time of each function [s]; they take turns, so that a busy machine slows all of them alike."""
    times = [[seconds(function) for function in functions] for _ in range(repeats)]
    return [statistics.median(column) for column in zip(*times, strict=True)]


def table(figures: Sequence[Figure]) -> str:
    """The figures in columns."""
    rows = [
        ("work", "measured", "reach", "ok"),
        *((f.work, f.measured, f.reach, {None: "", True: "yes", False: "NO"}[f.reached]) for f in figures),
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(4)]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    return "\n".join([lines[0], "-" * sum(widths, 6), *lines[1:]])
