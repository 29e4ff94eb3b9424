"""sizing.measured."""

from sizing.measured.requests import (
    BenchBoxes,
    BenchRequest,
    FirstDayRequest,
    InstrumentsInput,
    LogRequest,
    SheetRequest,
    bench_asked,
    day_of,
    instruments_of,
)

__all__ = [
    "BenchBoxes",
    "BenchRequest",
    "FirstDayRequest",
    "InstrumentsInput",
    "LogRequest",
    "SheetRequest",
    "bench_asked",
    "day_of",
    "instruments_of",
]
