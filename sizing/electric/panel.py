"""The panel: from the four points of its label to the current it gives at any voltage, sun and temperature.

``fit_label`` refuses what cannot stand on a label and turns the rest into the five parameters of ``diode``; the others solve
that diode's equation for the current at a voltage, the open circuit, the maximum power, and a point beyond it.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from pvlib.ivtools.sdm import fit_desoto_batzelis
from scipy.special import wrightomega

from sizing.electric.single_diode import Conditions, Diode, at_conditions, junction_current
from sizing.foundation.constants import REFERENCE_CELL_TEMPERATURE, REFERENCE_IRRADIANCE
from sizing.foundation.errors import InputError, Note, Problem, input_error

Array = NDArray[np.float64]
Numeric = float | Array

LABEL_TOLERANCE = 0.05
"""Largest share by which the curve may miss a label point; small panels are sold with 5 % (common practice, no source)."""
LARGEST_SHUNT = 1e4
"""Shunt resistance, in units of voc/isc, beyond which no label can show a leak (0.01 % of isc at voc)."""
POWER_NOTE = 0.01
"""Share by which the curve's maximum power may miss the label before the reader is told."""
FILL_FACTOR = (0.40, 0.90)
"""[1] vmp imp / (voc isc). 20,946 silicon modules lie within 0.61..0.83 (cec_modules_2019); beyond this a number is wrong."""
ISC_COEFFICIENT = (-0.1, 0.2)
"""[%/K] Of the same modules 98 % lie within 0.004..0.13."""
VOC_COEFFICIENT = (-0.6, -0.1)
"""[%/K] Of the same modules 98 % lie within -0.43..-0.26."""


@dataclass(frozen=True, eq=False)
class KeyPoints:
    """Short circuit [A], open circuit [V], and voltage [V], current [A] and power [W] at the maximum."""

    isc: Numeric
    voc: Numeric
    vmp: Numeric
    imp: Numeric
    power: Numeric


def current_at_voltage(conditions: Conditions, voltage: Numeric) -> Numeric:
    """Current [A] at a voltage [V, 0 or more]; exactly zero beyond open circuit and without sun.

    Closed form with the Lambert function, of an exponential argument (Wright omega) so that nothing overflows.

    Examples
    --------
    >>> sun = at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0)
    >>> current_at_voltage(sun, np.array([0.0, 17.5, 40.0]))
    array([4.969, 4.579, 0.   ])
    """
    through = np.maximum(through_current(conditions, voltage), 0.0)
    return plain(np.where(np.asarray(conditions.light_current) > 0, through, 0.0))


def through_current(conditions: Conditions, voltage: Numeric) -> NDArray[np.float64]:
    """The same curve carried on beyond open circuit, where current is driven backwards through the panel [A]."""
    resistance = np.maximum(conditions.series_resistance, 1e-9)
    scale = conditions.thermal_voltage * (1 + resistance * conditions.shunt_conductance)
    source = conditions.light_current + conditions.saturation_current
    exponent = np.log(resistance * conditions.saturation_current / scale) + (resistance * source + voltage) / scale
    branch = conditions.thermal_voltage / resistance * wrightomega(exponent)
    return np.asarray(
        (source - voltage * conditions.shunt_conductance) / (1 + resistance * conditions.shunt_conductance) - branch
    )


def short_circuit_current(conditions: Conditions) -> Numeric:
    """Current [A] with the two leads joined.

    Examples
    --------
    >>> short_circuit_current(at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 500.0, 25.0))
    2.487
    """
    return current_at_voltage(conditions, 0.0)


def open_circuit_voltage(conditions: Conditions) -> Numeric:
    """Voltage [V] with nothing connected; zero without sun.

    Newton from the leak-free answer, which lies above: the curve bends down, so every step falls short of overshooting.

    Examples
    --------
    >>> open_circuit_voltage(at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0))
    21.80
    """
    leak, scale, saturation = conditions.shunt_conductance, conditions.thermal_voltage, conditions.saturation_current
    voltage = np.asarray(scale * np.log1p(np.maximum(conditions.light_current, 0.0) / saturation))
    for _ in range(60):
        current = junction_current(conditions.light_current, saturation, leak, scale, voltage)
        step = current / (saturation / scale * np.exp(voltage / scale) + leak)
        voltage = np.maximum(voltage + step, 0.0)
        if np.all(np.abs(step) <= 1e-12 * (1 + voltage)):
            break
    return plain(np.where(np.asarray(conditions.light_current) > 0, voltage, 0.0))


