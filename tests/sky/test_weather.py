"""Sky: three fixtures of an independent implementation, typed months that come back, files with their doubts, any place."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pvlib.solarposition import get_solarposition

from sizing.foundation.errors import Note, SizingError
from sizing.light.irradiance import plane_sun
from sizing.place.place import Place
from sizing.sky.climate import built_in_temperature
from sizing.sky.solar_position import DAYS_IN_MONTH, month_mean, monthly_extraterrestrial
from sizing.sky.weather import Sky, built_in_sky, file_sky, in_solar_time, monthly_sky, sky_of_bytes
from tests.draws import drawn
from tests.sky.test_weather_file import GHI, GREENSBORO, GREENSBORO_SUN, SAND_POINT, epw, epw_lines, leap_year_lines

ARRAYS = ("zenith", "azimuth", "extraterrestrial_normal", "ghi", "dhi", "dni", "air_temperature", "wind_speed")
GARDEN = Place("garden", 43.13, -89.33, 262.0)
GARDEN_SUN = (1.79, 2.75, 3.57, 4.46, 5.93, 6.40, 6.27, 5.65, 4.05, 2.91, 1.77, 1.59)


def codes(sky: Sky) -> list[str]:
    """Codes of the notes, but for the one that every sky has of its clouds."""
    assert sum(note.code in ("made_up_clouds", "hidden_clouds") for note in sky.notes) == 1
    return [note.code for note in sky.notes if note.code not in ("made_up_clouds", "hidden_clouds")]


def whole(sky: Sky) -> None:
    """Every promise a Sky makes about its arrays."""
    length = 365 * sky.steps_per_day
    assert all(getattr(sky, name).shape == (length,) for name in (*ARRAYS, "day", "month", "hour"))
    assert all(np.isfinite(getattr(sky, name)).all() for name in ARRAYS)
    assert np.all((sky.ghi >= 0) & (sky.dhi >= 0) & (sky.dni >= 0))
    assert np.array_equal(sky.day, np.repeat(np.arange(365), sky.steps_per_day))
    assert np.array_equal(np.bincount(sky.month)[1:], np.array(DAYS_IN_MONTH) * sky.steps_per_day)
    assert np.all((sky.hour >= 0) & (sky.hour < 24))
    assert np.all((sky.azimuth >= 0) & (sky.azimuth <= 360))
    assert len(sky.clearness) == len(sky.air_temperature_month) == 12
    assert all(isinstance(note, Note) and note.detail.endswith(".") for note in sky.notes)


FIXTURES = [
    (36.10, -79.95, (0.494, 0.505, 0.494, 0.516, 0.514, 0.517, 0.500, 0.516, 0.510, 0.528, 0.509, 0.455), 1528, 722, 1700, 985),
    (51.15, -0.18, None, 1137, 590, 1314, 685),
    (-33.95, 151.18, None, 1670, 719, 1842, 1113),
]
"""Greensboro, Gatwick, Sydney by an independent implementation of the same published formulas (not a document): clearness of
each month; global, diffuse, 30-degree equator-facing sun and its part above 200 W/m2 [kWh/m2 a year]. That implementation
has smooth days and lets the dullest be darker, so only its sums of global sun are held to the digit."""


@pytest.mark.parametrize(("latitude", "longitude", "clearness", "ghi", "dhi", "plane", "above_200"), FIXTURES)
def test_year_as_made_by_an_independent_implementation(
    latitude: float, longitude: float, clearness: tuple[float, ...] | None, ghi: int, dhi: int, plane: int, above_200: int
) -> None:
    place = Place("fixture", latitude, longitude, 100.0)
    sky = built_in_sky(place) if clearness is None else in_solar_time("built_in", "", latitude, clearness, (15.0,) * 12)
    poa = plane_sun(sky, place, 30.0, 180.0 if latitude > 0 else 0.0).poa
    found = [float(values.sum()) / 4000 for values in (sky.ghi, sky.dhi, poa, np.maximum(poa - 200, 0))]
    assert found[0] == pytest.approx(ghi, rel=0.005)
    assert found[1:] == pytest.approx([dhi, plane, above_200], rel=0.02)
    if clearness is not None:
        cool = [month for month, air in enumerate(built_in_temperature(latitude, longitude, 100.0)) if air < 24]
        assert len(cool) == 9  # warm months have a correction of their own, which that implementation does not know
        table = built_in_sky(place).clearness
        assert [table[month] for month in cool] == pytest.approx([clearness[month] for month in cool], rel=0.005)


def test_built_in_sky_keeps_its_promises() -> None:
    sky = built_in_sky(GARDEN)
    whole(sky)
    assert (sky.kind, sky.hour_basis, sky.steps_per_day) == ("built_in", "true solar time", 96)
    assert (sky.year_band, sky.month_band) == (0.08, 0.12)
    assert codes(sky) == ["built_in_climate"]
    assert sky.title == "Built-in climate at 43.13 N, 89.33 W"
    by_month = month_mean(sky.ghi.reshape(365, 96).mean(axis=1))
    assert np.allclose(by_month, np.array(sky.clearness) * monthly_extraterrestrial(43.13))
    assert np.all(sky.wind_speed == 1.0)


def test_thin_climate_data_are_pointed_out() -> None:
    sky = built_in_sky(Place("Funchal", 32.65, -16.9, 20.0))  # one known node of four, 330 km away
    assert codes(sky) == ["built_in_climate", "thin_climate_data"]
    assert sky.notes[1] == Note(
        "thin_climate_data",
        "warning",
        "the built-in climate has little land data near 32.65 N, 16.90 W; "
        "type 12 monthly values of sun or name a weather file if you can.",
        "#/sky/kind",
    )


def test_no_built_in_sky_on_the_open_sea() -> None:
    with pytest.raises(SizingError, match=r"the built-in climate has no data at 21\.31 N, 157\.86 W"):
        built_in_sky(Place("Honolulu", 21.31, -157.86, 5.0))


def test_typed_months_come_back() -> None:
    sky = monthly_sky(GARDEN, GARDEN_SUN, range(-5, 7))
    whole(sky)
    back = month_mean(sky.ghi.reshape(365, 96).mean(axis=1)) * 24 / 1000
    assert np.allclose(back, GARDEN_SUN)
    assert np.allclose(month_mean(sky.air_temperature.reshape(365, 96).mean(axis=1)), np.arange(-5, 7))
    assert (sky.kind, sky.year_band, sky.month_band, codes(sky)) == ("monthly", 0.02, 0.04, [])
    assert sky.title == "Typed monthly sun at 43.13 N, 89.33 W"


def test_typed_sun_without_temperature_takes_the_table_and_says_so() -> None:
    sky = monthly_sky(GARDEN, GARDEN_SUN)
    assert codes(sky) == ["built_in_temperature"]
    assert sky.notes[0].pointer == "#/sky/air_temperature_c"
    assert sky.air_temperature_month == built_in_sky(GARDEN).air_temperature_month


def test_typed_sun_works_where_there_is_no_built_in_climate() -> None:
    honolulu = Place("Honolulu", 21.31, -157.86, 5.0)
    sky = monthly_sky(honolulu, (3.9, 4.7, 5.4, 5.8, 6.2, 6.4, 6.5, 6.4, 5.9, 5.0, 4.1, 3.7))
    whole(sky)
    assert sky.air_temperature_month[7] == pytest.approx(26.5, abs=2)  # about 27 in August, from memory


def test_typed_months_of_the_built_in_sky_give_the_built_in_sky() -> None:
    table = built_in_sky(GARDEN)
    typed = month_mean(table.ghi.reshape(365, 96).mean(axis=1)) * 24 / 1000
    again = monthly_sky(GARDEN, tuple(typed))
    assert np.allclose(again.dni, table.dni, rtol=1e-6, atol=1e-6)


def test_weather_file_keeps_its_own_hours() -> None:
    sky, place = file_sky(GREENSBORO)
    whole(sky)
    assert place == Place("Greensboro Piedmont Triad Int", 36.1, -79.95, 273.0)
    assert (sky.kind, sky.steps_per_day) == ("weather_file", 24)
    assert sky.hour_basis == "standard time of the weather file, UTC-5"
    assert sky.title == "Greensboro Piedmont Triad Int, TMY3 file"
    assert list(sky.hour[:3]) == [0.5, 1.5, 2.5]
    assert np.allclose(month_mean(sky.ghi.reshape(365, 24).sum(axis=1)) / 1000, GREENSBORO_SUN, atol=0.006)
    assert codes(sky) == ["typical_year"]
    assert (sky.year_band, sky.month_band) == (0.02, 0.04)
    assert sky.clearness[5] == pytest.approx(6.25 * 1000 / 24 / monthly_extraterrestrial(36.1)[5], rel=0.002)


def test_sun_of_the_file_stands_where_pvlib_says() -> None:
    sky, _ = file_sky(GREENSBORO)
    noon_of_june = 171 * 24 + 12  # 21 June, 12:30 standard time; the year matters little
    judged = get_solarposition(pd.DatetimeIndex(["2002-06-21 17:30"], tz="UTC"), 36.1, -79.95, altitude=273.0)
    assert sky.zenith[noon_of_june] == pytest.approx(float(judged["apparent_zenith"].iloc[0]), abs=0.1)
    assert sky.azimuth[noon_of_june] == pytest.approx(float(judged["azimuth"].iloc[0]), abs=0.5)
    assert sky.extraterrestrial_normal[noon_of_june] == pytest.approx(1361 / 1.0163**2, rel=0.001)  # 1.0163 au on 21 June


def test_light_below_the_horizon_is_diffuse() -> None:
    sky, _ = file_sky(SAND_POINT)
    down = sky.zenith >= 90
    assert np.all(sky.dni[down] == 0)
    assert np.array_equal(sky.dhi[down], sky.ghi[down])
    closing = sky.dhi + sky.dni * np.maximum(np.cos(np.radians(sky.zenith)), 0)
    assert closing.sum() == pytest.approx(sky.ghi.sum(), rel=0.005)


def test_place_of_the_design_wins_and_may_not_be_far() -> None:
    near = Place("school", 36.4, -79.4, 240.0, albedo=0.3, skyline=((180.0, 10.0),))
    sky, place = file_sky(GREENSBORO, near)
    assert place is near
    assert codes(sky) == ["typical_year"]
    far, place = file_sky(GREENSBORO, Place("school", 51.15, -0.18, 60.0))
    assert place.name == "school"
    assert codes(far) == ["typical_year", "file_far_away"]
    # Great circle by hand: cos d = sin 36.1 sin 51.15 + cos 36.1 cos 51.15 cos 79.77 = 0.5489; 56.71 degrees: 6,306 km.
    assert far.notes[1].detail.startswith("the weather file is of Greensboro Piedmont Triad Int, 6,306 km from")
    assert np.array_equal(far.zenith, sky.zenith)  # the light belongs to the file's own place


def test_a_clock_that_is_wrong_is_pointed_out() -> None:
    sky, _ = sky_of_bytes(epw().replace(b",-5.0,273", b",-6.0,273"), "shifted.epw")
    note = next(note for note in sky.notes if note.code == "clock_shifted")
    assert note.severity == "warning"
    assert note.detail.startswith("the days of the weather file are brightest 0.99 h after solar noon")
    assert "clock_shifted" not in codes(file_sky(SAND_POINT)[0])


def changed(column: int, factor: float) -> bytes:
    lines = []
    for line in epw_lines()[8:]:
        cells = line.split(",")
        cells[column] = f"{float(cells[column]) * factor:.0f}"
        lines.append(",".join(cells))
    return "\n".join([*epw_lines()[:8], *lines]).encode()


def test_parts_that_do_not_add_up_are_pointed_out() -> None:
    assert "parts_do_not_add_up" in codes(sky_of_bytes(changed(GHI, 1.2), "bright.epw")[0])
    assert "parts_do_not_add_up" in codes(sky_of_bytes(changed(GHI + 1, 0.5), "dim.epw")[0])
    assert "parts_do_not_add_up" not in codes(sky_of_bytes(changed(GHI, 1.03), "near.epw")[0])


def test_months_brighter_than_a_clear_sky_are_pointed_out() -> None:
    sky, _ = sky_of_bytes(changed(GHI, 1.45).replace(b",36.100,", b",51.000,"), "moved.epw")
    assert "impossible_sun" in codes(sky)
    assert "than a clear sky lets through" in next(note.detail for note in sky.notes if note.code == "impossible_sun")


def test_leap_day_single_year_and_missing_wind_are_told() -> None:
    raw = "\n".join([*epw_lines()[:8], *leap_year_lines()]).encode()
    assert codes(sky_of_bytes(raw, "leap.epw")[0]) == ["single_year", "leap_day_left_out"]
    windless, _ = sky_of_bytes(epw((5, 21, "999")), "w.epw")
    assert windless.notes[1].detail == "1 rows of the weather file have no wind; 1 m/s is taken there."


def sky_or_sentence(place: Place) -> Sky | str:
    try:
        return built_in_sky(place)
    except SizingError as error:
        return str(error)


@drawn(40, derandomize=True)
@given(
    latitude=st.floats(-90, 90),
    longitude=st.floats(-360, 360),
    elevation=st.floats(-430, 8000),
)
def test_any_place_gives_a_finite_sky_or_a_sentence(latitude: float, longitude: float, elevation: float) -> None:
    place = Place("anywhere", latitude, longitude, elevation)
    sky = sky_or_sentence(place)
    if isinstance(sky, str):
        assert sky.startswith("the built-in climate has no data at")
        return
    whole(sky)
    assert np.isfinite(plane_sun(sky, place, 37.0, 200.0).effective).all()


@drawn(25, derandomize=True)
@given(latitude=st.floats(-90, 90), share=st.floats(0, 0.85))
def test_any_possible_typed_sun_gives_a_finite_sky(latitude: float, share: float) -> None:
    above_air = monthly_extraterrestrial(latitude)
    typed = np.where(above_air >= 1, share * above_air * 0.024 * (1 - 1e-9), 0)
    sky = monthly_sky(Place("anywhere", latitude, 10.0, 0.0), tuple(typed))
    whole(sky)
    assert np.all(sky.dni <= sky.extraterrestrial_normal + 1e-6)
