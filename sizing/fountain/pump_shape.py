"""Which shape a pump was taken to have: what is known of it, and what is taken to turn it.

A pump that is silent about what drives it is taken as a DC motor that turns faster with more volts or, where it is known
by its power without volts, as one whose electronics hold the panel at its maximum power. Neither is safe to believe: the
answer says so, and asks (``unknowns``).
"""

from collections.abc import Sequence
from typing import Literal

from sizing.design.design import PumpInput, by_volts
from sizing.foundation.errors import Note

Shape = Literal[
    "dc_motor_points",
    "dc_motor_bench",
    "dc_motor_box",
    "constant_speed_points",
    "constant_speed_box",
    "power_points",
    "power_points_volts",
]
SHAPES: dict[Shape, str] = {
    "dc_motor_points": "DC motor from points",
    "dc_motor_bench": "DC motor from your bench test",
    "dc_motor_box": "box only, as a DC motor",
    "constant_speed_points": "constant speed electronics, from points",
    "constant_speed_box": "constant speed electronics, box only",
    "power_points": "power points, electronics track the panel's maximum power",
    "power_points_volts": "power points with voltages",
}
"""Each shape in a few words."""
ELECTRONIC: tuple[Shape, ...] = ("constant_speed_points", "constant_speed_box", "power_points")
"""Shapes with electronics that take the panel's power at whatever volts it has."""
MEANINGS: dict[Shape, str] = {
    "dc_motor_points": "it turns faster with more voltage",
    "dc_motor_bench": "it turns faster with more voltage",
    "dc_motor_box": "it turns faster with more voltage",
    "constant_speed_points": "it runs at one speed or not at all",
    "constant_speed_box": "it runs at one speed or not at all",
    "power_points": "the panel's power alone decides the flow",
    "power_points_volts": "the panel meets it at the published voltages",
}


def shape_of(pump: PumpInput) -> Shape:
    """The shape that a pump is computed with.

    Examples
    --------
    >>> box = {"max_head_m": 2.1, "max_flow_l_per_min": 12, "rated_current_a": 1.1}
    >>> shape_of(PumpInput(id="p", name="p", rated_voltage_v=12, **box))
    'dc_motor_box'
    """
    if pump.power_points is not None:
        return "power_points_volts" if by_volts(pump.power_points) and pump.drive != "tracks_power" else "power_points"
    if pump.drive == "holds_speed":
        return "constant_speed_box" if pump.points is None else "constant_speed_points"
    if pump.points is None:
        return "dc_motor_box"
    return "dc_motor_points" if pump.measured is None else "dc_motor_bench"


def shape_known(pump: PumpInput) -> bool:
    """Whether the design says what drives the pump, or a bench test or volts at each power show it."""
    return pump.drive is not None or pump.measured is not None or by_volts(pump.power_points)


def shape_note(pump: PumpInput, pointer: str) -> Note:
    """The sentence that says which shape a pump was taken to have."""
    shape = shape_of(pump)
    text = f"Pump {pump.name} was taken as: {SHAPES[shape]}; {MEANINGS[shape]}."
    return Note("pump_shape" if shape_known(pump) else "pump_shape_assumed", "info", text, pointer)


def shapes_note(pumps: Sequence[PumpInput], pointer: str = "#/pumps") -> Note:
    """The same of all pumps of a design, those of one shape together."""
    by_shape: dict[Shape, list[str]] = {}
    for pump in pumps:
        by_shape.setdefault(shape_of(pump), []).append(pump.name)
    taken = "; ".join(f"{', '.join(names)}: {SHAPES[shape]}" for shape, names in by_shape.items())
    known = all(shape_known(pump) for pump in pumps)
    return Note("pump_shapes" if known else "pump_shapes_assumed", "info", f"How each pump was taken: {taken}.", pointer)
