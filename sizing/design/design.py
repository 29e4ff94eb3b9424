"""The design file: everything one garden fountain needs, in SI units with the unit in the name.

These models are the public contract (``schema_version`` 1): unknown fields are errors, every number has
limits, a unit and a sentence of advice, and the form, the HTTP interface and the command line all read
the same models. ``reading`` turns JSON into a ``Design`` or into sentences that say what to change.
"""

import math
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, ConfigDict, Field, model_validator

from sizing.design.budget_input import PRICE, BasinInput, BudgetInput, Price
from sizing.design.fields import ID_PATTERN, SAME_ID, Strict, Whole, number, part, rows, text
from sizing.design.goal_input import GoalInput
from sizing.design.kept_measurements import MOST_RECORDS, MeasuredCurve, MeasurementInput
from sizing.design.site import BuiltInSky, MountingInput, PlaceInput, SkyInput, clash
from sizing.foundation.tables import NOZZLE_KINDS


class PanelInput(Strict):
    id: str = text("panel id", 40, pattern=ID_PATTERN, advice=SAME_ID)
    name: str = text("panel name", 80)
    vmp_v: float = number("voltage at maximum power", "V", 0.4, 100, "read it from the panel's label", 17.6)
    imp_a: float = number("current at maximum power", "A", 0.01, 20, "read it from the panel's label", 1.14)
    voc_v: float = number("open-circuit voltage", "V", 0.5, 120, "read it from the panel's label", 21.7)
    isc_a: float = number("short-circuit current", "A", 0.01, 22, "read it from the panel's label", 1.22)
    isc_temperature_coefficient_pct_per_c: float = number(
        "temperature coefficient of short-circuit current", "%/K", -0.1, 0.2, "silicon gains about 0.05", 0.05, 0.05
    )
    voc_temperature_coefficient_pct_per_c: float = number(
        "temperature coefficient of open-circuit voltage",
        "%/K",
        -0.6,
        -0.1,
        "silicon loses about 0.33: write -0.33",
        -0.33,
        -0.33,
    )
    in_series: Whole = number("panels in series", "1", 1, 8, "one string of one panel is 1", 1, 1)
    in_parallel: Whole = number("panels in parallel", "1", 1, 8, "one string is 1", 1, 1)
    price: Price | None = PRICE


class PumpPoint(Strict):
    flow_l_per_min: float = number("flow", "L/min", 0, 1000, "take litres per minute", 6)
    head_m: float = number("head", "m", 0, 60, "take metres of water", 1.4)
    current_a: float = number("current", "A", 0.001, 50, "take it at rated voltage", 0.9)


class PowerPoint(Strict):
    """Flow against electrical power at a fixed head, as makers of solar pumps publish it."""

    head_m: float = number("head", "m", 0, 60, "take metres of water", 2)
    power_w: float = number("power", "W", 0.01, 5000, "take the watts at the pump's terminals", 40)
    flow_l_per_min: float = number("flow", "L/min", 0, 1000, "take litres per minute", 6)
    voltage_v: float | None = number("voltage", "V", 0.1, 200, "leave it out if it is not published", 17, None)


OF_BOX = ("max_head_m", "max_flow_l_per_min", "rated_current_a")
"""Fields of a pump that its box tells; all three of them, or points."""
OF_MOTOR = {
    "winding_resistance_ohm": "winding resistance",
    "no_load_current_a": "no-load current",
    "starting_current_a": "starting current",
}
"""Fields of a pump that tell of its motor alone."""


def by_volts(points: tuple[PowerPoint, ...] | None) -> bool:
    """Whether power points have their voltages."""
    return points is not None and all(point.voltage_v is not None for point in points)


MotorKindName = Literal["brushed", "brushless", "not_known"]