def maximum_power(conditions: Conditions) -> tuple[Numeric, Numeric, Numeric]:
    """Power [W], voltage [V] and current [A] where the panel gives most; all zero without sun.

    Newton on the slope of power along the junction voltage, kept between short and open circuit by halving.

    Examples
    --------
    >>> maximum_power(at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0))
    (80.1, 17.5, 4.58)
    """
    low = np.zeros(np.shape(np.asarray(conditions.light_current) + conditions.thermal_voltage))
    high = np.asarray(open_circuit_voltage(conditions)) + low
    junction = 0.85 * high
    for _ in range(80):
        slope, bend = _power_slope(conditions, junction)
        low, high = np.where(slope > 0, junction, low), np.where(slope > 0, high, junction)
        newton = junction - slope / bend
        new = np.where((newton >= low) & (newton <= high), newton, (low + high) / 2)
        done = np.all(np.abs(new - junction) <= 1e-12 * (1 + junction))
        junction = new
        if done:
            break
    current = _junction_current(conditions, junction)
    current = np.where(np.asarray(conditions.light_current) > 0, np.maximum(current, 0.0), 0.0)
    voltage = np.where(current > 0, junction - current * conditions.series_resistance, 0.0)
    return plain(voltage * current), plain(voltage), plain(current)


def _junction_current(conditions: Conditions, junction: NDArray[np.float64]) -> NDArray[np.float64]:
    given = conditions
    leak, scale = given.shunt_conductance, given.thermal_voltage
    return np.asarray(junction_current(given.light_current, given.saturation_current, leak, scale, junction))


