"""What a flow asks of a supply, whatever the panel: the point of volts and amperes at which pump, pipe and outlet give it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.hydraulic.pump import Pump
from sizing.operation.goal import ROUNDING
from sizing.operation.load_line import PipeSystem, load_line, speed_at, system_head
from sizing.operation.operating_point import own_electronics

Array = NDArray[np.float64]

FASTEST = 100.0
"""[1] Speed ratio that no motor reaches; the search for a speed stays below it."""


@dataclass(frozen=True, eq=False)
class Draw:
    """What a flow asks of a supply: the motor's voltages [V] and currents [A] and the flows [m3/s] from standstill up to
    it; at the last it is reached, and the pump's lowest voltage too, unless the pump never gives it (``short``)."""

    pump: Pump
    voltage: Array
    current: Array
    flow: Array
    short: bool = False


def draw_of(pump: Pump, waterway: PipeSystem, flow: float) -> Draw:
    """What a flow [m3/s, above 0] asks of a supply.

    Raises
    ------
    SizingError
        if the outlet's formula does not reach so far.
    """
    if pump.table is not None or own_electronics(pump):
        return draw_by_power(pump, waterway, flow)
    wanted = np.array([flow])
    speed = float(speed_at(pump, wanted, system_head(waterway, wanted), FASTEST)[0])
    line = load_line(pump, waterway, max(speed, pump.lowest_voltage / pump.motor.back_emf))
    short = (line.flow < flow * (1 - ROUNDING)) | (line.voltage < pump.lowest_voltage)
    last = min(int(np.flatnonzero(short)[-1]) + 1, len(line.speed) - 1)
    share = max(portion(line.flow, last, flow), portion(line.voltage, last, pump.lowest_voltage))
    voltage, current, flows = (up_to(values, last, share) for values in (line.voltage, line.current, line.flow))
    return Draw(pump, voltage, current, flows)


def draw_by_power(pump: Pump, waterway: PipeSystem, flow: float) -> Draw:
    """The same of a pump that is known by its power or holds its speed: it may never give that flow."""
    line = load_line(pump, waterway, 1.0 if own_electronics(pump) else FASTEST)
    enough = line.flow >= flow * (1 - ROUNDING)
    last = int(np.argmax(enough & (line.voltage >= pump.lowest_voltage))) if np.any(enough) else len(line.flow) - 1
    voltage, current, flows = line.voltage[: last + 1], line.current[: last + 1], line.flow[: last + 1]
    return Draw(pump, voltage, current, flows, short=not np.any(enough))


def portion(values: Array, last: int, wanted: float) -> float:
    """How far before node ``last`` a value is reached, from 0 at the node before to 1."""
    gap = float(values[last] - values[last - 1])
    return float(np.clip((wanted - values[last - 1]) / gap, 0.0, 1.0)) if gap > 0 else 0.0


def up_to(values: Array, last: int, share: float) -> Array:
    """The nodes before ``last``, and one more at that share of the way to it."""
    return np.append(values[:last], values[last - 1] + share * (values[last] - values[last - 1]))
