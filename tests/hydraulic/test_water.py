"""Water: published tables stand in published/water.toml; here trends, limits, shapes, refusals."""

import numpy as np
import pytest

from sizing.foundation.errors import InputError
from sizing.hydraulic.water import density, kinematic_viscosity, viscosity


def test_water_is_heaviest_at_four_degrees() -> None:
    # Any table of water: greatest density at 3.98 degrees Celsius, 999.97 kg/m3 (common knowledge).
    temperature = np.arange(0.0, 12.0, 0.01)
    heaviest = density(temperature)
    assert abs(temperature[np.argmax(heaviest)] - 3.98) < 0.03
    assert abs(heaviest.max() - 999.97) < 0.01


def test_viscosity_falls_with_warmth_as_an_arrhenius_law() -> None:
    temperature = np.linspace(0.0, 60.0, 601)
    assert np.all(np.diff(viscosity(temperature)) < 0)
    # 1.792 / 0.653 = 2.74 between 0 and 40 degrees in the published table of published/water.toml.
    assert viscosity(0.0) / viscosity(40.0) == pytest.approx(2.744, abs=0.005)


def test_kinematic_viscosity_is_the_quotient() -> None:
    # 1.0016e-3 / 998.2 = 1.00341e-6 by hand.
    assert kinematic_viscosity(1.0016e-3, 998.2) == pytest.approx(1.00341e-6, rel=1e-5)


@pytest.mark.parametrize("function", [density, viscosity])
def test_scalar_is_the_array_element(function) -> None:
    temperature = np.array([[0.0, 7.3, 19.1], [33.7, 47.9, 60.0]])
    together = function(temperature)
    assert together.shape == (2, 3)
    for place, one in np.ndenumerate(temperature):
        assert function(float(one)) == pytest.approx(together[place], rel=1e-14)


@pytest.mark.parametrize("function", [density, viscosity])
@pytest.mark.parametrize("wrong", [-0.1, 60.1, float("inf"), float("nan")])
def test_ice_and_steam_are_refused(function, wrong: float) -> None:
    with pytest.raises(InputError) as caught:
        function(np.array([20.0, wrong]))
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/water_temperature_c", "out_of_range")
    assert (problem.minimum, problem.maximum) == (0.0, 60.0)
    assert problem.detail == (
        f"water temperature is {wrong:g} °C; the water table runs from 0 to 60 °C; "
        "give the temperature of liquid water in the basin."
    )
