"""The coldest air to design for, against the ten-year lows of weather-file headers and what is typed."""

import json
from pathlib import Path

import numpy as np
import pytest

from sizing.design.reading import read_design
from sizing.foundation.errors import SizingError
from sizing.place.place import Place, looked_up_elevation
from sizing.report.garden_sky import explain_sky
from sizing.report.report import size
from sizing.report.sky_answer import sky_answer
from sizing.sky.cold import MARGIN, cold_air, coldest_by_hour, coldest_by_month
from sizing.sky.weather import built_in_sky, file_sky

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TEN_YEAR_LOWS = {  # headers of weather files: ASHRAE Fundamentals 2009, the last two 2017; latitude, longitude, m, Cel
    "Aberdeen": (57.20, -2.22, 65, -15.1),
    "Amsterdam": (52.30, 4.77, -2, -13.6),
    "Antananarivo": (-18.80, 47.48, 1276, 1.4),
    "Aurora": (39.72, -104.75, 1726, -27.2),
    "Bogota": (4.70, -74.13, 2548, -3.1),
    "Chicago": (41.98, -87.92, 201, -29.6),
    "Gatwick": (51.15, -0.18, 62, -11.0),
    "Golden": (39.74, -105.18, 1829, -27.9),
    "Granada": (37.18, -3.78, 559, -9.7),
    "Helsinki": (60.32, 24.97, 56, -30.8),
    "New York": (40.65, -73.80, 5, -17.5),
    "Pittsburgh": (40.35, -79.92, 380, -25.9),
    "Port Angeles": (48.12, -123.50, 91, -9.2),
    "San Francisco": (37.62, -122.40, 2, -0.1),
    "Seville": (37.42, -5.90, 31, -3.7),
    "Sterling": (38.98, -77.47, 82, -23.1),
    "Sydney": (-33.95, 151.18, 3, 2.1),
    "Tampa": (27.97, -82.53, 6, -4.5),
    "Hyakuri": (36.18, 140.42, 35, -11.0),
    "Tucson": (32.17, -110.88, 809, -4.2),
    "Victoria": (48.65, -123.43, 19, -10.3),
    "Northway": (62.967, -141.933, 522, -50.2),
    "Mount Shasta": (41.333, -122.333, 1077, -15.5),
}


def found_at(latitude: float, longitude: float, elevation: float) -> tuple[float, float]:
    """The lowest to design for and the likeliest coldest [Cel]."""
    cold = cold_air(built_in_sky(Place("", latitude, longitude, elevation)))
    return cold.lowest, cold.usual


def test_not_warmer_than_the_ten_year_lows_at_95_places_of_100() -> None:
    lows = np.array([low for *_, low in TEN_YEAR_LOWS.values()])
    lowest, usual = np.array([found_at(*place) for *place, _ in TEN_YEAR_LOWS.values()]).T
    assert np.mean(lowest <= lows) >= 0.95
    assert abs(np.mean(usual - lows)) < 1  # and not colder than it needs to be
    assert np.sqrt(np.mean((usual - lows) ** 2)) < 4


@pytest.mark.parametrize(
    ("latitude", "longitude", "low"),
    [(39.74, -104.99, -27), (41.88, -87.63, -27), (51.05, -114.07, -36), (46.05, 14.51, -17)],
    ids=["Denver", "Chicago", "Calgary", "Ljubljana"],
)
def test_inland_cities_from_memory(latitude: float, longitude: float, low: float) -> None:
    assert found_at(latitude, longitude, looked_up_elevation(latitude, longitude))[0] <= low


def test_the_tropics_have_no_frost() -> None:
    assert found_at(1.35, 103.9, 16)[0] > 0  # Singapore: 19 Cel is the lowest ever measured, from memory


def test_colder_months_mean_colder_nights() -> None:
    months = np.linspace(-40, 28, 20)
    assert np.all(np.diff(coldest_by_month(months)) > 0)
    assert np.all(coldest_by_month(months) < months)
    assert np.all(coldest_by_hour(np.linspace(-45, 25, 20)) < np.linspace(-45, 25, 20))


def test_a_file_is_judged_by_its_coldest_hour() -> None:
    sky, _ = file_sky("pvlib/data/723170TYA.CSV")
    found = cold_air(sky)
    assert (found.basis, found.start) == ("file", sky.air_temperature.min())
    assert found.lowest == found.usual - MARGIN == pytest.approx(1.06 * found.start - 3.7 - 5)


def test_what_is_typed_goes_first_and_below_the_coldest_month() -> None:
    sky = built_in_sky(Place("", 46.05, 14.51, 298.0))
    month = min(sky.air_temperature_month)
    assert cold_air(sky, -18.0).lowest == cold_air(sky, -18.0).usual == -18.0
    assert cold_air(sky, month).lowest == month
    with pytest.raises(SizingError) as refused:
        cold_air(sky, month + 0.1)
    assert [(problem.pointer, problem.code) for problem in refused.value.problems] == [("#/place/coldest_air_c", "too_warm")]


def test_a_design_carries_it_to_the_report() -> None:
    design = json.loads((EXAMPLES / "quince_court_jet.json").read_text())
    silent = size(read_design(design))
    assert silent.cold.basis == "months"
    assert "coldest_air_assumed" in {note.code for note in silent.assumptions}
    design["place"]["coldest_air_c"] = -18
    report = size(read_design(design))
    assert (report.cold.lowest, report.cold.basis) == (-18.0, "typed")
    assert "coldest_air_assumed" not in {note.code for note in report.assumptions}


def test_the_page_of_the_sky_has_it_too() -> None:
    design = json.loads((EXAMPLES / "quince_court_jet.json").read_text())
    found = explain_sky(read_design(design))
    assert sky_answer(found).cold.basis == "months"
    assert found.cold.lowest == found.cold.usual - MARGIN
    design["place"]["coldest_air_c"] = 20
    with pytest.raises(SizingError) as refused:
        explain_sky(read_design(design))
    assert refused.value.problems[0].code == "too_warm"
