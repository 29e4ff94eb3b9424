"""The panel: label in, curve out; numbers that cannot stand on a label are refused, each with a sentence and a place.

The solver is judged by its own equation and by an independent solver.
"""

import math

import numpy as np
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.electric.panel import (
    LARGEST_SHUNT,
    current_at_voltage,
    fit_label,
    fit_notes,
    key_points,
    label_problems,
    maximum_power,
    open_circuit_voltage,
    short_circuit_current,
)
from sizing.electric.single_diode import Conditions, Diode, at_conditions, junction_current
from sizing.foundation.errors import InputError, SizingError
from tests.draws import drawn

PANEL = Diode(4.980938, 9.686902e-10, 0.326085, 148.161652, 0.976234, 0.002485, -0.0815)
SUN = np.array([0.0, 1e-6, 0.3, 17.0, 233.0, 733.0, 1187.0])[:, None]
WARMTH = np.array([-24.3, 7.3, 51.7, 83.0])

# Invented labels in the proportions of ordinary small panels: vmp [V], imp [A], voc [V], isc [A].
LABELS = [
    *((2.0, 0.25, 2.45, 0.275), (2.0, 0.5, 2.4, 0.54), (3.0, 0.2, 3.6, 0.22), (4.5, 0.22, 5.4, 0.24), (5.0, 0.1, 6.1, 0.11)),
    *((5.0, 0.2, 6.0, 0.215), (5.5, 0.18, 6.6, 0.2), (5.5, 0.64, 6.7, 0.69), (6.0, 0.167, 7.2, 0.18), (6.0, 0.33, 7.3, 0.36)),
    *((6.0, 0.58, 7.3, 0.63), (6.0, 0.75, 7.2, 0.81), (9.0, 0.11, 10.9, 0.12), (9.0, 0.22, 10.8, 0.24), (9.0, 0.34, 11.0, 0.37)),
    *(
        (9.0, 0.56, 10.9, 0.61),
        (12.0, 0.125, 14.5, 0.14),
        (12.0, 0.25, 14.6, 0.27),
        (12.0, 0.42, 14.4, 0.45),
        (17.0, 0.18, 21.0, 0.2),
    ),
    *(
        (17.3, 0.29, 21.2, 0.32),
        (17.5, 0.57, 21.5, 0.61),
        (17.6, 0.85, 21.6, 0.92),
        (17.6, 1.14, 21.7, 1.22),
        (18.0, 1.11, 22.1, 1.19),
    ),
    *(
        (18.0, 1.67, 21.9, 1.78),
        (18.2, 2.2, 22.3, 2.34),
        (17.8, 2.81, 21.9, 3.0),
        (18.0, 3.33, 22.3, 3.55),
        (18.3, 4.37, 22.5, 4.65),
    ),
    *(
        (17.5, 4.58, 21.8, 4.97),
        (18.6, 4.84, 22.6, 5.18),
        (18.0, 5.56, 22.1, 5.9),
        (20.0, 5.0, 24.2, 5.31),
        (35.0, 2.86, 43.0, 3.05),
    ),
]


def test_the_answer_satisfies_the_equation() -> None:
    voltage = np.linspace(0.0, 27.0, 109)
    sun = at_conditions(PANEL, SUN[..., None], WARMTH[:, None])
    current = np.asarray(current_at_voltage(sun, voltage))
    junction = voltage + current * sun.series_resistance
    back = junction_current(sun.light_current, sun.saturation_current, sun.shunt_conductance, sun.thermal_voltage, junction)
    residual = np.where(current > 0, np.asarray(back) - current, 0.0)
    assert current.shape == (7, 4, 109)
    assert np.max(np.abs(residual)) < 1e-9
    assert np.count_nonzero(current) > 1000


def test_maximum_power_and_open_circuit_agree_with_an_independent_solver() -> None:
    irradiance, temperature = np.broadcast_arrays(SUN[3:], WARMTH)
    sun = at_conditions(PANEL, irradiance, temperature)
    every = [np.broadcast_to(getattr(sun, name), irradiance.shape).ravel() for name in Conditions.__dataclass_fields__]
    every[3] = 1 / every[3]
    judge = pvlib.pvsystem.singlediode(*every, method="brentq")
    for found, name in zip((*maximum_power(sun), open_circuit_voltage(sun)), ("p_mp", "v_mp", "i_mp", "v_oc"), strict=True):
        np.testing.assert_allclose(np.ravel(found), judge[name], atol=2e-9, rtol=0)


