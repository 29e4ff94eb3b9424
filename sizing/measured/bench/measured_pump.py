"""The measured pump for a design file, and its curve beside what its label says."""

from dataclasses import dataclass
from math import floor, log10

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import OF_BOX, Design, PumpInput
from sizing.design.reading import read_as, read_design
from sizing.electric.motor import MotorLabel
from sizing.foundation.errors import InputError, input_error
from sizing.foundation.formats import percent
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.foundation.working import formula
from sizing.fountain.components import index_of
from sizing.hydraulic.pump import Pump, flow_at_speed, head_at_speed
from sizing.hydraulic.pump_curve import pump_from_points, rated_speed
from sizing.measured.bench.curves import Curve, curve_at, flow_at_head, last_state, states
from sizing.measured.bench.equations import NO_LOAD, WINDING
from sizing.measured.bench.fit import Fit
from sizing.measured.logs.instruments import Instruments

Array = NDArray[np.float64]

MEASURED = {
    *("name", "rated_voltage_v", "lowest_voltage_v", "highest_voltage_v", "points", "power_points", "drive", *OF_BOX),
    *("winding_resistance_ohm", "no_load_current_a", "measured"),
}
"""Fields of a pump that a bench test tells or checks; whatever else a design knows of its pump stays."""
MARK = ", measured"
"""Ends the name of a pump that was measured."""
LONGEST_NAME = 80
COLUMNS = ("flow_l_per_min", "head_m", "current_a")
FEWEST_POINTS, MOST_POINTS = 5, 9
LEAST_SURE = 0.5
"""[1] A pump whose head is less sure than this share of it is no pump to size with."""
NEAR_SHUT_OFF = 0.25
"""[1] Where the smallest measured state is beyond this share of the largest, the curve begins at it."""
SAME_AS_LABEL = 2.0
"""[1] Standard uncertainties beyond which a pump differs from its label."""
BOX_SHARES = (0.0, 0.25, 0.5, 0.75)
"""[1] Flows at which a pump known by its box only is compared, as shares of the box's largest."""


@dataclass(frozen=True)
class LabelRow:
    """At one flow [m3/s]: head [m] and current [A] by the label and as measured, with one standard uncertainty."""

    flow: float
    label_head: float
    head: float
    head_uncertainty: float
    label_current: float
    current: float
    current_uncertainty: float

    @property
    def head_differs(self) -> bool:
        return abs(self.head - self.label_head) > SAME_AS_LABEL * self.head_uncertainty

    @property
    def current_differs(self) -> bool:
        return abs(self.current - self.label_current) > SAME_AS_LABEL * self.current_uncertainty


@dataclass(frozen=True, eq=False)
class LabelComparison:
    """The pump against its label at the label's voltage [V]; flows [m3/s] at one head [m] in the middle of the curve."""

    voltage: float
    points: bool
    rows: tuple[LabelRow, ...]
    head: float
    label_flow: float
    flow: float
    flow_uncertainty: float

    @property
    def flow_differs(self) -> bool:
        return abs(self.flow - self.label_flow) > SAME_AS_LABEL * self.flow_uncertainty


@formula("sqrt(by_chance**2 + (uncertain_share * value)**2)", unit="1", source="jcgm_100")
def with_meter_share(by_chance: float, uncertain_share: float, value: float) -> float:
    """Standard uncertainty by chance and by what a meter has in common in all readings, in the unit of the value.

    Examples
    --------
    >>> float(with_meter_share(0.12, 0.0112, 1.6))
    0.1213
    """
    return np.sqrt(by_chance**2 + (uncertain_share * value) ** 2)


def motor_uncertainty(fit: Fit, instruments: Instruments) -> tuple[float, float]:
    """Standard uncertainty of the winding [ohm] and of the no-load current [A]."""
    ratio = float(np.hypot(instruments.voltage_share, instruments.current_share))
    return (
        float(with_meter_share(fit.uncertainty(WINDING), 0.0 if fit.usual[0] else ratio, fit.winding)),
        float(with_meter_share(fit.uncertainty(NO_LOAD), instruments.current_share, fit.no_load)),
    )


def head_share(curve: Curve, instruments: Instruments) -> float:
    """Standard uncertainty of the whole head curve as a share of it: without the bucket's mark, which is the flow's."""
    mark = curve.flow * curve.head_by_flow * instruments.volume_calibration
    without = np.maximum(curve.head_uncertainty**2 - mark**2, 0.0)
    return float(np.sqrt(without.mean() / np.mean(curve.head**2)))


