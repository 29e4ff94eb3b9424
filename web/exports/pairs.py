"""The pairs of a comparison as a table for spreadsheets (RFC 4180)."""

from sizing.comparison import ComparisonAnswer, PairAnswer
from web.exports.months import csv_text

MONTH_NUMBERS = range(1, 13)


def pairs_csv(found: ComparisonAnswer) -> str:
    """One row for each pair, by rank; the design's title stands in each row, so that tables can be stacked."""
    rows = [{"design": found.title} | cells(pair) for pair in found.pairs]
    return csv_text([[*rows[0]], *([*row.values()] for row in rows)])


def cells(pair: PairAnswer) -> dict[str, object]:
    """The cells of one pair by their heads, always the same; a cell stays empty where the answer does not hold it."""
    price, hour, beaten = pair.price, pair.price_per_playing_hour, pair.beaten_by
    return {
        "rank": pair.rank,
        "panel": pair.panel,
        "panel_name": pair.panel_name,
        "pump": pair.pump,
        "pump_name": pair.pump_name,
        "pump_shape": pair.pump_shape,
        "connection": pair.connection,
        "nozzle_bore_mm": pair.nozzle_bore_mm,
        "nozzle_instead_of_mm": pair.nozzle_instead_of_mm,
        "suits": yes_or_no(pair.suits),
        "water_l": pair.water_l,
        "worst_month": pair.worst_month,
        "worst_water_l_per_day": pair.worst_water_l_per_day,
        "running_h": pair.running_h,
        "first_playing_irradiance_w_per_m2": pair.first_playing_irradiance_w_per_m2,
        "matching_factor": pair.matching_factor,
        "over_voltage_h": pair.over_voltage_h,
        **strain_cells(pair),
        **goal_cells(pair),
        **month_cells(pair),
        "price": price and price.amount,
        "price_per_playing_hour": hour and hour.amount,
        "currency": price and price.currency,
        "beaten_by_panel": beaten and beaten.panel,
        "beaten_by_pump": beaten and beaten.pump,
        "beaten_by_connection": beaten and beaten.connection,
        "failure": pair.failure,
        "ask_first": pair.ask_first,
        "refused": pair.refused,
        "price_note": pair.price_note,
    }


def strain_cells(pair: PairAnswer) -> dict[str, object]:
    """What the year asks of the pump."""
    strain = pair.strain
    return {
        "highest_voltage_known": None if strain is None else yes_or_no(strain.highest_voltage_known),
        "most_voltage_v": strain and strain.most_v,
        "most_power_w": strain and strain.most_w,
        "above_rated_voltage_h": strain and strain.above_rated_voltage_h,
        "above_rated_power_h": strain and strain.above_rated_power_h,
        "above_allowed_voltage_h": strain and strain.above_allowed_h,
        "water_above_allowed_voltage_l": strain and strain.water_above_allowed_l,
    }


def goal_cells(pair: PairAnswer) -> dict[str, object]:
    """How far the goal is reached."""
    goal = pair.goal
    return {
        "goal_met": None if goal is None else yes_or_no(goal.met),
        "goal_chance": goal and goal.chance,
        "goal_outlook": goal and goal.outlook,
        "goal_sun_margin": goal and goal.sun_margin,
        "goal_hours": goal and goal.hours,
        "goal_hours_borne": goal and goal.hours_borne,
        "goal_window_hours": goal and goal.window_hours,
        "goal_hours_above": goal and goal.hours_above,
        "goal_poorest_month": goal and goal.poorest_month,
        "goal_days_out_of_ten": goal and goal.days_out_of_ten,
    }


def month_cells(pair: PairAnswer) -> dict[str, object]:
    """Water of each month, then jet and flow at noon of the chosen months."""
    water, noon = pair.water_l_per_day, {each.month: each for each in pair.noon}
    shown = [noon.get(month) for month in MONTH_NUMBERS]
    return {
        **{f"water_l_per_day_month_{month}": water and water[month - 1] for month in MONTH_NUMBERS},
        **{f"noon_jet_m_month_{month}": at and at.jet_height_m for month, at in enumerate(shown, 1)},
        **{f"noon_flow_l_per_min_month_{month}": at and at.flow_l_per_min for month, at in enumerate(shown, 1)},
    }


def yes_or_no(truth: bool) -> str:
    """A truth as it stands in a cell."""
    return "yes" if truth else "no"