class PumpInput(Strict):
    id: str = text("pump id", 40, pattern=ID_PATTERN, advice=SAME_ID)
    name: str = text("pump name", 80)
    rated_voltage_v: float = number("rated voltage", "V", 1, 120, "read it from the pump's label", 12)
    lowest_voltage_v: float = number("lowest voltage", "V", 0, 120, "0 if the pump has no electronics that cut off", 6, 0.0)
    highest_voltage_v: float | None = number("highest voltage", "V", 1, 200, "read it from the pump's label", 24, None)
    points: tuple[PumpPoint, ...] | None = rows(
        "pump points", "point", 2, 40, "head and current at rated voltage, flow rising from point to point", None
    )
    power_points: tuple[PowerPoint, ...] | None = rows(
        "power points", "power point", 2, 40, "flow against electrical power at one or several fixed heads", None
    )
    drive: Literal["dc_motor", "tracks_power", "holds_speed"] | None = part(
        "what drives the pump",
        "dc_motor turns faster with more voltage, tracks_power holds the panel at its maximum power, holds_speed keeps one "
        "speed; leave it out if not known",
        None,
    )
    max_head_m: float | None = number("highest head on the box", "m", 0.05, 60, "the lift at which no water comes", 2.1, None)
    max_flow_l_per_min: float | None = number(
        "largest flow on the box", "L/min", 0.1, 1000, "the flow without any lift", 12, None
    )
    rated_current_a: float | None = number("rated current on the box", "A", 0.001, 50, "rated watts over rated volts", 1.1, None)
    winding_resistance_ohm: float | None = number(
        "winding resistance", "Ohm", 0.001, 500, "leave it out if not measured", 1.4, None
    )
    no_load_current_a: float | None = number("no-load current", "A", 0, 20, "leave it out if not measured", 0.1, None)
    starting_current_a: float | None = number("starting current", "A", 0, 50, "leave it out if not measured", 0.2, None)
    position: Literal["submersible", "surface"] = part("pump position", "in the water or beside it", "submersible")
    motor_kind: MotorKindName | None = part(
        "kind of motor", "brushed or brushless: brushes wear out after a few thousand hours of play; not_known if not sure", None
    )
    price: Price | None = PRICE
    measured: MeasuredCurve | None = part("bench test", "how sure points are that were measured on this pump", None)

    @model_validator(mode="after")
    def one_description(self) -> "PumpInput":
        box = {name: getattr(self, name) for name in OF_BOX}
        lacking = [name for name, value in box.items() if value is None]
        if self.points is None and self.power_points is None and lacking:
            whole = len(lacking) == 3
            raise clash(
                "pump_undescribed",
                "points" if whole else lacking[0],
                f"a pump is given without {'points and without box values' if whole else ' and '.join(lacking)}; it needs either "
                "points (flow, head, current), power_points (head, power, flow) or all three of max_head_m, max_flow_l_per_min "
                "and rated_current_a from its box; add one of these",
            )
        if self.points is not None and self.power_points is not None:
            both = "a pump has both points and power_points; only one of the two can count; keep one and remove the other"
            raise clash("pump_described_twice", "power_points", both)
        if (self.points is not None or self.power_points is not None) and len(lacking) < 3:
            extra, kept = [name for name in box if name not in lacking], "points" if self.points is not None else "power_points"
            both = f"a pump has both {kept} and {', '.join(extra)} from its box; only one of the two can count; "
            raise clash("pump_described_twice", extra[0], f"{both}keep the {kept} and remove {', '.join(extra)}")
        if self.points is None and self.measured is not None:
            told = "a bench test is given for a pump without points; add the points that were measured, or remove measured"
            raise clash("missing", "points", told)
        return self

    @model_validator(mode="after")
    def drive_suits(self) -> "PumpInput":
        """What drives the pump, and what is known of it, must go together."""
        if self.power_points is not None:
            volts = [point.voltage_v is not None for point in self.power_points]
            if any(volts) and not all(volts):
                told = "some power points have a voltage and this one has none; give it at every point, or at none"
                raise clash("voltage_missing", f"power_points/{volts.index(False)}/voltage_v", told)
            if self.drive == "dc_motor" and not any(volts):
                told = (
                    "power points of a DC motor need a voltage each, or nobody can say where the panel meets them; add the "
                    "voltages, or choose tracks_power if its electronics hold the panel at its maximum power"
                )
                raise clash("voltage_missing", "drive", told)
        if self.drive == "holds_speed" and self.power_points is not None:
            told = (
                "a pump that holds its speed takes one power at each head; give points (flow, head, current) in place of power "
                "points"
            )
            raise clash("drive_unsuited", "drive", told)
        if self.drive == "tracks_power" and self.power_points is None:
            told = (
                "a pump whose electronics track the panel's maximum power is known by power points; give them, or choose "
                "dc_motor and a controller as the connection"
            )
            raise clash("drive_unsuited", "drive", told)
        return self.motor_counts()

    def motor_counts(self) -> "PumpInput":
        """Refuse values of a motor that nothing is computed from."""
        if self.power_points is None and self.drive != "holds_speed":
            return self
        used = ("starting_current_a",) if self.drive != "holds_speed" and by_volts(self.power_points) else ()
        idle = [name for name in OF_MOTOR if name not in used and getattr(self, name) is not None]
        if idle:
            of = "holds its speed" if self.drive == "holds_speed" else "is known by its power"
            raise clash(
                "not_used", idle[0], f"{OF_MOTOR[idle[0]]} is given for a pump that {of}, which has no use for it; remove it"
            )
        return self

    @model_validator(mode="after")
    def voltages_in_order(self) -> "PumpInput":
        rated = f"rated voltage {self.rated_voltage_v:g} V"
        if self.lowest_voltage_v >= self.rated_voltage_v:
            raise clash(
                "voltages_out_of_order",
                "lowest_voltage_v",
                f"lowest voltage is {self.lowest_voltage_v:g} V and {rated}; the lowest must be below the rated; "
                "check for swapped numbers",
            )
        if self.highest_voltage_v is not None and self.highest_voltage_v < self.rated_voltage_v:
            raise clash(
                "voltages_out_of_order",
                "highest_voltage_v",
                f"highest voltage is {self.highest_voltage_v:g} V and {rated}; the highest must not be below the rated; "
                "check for swapped numbers",
            )
        return self


