"""The pump's motor: a permanent-magnet machine that turns in proportion to its back-EMF.

With the speed ratio s (1 at the pump's last published point, at rated voltage):

    voltage = s E + current R        current = I0 + s² J

E is the back-EMF at s = 1, R the winding, I0 the no-load current, J the load current of the pump's state
reduced to s = 1.

I0 is taken as constant, the friction of brushes (Coulomb). In bearings and iron it grows with speed (viscous), so that a
share of it may be taken as s I0: the points of one voltage cannot tell the two apart, as all of them turn nearly alike, and
at rated voltage both say the same. The share is 0 here and a cause of doubt (``uncertainty``); a bench test at several
voltages sees the error in its own scatter.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import Note, input_error
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]

DEFAULT_WINDING_SHARE = 0.15
"""[1] Share of rated voltage lost in the winding at rated current, where the label is silent."""
DEFAULT_NO_LOAD_SHARE = 0.10
"""[1] No-load current over rated current, where the label is silent."""
NO_LOAD_OF_LEAST = 0.5
"""[1] An assumed no-load current is at most this share of the smallest current that the pump draws with water."""
LARGEST_WINDING_SHARE = 0.8
"""[1] A winding that takes more than this of the rated voltage is a wrong reading."""


@dataclass(frozen=True)
class MotorLabel:
    """What the electrical side of the label says; ``None`` where it is silent."""

    rated_voltage: float
    lowest_voltage: float
    highest_voltage: float | None = None
    winding_resistance: float | None = None
    no_load_current: float | None = None
    starting_current: float | None = None
    viscous_share: float = 0.0


@dataclass(frozen=True)
class Motor:
    """Winding resistance [ohm], no-load and starting current [A], back-EMF [V] at speed ratio 1; rated current [A] at the
    last point, and the largest of all points, all at rated voltage; ``viscous_share`` [1] of the no-load current grows with
    speed."""

    winding_resistance: float
    no_load_current: float
    starting_current: float
    back_emf: float
    rated_current: float
    largest_current: float
    viscous_share: float = 0.0


@formula("no_load_current * (1 - viscous_share + viscous_share * speed)", unit="A", source="motor_equations")
def no_load_at_speed(no_load_current: Numeric, viscous_share: Numeric, speed: Numeric) -> Numeric:
    """Current without load at another speed [A]: Coulomb friction as it is, viscous friction in proportion to speed.

    Examples
    --------
    >>> no_load_at_speed(0.12, 0.5, 0.8)
    0.108
    """
    return no_load_current * (1 - viscous_share + viscous_share * speed)


@formula("no_load_current + speed**2 * load_current", unit="A", source="motor_equations")
def motor_current(no_load_current: Numeric, speed: Numeric, load_current: Numeric) -> Numeric:
    """Current the motor draws [A]; ``load_current`` is that of the same pump state at speed ratio 1.

    Examples
    --------
    >>> motor_current(0.12, 0.8, 1.1)
    0.824
    """
    return no_load_current + speed**2 * load_current


@formula("speed * back_emf + current * winding_resistance", unit="V", source="motor_equations")
def motor_voltage(speed: Numeric, back_emf: Numeric, current: Numeric, winding_resistance: Numeric) -> Numeric:
    """Voltage at the motor's terminals [V]: back-EMF plus the drop in the winding.

    Examples
    --------
    >>> motor_voltage(0.8, 10.2, 0.824, 1.5)
    9.396
    """
    return speed * back_emf + current * winding_resistance


@formula(
    "2 * (voltage - no_load_current * winding_resistance) / (back_emf + sqrt(back_emf**2"
    " + 4 * winding_resistance * load_current * (voltage - no_load_current * winding_resistance)))",
    unit="1",
    source="motor_equations",
)
def speed_at_voltage(
    voltage: Numeric, back_emf: Numeric, winding_resistance: Numeric, no_load_current: Numeric, load_current: Numeric
) -> Numeric:
    """Speed ratio of a motor on a battery of that voltage: the two equations above, solved for the speed.

    Examples
    --------
    >>> float(speed_at_voltage(9.396, 10.2, 1.5, 0.12, 1.1))
    0.8
    """
    turning = voltage - no_load_current * winding_resistance
    return 2 * turning / (back_emf + np.sqrt(back_emf**2 + 4 * winding_resistance * load_current * turning))


def motor_model(motor: MotorLabel, current: NDArray[np.float64], pointer: str = "#/pumps/0") -> tuple[Motor, tuple[Note, ...]]:
    """Complete the label of a motor; each default is returned as a note.

    Parameters
    ----------
    current : (points,) [A] at rated voltage; the last is the rated current
    pointer : where the pump stands in the design, for messages

    Raises
    ------
    InputError
        if a current does not exceed the no-load current, or the winding would take most of the voltage.

    Examples
    --------
    >>> model, notes = motor_model(MotorLabel(12.0, 6.0), np.array([0.7, 1.1]))
    >>> model.winding_resistance, model.no_load_current, model.back_emf
    (1.636, 0.11, 10.2)
    >>> [note.code for note in notes]
    ['winding_assumed', 'no_load_assumed', 'starting_assumed']
    """
    rated = float(current[-1])
    resistance, no_load, starting = motor.winding_resistance, motor.no_load_current, motor.starting_current
    notes: list[Note] = []
    if resistance is None:
        resistance = DEFAULT_WINDING_SHARE * motor.rated_voltage / float(np.max(current))
        text = (
            f"Winding resistance assumed to be {resistance:.3g} ohm (15 % of rated voltage at rated current); measure it to know."
        )
        notes.append(Note("winding_assumed", "info", text, f"{pointer}/winding_resistance_ohm"))
    if no_load is None:
        no_load = min(DEFAULT_NO_LOAD_SHARE * rated, NO_LOAD_OF_LEAST * float(np.min(current)))
        share = f"{100 * no_load / rated:.2g} % of rated current"
        text = f"No-load current assumed to be {no_load:.3g} A ({share}); measure it to know."
        notes.append(Note("no_load_assumed", "info", text, f"{pointer}/no_load_current_a"))
    starting, told = starting_current(starting, no_load, pointer)
    notes += told
    check_currents(motor.rated_voltage, current, resistance, no_load, pointer)
    emf, largest = motor.rated_voltage - rated * resistance, float(np.max(current))
    return Motor(resistance, no_load, starting, emf, rated, largest, motor.viscous_share), tuple(notes)


def starting_current(given: float | None, no_load: float, pointer: str) -> tuple[float, list[Note]]:
    """Starting current [A], never below the no-load current, with a note where it is not the label's."""
    if given is not None and given >= no_load:
        return given, []
    if given is None:
        text = f"Starting current assumed equal to the no-load current, {no_load:.3g} A; an old or gritty pump needs more."
        return no_load, [Note("starting_assumed", "info", text, f"{pointer}/starting_current_a")]
    text = (
        f"Starting current is {given:.3g} A and the motor needs {no_load:.3g} A to turn without water; "
        "the larger is taken; check both."
    )
    return no_load, [Note("starting_raised", "info", text, f"{pointer}/starting_current_a")]


def check_currents(voltage: float, current: NDArray[np.float64], resistance: float, no_load: float, pointer: str) -> None:
    """Refuse currents that leave nothing to turn the pump."""
    if np.min(current) <= no_load:
        detail = (
            f"a pump current of {np.min(current):.4g} A is not above the no-load current of {no_load:.4g} A; "
            "the motor needs more with water than without; check both"
        )
        raise input_error(f"{pointer}/no_load_current_a", "no_load_too_high", detail, maximum=float(np.min(current)))
    drop = float(np.max(current)) * resistance
    if drop >= LARGEST_WINDING_SHARE * voltage:
        detail = (
            f"a winding of {resistance:.4g} ohm takes {drop:.3g} V at {np.max(current):.4g} A, more than 80 % of the rated "
            f"{voltage:.4g} V; measure it again with the meter's leads subtracted"
        )
        raise input_error(
            f"{pointer}/winding_resistance_ohm",
            "winding_too_large",
            detail,
            0,
            LARGEST_WINDING_SHARE * voltage / float(np.max(current)),
        )
