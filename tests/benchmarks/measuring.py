"""What a class measured: logs of 5,000 rows from their bytes to those of the answer, and the fit of a pump."""

import gc
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np

from sizing.answers import written
from sizing.design.reading import parse_design
from sizing.fountain.components import fountain_of
from sizing.measured.bench.answer import bench_answer
from sizing.measured.bench.bench import bench_of
from sizing.measured.day.answer import compared_answer
from sizing.measured.day.clear_day import ClearDay, clear_day_of, declination_on, expected
from sizing.measured.day.filled_sheet import compared
from sizing.measured.logs.logs import read_bench, read_panel, read_sheet, read_turns
from sizing.measured.panel_check.answer import panel_check_answer
from sizing.measured.panel_check.panel_check import panel_check_of
from sizing.measured.trials.answer import turned_answer
from sizing.measured.trials.orientation_trial import OrientationTrial, trial_of
from tests.benchmarks.figures import Figure, taking_turns

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
ROWS, REACH, FIT_REACH = 5000, 0.3, 0.1


def long_log(name: str) -> bytes:
    """An example log, its rows repeated with a little drawn noise in the decimals until there are 5,000, all seconds apart."""
    head, *rows = (EXAMPLES / name).read_text(encoding="utf-8").splitlines()
    draw = np.random.default_rng(3)

    def shaken(cell: str) -> str:
        plain = cell.replace(".", "", 1)
        return f"{float(cell) * (1 + draw.normal(0, 0.01)):.4f}" if "." in cell and plain.isdigit() else cell

    made = [",".join(shaken(cell) for cell in rows[index % len(rows)].split(",")) for index in range(ROWS)]

    def later(row: str, seconds: int) -> str:
        return re.sub(r",([0-9]+):([0-9]{2}),", lambda at: f",{clock(int(at[1]), int(at[2]), seconds)},", row)

    made = [later(row, index // len(rows)) for index, row in enumerate(made)]
    return "\n".join([head, *made]).encode()


def clock(hours: int, minutes: int, seconds: int) -> str:
    """A time of day, some seconds after one."""
    minutes, seconds = minutes + seconds // 60, seconds % 60
    return f"{hours + minutes // 60}:{minutes % 60:02}:{seconds:02}"


def measured_logs(repeats: int = 5) -> list[Figure]:
    """Every kind of log, and the pump fit alone."""
    design = parse_design((EXAMPLES / "quince_court_jet.json").read_bytes())
    there, fountain = clear_day_of(design), fountain_of(design)
    bench, short = long_log("bench_heron_pump.csv"), read_bench((EXAMPLES / "bench_heron_pump.csv").read_bytes())
    turns, panel, filled = (
        long_log(name) for name in ("directions_millpond.csv", "panel_wren_yard.csv", "filled_reed_court.csv")
    )
    expected(there, read_sheet(filled).day, read_sheet(filled).hour)  # tables and glass are loaded
    works: list[tuple[str, Callable[[], object], float]] = [
        ("pump fit, 24 rows", lambda: bench_of(short, 12.0, label=fountain.pump, label_input=fountain.pump_input), FIT_REACH),
        (
            "bench log of 5,000 rows to the bytes of its answer",
            lambda: written(bench_answer(bench_of(read_bench(bench), 12.0))),
            REACH,
        ),
        (
            "log of directions, 5,000 rows, to the bytes of its answer",
            lambda: written(turned_answer(turned(turns, there))),
            REACH,
        ),
        (
            "panel log of 5,000 rows to the bytes of its answer",
            lambda: written(panel_check_answer(panel_check_of(read_panel(panel), there))),
            REACH,
        ),
        (
            "filled sheet of 5,000 rows to the bytes of its answer",
            lambda: written(compared_answer(compared(there, read_sheet(filled)))),
            REACH,
        ),
    ]
    for _, work, _ in works:
        work()
    gc.collect()
    gc.freeze()  # as the service does once it is ready
    times = taking_turns([work for _, work, _ in works], repeats)
    return [
        Figure(name, f"{1e3 * took:.0f} ms", f"{1e3 * reach:.0f} ms", took <= reach)
        for (name, _, reach), took in zip(works, times, strict=True)
    ]


def turned(raw: bytes, clear_day: ClearDay) -> OrientationTrial:
    """The experiments of a log."""
    return trial_of(read_turns(raw, lambda day: declination_on(clear_day, day)), clear_day)