class Chosen(Strict):
    panel: str = text("chosen panel", 40, pattern=ID_PATTERN, advice=SAME_ID)
    pump: str = text("chosen pump", 40, pattern=ID_PATTERN, advice=SAME_ID)


class DirectConnection(Strict):
    kind: Literal["direct"] = part("kind of connection", "direct joins panel and pump by the cable alone")


ControllerKindName = Literal["step_down", "step_up_and_down", "not_known"]


class ControllerConnection(Strict):
    kind: Literal["controller"] = part("kind of connection", "controller holds the panel at its maximum power")
    controller_kind: ControllerKindName | None = part(
        "kind of controller", "whether it only lowers the panel's voltage, as most do, or raises it too", None
    )
    efficiency_pct: float = number("controller efficiency", "%", 50, 100, "good controllers reach 90 to 96 %", 92, 90.0)
    price: Price | None = PRICE


Connection = Annotated[
    DirectConnection | ControllerConnection,
    Field(discriminator="kind", json_schema_extra={"label": "connection", "unit": "", "advice": "panel to pump"}),
]


class CableInput(Strict):
    length_m: float = number("one-way cable length", "m", 0, 200, "measure from the panel to the pump", 6)
    area_mm2: float = number("conductor area", "mm2", 0.2, 35, "it is printed on the cable", 1.5)
    conductor_temperature_c: float = number("conductor temperature", "Cel", -20, 90, "40 in summer sun", 40, 40.0)


FittingKind = Literal[
    "entrance", "elbow_90", "elbow_45", "tee_run", "tee_branch", "check_valve", "ball_valve", "gate_valve", "hose_barb"
]


class FittingInput(Strict):
    kind: FittingKind = part("kind of fitting", "what stands in the pipe's way")
    count: Whole = number("number of fittings", "1", 1, 50, "leave the fitting out if there is none", 2)
    k: float | None = number("loss coefficient", "1", 0, 100, "leave it out to take the table's value", 0.8, None)


PipeKindName = Literal["smooth", "ribbed_hose", "galvanised_steel", "not_known"]


class PipeInput(Strict):
    length_m: float = number("pipe length", "m", 0, 100, "measure along the pipe; split a longer run", 2.5)
    inside_diameter_mm: float = number("pipe inside diameter", "mm", 2, 150, "measure the bore, not the outside", 13)
    roughness_mm: float = number("pipe roughness", "mm", 0, 2, "new plastic has about 0.0015", 0.0015, 0.0015)
    fittings: tuple[FittingInput, ...] = rows("fittings", "fitting", 0, 20, "bends, valves and joints", ())
    kind: PipeKindName | None = part("kind of pipe", "what it is like inside; ribs cost about three times the friction", None)


HEIGHT = ("outlet height above the water", "m", 0, 10, "measure from the water level to the opening", 0.45)


NozzleKindName = Literal["smooth_cone", "brass_jet", "drilled_cap", "short_tube", "not_known"]


class FeedInput(Strict):
    kind: Literal["ring", "row"] = part("kind of feed", "ring is a closed ring of pipe, row a straight pipe closed at its end")
    size_m: float = number("size of the feed", "m", 0.05, 20, "measure across the ring, or along the row", 0.6)
    inside_diameter_mm: float = number("inside diameter of the feed", "mm", 4, 150, "measure the bore of the ring or row", 19)


