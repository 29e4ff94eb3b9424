"""``python -m tests.benchmarks`` prints the figures."""

import sys

from tests.benchmarks.run import main

sys.exit(main())
