"""What the route of panel checks answers, as checked models: every field with its unit.

They mirror ``sizing.measured.panel_check.answer``; an answer that does not fit is a bug and never leaves the service.
"""

from typing import Literal

from pydantic import Field

from sizing.answers import Exact, RowProblemAnswer, StepAnswer, amount
from sizing.answers import meaning as words
from sizing.measured.day import RealDayAnswer, SkyRemark


class PanelLabelAnswer(Exact):
    open_circuit_voltage_v: float = amount("Open-circuit voltage of one panel by its label", "V")
    short_circuit_current_a: float = amount("Short-circuit current of one panel by its label", "A")
    in_series: int = Field(ge=1, description="Panels in series.")
    in_parallel: int = Field(ge=1, description="Strings side by side.")


class BesideAnswer(Exact):
    unit: Literal["V", "A"] = words("Whether volts or amperes are compared")
    measured: float = words("What was measured, in that unit")
    computed: float = words("What the label's curve has there")
    ratio: float = amount("Measured over computed", "1")
    uncertainty: float = amount("Combined standard uncertainty of the ratio", "1")
    times_uncertainty: float = amount("Distance from one in that", "1")
    within: bool = words("Whether it lies within two of them")


class PanelReadingAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    team: str = words("Label of the team, as it was sent")
    day: str = words("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    sky: SkyRemark = words("What was remarked of the sky")
    sitting: int = Field(description="Which sitting it belongs to.")
    kind: str = words("open, short, loaded, or why it does not count")
    voltage_v: float = amount("Volts", "V")
    current_a: float = amount("Amperes", "A")
    voltage_uncertainty_v: float = amount("Standard uncertainty of the volts", "V")
    current_uncertainty_a: float = amount("Standard uncertainty of the amperes", "A")
    effective_w_per_m2: float = amount("Clear sun in the cells at that minute", "W/m2")
    cell_temperature_c: float = amount("Computed temperature of the cells", "Cel")
    clear_sky: BesideAnswer | None = words("Beside the label under a clear sky; null where nothing is compared")
    told_sun: BesideAnswer | None = words("Beside the label at the sun that the short circuit tells; null likewise")
    sun_told_w_per_m2: float | None = amount("Sun that a short circuit tells; null for other readings", "W/m2")
    sun_told_over_clear_sky: float | None = amount("The same over a clear sky's; null likewise", "1")
    working: list[StepAnswer] = words("How it was compared, for the first readings")


class PanelExplanationAnswer(Exact):
    key: str = words("Stable name")
    name: str = words("The same for people")
    sentence: str = words("How much of it")
    advice: str = words("What to do")
    likelihood_pct: float | None = amount("How likely among all; null where nothing needs to be explained", "%")
    misfit: float = amount("Sum of squares of the misses in their uncertainties", "1")
    numbers_found: int = Field(ge=0, description="Numbers that were found from the readings for it.")
    score: float = amount("Akaike's criterion: the smaller the better", "1")
    light_over_clear_sky: float = amount("Light in the cells over a clear sky's", "1")
    light_uncertainty: float = amount("Its standard uncertainty", "1")
    cells_warmer_k: float = amount("Cells warmer than computed", "K")
    cells_warmer_uncertainty_k: float = amount("Its standard uncertainty", "K")
    shaded_light_pct: float | None = amount("Light of the shaded part over the rest; null where none is meant", "%")
    shaded_light_uncertainty_pct: float | None = amount("Its standard uncertainty; null likewise", "%")
    parts: int | None = words("Into how many parts the cells are led round; null where one")
    resistance_ohm: float | None = amount("Resistance of leads and joints; null where none is meant", "Ohm")
    resistance_uncertainty_ohm: float | None = amount("Its standard uncertainty; null likewise", "Ohm")
    power_over_label: float = amount("Most power over that of the label under a clear sky", "1")


class PanelCurveAnswer(Exact):
    key: str = words("Which curve")
    name: str = words("The same for people")
    voltage_v: list[float] = Field(description="Volts [V].")
    current_a: list[float] = Field(description="Amperes [A].")


class SittingAnswer(Exact):
    sitting: int = Field(description="Its number, as the readings have it.")
    day: str = words("Day, ISO 8601")
    from_h: float = amount("First minute, as an hour of the clock", "h")
    to_h: float = amount("Last minute", "h")
    rows: list[int] = words("Rows of the log")
    sun_told_over_clear_sky: float | None = amount("Sun that its short circuits tell over a clear sky's; null without any", "1")
    sun_told_uncertainty: float | None = amount("Its standard uncertainty; null likewise", "1")
    sentences: list[str] = words("What the readings say")
    likeliest: str | None = words("Key of the likeliest explanation; null where nothing could be fitted")
    rivals: list[str] = words("Keys of those that fit just as well")
    widening: float | None = amount("Factor by which ranges were widened; null likewise", "1")
    hidden: list[str] = words("What these readings could not have shown")
    explanations: list[PanelExplanationAnswer] = words("All explanations, the likeliest first")
    curves: list[PanelCurveAnswer] = words("Curves for a picture")
    working: list[StepAnswer] = words("How the explanations were compared")


class PanelCheckAnswer(RealDayAnswer):
    """A panel check."""

    verdict: str = words("What the readings say in a sentence or two")
    label: PanelLabelAnswer = words("The label")
    clear_sky_uncertainty_pct: float = amount("Standard uncertainty of a clear sky's sun", "%")
    readings: list[PanelReadingAnswer] = words("Every row that was read")
    used: int = Field(ge=0, description="Readings that count.")
    sittings: list[SittingAnswer] = words("Readings taken one after the other, judged together")
    problems: list[RowProblemAnswer] = words("What could not be read")