def first_state(fit: Fit) -> float:
    """Where the pump's points begin: at shut-off, unless no reading came near it."""
    return 0.0 if fit.least <= NEAR_SHUT_OFF * fit.most else fit.least


def decimals(largest: float) -> int:
    """Decimals that show a column's largest number with four figures, at most three unless it is tiny.

    Examples
    --------
    >>> decimals(9.87), decimals(0.913), decimals(104.0), decimals(0.0412)
    (3, 3, 1, 5)
    """
    return min(max(3 - floor(log10(largest)), 0), 3 if largest > 0.1 else 5)


def rounded_points(flow: Array, head: Array, current: Array) -> list[tuple[float, float, float]]:
    """Flow, head and current as a person would write them down; a point that no longer differs from the last is left out."""
    columns = [np.round(values, decimals(float(values.max()))) for values in (flow / LITRE_PER_MINUTE, head, current)]
    points: list[tuple[float, float, float]] = []
    for passed, lifted, drawn in zip(*(values.tolist() for values in columns), strict=True):
        if not points or (passed > points[-1][0] and lifted < points[-1][1]):
            points.append((passed, lifted, drawn))
    return points


def figures_of(value: float, digits: int = 3) -> float:
    """A number rounded to so many figures."""
    return float(f"{value:.{digits}g}")


@dataclass(frozen=True)
class Asked:
    """What a pump is made for: rated voltage [V], name, instruments, density of water [kg/m3], the pump it replaces, and the
    day of the test, like 2026-05-31."""

    voltage: float
    name: str
    instruments: Instruments
    density: float
    old: PumpInput | None = None
    day: str | None = None


def pump_of_bench(fit: Fit, asked: Asked, readings: int) -> PumpInput:
    """The measured pump as a design file has it; what a bench cannot tell is the old pump's.

    Parameters
    ----------
    readings : how many were fitted

    Raises
    ------
    InputError
        if no design could use such a pump: head that rises, more power in the water than in the wires.
    """
    voltage, instruments = asked.voltage, asked.instruments
    count = min(max(fit.states + 1, FEWEST_POINTS), MOST_POINTS)
    flow, head, current = states(fit, voltage, count, first_state(fit))
    if np.any(np.diff(flow) <= 0) or np.any(np.diff(head) >= 0) or current.min() <= fit.no_load:
        detail = (
            "the readings give no pump that a design can use: its head does not fall from point to point, or it draws less with "
            "water than without; check for swapped numbers, and measure again with the hose low and near the height where the "
            "water stops"
        )
        raise input_error("log", "no_usable_curve", detail)
    unsure = head_share(curve_at(fit, voltage, flow, instruments, asked.density), instruments)
    if unsure > LEAST_SURE:
        detail = (
            f"the readings scatter so much that the pump’s head is known to {percent(unsure)} only, and {percent(LEAST_SURE)} is "
            "the limit here; take a larger bucket, longer fillings and more heights, and check the rows that miss the curve most"
        )
        raise input_error("log", "too_unsure", detail, maximum=LEAST_SURE)
    old = asked.old
    kept = {} if old is None else old.model_dump(mode="json", exclude_none=True, exclude_defaults=True)
    return usable(
        {
            "id": "measured-pump",
            **{field: value for field, value in kept.items() if field not in MEASURED},
            "name": asked.name,
            "rated_voltage_v": voltage,
            **voltages_kept(old, voltage),
            "points": [dict(zip(COLUMNS, point, strict=True)) for point in rounded_points(flow, head, current)],
            "winding_resistance_ohm": max(figures_of(fit.winding), 0.001),
            "no_load_current_a": figures_of(fit.no_load),
            "measured": how_sure(fit, asked, readings, unsure),
        },
        asked.density,
    )


def how_sure(fit: Fit, asked: Asked, readings: int, unsure: float) -> dict[str, object]:
    """Of how many readings the pump is, and how sure it is, as a design file has it.

    Parameters
    ----------
    unsure : standard uncertainty of the head as a share
    """
    winding, no_load = motor_uncertainty(fit, asked.instruments)
    return {
        **({} if asked.day is None else {"date": asked.day}),
        "readings": readings,
        "head_uncertainty_pct": figures_of(100 * unsure),
        "flow_uncertainty_pct": figures_of(100 * asked.instruments.volume_calibration),
        "winding_uncertainty_ohm": figures_of(winding),
        "no_load_uncertainty_a": figures_of(no_load),
    }


