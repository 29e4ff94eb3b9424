"""Compass: limits of the model, both directions; the published values stand in published/compass.toml."""

from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from urllib.parse import urlencode

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.design.design import Design
from sizing.design.reading import parse_design, read_design
from sizing.foundation.errors import InputError
from sizing.measured.day.clear_day import clear_day_of
from sizing.place.compass import (
    compass_notes,
    compass_reading,
    decimal_year,
    declination,
    declination_uncertainty,
    earth_field,
    true_azimuth,
)
from sizing.report.garden_sky import explain_sky
from sizing.report.report import size
from tests.asking import ask
from web.forms.form import texts_of

DAY = date(2026, 5, 31)
EXAMPLE = parse_design((Path(__file__).resolve().parents[2] / "examples" / "quince_court_jet.json").read_bytes())


@pytest.mark.parametrize("day", [date(2024, 12, 31), date(2030, 1, 1), date(1999, 7, 3), date(9999, 12, 31), date(1, 1, 1)])
def test_no_model_before_2025_and_after_2029(day: date) -> None:
    with pytest.raises(InputError) as caught:
        declination(46.05, 14.51, 300.0, day)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/place/compass_date", "no_compass_model")
    assert problem.detail == (
        f"the compass was read on {day.isoformat()}; the magnetic model holds from 2025-01-01 to 2029-12-31; "
        "type true directions instead (when the sun stands highest, the shadow of a plumb line lies along the true "
        "north-south line)."
    )


@pytest.mark.parametrize("day", [date(2025, 1, 1), date(2028, 2, 29), date(2029, 12, 31)])
def test_first_and_last_day_are_known(day: date) -> None:
    assert -180 <= declination(-33.9, 151.2, 7.3, day) <= 180


# The magnetic poles of 2025 lie near 86 N 139 E and 64 S 136 E (from memory); there a compass points nowhere.
@pytest.mark.parametrize(("latitude", "longitude"), [(86.0, 139.0), (-64.1, 135.9)])
def test_no_compass_at_the_magnetic_poles(latitude: float, longitude: float) -> None:
    with pytest.raises(InputError) as caught:
        declination(latitude, longitude, 0.0, DAY)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code, problem.minimum) == ("#/place", "no_compass_here", 2000)
    assert problem.detail.startswith("the magnetic field along the ground is ")
    assert " nT here, near a magnetic pole; a compass needs 2000 nT; type true directions instead" in problem.detail


def test_around_the_poles_a_compass_is_unreliable() -> None:
    field = earth_field(81.0, -120.0, 0.0, DAY)
    assert 2000 < field.horizontal < 6000
    notes = compass_notes(field)
    assert [(note.code, note.severity) for note in notes] == [
        ("compass_turned", "info"),
        ("compass_iron", "info"),
        ("compass_unreliable", "warning"),
    ]
    assert "below 6000 nT a compass is unreliable; type true directions" in notes[2].detail


def read_by_compass(design: Design, latitude: float, longitude: float) -> Design:
    """The design at another place, its panel's direction read from a compass."""
    data = design.model_dump(mode="json", exclude_unset=True)
    del data["mounting"]["azimuth_deg"]
    data["mounting"]["compass_deg"] = 180.0
    data["place"] = {"latitude_deg": latitude, "longitude_deg": longitude, "elevation_m": 0.0, "compass_date": "2026-05-31"}
    data["sky"] = {"kind": "monthly", "ghi_kwh_per_m2_day": [0.0, 0.2, 1.2, 3.2, 4.5, 5.0, 4.2, 2.8, 1.3, 0.4, 0.0, 0.0]}
    return read_design(data)


# How well the model knows the declination, by the error model of its technical report, sqrt(0.26^2 + (5417 / H)^2) degrees:
# H was computed by hand from the package's field: 3338 nT gives sqrt(0.0676 + 2.634) = 1.64, 22,200 nT gives 0.356.
@pytest.mark.parametrize(("latitude", "longitude", "known"), [(74.7, -94.9, "1.6"), (46.05, 14.51, "0.4")])
def test_a_sizing_tells_how_good_its_compass_is(latitude: float, longitude: float, known: str) -> None:
    report = size(read_by_compass(EXAMPLE, latitude, longitude))
    (turned,) = [note.detail for note in report.assumptions if note.code == "compass_turned"]
    assert turned.endswith(f"the model is good to about {known}° here.")
    assert any(note.code == "compass_iron" and "reinforced concrete" in note.detail for note in report.assumptions)


