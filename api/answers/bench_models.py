"""What the route of bench tests answers, as checked models: every field with its unit.

They mirror ``sizing.measured.bench.answer``; an answer that does not fit is a bug and never leaves the service.
"""

from typing import Literal

from pydantic import Field

from sizing.answers import Exact, RowProblemAnswer, StepAnswer, TellAnswer, amount
from sizing.answers import meaning as words
from sizing.design import PumpInput


class SettingAnswer(Exact):
    voltage_v: float = amount("Volts of the setting, mean of its readings", "V")
    current_a: float = amount("Amperes, mean of its readings", "A")
    height_m: float = amount("Height of the hose's end above the water, as read", "m")
    head_m: float = amount("Head of the pump, the bench's hose added where it is known", "m")
    repeats: int = Field(ge=1, description="Readings of the setting.")
    teams: int = Field(ge=1, description="Teams that took them.")
    flow_l_per_min: float = amount("Flow, mean of the readings", "L/min")
    uncertainty_l_per_min: float = amount("Its combined standard uncertainty", "L/min")
    by_chance_l_per_min: float = amount("The part of it that repeats make smaller", "L/min")
    scatter_pct: float | None = amount("Scatter of the repeats; null for a single reading", "%")
    working: list[StepAnswer] = words("How flow and uncertainty were found, for the first settings")


class FitAnswer(Exact):
    winding_resistance_ohm: float = amount("Winding", "Ohm")
    winding_uncertainty_ohm: float = amount("Its standard uncertainty", "Ohm")
    winding_assumed: bool = words("Whether the readings could not tell it")
    no_load_current_a: float = amount("No-load current", "A")
    no_load_uncertainty_a: float = amount("Its standard uncertainty", "A")
    no_load_assumed: bool = words("Whether the readings could not tell it")
    shut_off_measured: bool = words("Whether a reading without flow is among them")
    shut_off_head_m: float = amount("Head without flow at rated voltage", "m")
    shut_off_head_uncertainty_m: float = amount("Its standard uncertainty", "m")
    largest_flow_l_per_min: float = amount("Largest flow at rated voltage that the readings reach", "L/min")
    best_efficiency_pct: float = amount("Best wire-to-water efficiency at rated voltage", "%")
    best_efficiency_uncertainty_pct: float = amount("Its standard uncertainty", "%")
    best_flow_l_per_min: float = amount("Flow at which it is reached", "L/min")
    states: int = Field(ge=1, description="Distinct states of the pump that were measured.")
    misfit: float = amount("Sum of squares of the misses in their uncertainties", "1")
    freedom: int = Field(ge=0, description="Readings less the numbers found from them.")
    widening: float = amount("Factor by which the ranges were widened, as the settings miss the curve", "1")
    scatter: float = amount("Scatter of the repeats as a share of what the instruments allow", "1")


class CurveRowAnswer(Exact):
    flow_l_per_min: float = amount("Flow", "L/min")
    head_m: float = amount("Head", "m")
    head_low_m: float = amount("Lower end of its likely range", "m")
    head_high_m: float = amount("Upper end of its likely range", "m")
    current_a: float = amount("Current", "A")
    current_low_a: float = amount("Lower end of its likely range", "A")
    current_high_a: float = amount("Upper end of its likely range", "A")
    efficiency_pct: float = amount("Wire-to-water efficiency", "%")
    efficiency_low_pct: float = amount("Lower end of its likely range", "%")
    efficiency_high_pct: float = amount("Upper end of its likely range", "%")


class PumpCurveAnswer(Exact):
    voltage_v: float = amount("Voltage at the motor", "V")
    rows: list[CurveRowAnswer] = words("The curve from the smallest to the largest flow measured")


class BenchRowAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    team: str = words("Label of the team, as it was sent")
    voltage_v: float = amount("Volts", "V")
    current_a: float = amount("Amperes", "A")
    height_m: float = amount("Height as read", "m")
    head_m: float = amount("Head of the pump", "m")
    volume_l: float = amount("Volume", "L")
    fill_time_s: float = amount("Fill time", "s")
    flow_l_per_min: float = amount("Flow", "L/min")
    expected_flow_l_per_min: float | None = amount("Flow that the common curve has there; null where it has none", "L/min")
    head_off_m: float = amount("Head above the common curve", "m")
    head_off_times: float = amount("The same in its standard uncertainty", "1")
    current_off_a: float = amount("Current above the common curve", "A")
    current_off_times: float = amount("The same in its standard uncertainty", "1")
    setting: int = Field(ge=0, description="Position of its setting in the list of settings.")
    apart: bool = words("Whether it stands apart from the others")


class ApartAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    team: str = words("Label of the team")
    quantity: Literal["flow", "current"] = words("What stands apart")
    times_uncertainty: float = amount("How far, in its standard uncertainty", "1")
    measured: float = words("What was read, in the unit beside it")
    expected: float = words("What the other readings say")
    unit: Literal["L/min", "A"] = words("Unit of both")


class TeamAnswer(Exact):
    team: str = words("Label of the team")
    readings: int = Field(ge=0, description="Its readings.")
    above_others_pct: float = amount("Flow above that of the other teams", "%")
    uncertainty_pct: float = amount("Standard uncertainty of that", "%")
    differs: bool = words("Whether it lies beyond two of them")


class FurtherAnswer(Exact):
    kind: str = words("What kind of reading")
    voltage_v: float = amount("At which volts", "V")
    height_m: float = amount("At which height", "m")
    curve_narrower_pct: float = amount("How much narrower the range of the curve would be", "%")
    shut_off_narrower_pct: float = amount("How much narrower that of the shut-off head", "%")
    flow_narrower_pct: float | None = amount("How much narrower that of the flow at the design's lift; null without one", "%")
    sentence: str = words("The advice in words")


class LabelRowAnswer(Exact):
    flow_l_per_min: float = amount("Flow of the label's point", "L/min")
    label_head_m: float = amount("Head by the label", "m")
    head_m: float = amount("Head by the bench", "m")
    head_uncertainty_m: float = amount("Its standard uncertainty", "m")
    head_differs: bool = words("Whether they differ by more than two of them")
    label_current_a: float = amount("Current by the label", "A")
    current_a: float = amount("Current by the bench", "A")
    current_uncertainty_a: float = amount("Its standard uncertainty", "A")
    current_differs: bool = words("Whether they differ by more than two of them")


class LabelComparedAnswer(Exact):
    voltage_v: float = amount("Voltage of the comparison", "V")
    of: Literal["points", "box"] = Field(alias="from", description="What the label gives.")
    sentences: list[str] = words("The comparison in words")
    head_m: float = amount("A height of use", "m")
    label_flow_l_per_min: float = amount("Flow there by the label", "L/min")
    flow_l_per_min: float | None = amount("Flow there by the bench; null where it was not reached", "L/min")
    flow_uncertainty_l_per_min: float | None = amount("Its standard uncertainty; null likewise", "L/min")
    rows: list[LabelRowAnswer] = words("The label's points beside the bench")


class BenchAnswer(Exact):
    """A bench test: the pump that follows from it, and how well."""

    name: str = words("Name of the pump")
    rated_voltage_v: float = amount("Voltage at which the pump's points are given", "V")
    readings: int = Field(ge=0, description="Readings that were used.")
    left_out_rows: list[int] = words("Rows that no pump could follow with")
    settings: list[SettingAnswer] = words("Readings at the same volts and height, together")
    fit: FitAnswer = words("The numbers of the fit")
    curve: PumpCurveAnswer = words("The pump at rated voltage")
    curves: list[PumpCurveAnswer] = words("The pump at the measured voltages")
    rows: list[BenchRowAnswer] = words("Every reading beside the common curve")
    apart: list[ApartAnswer] = words("Readings that stand apart; they are kept")
    teams: list[TeamAnswer] = words("Teams beside one another")
    notes: list[TellAnswer] = words("What to know of the fit")
    problems: list[RowProblemAnswer] = words("What could not be read")
    advice: list[FurtherAnswer] = words("Which further readings would help most")
    pump: PumpInput = words("The pump for a design file")
    label: LabelComparedAnswer | None = words("The pump beside its label; null without a design")
    working: list[StepAnswer] = words("How the numbers were found")
