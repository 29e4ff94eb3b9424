"""sizing.electric."""

from sizing.electric.motor import speed_at_voltage
from sizing.electric.panel import current_at_voltage, maximum_power, open_circuit_voltage
from sizing.electric.single_diode import Diode, at_conditions

__all__ = ["Diode", "at_conditions", "current_at_voltage", "maximum_power", "open_circuit_voltage", "speed_at_voltage"]
