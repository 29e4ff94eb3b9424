"""Shared by all tests."""

import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

# wntr changes how numpy prints numbers, and with it every docstring example: import it once and put that back.
SHOWN_AS = np.get_printoptions()
import wntr  # noqa: E402, F401

np.set_printoptions(**SHOWN_AS)