def _power_slope(conditions: Conditions, junction: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """First and second derivative of (v - i R) i by the junction voltage v."""
    scale, resistance = conditions.thermal_voltage, conditions.series_resistance
    grown = conditions.saturation_current / scale * np.exp(junction / scale)
    current = _junction_current(conditions, junction)
    first, second = -grown - conditions.shunt_conductance, -grown / scale
    slope = current + first * (junction - 2 * resistance * current)
    bend = 2 * first - 2 * resistance * first**2 + second * (junction - 2 * resistance * current)
    return np.asarray(slope), np.asarray(bend)


def key_points(
    light_current: float,
    saturation_current: float,
    series_resistance: float,
    shunt_resistance: float,
    thermal_voltage: float,
    isc_temperature_coefficient: float = 0.0,
    irradiance: Numeric = REFERENCE_IRRADIANCE,
    cell_temperature: Numeric = REFERENCE_CELL_TEMPERATURE,
) -> KeyPoints:
    """The points that a panel with these five parameters would carry on its label, there or at another sun [W/m2, Cel].

    Examples
    --------
    >>> key_points(4.98, 9.69e-10, 0.326, 148.2, 0.976).voc
    21.80
    """
    shape = (light_current, saturation_current, series_resistance, shunt_resistance, thermal_voltage)
    sun = at_conditions(Diode(*shape, isc_temperature_coefficient, 0.0), irradiance, cell_temperature)
    power, voltage, current = maximum_power(sun)
    return KeyPoints(short_circuit_current(sun), open_circuit_voltage(sun), voltage, current, power)


def plain(value: NDArray[np.float64]) -> Numeric:
    """A float for a single number, the array otherwise."""
    return value if np.ndim(value) else float(value)


def fit_label(
    vmp: float,
    imp: float,
    voc: float,
    isc: float,
    isc_coefficient: float,
    voc_coefficient: float,
    in_series: int = 1,
    in_parallel: int = 1,
    pointer: str = "#/panels/0",
) -> Diode:
    """The diode of a whole array, from the label of one panel at 1000 W/m2 and 25 Cel (batzelis_2016, explicit).

    Where imp stands so near isc that no leak across the cells fits (one silicon module in twelve of
    cec_modules_2019), none is counted and ``fit_notes`` says so.

    Parameters
    ----------
    vmp, voc : [V]; imp, isc : [A]
    isc_coefficient, voc_coefficient : [1/K] relative to isc and voc
    in_series, in_parallel : panels in a string, strings side by side; 1 or more

    Raises
    ------
    InputError
        one sentence for each number that cannot stand on a label, or if no diode passes near its points.

    Examples
    --------
    >>> fit_label(17.5, 4.58, 21.8, 4.97, 0.0005, -0.0034, in_series=2).thermal_voltage
    1.758
    """
    problems = label_problems(vmp, imp, voc, isc, isc_coefficient, voc_coefficient, pointer)
    problems += _count_problems(in_series, in_parallel, pointer)
    if problems:
        raise InputError(*problems)
    with np.errstate(divide="ignore"):
        fit = fit_desoto_batzelis(vmp, imp, voc, isc, isc_coefficient * isc, voc_coefficient * voc)
    scale, resistance = float(fit["a_ref"]), float(fit["R_s"])
    if resistance <= 0:
        raise _no_resistance_left(vmp, voc, vmp + resistance * imp, pointer)
    shunt = 1 / max(1 / float(fit["R_sh_ref"]), isc / (LARGEST_SHUNT * voc))
    light = isc * (1 + resistance / shunt)
    saturation = light * float(np.exp(-voc / scale))
    _check_against_label(key_points(light, saturation, resistance, shunt, scale), (vmp, imp, voc, isc), pointer)
    return Diode(
        light * in_parallel,
        saturation * in_parallel,
        resistance * in_series / in_parallel,
        shunt * in_series / in_parallel,
        scale * in_series,
        isc_coefficient * isc * in_parallel,
        voc_coefficient * voc * in_series,
    )


def fit_notes(diode: Diode, power: float, pointer: str = "#/panels/0") -> tuple[Note, ...]:
    """What the reader should know of a fit, given the array's power by its label [W].

    Examples
    --------
    >>> [note.code for note in fit_notes(fit_label(17.5, 4.83, 21.8, 4.97, 0.0005, -0.0034), 17.5 * 4.83)]
    ['no_leak_counted', 'label_power_missed']
    """
    parameters = (diode.light_current, diode.saturation_current, diode.series_resistance, diode.shunt_resistance)
    found = key_points(*parameters, diode.thermal_voltage)
    notes = []
    if diode.shunt_resistance * found.isc >= 0.99 * LARGEST_SHUNT * found.voc:
        detail = "The panel's label puts imp so near isc that no leak across the cells fits between them; none is counted."
        notes.append(Note("no_leak_counted", "info", detail, f"{pointer}/imp_a"))
    if abs(float(found.power) - power) > POWER_NOTE * power:
        detail = (
            f"The curve fitted to the panel's label has its maximum at {found.power:.4g} W, {power:.4g} W by the label "
            f"({100 * (found.power / power - 1):+.1f} %)."
        )
        notes.append(Note("label_power_missed", "info", detail, f"{pointer}/imp_a"))
    return tuple(notes)


def _count_problems(in_series: int, in_parallel: int, pointer: str) -> tuple[Problem, ...]:
    counts = (("in_series", in_series), ("in_parallel", in_parallel))
    detail = "panels {} is {}; it must be a whole number, 1 or more; one panel alone is 1"
    return tuple(
        Problem(f"{pointer}/{name}", "out_of_range", detail.format(name.replace("_", " "), count), 1)
        for name, count in counts
        if count < 1 or count != int(count)
    )


def _no_resistance_left(vmp: float, voc: float, largest: float, pointer: str) -> InputError:
    detail = (
        f"panel vmp is {vmp:.4g} V beside a voc of {voc:.4g} V; a silicon panel with that voc reaches at most {largest:.4g} V "
        "at maximum power, even with no resistance inside; check both, or measure voc in full sun"
    )
    return input_error(f"{pointer}/vmp_v", "label_not_a_diode", detail, 0, largest)


def _check_against_label(found: KeyPoints, label: tuple[float, float, float, float], pointer: str) -> None:
    vmp, imp, voc, isc = label
    wanted = {"vmp": (vmp, "V"), "imp": (imp, "A"), "voc": (voc, "V"), "isc": (isc, "A"), "power": (vmp * imp, "W")}
    missed = {name: abs(float(getattr(found, name)) / value - 1) for name, (value, _) in wanted.items()}
    worst = max(missed, key=lambda name: missed[name])
    if missed[worst] > LABEL_TOLERANCE:
        value, unit = wanted[worst]
        detail = (
            f"panel {worst} is {value:.4g} {unit} by the label and {getattr(found, worst):.4g} {unit} on the nearest curve of a "
            f"silicon panel; at most {100 * LABEL_TOLERANCE:.0f} % apart is accepted; check vmp, imp, voc and isc: "
            "they do not go together"
        )
        field = {"voc": "voc_v", "isc": "isc_a", "vmp": "vmp_v"}.get(worst, "imp_a")
        raise input_error(f"{pointer}/{field}", "label_not_a_diode", detail)


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
    pointer : JSON pointer to the panel in the design file, for the sentences of errors

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


def point_above_mpp(conditions: Conditions, power: Array | float) -> tuple[Array | float, Array | float]:
    """Voltage [V] and current [A] of a panel that gives less power [W] than it could: beyond its best volts.

    A controller that needs less lets the volts rise (common practice, no source). A power that is all the panel has, or
    more, gives the maximum power point; none gives the open circuit. Halving along the junction voltage, 44 times.

    Examples
    --------
    >>> from sizing.electric.single_diode import Diode, at_conditions
    >>> panel = at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0)
    >>> volts, amperes = point_above_mpp(panel, 40.0)
    >>> volts, volts * amperes
    (20.6, 40.0)
    """
    most, best, current = (np.asarray(each) for each in maximum_power(conditions))
    low = best + current * conditions.series_resistance + np.zeros(np.shape(power))
    high = np.asarray(open_circuit_voltage(conditions)) + np.zeros(low.shape)
    for _ in range(44):
        junction = (low + high) / 2
        flowing = _junction_current(conditions, junction)
        more = (junction - flowing * conditions.series_resistance) * flowing > power
        low, high = np.where(more, junction, low), np.where(more, high, junction)
    less = np.asarray(power) < most
    flowing = np.where(less, np.maximum(_junction_current(conditions, low), 0.0), current)
    voltage = np.where(less, low - flowing * conditions.series_resistance, best)
    return plain(voltage), plain(flowing)
