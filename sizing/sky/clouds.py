"""Clouds inside the day: how the sun of a made-up day comes and goes about the day's smooth course.

A day of known clearness keeps its sum of sun, but not its smoothness: at every quarter of an hour its clearness lies off
the smooth course by a chance amount that the next quarter mostly remembers. A half-clear day swings widely, a covered or a
clear one hardly. No moment is brighter than a clear sky allows. The chance amounts are drawn once, from a fixed row of
numbers, so the same place has the same year each time.

2026-12-01, clouds pass inside the days of a made-up year. Chosen: the clearness of each quarter of an hour swings about the
    day's smooth course by 0.20 sin(pi K/0.9), remembered for 2 h, capped by a clear sky (Haurwitz); sums of global and diffuse
    sun of each day are kept; days of a month that are as bright mirror each other about noon, and all months draw on one row
    of chance numbers, so that no direction and no month wins by chance. No day is dimmer than 0.05. Judged by decisions
    (``python -m tests.benchmarks.cloudy_days FOLDER``): 28 weather files against years made of their twelve means, three
    fountains, two windows, three goals. Smooth days: goal days of ten +0.88 (RMS 1.25), water +2.1 % (RMS 3.2), dry days
    +33 %, smallest panel -30 % (median). With clouds: -0.20 (0.75), +1.4 % (2.7), -13 %, -4 %; at places left out of the fit
    -0.19 (0.75), +1.5 % (2.8), -12 %, -4 %. Told by the hour, as the files are: +0.24 (0.75). The files' own days drawn anew
    differ by RMS 0.39: what one year's chance is worth. Twenty other rows of numbers: goal days -0.41 to +0.06, RMS 0.73 to
    0.88, water within 2.8 %, dry days -23 to -7 %, smallest panel -18 to +10 %, the chance of a goal by up to a quarter; so
    the row is chosen near the mean of 600.
    Refused: a row of its own for each month (jets of neighbouring months differ by 8 % by chance); hourly residuals with a
    table of coefficients for each height of the sun (no better, much longer); Erbs' hourly split (2 % less winter sun on a
    steep panel); as much swing as the files' hours show (0.24: then quarters of an hour miss goals that the files' hours meet).
2026-12-01, hours of a weather file stay as they are. Hourly means hide passing clouds: a month of one-minute records (Payerne,
    June 2016, BSRN) reaches goals on 0.75 days of ten more by its hours than by its quarters of an hour (0 to 1.7), and on
    0.56 more by those than by its minutes. A note says so where a file is used.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import SOLAR_CONSTANT
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]
Array = NDArray[np.float64]

CLOUD_SPREAD = 0.20
"""[1] Standard deviation of the clearness of a quarter of an hour about the smooth course, in the most broken sky."""
CLOUD_MEMORY = 2.0
"""[h] In which the memory of a cloud falls to 1/e."""
STREAM = 0
"""Which row of chance numbers; every month of every place uses it. Of 600, one whose usual days and goal days lie nearest the
mean of all."""
CLEAREST_SHARE = 1.05
"""[1] Clouds beside the sun add up to so much to a clear sky in a quarter of an hour (common practice, no source)."""
DARKEST = 0.02
"""[1] Clearness under the thickest cloud (common practice, no source)."""
HAURWITZ_SUN, HAURWITZ_LOSS = 1098.0, 0.059
"""[W/m2], [1] Haurwitz's clear sky on level ground: 1098 cos(z) exp(-0.059 / cos(z))."""
LEAST_DIFFUSE_LEFT, MOST_BEAM = 0.97, 0.95
"""[1] Under a cloud so much of the sun is diffuse at most; in the clear so much is beam at most."""
GRAZING = 0.02
"""[1] Cosine of the zenith below which the clear sky's formula is held: the sun is on the horizon."""


@formula("cloud_spread * sin(pi * minimum(clearness / 0.9, 1))", unit="1", source="cloud_comparison")
def clearness_spread(clearness: Numeric, cloud_spread: float = CLOUD_SPREAD) -> Numeric:
    """How far the clearness of a quarter of an hour lies from the day's course [1], one standard deviation.

    Parameters
    ----------
    clearness : of the day [1]; nothing at 0, where all is dark, and from 0.9 on, where no cloud is left
    cloud_spread : in the most broken sky [1]

    Examples
    --------
    >>> float(clearness_spread(0.45)), float(clearness_spread(0.15))
    (0.2, 0.1)
    """
    return cloud_spread * np.sin(np.pi * np.minimum(np.asarray(clearness) / 0.9, 1))


def clear_clearness(upright: Array) -> Array:
    """Clearness of a clear sky [1] by Haurwitz's formula, from the cosine of the zenith [1].

    Examples
    --------
    >>> clear_clearness(np.array([1.0, 0.5])).round(3)
    array([0.761, 0.717])
    """
    return HAURWITZ_SUN / SOLAR_CONSTANT * np.exp(-HAURWITZ_LOSS / np.maximum(upright, GRAZING))


