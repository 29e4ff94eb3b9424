"""A bench test: readings with bucket, stopwatch and two meters become a pump for the design file.

In come a bench log, its instruments and hose; out come the fitted pump with likely ranges, the rows and teams that stand
apart, the curve beside the label, and the reading that would help most.

Read: ``bucket`` (volume and time to flow), ``settings`` (readings, slips, repeats), ``equations``, ``fit``, ``curves``,
``residuals``, ``advice``, ``measured_pump`` (for a design, and beside its label), ``sentences``, ``bench`` (all of it),
``working``, ``answer``.

2026-11-25, one pump through all readings of a bench together. Chosen: with the back-EMF e = V - I R in place of the speed,
    head = e² a(Q/e) and current = I0 + e² b(Q/e) hold at every voltage. So R, I0, a falling cubic and a parabola are found
    together by least squares in all four readings (Gauss and Helmert; no reading counts as exact), over the means of repeats.
    What bucket and meters do alike in all readings enters afterwards, by the laws of scaling, because no number of readings
    shows it. Where the readings tell less of R or I0 than is usual (always so at one voltage), the usual value with its wide
    range is one more reading.
2026-11-25, what was refused. A curve for each voltage (needs five heads at each); Monte Carlo; dropping outliers: a reading
    that stands apart is named and kept, and the curve without it is told. Only where no pump at all follows with it (a slipped
    decimal point, found by least median of squares) is it left out, by name.
2026-11-25, figures. 200 seeded benches of 30 readings of a pump whose curves are no polynomials: bias of head, flow, R and I0
    at most 0.2 of their uncertainty, 69 % inside; the shut-off current is too high by 0.5 of its uncertainty; 12 ms for 60
    rows, 50 ms for 5,000. Weakest: without the bench's hose (``hose_of``) its heights count as heads, and the hose counts
    against the pump: 2 m of 12 mm take 0.67 m at 10 L/min. Motors that hold their speed by electronics, whose current is no
    function of V - I R, would change our mind.
"""

from sizing.measured.bench.answer import (
    ApartAnswer,
    BenchAnswer,
    BenchRowAnswer,
    CurveRowAnswer,
    FitAnswer,
    LabelComparedAnswer,
    SettingAnswer,
    bench_answer,
)
from sizing.measured.bench.bench import Bench
from sizing.measured.bench.measured_pump import design_with_pump
from sizing.measured.bench.working import bench_roots, setting_roots

__all__ = [
    "ApartAnswer",
    "Bench",
    "BenchAnswer",
    "BenchRowAnswer",
    "CurveRowAnswer",
    "FitAnswer",
    "LabelComparedAnswer",
    "SettingAnswer",
    "bench_answer",
    "bench_roots",
    "design_with_pump",
    "setting_roots",
]
