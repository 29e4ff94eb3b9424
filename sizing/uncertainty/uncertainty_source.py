"""One thing that is not known exactly, and how far off it may be (JCGM 100).

What is off by chance about two times in three is a standard uncertainty. Where only limits are known, every value
between what was taken and the limit is held equally likely, which makes the limit over the square root of three.
"""

from dataclasses import dataclass

import numpy as np

from sizing.foundation.working import formula


@dataclass(frozen=True)
class Cause:
    """One thing that is not known exactly.

    ``below`` and ``above`` are its standard uncertainty to the smaller and to the larger side, in ``unit``; a share of
    what was taken, or for dirt of the sun, has unit "1". ``month`` takes their place for a single month where it differs.
    """

    key: str
    words: str
    taken: str
    below: float
    above: float
    unit: str
    basis: str
    source: str
    advice: str
    month: float | None = None


@formula("half_width / sqrt(3)", unit="1", source="jcgm_100")
def rectangular(half_width: float) -> float:
    """Standard uncertainty of what lies anywhere within limits, in the unit of the limits (4.3.7).

    Parameters
    ----------
    half_width : from the middle to a limit, 0 or more

    Examples
    --------
    >>> float(rectangular(0.09))
    0.05196
    """
    return half_width / np.sqrt(3)
