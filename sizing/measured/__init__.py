"""What a class measured: five rooms of their own, and the requests that programs send for them.

In come a design, a log as CSV text, and what the readings are good for; ``requests`` reads them like a design file: unknown
fields are errors, and each wrong value has one sentence.

The rooms, in order: logs (texts to readings), bench (a pump from bucket and meters), day (a real day, predicted and judged),
trials (is one direction better?), panel_check (the panel beside its label).

Read: ``requests``, after those rooms.
"""

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
