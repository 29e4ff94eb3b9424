"""How many random cases a test draws: a few in the default run, all of them where ``DRAWS=all`` asks for them.

``DRAWS=all python -m pytest -m "draws or slow"`` runs every such test with all its cases, and those that are slow.
"""

import os
from typing import Any

from hypothesis import settings

ALL = os.environ.get("DRAWS") == "all"
FEWER = 6
"""The default run takes one case of so many."""


def draws(most: int) -> int:
    """How many of the cases are drawn in this run; never fewer than five.

    Examples
    --------
    >>> 5 <= draws(60) <= 60
    True
    """
    return most if ALL else min(most, max(5, most // FEWER))


def drawn(most: int, **more: Any) -> settings:
    """A test by hypothesis with so many examples where all are drawn; without it they are a hundred."""
    return settings(max_examples=draws(most), deadline=None, **more)


settings.register_profile("draws", max_examples=draws(100), deadline=None)
settings.load_profile("draws")