class NozzleOutlet(Strict):
    kind: Literal["nozzle"] = part("kind of outlet", "nozzle makes one jet or several")
    bore_mm: float = number("nozzle bore", "mm", 0.5, 60, "measure the opening of one jet", 5)
    count: Whole = number("number of jets", "1", 1, 200, "count the openings", 1, 1)
    height_above_water_m: float = number(*HEIGHT)
    discharge_coefficient: float | None = number("discharge coefficient", "1", 0.4, 1, "leave it out if not known", 0.946, None)
    velocity_coefficient: float | None = number("velocity coefficient", "1", 0.4, 1, "leave it out if not known", 0.962, None)
    nozzle_kind: NozzleKindName | None = part(
        "kind of nozzle", "what the opening is like; it decides how much water passes and how high it rises", None
    )

    feed: FeedInput | None = part("feed of the jets", "the ring or row of pipe that feeds them; none for one body", None)

    @model_validator(mode="after")
    def jets_fit_their_feed(self) -> "NozzleOutlet":
        if self.feed is None:
            return self
        least = 3 if self.feed.kind == "ring" else 2
        if self.count < least:
            sentence = (
                f"number of jets is {self.count} and a {self.feed.kind} feeds them; it needs at least {least}; "
                "count the openings again, or leave the feed out"
            )
            raise clash("too_few_jets", "count", sentence)
        if self.bore_mm >= self.feed.inside_diameter_mm:
            sentence = (
                f"nozzle bore is {self.bore_mm:g} mm and the {self.feed.kind} {self.feed.inside_diameter_mm:g} mm wide inside; "
                "the holes must be narrower than the pipe that feeds them; check for swapped numbers"
            )
            raise clash("bore_not_made", "bore_mm", sentence)
        run = 1000 * self.feed.size_m * (math.pi if self.feed.kind == "ring" else 1.0)
        most = int(run / (1.5 * self.bore_mm))
        if self.count > most:
            sentence = (
                f"number of jets is {self.count} and the {self.feed.kind} has {run:.3g} mm for them; {most} holes of "
                f"{self.bore_mm:g} mm fit with half a bore between them; take fewer jets, or a larger {self.feed.kind}"
            )
            raise clash("too_many_jets", "count", sentence)
        return self

    @model_validator(mode="after")
    def kind_made_in_this_bore(self) -> "NozzleOutlet":
        kind = NOZZLE_KINDS[self.nozzle_kind or "not_known"]
        low, high = 1000 * kind.narrowest, 1000 * kind.widest
        if self.nozzle_kind is not None and not low <= self.bore_mm <= high:
            raise clash(
                "bore_not_made",
                "bore_mm",
                f"nozzle bore is {self.bore_mm:g} mm and its kind “{kind.words}”, which is made with bores "
                f"of {low:g} to {high:g} mm; measure the bore again, or choose another kind",
            )
        return self

    @model_validator(mode="after")
    def coefficients_possible(self) -> "NozzleOutlet":
        discharge, velocity = self.discharge_coefficient, self.velocity_coefficient
        if discharge is not None and velocity is not None and velocity < discharge:
            raise clash(
                "coefficients_impossible",
                "velocity_coefficient",
                f"velocity coefficient is {velocity:g} and discharge coefficient {discharge:g}; a jet cannot pass more than its "
                "bore at its speed; the velocity coefficient must not be below the discharge coefficient; check both",
            )
        return self


class OpenPipeOutlet(Strict):
    kind: Literal["open_pipe"] = part("kind of outlet", "open_pipe lets the water well up from an upright pipe")
    height_above_water_m: float = number(*HEIGHT)
    inside_diameter_mm: float | None = number(
        "outlet pipe inside diameter", "mm", 2, 150, "leave it out if it is the pipe's", 20, None
    )


class SpillwayOutlet(Strict):
    kind: Literal["spillway"] = part("kind of outlet", "spillway lets a sheet fall over a level lip")
    width_m: float = number("spillway width", "m", 0.02, 5, "measure along the lip", 0.3)
    height_above_water_m: float = number("lip height above the water", "m", 0, 10, "measure from the water level to the lip", 0.6)
    end_contractions: Whole = number(
        "end contractions", "1", 0, 2, "0 if the water fills the channel, 2 if the lip stands free", 0, 0
    )


OutletInput = Annotated[
    NozzleOutlet | OpenPipeOutlet | SpillwayOutlet,
    Field(discriminator="kind", json_schema_extra={"label": "outlet", "unit": "", "advice": "where the water comes out"}),
]


