"""Typed units: round trips, real month lengths, and a wrong unit that is named, never put right in silence."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.foundation.errors import SizingError
from sizing.place.place import Place
from sizing.sky.climate import built_in_sun
from sizing.sky.solar_position import DAYS_IN_MONTH, monthly_extraterrestrial
from sizing.sky.typed_units import TYPED_UNITS, daily_values, day_of_mean_irradiance, doubtful_unit, kilowatt_hours, shown_values
from tests.draws import drawn
from tests.together import together

MADISON = Place("garden", 43.13, -89.33, 262.0)
MADISON_MEGAJOULES = (6.44, 9.89, 12.86, 16.05, 21.36, 23.04, 22.58, 20.33, 14.59, 10.48, 6.37, 5.74)
"""[MJ/m2 a day] Long-term means: Duffie & Beckman, Example 2.19.1 (4th ed.)."""
HONOLULU = Place("garden", 21.31, -157.86, 5.0)
"""The built-in table knows nothing there."""
units = st.sampled_from(list(TYPED_UNITS))


def test_each_unit_by_hand() -> None:
    day = (4.65,) * 12  # kWh/m2
    assert shown_values(day, "kwh_per_m2_day") == pytest.approx(day)
    assert shown_values(day, "peak_sun_hours") == pytest.approx(day)
    # 31 x 4.65 = 144.15; 28 x 4.65 = 130.2; 30 x 4.65 = 139.5
    assert shown_values(day, "kwh_per_m2_month")[:4] == pytest.approx([144.15, 130.2, 144.15, 139.5])
    assert shown_values(day, "mj_per_m2_day") == pytest.approx([16.74] * 12)  # 3.6 x 4.65
    assert shown_values(day, "mj_per_m2_month")[1] == pytest.approx(468.72)  # 28 x 16.74
    assert shown_values(day, "w_per_m2") == pytest.approx([193.75] * 12)  # 4650 / 24


def test_a_megajoule_a_day_in_watts() -> None:
    # FAO Irrigation and Drainage Paper 56, Table 3 (from memory): 1 MJ/m2 a day is 11.6 W/m2.
    assert float(day_of_mean_irradiance(11.6)) == pytest.approx(float(kilowatt_hours(1.0)), rel=0.005)


def test_sums_of_months_have_their_own_days() -> None:
    year = daily_values([30.0] * 12, "kwh_per_m2_month")
    assert year == pytest.approx([30 / days for days in DAYS_IN_MONTH])
    assert np.dot(year, DAYS_IN_MONTH) == pytest.approx(360)


@given(st.lists(st.floats(0, 1e4), min_size=12, max_size=12), units)
def test_there_and_back(values: list[float], unit: str) -> None:
    assert shown_values(daily_values(values, unit), unit) == pytest.approx(values, rel=1e-12)


@given(units, st.floats(0.01, 100))
def test_twice_the_value_is_twice_the_sun(unit: str, value: float) -> None:
    assert daily_values([2 * value] * 12, unit) == pytest.approx(2 * np.array(daily_values([value] * 12, unit)))
    assert daily_values([0.0] * 12, unit) == (0.0,) * 12


@pytest.mark.parametrize("convert", [daily_values, shown_values])
def test_twelve_numbers_of_a_known_unit(convert) -> None:  # type: ignore[no-untyped-def]
    for values in ((), (1.0,) * 11, (1.0,) * 11 + (float("nan"),)):
        with pytest.raises(SizingError, match=f"sun on level ground has {len(values)} values; a year has 12 months"):
            convert(values, "w_per_m2")
    with pytest.raises(SizingError) as caught:
        convert((1.0,) * 12, "langley")
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/sky/unit", "unknown_unit")
    assert problem.detail == (
        "unit of the typed sun is 'langley'; the units are kwh_per_m2_day, kwh_per_m2_month, mj_per_m2_day, "
        "mj_per_m2_month, w_per_m2, peak_sun_hours; choose one of them."
    )


def test_megajoules_as_kilowatt_hours_are_pointed_out() -> None:
    # 52 % as it is, 3.6 times that if misread: sum(MJ x days) / 3.6 over the year's sun above the air.
    above_air = np.dot(monthly_extraterrestrial(43.13), DAYS_IN_MONTH) * 24 / 1000
    share = np.dot(MADISON_MEGAJOULES, DAYS_IN_MONTH) / above_air
    note = doubtful_unit(MADISON, MADISON_MEGAJOULES, "kwh_per_m2_day")
    assert note is not None
    assert (note.code, note.severity, note.pointer) == ("doubtful_unit", "warning", "#/sky/ghi_kwh_per_m2_day")
    assert note.detail == (
        f"as kWh/m2 a day the typed months hold {100 * share:.0f} % of the sun above the air, more than reaches the ground "
        f"anywhere; as MJ/m2 a day {100 * share / 3.6:.0f} %, which fits this place; check the unit."
    )
    assert doubtful_unit(MADISON, MADISON_MEGAJOULES, "mj_per_m2_day") is None


ALIKE = {"kwh_per_m2_day", "peak_sun_hours"}
"""The same number in both."""


@together("place, typed, read", [
    (place, typed, read)
    for place in (MADISON, Place("Aberdeen", 57.2, -2.22, 65.0), Place("Antananarivo", -18.8, 47.48, 1276.0))
    for typed, read in itertools.product(TYPED_UNITS, TYPED_UNITS)
])  # fmt: skip
def test_where_the_table_knows_the_place_every_mistaken_unit_is_named(place: Place, typed: str, read: str) -> None:
    values = shown_values(built_in_sun(place.latitude, place.longitude), typed)
    note = doubtful_unit(place, values, read)
    if typed == read or {typed, read} == ALIKE:
        assert note is None
    else:
        assert note is not None
        right = "kwh_per_m2_day" if typed == "peak_sun_hours" else typed
        assert f"as {TYPED_UNITS[right].words} " in note.detail  # type: ignore[index]
        assert note.detail.startswith(f"as {TYPED_UNITS[read].words} the typed months hold ")  # type: ignore[index]
        assert note.detail.endswith("; check the unit.")


def test_a_third_apart_is_told_by_the_table_and_without_it_both_are_offered() -> None:
    month_sums = shown_values(kilowatt_hours(np.array(MADISON_MEGAJOULES)).tolist(), "kwh_per_m2_month")  # type: ignore[union-attr]
    note = doubtful_unit(MADISON, month_sums, "w_per_m2")
    assert note is not None
    assert note.detail == (
        "as W/m2 (mean of 24 hours) the typed months hold 77 % of the sun that the built-in climate gives here, "
        "as kWh/m2 a month 105 %; check the unit."
    )
    assert doubtful_unit(HONOLULU, month_sums, "w_per_m2") is None
    note = doubtful_unit(HONOLULU, month_sums, "mj_per_m2_day")
    assert note is not None
    assert note.detail.endswith(
        "as kWh/m2 a month 42 % or as W/m2 (mean of 24 hours) 31 %, and both fit this place; check the unit."
    )


def test_no_unit_at_all() -> None:
    note = doubtful_unit(MADISON, (0.0,) * 12, "mj_per_m2_day")
    assert note is not None
    assert note.detail == (
        "as MJ/m2 a day the typed months hold 0.0 % of the sun above the air, less than the cloudiest places have; "
        "no other unit fits this place either; check the figures."
    )


def test_one_wrong_month_is_not_the_unit() -> None:
    slip = (*MADISON_MEGAJOULES[:6], 2.258, *MADISON_MEGAJOULES[7:])
    assert doubtful_unit(MADISON, slip, "mj_per_m2_day") is None


@drawn(60)
@given(st.floats(-90, 90), st.floats(-180, 180), st.floats(0.3, 0.7), units, units)
def test_any_place_and_any_pair_of_units(latitude: float, longitude: float, clearness: float, typed: str, read: str) -> None:
    place = Place("any", latitude, longitude, 0.0)
    values = shown_values((clearness * monthly_extraterrestrial(latitude) * 24 / 1000).tolist(), typed)
    note = doubtful_unit(place, values, read)
    if typed != read and {typed, read} not in (ALIKE, {"kwh_per_m2_month", "w_per_m2"}, {"mj_per_m2_month", "w_per_m2"}):
        assert note is not None
        assert "nan" not in note.detail