def test_power_is_level_at_its_maximum() -> None:
    sun = at_conditions(PANEL, SUN[3:], WARMTH)
    power, voltage, current = maximum_power(sun)
    np.testing.assert_allclose(current_at_voltage(sun, voltage), current, rtol=1e-9)
    np.testing.assert_allclose(np.asarray(voltage) * np.asarray(current), power, rtol=1e-14)
    step = 1e-3
    above = (np.asarray(voltage) + step) * current_at_voltage(sun, np.asarray(voltage) + step)
    below = (np.asarray(voltage) - step) * current_at_voltage(sun, np.asarray(voltage) - step)
    assert np.all(np.abs(above - below) / (2 * step) < 1e-4 * np.asarray(current))
    assert np.all(np.maximum(above, below) < power)


def test_night_is_exactly_nothing() -> None:
    dark = at_conditions(PANEL, 0.0, WARMTH)
    assert np.all(open_circuit_voltage(dark) == 0)
    assert np.all(short_circuit_current(dark) == 0)
    assert np.all(current_at_voltage(dark, np.array([[0.0], [3.0], [25.0]])) == 0)
    for part in maximum_power(dark):
        assert np.all(part == 0)
    assert open_circuit_voltage(at_conditions(PANEL, 0.0, 25.0)) == 0.0


def test_nothing_beyond_open_circuit_and_something_just_below() -> None:
    sun = at_conditions(PANEL, SUN[3:], WARMTH)
    voc = np.asarray(open_circuit_voltage(sun))
    assert np.all(current_at_voltage(sun, voc + 1e-9) == 0)
    assert np.all(np.asarray(current_at_voltage(sun, voc - 1e-6)) > 0)
    assert np.all(current_at_voltage(sun, np.full((1, 1), 1e4)) == 0)


def test_current_falls_as_voltage_rises() -> None:
    current = np.asarray(current_at_voltage(at_conditions(PANEL, 733.0, 51.7), np.linspace(0.0, 20.0, 401)))
    assert np.all(np.diff(current) <= 0)


def test_scalar_is_array_element_by_element() -> None:
    sun = at_conditions(PANEL, SUN, WARMTH)
    voltage = 11.3
    grid, power = np.asarray(current_at_voltage(sun, voltage)), np.asarray(maximum_power(sun)[0])
    for row, column in ((0, 1), (2, 3), (4, 0), (6, 2)):
        alone = at_conditions(PANEL, float(SUN[row, 0]), float(WARMTH[column]))
        assert isinstance(current_at_voltage(alone, voltage), float)
        assert current_at_voltage(alone, voltage) == pytest.approx(grid[row, column], rel=1e-12)
        assert maximum_power(alone)[0] == pytest.approx(power[row, column], rel=1e-12)


def test_without_losses_the_closed_form_of_the_textbook() -> None:
    # No series resistance, no leak: voc = a ln(IL/I0 + 1), i = IL - I0 (exp(v/a) - 1), by definition.
    sun = Conditions(3.0, 2e-9, 0.0, 0.0, 1.1)
    assert open_circuit_voltage(sun) == pytest.approx(1.1 * math.log(3.0 / 2e-9 + 1), rel=1e-13)
    assert current_at_voltage(sun, 21.0) == pytest.approx(3.0 - 2e-9 * math.expm1(21.0 / 1.1), rel=1e-8)


def test_a_measured_cell() -> None:
    # 57 mm cell, 33 Cel (easwarakhanthan_1986; points from memory). The published error of these parameters
    # over the 26 points is 9.860e-4 A, so a slip in points, parameters or equation would show.
    volts = "-.2057 -.1291 -.0588 .0057 .0646 .1185 .1678 .2132 .2545 .2924 .3269 .3585 .3873 .4137 .4373 .459 .4784"
    volts += " .496 .5119 .5265 .5398 .5521 .5633 .5736 .5833 .59"
    amperes = ".764 .762 .7605 .7605 .76 .759 .757 .757 .7555 .754 .7505 .7465 .7385 .728 .7065 .6755 .632"
    amperes += " .573 .499 .413 .3165 .212 .1035 -.01 -.123 -.21"
    voltage, current = np.array(volts.split(), float), np.array(amperes.split(), float)
    back = junction_current(0.760776, 0.323021e-6, 1 / 53.7185, 0.0390766, voltage + current * 0.036377)
    assert np.sqrt(np.mean((np.asarray(back) - current) ** 2)) == pytest.approx(9.860e-4, abs=1e-7)


