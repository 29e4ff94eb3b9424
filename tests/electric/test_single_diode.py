"""What sun and temperature do to the diode: signs, limits, shapes, and the sums shown."""

import math

import numpy as np
import pytest
from pvlib.pvsystem import calcparams_desoto

from sizing.electric import single_diode as diode
from sizing.electric.single_diode import Conditions, Diode, at_conditions
from sizing.foundation.working import FORMULAS

PANEL = Diode(4.980938, 9.686902e-10, 0.326085, 148.161652, 0.976234, 0.002485, -0.0815)
AWKWARD = {
    diode.light_current: (4.98, 0.0025, 733.0, 51.7),
    diode.saturation_current: (9.69e-10, 51.7),
    diode.shunt_conductance: (148.2, 733.0),
    diode.thermal_voltage: (0.976, -17.3),
    diode.junction_current: (3.65, 4.1e-8, 0.0049, 1.06, 18.9),
    diode.cold_open_circuit_voltage: (21.8, -0.0815, -17.3),
}


@pytest.mark.parametrize("function", AWKWARD, ids=lambda function: function.__name__)
def test_the_sum_shown_is_the_sum_done(function) -> None:
    names = function.__code__.co_varnames[: function.__code__.co_argcount]
    defaults = dict(zip(names[::-1], (function.__defaults__ or ())[::-1], strict=False))
    given = defaults | dict(zip(names, AWKWARD[function], strict=False))
    shown = eval(FORMULAS[function].text, {"exp": np.exp}, given)
    assert function(**given) == pytest.approx(shown, rel=1e-12)


def test_at_the_label_nothing_changes() -> None:
    sun = at_conditions(PANEL, 1000.0, 25.0)
    assert sun.light_current == PANEL.light_current
    assert sun.saturation_current == PANEL.saturation_current
    assert sun.thermal_voltage == pytest.approx(PANEL.thermal_voltage, rel=1e-15)
    assert sun.shunt_conductance == pytest.approx(1 / PANEL.shunt_resistance, rel=1e-15)


def test_scaling_agrees_with_an_independent_implementation() -> None:
    irradiance, temperature = np.array([17.0, 233.0, 733.0, 1187.0])[:, None], np.array([-24.3, 7.3, 51.7, 83.0])
    sun = at_conditions(PANEL, irradiance, temperature)
    light, saturation, resistance, shunt, scale = calcparams_desoto(
        *np.broadcast_arrays(irradiance, temperature),
        PANEL.isc_temperature_coefficient,
        PANEL.thermal_voltage,
        PANEL.light_current,
        PANEL.saturation_current,
        PANEL.shunt_resistance,
        PANEL.series_resistance,
    )
    np.testing.assert_allclose(sun.light_current, light, rtol=1e-12)
    np.testing.assert_allclose(sun.saturation_current, np.broadcast_to(saturation, (4, 4))[0], rtol=1e-5)  # older Boltzmann
    np.testing.assert_allclose(np.broadcast_to(sun.shunt_conductance, (4, 4)), 1 / shunt, rtol=1e-12)
    np.testing.assert_allclose(sun.thermal_voltage, np.broadcast_to(scale, (4, 4))[0], rtol=1e-12)
    assert sun.series_resistance == resistance.flat[0]


def test_no_sun_is_finite() -> None:
    dark = at_conditions(PANEL, 0.0, -11.0)
    assert dark.light_current == 0.0
    assert dark.shunt_conductance == 0.0
    assert math.isfinite(dark.saturation_current)


def test_saturation_current_rises_with_warmth_and_sun_leaves_it_alone() -> None:
    temperature = np.linspace(-30.0, 90.0, 25)
    saturation = np.asarray(diode.saturation_current(1e-9, temperature))
    assert np.all(np.diff(saturation) > 0)
    # By hand at 35 Cel: (308.15/298.15)³ = 1.10405; 1.121/8.617333e-5 x (1/298.15 - 0.997323/308.15)
    # = 13008.7 x (0.003354016 - 0.003236485) = 1.52892, e to that 4.6132; product 5.0932.
    assert diode.saturation_current(1e-9, 35.0) == pytest.approx(5.0932e-9, rel=2e-4)


def test_light_current_is_in_proportion_to_the_sun() -> None:
    for temperature in (-7.3, 25.0, 61.9):
        whole = diode.light_current(5.0, 0.0025, 870.0, temperature)
        assert diode.light_current(5.0, 0.0025, 435.0, temperature) == pytest.approx(whole / 2, rel=1e-15)


def test_thermal_voltage_of_one_ideal_cell_is_kt_over_q() -> None:
    # k T / q at 25 Cel = 1.380649e-23 x 298.15 / 1.602176634e-19 = 0.0256926 V; at 50 Cel 0.0278470 V.
    assert diode.thermal_voltage(0.0256926, 50.0) == pytest.approx(0.0278470, abs=1e-7)


def test_array_is_scalars_one_by_one() -> None:
    irradiance, temperature = np.array([0.0, 411.0, 1013.0]), np.array([-9.1, 33.0, 68.2])
    together = at_conditions(PANEL, irradiance, temperature)
    for index in range(3):
        alone = at_conditions(PANEL, float(irradiance[index]), float(temperature[index]))
        for name in Conditions.__dataclass_fields__:
            one = np.broadcast_to(getattr(together, name), 3)[index]
            assert one == pytest.approx(getattr(alone, name), rel=1e-14)
