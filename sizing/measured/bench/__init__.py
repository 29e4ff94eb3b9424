"""sizing.measured.bench."""

from sizing.measured.bench.answer import bench_answer
from sizing.measured.bench.bench import Bench
from sizing.measured.bench.into_design import design_with_pump
from sizing.measured.bench.working import bench_roots, setting_roots

__all__ = ["Bench", "bench_answer", "bench_roots", "design_with_pump", "setting_roots"]