@pytest.mark.parametrize("label", LABELS, ids=lambda label: f"{label[0] * label[1]:.3g}W-{label[0]:.3g}V")
def test_the_label_comes_back(label: tuple[float, float, float, float]) -> None:
    # The explicit fit holds isc exactly; it neglects the leak at open circuit and rounds the maximum's place.
    vmp, imp, voc, isc = label
    diode = fit_label(*label, 0.0005, -0.0033)
    found = key_points(*list(vars(diode).values())[:5])
    assert found.isc == pytest.approx(isc, rel=1e-4)
    assert found.voc == pytest.approx(voc, rel=0.004)
    assert found.power == pytest.approx(vmp * imp, rel=0.005)
    assert found.vmp == pytest.approx(vmp, rel=0.008)
    assert found.imp == pytest.approx(imp, rel=0.006)
    assert min(diode.series_resistance, diode.shunt_resistance, diode.saturation_current) > 0
    assert fit_notes(diode, vmp * imp) == ()
    level = at_conditions(diode, 1000.0, 25.0)
    sides = [(found.vmp + step) * current_at_voltage(level, found.vmp + step) for step in (-0.01 * vmp, 0.01 * vmp)]
    assert max(sides) < found.power


def test_real_labels_are_met_and_none_is_refused() -> None:
    listed = pvlib.pvsystem.retrieve_sam("CECMod").T
    listed = listed[listed.Technology.isin(["Mono-c-Si", "Multi-c-Si"])].iloc[::97]
    names = ["V_mp_ref", "I_mp_ref", "V_oc_ref", "I_sc_ref", "alpha_sc", "beta_oc"]
    missed = []
    for vmp, imp, voc, isc, alpha, beta in listed[names].to_numpy(float):
        if not -0.001 <= alpha / isc <= 0.002 or not -0.006 <= beta / voc <= -0.001:
            continue
        diode = fit_label(vmp, imp, voc, isc, alpha / isc, beta / voc)
        missed.append(key_points(*list(vars(diode).values())[:5]).power / (vmp * imp) - 1)
    assert len(missed) > 200
    assert np.min(missed) > -0.035
    assert np.max(missed) < 0.025
    assert abs(np.median(missed)) < 0.005


@drawn(150)
@given(
    vmp=st.floats(1.5, 45.0),
    imp=st.floats(0.05, 10.0),
    voltage_ratio=st.floats(0.65, 0.95),
    current_ratio=st.floats(0.75, 0.995),
    isc_coefficient=st.floats(-0.0005, 0.0015),
    voc_coefficient=st.floats(-0.0055, -0.0015),
)
def test_any_plausible_label_gives_a_finite_diode_or_a_sentence(
    vmp: float, imp: float, voltage_ratio: float, current_ratio: float, isc_coefficient: float, voc_coefficient: float
) -> None:
    try:
        diode = fit_label(vmp, imp, vmp / voltage_ratio, imp / current_ratio, isc_coefficient, voc_coefficient)
    except SizingError as error:
        for problem in error.problems:
            assert problem.detail.count("; ") >= 2
            assert problem.pointer.startswith("#/panels/0/")
        return
    parameters = np.array(list(vars(diode).values()))
    assert np.all(np.isfinite(parameters))
    assert np.all(parameters[:5] > 0)
    for sun, warmth in ((0.0, -30.0), (3.0, 60.0), (1250.0, -30.0), (1250.0, 90.0)):
        power, voltage, current = maximum_power(at_conditions(diode, sun, warmth))
        assert 0 <= voltage <= 1.6 * vmp / voltage_ratio
        assert 0 <= current <= 1.5 * imp / current_ratio
        assert power == pytest.approx(voltage * current, rel=1e-12)


@pytest.mark.parametrize(("in_series", "in_parallel"), [(2, 1), (1, 3), (4, 2)])
def test_series_and_parallel_scale_exactly(in_series: int, in_parallel: int) -> None:
    one = fit_label(17.6, 1.14, 21.7, 1.22, 0.0005, -0.0033)
    array = fit_label(17.6, 1.14, 21.7, 1.22, 0.0005, -0.0033, in_series, in_parallel)
    assert array.voc_temperature_coefficient == pytest.approx(in_series * one.voc_temperature_coefficient, rel=1e-15)
    for sun, warmth in ((1000.0, 25.0), (217.0, -13.0), (890.0, 57.0)):
        alone, many = at_conditions(one, sun, warmth), at_conditions(array, sun, warmth)
        power, voltage, current = maximum_power(alone)
        assert maximum_power(many) == pytest.approx((power * in_series * in_parallel, voltage * in_series, current * in_parallel))
        assert open_circuit_voltage(many) == pytest.approx(in_series * open_circuit_voltage(alone), rel=1e-11)
        expected = in_parallel * current_at_voltage(alone, 15.7)
        assert current_at_voltage(many, 15.7 * in_series) == pytest.approx(expected, rel=1e-10)


