"""What a class's readings are good for: one standard uncertainty of each instrument (JCGM 100).

A bucket's mark and a meter's share are off by the same amount in every reading, so that repeats do not help; the last
digit of a meter, a thumb on a stopwatch and an eye at a mark are off by chance.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import erf, stdtrit

from sizing.foundation.working import Worked, assumed, formula

Numeric = float | NDArray[np.float64]

LIKELY = 0.6827
"""[1] Chance that the truth lies within one standard uncertainty (JCGM 100, table G.2)."""


@dataclass(frozen=True)
class Instruments:
    """Standard uncertainties; every default is common practice, no source.

    Parameters
    ----------
    volume_calibration : [1] the mark of a bucket as a share of its volume, the same in all readings
    volume_reading : [m3] reading the water's edge at the mark
    time_reading : [s] stopwatch with a thumb on it
    head_reading : [m] height of the outlet above the water by tape
    voltage_share, voltage_digit : [1, V] meter's share, the same in all readings, and last digit
    current_share, current_digit : [1, A]
    sun_height_reading : [deg]
    stick_reading : [m] a stick and its shadow

    Examples
    --------
    >>> Instruments(volume_calibration=0.005).time_reading
    0.3
    """

    volume_calibration: float = 0.02
    volume_reading: float = 1e-4
    time_reading: float = 0.3
    head_reading: float = 0.01
    voltage_share: float = 0.005
    voltage_digit: float = 0.01
    current_share: float = 0.01
    current_digit: float = 0.01
    sun_height_reading: float = 1.0
    stick_reading: float = 0.01


USUAL = Instruments()
"""What is taken where a class says nothing of its instruments."""
UNITS = {
    "volume_calibration": "1",
    "volume_reading": "m3",
    "time_reading": "s",
    "head_reading": "m",
    "voltage_share": "1",
    "voltage_digit": "V",
    "current_share": "1",
    "current_digit": "A",
    "sun_height_reading": "deg",
    "stick_reading": "m",
}


def instrument(instruments: Instruments, name: str) -> Worked:
    """One of them as a number that carries its origin: assumed where it is the usual one, else as the class gave it.

    Examples
    --------
    >>> instrument(USUAL, "time_reading").basis, instrument(Instruments(time_reading=0.2), "time_reading").basis
    ('assumed', 'measured')
    """
    value = float(getattr(instruments, name))
    if value == getattr(USUAL, name):
        return assumed(name, value, UNITS[name], "common_practice")
    return Worked(name, value, UNITS[name], "measured")


@formula("sqrt((share * reading)**2 + digit**2)", unit="1", source="jcgm_100")
def meter_uncertainty(reading: Numeric, share: Numeric, digit: Numeric) -> Numeric:
    """Standard uncertainty of one reading of a meter, in the unit of the reading: share and last digit as squares.

    Examples
    --------
    >>> float(meter_uncertainty(12.0, 0.005, 0.01))
    0.0608
    """
    return np.sqrt((share * reading) ** 2 + digit**2)


def small_sample(freedom: Numeric) -> Numeric:
    """How much wider a likely range is when its width was itself found from few readings: Student's t at 68.27 %.

    Parameters
    ----------
    freedom : degrees of freedom, 1 or more: readings less the numbers found from them

    Examples
    --------
    >>> [round(float(small_sample(freedom)), 2) for freedom in (1, 2, 4, 10)]
    [1.84, 1.32, 1.14, 1.05]
    """
    return np.asarray(stdtrit(freedom, 0.5 + LIKELY / 2), dtype=float)[()]


def chance_of_any(distance: Numeric, comparisons: int) -> float:
    """How often chance alone makes at least one of several comparisons lie so far off [1]: the normal distribution.

    Parameters
    ----------
    distance : in standard uncertainties, 0 or more
    comparisons : how many were made, independent of one another

    Examples
    --------
    >>> chance_of_any(1.96, 1), chance_of_any(1.96, 6)
    (0.0500, 0.265)
    """
    return float(1 - erf(np.asarray(distance) / np.sqrt(2)) ** comparisons)
