"""How well a pump suits a panel: the share of what the panel could give that the motor takes.

The panel could give its maximum power at every moment; joined to a motor by a cable it stands at the voltage
of the load line instead, and a motor that stands takes nothing useful at all.
"""

import numpy as np
from numpy.typing import NDArray

from sizing.electric.panel import maximum_power
from sizing.electric.single_diode import Diode, at_conditions
from sizing.foundation.working import formula
from sizing.operation.operating_point import OperatingPoints, State

Numeric = float | NDArray[np.float64]


@formula("motor_energy / panel_energy", unit="1", source="appelbaum_1987")
def matching_factor(motor_energy: Numeric, panel_energy: Numeric) -> Numeric:
    """Share of the panel's energy that the motor takes, 0 to 1.

    Parameters
    ----------
    motor_energy : [kWh] electrical energy at the motor's terminals while it turns, 0 or more
    panel_energy : [kWh] energy of the panel at its maximum power over the same time, above 0

    Returns
    -------
    [1] Share; source key appelbaum_1987

    Examples
    --------
    >>> matching_factor(7.3, 19.1)
    0.3822
    """
    return motor_energy / panel_energy


def panel_energy(panel: Diode, irradiance: NDArray[np.float64], cell_temperature: NDArray[np.float64], step: float) -> float:
    """Energy of a panel at its maximum power [kWh].

    Parameters
    ----------
    irradiance, cell_temperature : of each step [W/m2], [Cel]
    step : length of a step [h]
    """
    lit = irradiance > 0
    power = np.asarray(maximum_power(at_conditions(panel, irradiance[lit], cell_temperature[lit]))[0])
    return float(power.sum()) * step / 1000.0


def motor_energy(operation: OperatingPoints, step: float) -> float:
    """Electrical energy that the motor takes while it turns [kWh]; ``step`` is the length of a step [h]."""
    turns = operation.state >= State.CANNOT_LIFT
    return float((operation.voltage * operation.current)[turns].sum()) * step / 1000.0