def voltages_kept(old: PumpInput | None, voltage: float) -> dict[str, float]:
    """Lowest and highest voltage of the old pump, where they still stand below and above the rated one."""
    if old is None:
        return {}
    kept = {"lowest_voltage_v": old.lowest_voltage_v} if 0 < old.lowest_voltage_v < voltage else {}
    if old.highest_voltage_v is not None and old.highest_voltage_v >= voltage:
        kept["highest_voltage_v"] = old.highest_voltage_v
    return kept


def usable(data: dict[str, object], density: float) -> PumpInput:
    """The pump, once a design file and a sizing would take it; else a sentence that speaks of the readings."""
    try:
        pump = read_as(PumpInput, data)
        motor = MotorLabel(
            pump.rated_voltage_v,
            pump.lowest_voltage_v,
            winding_resistance=pump.winding_resistance_ohm,
            no_load_current=pump.no_load_current_a,
        )
        points = np.array([(point.flow_l_per_min, point.head_m, point.current_a) for point in pump.points or ()]).T
        pump_from_points(pump.name, motor, points[0] * LITRE_PER_MINUTE, points[1], points[2], density)
    except InputError as error:
        first = error.problems[0]
        told = f"the readings give no pump that a design can use: {first.detail}; check that heights were taken from the water"
        raise input_error("log", first.code, told) from None
    return pump


def design_with_pump(design: Design, pump: PumpInput) -> Design:
    """Put a measured pump in place of the chosen one; what a bench cannot tell stays, its name says that it was measured.

    Raises
    ------
    InputError
        if the design could not hold it.
    """
    data = design.model_dump(mode="json", exclude_unset=True)
    index = index_of("pump", [each.id for each in design.pumps], design.chosen.pump if design.chosen else None)
    old = data["pumps"][index]
    name = str(old["name"]).removesuffix(MARK)[: LONGEST_NAME - len(MARK)] + MARK
    kept = {field: value for field, value in old.items() if field not in MEASURED and value is not None}
    data["pumps"][index] = {**pump.model_dump(mode="json", exclude_unset=True), **kept, "name": name}
    return read_design(data)


def compared(fit: Fit, label: Pump, given: PumpInput | None, instruments: Instruments, density: float) -> LabelComparison:
    """The measured pump beside its label, at the label's rated voltage and, if it has points, at their flows."""
    node = np.linspace(0.0, label.largest_flow, 401)
    load = label.load_curve(node)
    speed = rated_speed(MotorLabel(label.rated_voltage, label.lowest_voltage), label.motor, load)
    flows, heads = np.asarray(flow_at_speed(node, speed)), np.asarray(head_at_speed(label.head_curve(node), speed))
    currents = label.motor.no_load_current + speed**2 * load
    points = given.points if given is not None else None
    asked = (
        np.array([point.flow_l_per_min * LITRE_PER_MINUTE for point in points])
        if points is not None
        else np.array(BOX_SHARES) * float(flows[-1])
    )
    own_flow, own_head, _ = states(fit, label.rated_voltage)
    first = own_flow[-1] * first_state(fit) / last_state(fit)
    asked = asked[(asked >= 0.999 * first) & (asked <= own_flow[-1])]
    curve = curve_at(fit, label.rated_voltage, asked, instruments, density)
    by_label = (np.interp(asked, flows, heads), np.interp(asked, flows, currents))
    columns = (asked, by_label[0], curve.head, curve.head_uncertainty, by_label[1], curve.current, curve.current_uncertainty)
    middle = 0.5 * min(float(own_head[0]), label.shut_off_head) if own_head[-1] <= 0.5 * own_head[0] else float(own_head[NODE])
    own, spread = flow_at_head(fit, label.rated_voltage, middle, instruments, density)
    return LabelComparison(
        label.rated_voltage,
        points is not None,
        tuple(LabelRow(*map(float, row)) for row in zip(*columns, strict=True)),
        middle,
        float(np.interp(middle, heads[::-1], flows[::-1])),
        float(own[0]),
        float(spread[0]),
    )


NODE = 100
"""The middle of a curve's nodes."""