def test_warm_panels_lose_volts_and_power_and_gain_a_little_current() -> None:
    diode = fit_label(17.6, 1.14, 21.7, 1.22, 0.0005, -0.0033)
    sun = at_conditions(diode, 1000.0, np.linspace(-20.0, 80.0, 21))
    assert np.all(np.diff(open_circuit_voltage(sun)) < 0)
    assert np.all(np.diff(maximum_power(sun)[0]) < 0)
    assert np.all(np.diff(short_circuit_current(sun)) > 0)


def test_more_sun_more_of_everything() -> None:
    sun = at_conditions(PANEL, np.linspace(1.0, 1200.0, 200), 31.0)
    for part in (short_circuit_current(sun), open_circuit_voltage(sun), maximum_power(sun)[0], maximum_power(sun)[2]):
        assert np.all(np.diff(part) > 0)


def test_the_median_module_loses_the_median_power_when_warm() -> None:
    # 20,946 crystalline modules (cec_modules_2019), medians: vmp/voc 0.81, imp/isc 0.94, voc -0.337 %/K,
    # isc +0.051 %/K, and power -0.45 (5..95 %: -0.53..-0.38) %/K. The fit is not told the last one and comes
    # out at -0.41: within the modules' spread, but 1 % of power too kind at 50 Cel.
    diode = fit_label(0.81 * 37.4, 0.94 * 8.6, 37.4, 8.6, 0.00051, -0.00337)
    shape = list(vars(diode).values())[:6]
    warm, cold = key_points(*shape, cell_temperature=35.0), key_points(*shape, cell_temperature=15.0)
    label = key_points(*shape)
    assert -0.53 < 100 * (warm.power - cold.power) / 20 / label.power < -0.38
    assert 100 * (warm.voc - cold.voc) / 20 / label.voc == pytest.approx(-0.337, abs=0.002)
    assert 100 * (warm.isc - cold.isc) / 20 / label.isc == pytest.approx(0.051, abs=0.001)


def test_a_label_without_room_for_a_leak_is_kept_and_told() -> None:
    diode = fit_label(17.5, 4.83, 21.8, 4.97, 0.0005, -0.0034)
    assert diode.shunt_resistance == pytest.approx(LARGEST_SHUNT * 21.8 / 4.97)
    first, second = fit_notes(diode, 17.5 * 4.83, "#/panels/2")
    assert (first.code, first.severity, first.pointer) == ("no_leak_counted", "info", "#/panels/2/imp_a")
    assert "no leak across the cells fits" in first.detail
    assert (second.code, second.severity) == ("label_power_missed", "info")
    assert "84.53 W by the label" in second.detail


