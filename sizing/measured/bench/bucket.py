"""A bucket and a stopwatch: flow, and how sure it is (JCGM 100).

Flow is volume over time. Chance (the eye at the mark, the thumb on the stopwatch, the pump itself) shrinks with the
square root of the repeats; a bucket that holds less than its mark says does not.
"""

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import Note
from sizing.foundation.formats import quantity
from sizing.foundation.working import Worked, by_method, formula, work
from sizing.measured.logs.instruments import USUAL, Instruments, instrument, small_sample

Numeric = float | NDArray[np.float64]

SHORTEST_FILL = 3.0
"""[s] A bucket that is full sooner is too small for the flow (source key volumetric_method)."""
FEWEST_REPEATS = 4
"""More than three repeats are asked for (source key volumetric_method)."""


@formula("volume / fill_time", unit="m3/s", source="volumetric_method")
def bucket_flow(volume: Numeric, fill_time: Numeric) -> Numeric:
    """Flow that fills a volume in a time [m3/s].

    Examples
    --------
    >>> 60000 * bucket_flow(0.010, 30.0)
    20.0
    """
    return volume / fill_time


@formula("sqrt((volume_reading / volume)**2 + (time_reading / fill_time)**2)", unit="1", source="jcgm_100")
def reading_share(volume: Numeric, volume_reading: Numeric, fill_time: Numeric, time_reading: Numeric) -> Numeric:
    """Standard uncertainty of one filling by its two readings, as a share of the flow (5.1.6).

    Examples
    --------
    >>> float(reading_share(0.010, 0.0001, 30.0, 0.2))
    0.0120
    """
    return np.sqrt((volume_reading / volume) ** 2 + (time_reading / fill_time) ** 2)


@formula("maximum(reading_share, scatter) / sqrt(repeats)", unit="1", source="jcgm_100")
def chance_share(reading_share: Numeric, scatter: Numeric, repeats: Numeric) -> Numeric:
    """Standard uncertainty of the mean of repeats by chance: what the instruments allow, or the scatter if that is more.

    Examples
    --------
    >>> float(chance_share(0.012, 0.03, 4))
    0.015
    """
    return np.maximum(reading_share, scatter) / np.sqrt(repeats)


@formula("sqrt(chance_share**2 + volume_calibration**2)", unit="1", source="jcgm_100")
def flow_share(chance_share: Numeric, volume_calibration: Numeric) -> Numeric:
    """Standard uncertainty of a flow as a share of it: by chance, and by the bucket's mark, which repeats do not shrink.

    Examples
    --------
    >>> float(flow_share(0.015, 0.02))
    0.025
    """
    return np.sqrt(chance_share**2 + volume_calibration**2)


def scatter_share(flow: NDArray[np.float64]) -> float:
    """Standard deviation of repeats over their mean, widened for small samples by Student's t; 0 for a single one."""
    if len(flow) < 2:
        return 0.0
    return float(np.std(flow, ddof=1) / np.mean(flow) * small_sample(len(flow) - 1))


def worked_bucket(
    volume: float, fill_time: float, flows: NDArray[np.float64], instruments: Instruments = USUAL
) -> tuple[Worked, Worked]:
    """Flow and its uncertainty as a share, each with its working.

    Parameters
    ----------
    volume, fill_time : [m3, s] means of the repeats, so that one over the other is their mean flow
    flows : (repeats,) [m3/s]

    Examples
    --------
    >>> flow, share = worked_bucket(0.010, 30.0, 0.010 / np.array([29.8, 30.1, 30.3, 29.8]))
    >>> round(60000 * flow.value, 2), round(100 * share.value, 2)
    (20.0, 2.12)
    """
    readings = {
        "volume": Worked("volume", volume, "m3", "measured"),
        "fill_time": Worked("fill_time", fill_time, "s", "measured"),
    }
    repeats = Worked("repeats", len(flows), "1", "measured")
    method = "Standard deviation of the repeats over their mean, widened for so few by Student’s t at 68.27 %; 0 for one."
    spread = by_method("scatter", scatter_share(flows), "1", "jcgm_100", method, repeats=repeats)
    reading = work(
        reading_share,
        **readings,
        volume_reading=instrument(instruments, "volume_reading"),
        time_reading=instrument(instruments, "time_reading"),
    )
    chance = work(chance_share, reading_share=reading, scatter=spread, repeats=repeats)
    whole = work(flow_share, chance_share=chance, volume_calibration=instrument(instruments, "volume_calibration"))
    return work(bucket_flow, **readings), whole


def fill_notes(fill_time: NDArray[np.float64], repeats: NDArray[np.int64]) -> tuple[Note, ...]:
    """What would make fillings surer.

    Parameters
    ----------
    fill_time : (readings,) [s]
    repeats : (settings,) how often each setting was measured
    """
    notes = []
    quick = int(np.sum(fill_time < SHORTEST_FILL))
    if quick:
        which = "The filling" if len(fill_time) == 1 else f"{quick} of {len(fill_time)} fillings"
        text = (
            f"{which} took less than {quantity(SHORTEST_FILL, 's')}; a thumb on a stopwatch is too slow for that; take a "
            "larger bucket."
        )
        notes.append(Note("filled_too_fast", "warning", text, "log"))
    few = int(np.sum(repeats < FEWEST_REPEATS))
    if few:
        which = "The setting was" if len(repeats) == 1 else f"{few} of {len(repeats)} settings were"
        text = f"{which} measured fewer than {FEWEST_REPEATS} times; repeats make the flow surer and show up a slip."
        notes.append(Note("few_repeats", "info", text, "log"))
    return tuple(notes)