@lru_cache(maxsize=32)
def chance_numbers(days: int, steps: int, stream: int = STREAM) -> Array:
    """Chance numbers of mean 0 and spread 1 for the days of a month, dullest first, each step remembering the one before.

    Two neighbours mirror each other about noon: on days that are as bright, mornings fare as afternoons do, so that no
    direction is better by chance. The last of an odd number is its own mirror.

    Parameters
    ----------
    days, steps : of the month, of a day

    Returns
    -------
    numbers : shape (days, steps)

    Examples
    --------
    >>> numbers = chance_numbers(30, 96)
    >>> bool(np.array_equal(numbers[0], numbers[1, ::-1])), round(float((numbers[:, 40] * numbers[:, 44]).mean()), 1)
    (True, 0.6)
    """
    drawn = np.random.RandomState(stream).standard_normal((steps, (days + 1) // 2))
    kept = float(np.exp(-24.0 / steps / CLOUD_MEMORY))
    fresh = float(np.sqrt(1 - kept**2))
    for step in range(1, steps):
        drawn[step] = kept * drawn[step - 1] + fresh * drawn[step]
    one = drawn.T
    numbers = np.stack([one, one[:, ::-1]], axis=1).reshape(-1, steps)[:days].copy()
    if days % 2:
        numbers[-1, steps // 2 :] = numbers[-1, : steps // 2][::-1]
    numbers.setflags(write=False)
    return numbers


def with_clouds(course: Array, above_air: Array, upright: Array, clearness: Array, chance: Array, spread: float) -> Array:
    """Global sun of each step [W/m2] with clouds passing, the day's sum unchanged; shape (days, steps).

    Parameters
    ----------
    course : smooth course of the day's sun [W/m2], (days, steps)
    above_air : sun on level ground above the air [W/m2], (days, steps)
    upright : cosine of the sun's zenith, 0 at night [1], (days, steps)
    clearness : of each day [1], (days,)
    chance : mean 0, spread 1, (days, steps)
    spread : of the clearness in the most broken sky [1]; nothing leaves the smooth course
    """
    lit = above_air > 0
    smooth = np.divide(course, above_air, out=np.zeros_like(course), where=lit)
    ceiling = np.maximum(CLEAREST_SHARE * clear_clearness(upright), smooth)
    swing = np.asarray(clearness_spread(clearness, spread))[:, None] * chance
    found = np.clip(smooth + swing, np.minimum(DARKEST, smooth), ceiling) * above_air
    return with_sum(found, ceiling * above_air, course.sum(axis=1))


def with_sum(found: Array, most: Array, wanted: Array) -> Array:
    """Values brought to a sum a day: too much is dimmed in proportion, too little fills what is left below ``most``.

    Examples
    --------
    >>> with_sum(np.array([[4.0, 8.0]]), np.array([[10.0, 10.0]]), np.array([6.0]))
    array([[2., 4.]])
    >>> with_sum(np.array([[4.0, 8.0]]), np.array([[10.0, 10.0]]), np.array([16.0]))
    array([[7., 9.]])
    """
    has, room = found.sum(axis=1), most.sum(axis=1)
    dimmed = np.divide(wanted, has, out=np.ones_like(has), where=has > 0)
    filled = np.divide(room - wanted, room - has, out=np.ones_like(has), where=room > has)
    less, more = np.minimum(dimmed, 1.0)[:, None], np.clip(filled, 0.0, 1.0)[:, None]
    return np.where((has >= wanted)[:, None], found * less, most - (most - found) * more)


def diffuse_of_moments(sun: Array, calm_diffuse: Array, wanted: Array) -> Array:
    """Diffuse sun of each step [W/m2] with a given sum of each day: a passing cloud takes beam, the sky's light stays.

    Parameters
    ----------
    sun, calm_diffuse : global sun with clouds passing, and the diffuse sun of the smooth day [W/m2], (days, steps)
    wanted : the day's diffuse sun, summed over its steps [W/m2], (days,)

    Examples
    --------
    >>> diffuse_of_moments(np.array([[100.0, 500.0]]), np.array([[150.0, 200.0]]), np.array([300.0]))
    array([[ 97., 203.]])
    """
    beam = sun - np.minimum(calm_diffuse, LEAST_DIFFUSE_LEFT * sun)
    has = beam.sum(axis=1)
    factor = np.divide(sun.sum(axis=1) - wanted, has, out=np.zeros_like(has), where=has > 0)
    return sun - np.clip(beam * np.maximum(factor, 0.0)[:, None], 0.0, MOST_BEAM * sun)