def not_a_boolean(value: object) -> object:
    """``true`` would pass as 1, and is not what was meant."""
    return str(value).lower() if isinstance(value, bool) else value


SCHEMA_ADDRESS = "$schema"
"""A field that editors read: where the JSON Schema is that a file is checked against while it is written."""


def with_schema_address(schema: dict[str, Any]) -> None:
    """Let the JSON Schema allow the field that names it."""
    described = {
        "type": "string",
        "title": "Schema address",
        "description": "Where an editor finds this schema; nothing else reads it.",
    }
    schema["properties"] = {SCHEMA_ADDRESS: described} | schema["properties"]


class Design(Strict):
    """One garden fountain: place, sky, mounting, panels, pumps, cable, pipe and outlet."""

    model_config = ConfigDict(json_schema_extra=with_schema_address)

    schema_version: Annotated[Literal[1], BeforeValidator(not_a_boolean)] = part("schema version", "always 1")
    title: str = text("title", 120, "")
    note: str = text("note", 500, "")
    place: PlaceInput = part("place", "where the fountain stands")
    sky: SkyInput = BuiltInSky(kind="built_in")
    mounting: MountingInput = part("mounting", "how the panel stands")
    panels: tuple[PanelInput, ...] = rows("panels", "panel", 1, 6, "one or several to choose from")
    pumps: tuple[PumpInput, ...] = rows("pumps", "pump", 1, 12, "one or several to choose from")
    chosen: Chosen | None = part("chosen pair", "ids of the panel and pump that are sized; the first ones if left out", None)
    connection: Connection = DirectConnection(kind="direct")
    cable: CableInput = part("cable", "from the panel to the pump")
    pipe: PipeInput = part("pipe", "from the pump to the outlet")
    outlet: OutletInput
    water_temperature_c: float = number("water temperature", "Cel", 0, 40, "15 on a usual day", 15, 15.0)
    goal: GoalInput | None = part("goal", "the jet or flow that is wanted, in which hours and months", None)
    basin: BasinInput | None = part("basin", "its size and place; one is proposed if left out", None)
    budget: BudgetInput | None = part("budget", "prices of parts, and what is added to their sum", None)
    measurements: tuple[MeasurementInput, ...] = rows(
        "measurements", "measurement", 0, MOST_RECORDS, "what the finished fountain did on which day", ()
    )

    @model_validator(mode="before")
    @classmethod
    def without_schema_address(cls, given: Any) -> Any:
        """The design without the address of its schema, which says nothing about the fountain and is not kept."""
        if not isinstance(given, dict) or SCHEMA_ADDRESS not in given:
            return given
        if not isinstance(given[SCHEMA_ADDRESS], str):
            sentence = f"{SCHEMA_ADDRESS} is not a text; write the address of the schema in quotes, or remove it"
            raise clash("not_text", SCHEMA_ADDRESS, sentence)
        return {name: value for name, value in given.items() if name != SCHEMA_ADDRESS}

    @model_validator(mode="after")
    def ids_are_clear(self) -> "Design":
        for label, ids in (("panel", [panel.id for panel in self.panels]), ("pump", [pump.id for pump in self.pumps])):
            for index, name in enumerate(ids):
                if name in ids[:index]:
                    sentence = f"{label} id {name} is used twice; each {label} needs its own; change one of them"
                    raise clash("id_doubled", f"{label}s/{index}/id", sentence)
        return self

    @model_validator(mode="after")
    def cap_fits_the_pipe(self) -> "Design":
        outlet, width = self.outlet, self.pipe.inside_diameter_mm
        if outlet.kind == "nozzle" and outlet.nozzle_kind == "drilled_cap" and outlet.bore_mm >= width:
            sentence = (
                f"nozzle bore is {outlet.bore_mm:g} mm and the pipe {width:g} mm wide inside; a hole drilled in its cap must be "
                "narrower than the pipe; measure both again, or choose another kind of nozzle"
            )
            raise clash("bore_not_made", "outlet/bore_mm", sentence)
        return self

    @model_validator(mode="after")
    def goal_fits_the_outlet(self) -> "Design":
        if self.goal is not None and self.goal.jet_height_m is not None and self.outlet.kind == "spillway":
            sentence = (
                f"jet height to reach is {self.goal.jet_height_m:g} m and a spillway throws no jet; "
                "give the flow to reach in its place, or another outlet"
            )
            raise clash("goal_without_jet", "goal/jet_height_m", sentence)
        return self