@pytest.mark.parametrize(
    ("label", "field", "code", "words"),
    [
        ((6.0, 0.30, 6.6, 0.33), "vmp_v", "label_not_a_diode", "panel vmp is 6 V beside a voc of 6.6 V; a silicon panel with"),
        ((14.0, 4.9, 21.8, 4.97), "imp_a", "label_not_a_diode", "panel imp is 4.9 A by the label and"),
        ((22.0, 1.0, 21.0, 1.1), "vmp_v", "vmp_not_below_voc", "panel vmp is 22 V; it must be below voc, 21 V"),
    ],
)
def test_labels_of_no_diode_are_refused(label: tuple, field: str, code: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        fit_label(*label, 0.0005, -0.0033, pointer="#/panels/1")
    (problem,) = caught.value.problems
    assert problem.pointer == f"#/panels/1/{field}"
    assert problem.code == code
    assert problem.detail.startswith(words)


@pytest.mark.parametrize(("count", "shown"), [(0, "0"), (-2, "-2"), (1.5, "1.5")])
def test_counts_of_panels_are_whole_numbers(count: float, shown: str) -> None:
    with pytest.raises(InputError) as caught:
        fit_label(17.6, 1.14, 21.7, 1.22, 0.0005, -0.0033, in_series=count, in_parallel=count)  # type: ignore[arg-type]
    series, parallel = caught.value.problems
    assert (series.pointer, parallel.pointer) == ("#/panels/0/in_series", "#/panels/0/in_parallel")
    assert series.detail == f"panels in series is {shown}; it must be a whole number, 1 or more; one panel alone is 1"


GOOD = {"vmp": 17.5, "imp": 4.58, "voc": 21.8, "isc": 4.97, "isc_coefficient": 0.0005, "voc_coefficient": -0.0034}
ISC_FIELD, VOC_FIELD = "isc_temperature_coefficient_pct_per_c", "voc_temperature_coefficient_pct_per_c"


def problems(**changed: float) -> tuple:
    return label_problems(**(GOOD | changed), pointer="#/panels/3")


def test_an_ordinary_label_passes() -> None:
    assert problems() == ()


@pytest.mark.parametrize(
    ("changed", "field", "code", "words"),
    [
        ({"vmp": 0.0}, "vmp_v", "out_of_range", "panel vmp is 0 V; it must be a number above 0"),
        ({"imp": -1.0}, "imp_a", "out_of_range", "panel imp is -1 A; it must be a number above 0"),
        ({"voc": math.nan}, "voc_v", "out_of_range", "panel voc is nan V; it must be a number above 0"),
        ({"isc": math.inf}, "isc_a", "out_of_range", "panel isc is inf A; it must be a number above 0"),
        ({"vmp": 21.8}, "vmp_v", "vmp_not_below_voc", "panel vmp is 21.8 V; it must be below voc, 21.8 V; look whether"),
        ({"vmp": 22.4}, "vmp_v", "vmp_not_below_voc", "panel vmp is 22.4 V; it must be below voc, 21.8 V; look whether"),
        ({"imp": 5.2}, "imp_a", "imp_not_below_isc", "panel imp is 5.2 A; it must be below isc, 4.97 A; look whether"),
        (
            {"vmp": 21.3, "imp": 4.9},
            "vmp_v",
            "fill_factor_implausible",
            "over voc isc) is 0.96; a silicon panel lies between 0.40",
        ),
        ({"vmp": 9.0}, "vmp_v", "fill_factor_implausible", "over voc isc) is 0.38; a silicon panel lies between 0.40 and 0.90"),
        (
            {"isc_coefficient": 0.0053},
            ISC_FIELD,
            "coefficient_implausible",
            "coefficient is 0.53 %/°C; it lies between -0.1 and 0.2",
        ),
        ({"isc_coefficient": -0.0034}, ISC_FIELD, "coefficient_implausible", "coefficient is -0.34 %/°C; it lies between"),
        ({"voc_coefficient": 0.0034}, VOC_FIELD, "coefficient_implausible", "coefficient is 0.34 %/°C; it lies between -0.6 and"),
        (
            {"voc_coefficient": -0.34},
            VOC_FIELD,
            "coefficient_implausible",
            "coefficient is -34 %/°C; it lies between -0.6 and -0.1",
        ),
        ({"voc_coefficient": -0.000034}, VOC_FIELD, "coefficient_implausible", "coefficient is -0.0034 %/°C; it lies between"),
        ({"voc_coefficient": math.nan}, VOC_FIELD, "coefficient_implausible", "coefficient is nan %/°C; it lies between"),
    ],
)
def test_one_sentence_for_one_wrong_number(changed: dict, field: str, code: str, words: str) -> None:
    (problem,) = problems(**changed)
    assert problem.pointer == f"#/panels/3/{field}"
    assert problem.code == code
    assert words in problem.detail
    assert problem.detail.count("; ") >= 2


def test_every_wrong_number_is_told_at_once() -> None:
    found = problems(vmp=30.0, imp=9.0, isc_coefficient=0.01, voc_coefficient=0.01)
    assert [problem.pointer.rsplit("/", 1)[1] for problem in found] == ["vmp_v", "imp_a", ISC_FIELD, VOC_FIELD]


def test_limits_are_inclusive() -> None:
    assert problems(isc_coefficient=-0.001) == problems(isc_coefficient=0.002) == ()
    assert problems(voc_coefficient=-0.006) == problems(voc_coefficient=-0.001) == ()


@pytest.mark.parametrize("percent", [-0.34, -0.30])
def test_nameplate_and_measured_coefficient_of_small_panels_pass(percent: float) -> None:
    # 50 W, 12 V panels: -0.34 %/°C by nameplate, -0.30 measured (EPJ Photovoltaics 2018, pv180007, Table 2).
    assert problems(voc_coefficient=percent / 100) == ()


def test_the_spread_of_real_modules_passes() -> None:
    # Medians and 5..95 % of 20,946 crystalline modules of the 2019 California list, in % per Cel.
    for percent in (-0.40, -0.337, -0.28):
        assert problems(voc_coefficient=percent / 100) == ()
    for percent in (0.024, 0.051, 0.095):
        assert problems(isc_coefficient=percent / 100) == ()