def test_a_weak_needle_is_a_warning_of_sizing_sky_lesson_and_page() -> None:
    for latitude, longitude, times in ((74.7, -94.9, 1), (46.05, 14.51, 0)):
        design = read_by_compass(EXAMPLE, latitude, longitude)
        for notes in (size(design).warnings, explain_sky(design).notes, clear_day_of(design).notes):
            assert [note.code for note in notes if note.severity == "warning"].count("compass_unreliable") == times
        page = ask("GET", f"/results?{urlencode(texts_of(design))}").text
        assert page.count("a compass is unreliable") == times
        assert "can turn a compass much further" in page


def test_without_a_compass_reading_nothing_is_said_of_one() -> None:
    report = size(EXAMPLE)
    assert not [note for note in (*report.assumptions, *report.warnings) if note.code.startswith("compass")]


# East or west of true north, from memory of printed maps: Britain and western Europe near 0 to 3 E, eastern United States
# 5 to 15 W, western 10 to 15 E, eastern Australia 9 to 13 E, southern Brazil 15 to 23 W.
@pytest.mark.parametrize(
    ("latitude", "longitude", "least", "largest"),
    [
        (51.5, -0.1, 0, 3),
        (46.05, 14.51, 3, 6),
        (40.7, -74.0, -15, -10),
        (47.6, -122.3, 13, 17),
        (-33.9, 151.2, 11, 14),
        (-23.5, -46.6, -24, -19),
    ],
)
def test_sign_and_size_as_on_maps(latitude: float, longitude: float, least: float, largest: float) -> None:
    assert least < declination(latitude, longitude, 0.0, DAY) < largest


def test_longitude_goes_round_and_height_matters_little() -> None:
    assert declination(-80.0, 240.0, 0.0, DAY) == pytest.approx(declination(-80.0, -120.0, 0.0, DAY), abs=1e-9)
    assert declination(12.3, 180.0, 0.0, DAY) == pytest.approx(declination(12.3, -180.0, 0.0, DAY), abs=1e-9)
    assert declination(46.05, 14.51, 0.0, DAY) == pytest.approx(declination(46.05, 14.51, 3000.0, DAY), abs=0.02)


def test_it_drifts_slowly() -> None:
    years = [declination(46.05, 14.51, 300.0, date(year, 1, 1)) for year in range(2025, 2030)]
    assert np.all(np.abs(np.diff(years)) < 0.3)
    assert np.ptp(np.diff(years)) < 0.01  # the model moves on straight lines


def test_two_threads_get_what_one_gets() -> None:
    places = [(latitude, longitude) for latitude in range(-60, 61, 15) for longitude in range(-170, 171, 20) if latitude != -60]
    alone = [declination(*place, 0.0, DAY) for place in places]
    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(lambda place: declination(*place, 0.0, DAY), places)) == alone


def test_date_as_year_by_hand() -> None:
    assert decimal_year(date(2025, 1, 1)) == 2025.0
    assert decimal_year(date(2025, 12, 31)) == pytest.approx(2025 + 364 / 365)
    assert decimal_year(date(2028, 12, 31)) == pytest.approx(2028 + 365 / 366)


def test_directions_by_hand() -> None:
    # needle 12.5 degrees west of north: a wall read as 10 faces 357.5; needle 15 east: 350 faces 5.
    assert true_azimuth(10.0, -12.5) == 357.5
    assert true_azimuth(350.0, 15.0) == 5.0
    assert compass_reading(357.5, -12.5) == 10.0
    assert true_azimuth(360.0, 0.0) == 0.0
    assert compass_reading(0.0, 0.0) == 0.0


@given(st.floats(0, 360), st.floats(-180, 180))
def test_there_and_back(reading: float, turn: float) -> None:
    there = true_azimuth(reading, turn)
    assert 0 <= there <= 360
    around = abs(compass_reading(there, turn) - reading) % 360
    assert min(around, 360 - around) < 1e-9


def test_scalar_is_array_element_by_element() -> None:
    reading, turn = np.array([0.0, 7.3, 359.9]), np.array([-12.5, 0.0191, 15.07])
    assert list(true_azimuth(reading, turn)) == [true_azimuth(*pair) for pair in zip(reading, turn, strict=True)]
    assert list(compass_reading(reading, turn)) == [compass_reading(*pair) for pair in zip(reading, turn, strict=True)]


def test_uncertainty_by_hand_and_its_limits() -> None:
    # sqrt(0.26^2 + (5417 / 20000)^2) = sqrt(0.0676 + 0.07336) = 0.3754
    assert declination_uncertainty(20000.0) == pytest.approx(0.3754, abs=5e-5)
    assert declination_uncertainty(np.inf) == pytest.approx(0.26)
    assert np.all(np.diff(declination_uncertainty(np.array([2000.0, 6000.0, 30000.0]))) < 0)
