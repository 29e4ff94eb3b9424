"""The panel, its cable and the pump's motor: currents and voltages.

In come the four points of a panel's label, cable sizes and a motor's figures; out come the current at any voltage, irradiance
and cell temperature, the maximum power, the voltage drop, and the motor's speed. The water is elsewhere: see ``hydraulic``.

Read: ``single_diode`` (how irradiance and temperature change the five parameters), ``panel`` (what a label may say, fit and
curve, also where the controller takes less than the panel could give), ``wiring`` (cable between panel and pump),
``conductors`` (cables as shops sell them), ``motor`` (back-EMF, winding, no-load current).

2026-11-25, our own top of the power curve. pvlib's Newton takes 0.72 ms on a 40 x 12 grid; ours takes 1.3 ms, and that
    includes the panel at those conditions. Ours works in shunt conductance, so that darkness stays finite, and it is
    bracketed. The largest difference to a bracketed search is 8e-10 W.
2026-11-25, panels whose fit wants a negative leak. Of 20,946 listed modules 1,633 (8 %) give a negative shunt resistance in
    the explicit fit. Chosen: we count no leak, a note says so, and a label point that is then missed by more than 5 % is
    refused. A negative series resistance is always refused, with the largest Vmp that would do.
"""

from sizing.electric.motor import speed_at_voltage
from sizing.electric.panel import current_at_voltage, maximum_power, open_circuit_voltage
from sizing.electric.single_diode import Conditions, Diode, at_conditions

__all__ = [
    "Conditions",
    "Diode",
    "at_conditions",
    "current_at_voltage",
    "maximum_power",
    "open_circuit_voltage",
    "speed_at_voltage",
]
