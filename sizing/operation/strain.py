"""How hard a year is on the pump: hours above its rated volts and watts, and what plays above the highest voltage known for it.

The rated voltage is all that a label without a highest voltage allows; so an unknown highest voltage counts as the rated
one here, and never as a higher one.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.units import HOUR
from sizing.hydraulic.pump import Pump
from sizing.operation.operating_point import SAME, OperatingPoints, State


@dataclass(frozen=True)
class Strain:
    """What a year asks of a pump while it turns.

    ``known``: whether the highest voltage is known; ``allowed`` [V] is that, else the rated voltage. ``most_voltage`` [V]
    and ``most_power`` [W] of the year; hours [h a year] above rated volts, above rated watts and above ``allowed``; and
    the hours of play [h] and the water [m3] among these last.
    """

    known: bool
    allowed: float
    rated_voltage: float
    rated_power: float
    most_voltage: float
    most_power: float
    above_rated_voltage: float
    above_rated_power: float
    above_allowed: float
    play_above: float
    water_above: float

    @property
    def doubtful(self) -> bool:
        """Whether nobody knows that the pump bears its year: it runs above rated, and the label says nothing beyond."""
        return not self.known and self.above_allowed > 0


def voltage_known_to_be_borne(pump: Pump) -> float:
    """The voltage that the label allows [V]: the highest, or the rated one where it names no highest."""
    return pump.rated_voltage if pump.highest_voltage is None else pump.highest_voltage


def above_allowed(pump: Pump, operation: OperatingPoints) -> NDArray[np.bool_]:
    """The moments in which the pump turns above the highest voltage known for it."""
    turns = operation.state >= State.CANNOT_LIFT
    return np.asarray(turns & (operation.voltage > voltage_known_to_be_borne(pump) * SAME))


def strain_of(pump: Pump, operation: OperatingPoints, step: float) -> Strain:
    """The strain of a year.

    Parameters
    ----------
    step : length of a step [h]
    """
    step, turns = float(step), operation.state >= State.CANNOT_LIFT
    volts = np.where(turns, operation.voltage, 0.0)
    watts = volts * operation.current
    above = above_allowed(pump, operation)
    return Strain(
        known=pump.highest_voltage is not None,
        allowed=voltage_known_to_be_borne(pump),
        rated_voltage=pump.rated_voltage,
        rated_power=pump.rated_power,
        most_voltage=float(volts.max(initial=0.0)),
        most_power=float(watts.max(initial=0.0)),
        above_rated_voltage=step * np.count_nonzero(volts > pump.rated_voltage * SAME),
        above_rated_power=step * np.count_nonzero(watts > pump.rated_power * SAME),
        above_allowed=step * np.count_nonzero(above),
        play_above=step * np.count_nonzero(above & (operation.flow > 0)),
        water_above=float(operation.flow[above].sum()) * step * HOUR,
    )


def flow_borne(pump: Pump, operation: OperatingPoints) -> NDArray[np.float64]:
    """Flow [m3/s] of each moment, none where the pump turns above the highest voltage known for it."""
    return np.where(above_allowed(pump, operation), 0.0, operation.flow)
