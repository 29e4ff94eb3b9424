"""The panel's label: numbers that cannot stand on one are refused here, each with what to look at again."""

import math

from sizing.foundation.errors import Problem

FILL_FACTOR = (0.40, 0.90)
"""[1] vmp imp / (voc isc). 20,946 silicon modules lie within 0.61..0.83 (cec_modules_2019); beyond this a number is wrong."""
ISC_COEFFICIENT = (-0.1, 0.2)
"""[%/K] Of the same modules 98 % lie within 0.004..0.13."""
VOC_COEFFICIENT = (-0.6, -0.1)
"""[%/K] Of the same modules 98 % lie within -0.43..-0.26."""


def label_problems(
    vmp: float,
    imp: float,
    voc: float,
    isc: float,
    isc_coefficient: float,
    voc_coefficient: float,
    pointer: str = "#/panels/0",
) -> tuple[Problem, ...]:
    """What is wrong with a label; nothing for one that a silicon panel could carry.

    Parameters
    ----------
    vmp, voc : [V] at maximum power and open circuit
    imp, isc : [A] at maximum power and short circuit
    isc_coefficient, voc_coefficient : [1/K] relative to isc and voc
    pointer : where the panel stands in the design

    Examples
    --------
    >>> label_problems(17.5, 4.58, 21.8, 4.97, 0.0005, -0.0034)
    ()
    >>> label_problems(21.8, 4.58, 17.5, 4.97, 0.0005, -0.0034)[0].pointer
    '#/panels/0/vmp_v'
    """
    labelled = (("vmp", vmp, "V"), ("imp", imp, "A"), ("voc", voc, "V"), ("isc", isc, "A"))
    found = [_not_positive(name, value, unit, pointer) for name, value, unit in labelled if not 0 < value < math.inf]
    if found:
        return tuple(found)
    if vmp >= voc:
        found.append(_not_below("vmp", vmp, "voc", voc, "V", pointer))
    if imp >= isc:
        found.append(_not_below("imp", imp, "isc", isc, "A", pointer))
    if not found:
        found += _fill_factor_problem(vmp * imp / (voc * isc), pointer)
    found += _isc_coefficient_problem(100 * isc_coefficient, pointer)
    return tuple(found + _voc_coefficient_problem(100 * voc_coefficient, pointer))


def _not_positive(name: str, value: float, unit: str, pointer: str) -> Problem:
    detail = f"panel {name} is {value:.4g} {unit}; it must be a number above 0; read it again from the label"
    return Problem(f"{pointer}/{name}_{unit.lower()}", "out_of_range", detail, 0)


def _not_below(name: str, value: float, limit_name: str, limit: float, unit: str, pointer: str) -> Problem:
    detail = (
        f"panel {name} is {value:.4g} {unit}; it must be below {limit_name}, {limit:.4g} {unit}; "
        "look whether the two were exchanged, or belong to different panels"
    )
    return Problem(f"{pointer}/{name}_{unit.lower()}", f"{name}_not_below_{limit_name}", detail, 0, limit)


def _fill_factor_problem(fill_factor: float, pointer: str) -> list[Problem]:
    low, high = FILL_FACTOR
    if low <= fill_factor <= high:
        return []
    detail = (
        f"panel fill factor (vmp imp over voc isc) is {fill_factor:.2f}; a silicon panel lies between {low:.2f} and {high:.2f}; "
        "check the four numbers against the label"
    )
    return [Problem(f"{pointer}/vmp_v", "fill_factor_implausible", detail)]


def _isc_coefficient_problem(percent: float, pointer: str) -> list[Problem]:
    low, high = ISC_COEFFICIENT
    if low <= percent <= high:
        return []
    detail = (
        f"panel isc temperature coefficient is {percent:.4g} %/°C; it lies between {low} and {high} %/°C, usually near +0.05; "
        "give percent of isc, not mA/°C, and not the coefficient of voc or of power"
    )
    return [Problem(f"{pointer}/isc_temperature_coefficient_pct_per_c", "coefficient_implausible", detail, low, high)]


def _voc_coefficient_problem(percent: float, pointer: str) -> list[Problem]:
    low, high = VOC_COEFFICIENT
    if low <= percent <= high:
        return []
    detail = (
        f"panel voc temperature coefficient is {percent:.4g} %/°C; it lies between {low} and {high} %/°C, usually near -0.33; "
        "it is negative, and in percent of voc, not mV/°C"
    )
    return [Problem(f"{pointer}/voc_temperature_coefficient_pct_per_c", "coefficient_implausible", detail, low, high)]
