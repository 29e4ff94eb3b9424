"""Answers and steps as pandas DataFrames: a row for each month, step, pair or plane, units in the names of the columns."""

from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd
from pydantic import BaseModel

from sizing.answers.shared import state_name
from sizing.comparison.comparison import Comparison
from sizing.comparison.pairs import PairFound, suits
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.hydraulic.outlet import Spillway
from sizing.operation.operating_point import State
from sizing.orientation.orientation import Orientation
from sizing.report.report import Report

UNITS = {"m3": ("l", LITRE), "h": ("h", 1.0)}
"""Unit of an aim: how a column names it, and how much of the aim's own unit it is."""


def numbers(values: Sequence[float | None]) -> pd.Series:
    """Numbers of a column of which some may not be known; those are ``<NA>``.

    Examples
    --------
    >>> numbers([7.3, None]).isna().tolist()
    [False, True]
    """
    return pd.Series(list(values), dtype="Float64")


def frame_of(rows: Sequence[BaseModel]) -> pd.DataFrame:
    """Parts of an answer as a DataFrame: their fields as columns, units in the names as there."""
    columns: dict[str, Any] = {}
    for name, field in type(rows[0]).model_fields.items():
        values = [getattr(row, name) for row in rows]
        columns[name] = numbers(values) if field.annotation == float | None else values
    return pd.DataFrame(columns)


def steps_frame(report: Report) -> pd.DataFrame:
    """Every step of the year, in the order of time.

    ``time_h`` is the middle of the step on the clock that ``answer.sky.hour_basis`` names. ``poa_w_per_m2`` falls on the plane
    of the panel, before reflection and dirt; ``irradiance_w_per_m2`` gets into the cells. Volts and amps are those at the motor
    where the curves of panel and motor cross, even where the pump does not run; all is zero at night.
    """
    sky, sun, found = report.sky, report.sun, report.operation
    first_days = np.array([sky.day[sky.month == month].min() for month in range(1, 13)])
    jetless = isinstance(report.fountain.waterway.outlet, Spillway)
    columns = {
        "month": sky.month,
        "day": sky.day - first_days[sky.month - 1] + 1,
        "time_h": sky.hour,
        "poa_w_per_m2": sun.poa,
        "irradiance_w_per_m2": sun.effective,
        "cell_temperature_c": sun.cell_temperature,
        "voltage_v": found.voltage,
        "current_a": found.current,
        "flow_l_per_min": found.flow / LITRE_PER_MINUTE,
        "head_m": found.head,
        "jet_height_m": numbers([None] * len(found.jet) if jetless else found.jet.tolist()),
        "state": pd.Categorical.from_codes(found.state.astype(np.int64), pd.Index([str(state_name(state)) for state in State])),
    }
    frame = pd.DataFrame(columns)
    frame.index.name = "step"
    return frame


def pairs_frame(found: Comparison) -> pd.DataFrame:
    """Every pair by rank; ``<NA>`` where a pair could not be sized, has no price, or no goal is set."""
    pairs = found.pairs
    sized = [pair.year is not None for pair in pairs]

    def where_sized(value: Any) -> pd.Series:
        return numbers([value(pair) if known else None for pair, known in zip(pairs, sized, strict=True)])

    frame = pd.DataFrame(
        {
            "rank": [pair.rank for pair in pairs],
            "panel": [pair.pair.panel for pair in pairs],
            "pump": [pair.pair.pump for pair in pairs],
            "connection": [pair.pair.connection for pair in pairs],
            "nozzle_bore_mm": numbers([pair.bore for pair in pairs]),
            "suits": [suits(pair) for pair in pairs],
            "water_l": where_sized(lambda pair: pair.water / LITRE),
            "worst_water_l_per_day": where_sized(lambda pair: pair.worst_water / LITRE),
            "running_h": where_sized(lambda pair: pair.running_hours),
            "over_voltage_h": where_sized(lambda pair: pair.over_voltage_hours),
            "above_rated_voltage_h": where_sized(lambda pair: 0.0 if pair.strain is None else pair.strain.above_rated_voltage),
            "above_rated_power_h": where_sized(lambda pair: 0.0 if pair.strain is None else pair.strain.above_rated_power),
            "goal_chance": numbers([None if pair.chance is None else pair.chance.chance for pair in pairs]),
            "goal_outlook": [None if pair.chance is None else pair.chance.outlook for pair in pairs],
            "goal_hours_h": numbers([None if pair.goal is None else pair.goal.hours for pair in pairs]),
            "days_out_of_ten": numbers([goal_days(pair) for pair in pairs]),
            "first_playing_irradiance_w_per_m2": numbers([pair.first_sun for pair in pairs]),
            "price": numbers([None if pair.price is None else pair.price.amount for pair in pairs]),
            "currency": pd.array([None if pair.price is None else pair.price.currency for pair in pairs], dtype="string"),
            "why_not": [pair.refused or pair.failure or pair.doubt for pair in pairs],
        }
    )
    return frame.set_index("rank")


def goal_days(pair: PairFound) -> float | None:
    """Days out of ten on which a pair reaches the goal in the poorest month of the goal."""
    return None if pair.goal is None else 10 * pair.goal.day_share[pair.goal.poorest_month]


def planes_frame(found: Orientation) -> pd.DataFrame:
    """Every plane of the search: sun on it in a year, and the value of each thing to want."""
    columns = {
        "tilt_deg": found.planes.tilt,
        "azimuth_deg": found.planes.azimuth,
        "sun_kwh_per_m2": found.sun,
    }
    for aim in found.aims:
        unit, size = UNITS[aim.unit]
        columns[f"{aim.key}_{unit}"] = aim.values / size
    return pd.DataFrame(columns)
