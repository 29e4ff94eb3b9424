"""Prints how fast and how large the work is, as ratios taken in one run: ``python -m tests.benchmarks``."""

import sys
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))


def main() -> int:
    """Run every benchmark and print the table; 1 if something is not reached."""
    from tests.benchmarks.comparing import comparisons
    from tests.benchmarks.computing import against_direct, further_pairs, one_design
    from tests.benchmarks.directions import orientation_search
    from tests.benchmarks.figures import table
    from tests.benchmarks.measuring import measured_logs
    from tests.benchmarks.sky import sky_figures

    figures = [*sky_figures(), one_design(), *further_pairs(), *against_direct(False), *against_direct(True)]
    figures += orientation_search()
    figures += comparisons()
    figures += measured_logs()
    print(table(figures), flush=True)
    if find_spec("web.routes") is not None and find_spec("api.command.main") is not None:
        from tests.benchmarks.answering import answers_beside
        from tests.benchmarks.serving import served

        service = [*served(), *answers_beside()]
        figures += service
        print("\n" + table(service), flush=True)
    return 1 if any(figure.reached is False for figure in figures) else 0


if __name__ == "__main__":
    sys.exit(main())
