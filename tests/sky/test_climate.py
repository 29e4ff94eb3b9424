"""Built-in climate: where it answers and where it refuses, between its nodes, against stations, and how it was made."""

import hashlib
import tomllib
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from sizing.foundation.errors import SizingError
from sizing.foundation.sources import SOURCES
from sizing.sky import climate
from sizing.sky.climate import (
    CLEARNESS_GRID,
    CLIMATE_GRID,
    TABLE_SOURCES,
    TABLES,
    built_in_clearness,
    built_in_rain,
    built_in_sun,
    built_in_temperature,
    corners,
    corrected_clearness,
    day_ranks,
    position_text,
    table_clearness,
    tables,
    temperature_at_height,
    warm_share,
)
from sizing.sky.solar_position import DAYS_IN_MONTH, MONTH_OF_DAY

ROOT = Path(__file__).resolve().parents[2]


def node(latitude: float, longitude: float) -> NDArray[np.float64]:
    """The table's own twelve values at a node."""
    row, column = round((latitude + 57) / 3), round((longitude + 180) / 3)
    return tables()["clearness"][row, column].astype(float) * 1e-4


def test_digests_are_those_the_readme_prints() -> None:
    readme = (TABLES.parent / "README.md").read_text()
    printed = dict(line.split() for line in readme.split("```")[3].strip().splitlines())
    assert hashlib.sha256(TABLES.read_bytes()).hexdigest() == printed["sky.npz"]
    for name, table in tables().items():
        assert hashlib.sha256(np.ascontiguousarray(table).tobytes()).hexdigest() == printed[name], name
    assert TABLES.stat().st_size < 500_000


def test_each_table_has_a_source() -> None:
    assert set(TABLE_SOURCES) == set(tables())
    assert set(TABLE_SOURCES.values()) <= set(SOURCES)


def test_on_a_node_the_table_itself_answers() -> None:
    values, coverage = table_clearness(48.0, 12.0)
    assert coverage == pytest.approx(1)
    assert np.allclose(values, node(48, 12))


def test_between_nodes_straight_lines() -> None:
    # By hand: 1 degree north and 2 degrees east of node (48, 9): weights 2/3 or 1/3 south-north, 1/3 or 2/3 west-east.
    hand = 2 / 9 * node(48, 9) + 4 / 9 * node(48, 12) + 1 / 9 * node(51, 9) + 2 / 9 * node(51, 12)
    assert np.allclose(table_clearness(49.0, 11.0)[0], hand)


def test_weights_sum_to_one_everywhere() -> None:
    for latitude in (-90.0, -58.5, -57.0, 0.1, 72.0, 73.5, 90.0):
        for longitude in (-180.0, -179.99, 0.0, 176.9, 178.6, 179.99):
            for grid in (CLEARNESS_GRID, CLIMATE_GRID):
                rows, columns, weights = corners(latitude, longitude, grid)
                assert weights.sum() == pytest.approx(1)
                assert np.all((rows >= 0) & (rows < grid.rows) & (columns >= 0) & (columns < grid.columns))


def test_the_table_closes_over_the_date_line() -> None:
    # Chukotka lies on both sides of 180 degrees: 178.5 E is halfway from node 177 E to node 180 W.
    assert np.allclose(table_clearness(66.0, 178.5)[0], (node(66, 177) + node(66, -180)) / 2)
    west, east = table_clearness(66.0, -180.0 + 1e-6), table_clearness(66.0, 180.0 - 1e-6)
    assert np.allclose(west[0], east[0], atol=1e-6)
    assert table_clearness(66.0, 180.0) == table_clearness(66.0, -180.0)
    # Fiji: the meridian is a line of the grid, land data lie west of it only.
    assert table_clearness(-16.5, 180.0)[0] == pytest.approx(table_clearness(-16.5, 179.9999)[0], rel=1e-3)
    assert table_clearness(-16.5, 180.0) == table_clearness(-16.5, -180.0)
    assert table_clearness(52.0, 13.4 - 360)[0] == pytest.approx(table_clearness(52.0, 13.4)[0])


@pytest.mark.parametrize(
    ("name", "latitude", "longitude"),
    [
        ("middle of the Atlantic", -30.0, -30.0),
        ("Honolulu", 21.31, -157.86),
        ("north pole", 90.0, 0.0),
        ("south pole", -90.0, 45.0),
        ("just north of the table", 73.6, 100.0),
        ("just south of the table", -58.6, -68.0),
    ],
)
def test_no_climate_is_said_not_borrowed(name: str, latitude: float, longitude: float) -> None:
    with pytest.raises(SizingError) as caught:
        table_clearness(latitude, longitude)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/sky/kind", "no_climate_here"), name
    assert problem.detail == (
        f"the built-in climate has no data at {position_text(latitude, longitude)}; it covers land between 58.5 S and 73.5 N "
        "and a margin of about 2 degrees of sea; type 12 monthly values of sun or name a weather file."
    )


def test_edges_of_the_table_answer() -> None:
    assert table_clearness(73.5, 100.0)[0][5] > 0.3
    assert np.isfinite(table_clearness(-55.0, -68.0)[0]).all()


def test_position_off_the_earth_is_refused() -> None:
    with pytest.raises(SizingError, match="latitude is 91 degrees"):
        table_clearness(91.0, 0.0)
    with pytest.raises(SizingError, match="latitude is nan degrees"):
        built_in_temperature(float("nan"), 0.0, 0.0)


def test_coast_counts_only_nodes_with_data() -> None:
    # Madeira: one of the four nodes around it is known, that of the Canary Islands.
    rows, columns, weights = corners(32.65, -16.9, CLEARNESS_GRID)
    found = tables()["clearness"][rows, columns]
    known = found[:, 0] >= 0
    assert known.sum() == 1
    values, coverage = table_clearness(32.65, -16.9)
    assert coverage == pytest.approx(weights[known].sum())
    by_hand = (weights[known] @ found[known].astype(float)) / weights[known].sum() * 1e-4
    assert np.allclose(values, by_hand)


def test_polar_night_next_door_does_not_darken_a_month_with_sun() -> None:
    values, _ = table_clearness(67.0, 27.0)  # between node rows 66 (sun in December) and 69 (none)
    assert values[11] == pytest.approx(float(np.average([node(66, 27)[11]])), rel=0.2)
    assert table_clearness(70.0, 27.0)[0][11] == 0


def test_correction_and_its_ceiling() -> None:
    assert corrected_clearness(0.5, 0.0) == pytest.approx(0.44)
    assert corrected_clearness(0.87, 0.0) == corrected_clearness(0.99, 1.0) == 0.75
    assert corrected_clearness(0.0, 0.0) == 0
    assert np.allclose(corrected_clearness(np.array([0.1, 0.8, 0.9]), 0.0), [0.088, 0.704, 0.75])
    half = (corrected_clearness(0.4, 0.0) + corrected_clearness(0.4, 1.0)) / 2
    assert corrected_clearness(0.4, 0.5) == pytest.approx(half)  # a straight line between cool and warm
    assert corrected_clearness(0.4, 1.0) > corrected_clearness(0.4, 0.0)  # dull warm months are brighter than the table
    assert corrected_clearness(0.7, 1.0) < corrected_clearness(0.7, 0.0)  # and bright ones duller
    assert np.allclose(warm_share(np.array([-5.0, 24.0, 25.5, 27.0, 40.0])), [0, 0, 0.5, 1, 1])
    assert tables()["clearness"].max() * 1e-4 * 0.88 > 0.75 >= max(built_in_clearness(-24.0, -69.0)[0]) > 0.73  # Atacama


def test_temperature_falls_with_height() -> None:
    assert temperature_at_height(20.0, 1000.0) == pytest.approx(13.5)
    low, high = built_in_temperature(46.5, 8.0, 500.0), built_in_temperature(46.5, 8.0, 2500.0)
    assert np.allclose(np.subtract(low, high), 13.0)


def test_climate_of_poles_oceans_and_date_line() -> None:
    for latitude, longitude in ((90.0, 0.0), (-90.0, 12.0), (-30.0, -30.0), (21.31, -157.86)):
        assert np.isfinite(built_in_temperature(latitude, longitude, 0.0)).all()
        assert min(built_in_rain(latitude, longitude)) >= 0
    assert built_in_temperature(90.0, 0.0, 0.0) == pytest.approx(built_in_temperature(90.0, 100.0, 0.0), abs=0.2)
    assert built_in_temperature(10.0, -0.001, 0.0) == pytest.approx(built_in_temperature(10.0, 0.001, 0.0), abs=0.05)
    assert built_in_temperature(-33.9, 151.2, 0.0)[0] > built_in_temperature(-33.9, 151.2, 0.0)[6]  # southern summer


def test_rain_against_well_known_years() -> None:
    # Yearly totals from memory: Greensboro about 1100 mm, Cairo under 50, Singapore about 2200 (grid: wet sea around).
    assert sum(built_in_rain(36.10, -79.95)) == pytest.approx(1100, rel=0.15)
    assert sum(built_in_rain(30.04, 31.24)) < 80
    assert sum(built_in_rain(1.35, 103.8)) == pytest.approx(2200, rel=0.3)


def test_year_of_fourteen_stations() -> None:
    checks = tomllib.loads((ROOT / "tests" / "published" / "sky.toml").read_text())["check"]
    days = np.array(DAYS_IN_MONTH)
    ratios = []
    for check in checks:
        if check["function"] == "sky.climate.built_in_sun" and check["source"] == "typical_years":
            ratios.append(np.dot(built_in_sun(**check["inputs"]), days) / np.dot(check["expected"], days))
    assert len(ratios) == 14
    band = 0.08  # the standard uncertainty of a year's sun that is told beside every sizing
    assert np.mean(ratios) == pytest.approx(1, abs=band / np.sqrt(14))  # the correction was found with most of them
    assert np.sqrt(np.mean((np.array(ratios) - 1) ** 2)) < band
    assert np.all(np.abs(np.array(ratios) - 1) < 2 * band)


WARM_CITIES = {  # sun of the year on level ground [kWh/m2 a day], from memory; none of them served the fit
    "Singapore": (1.35, 103.9, 4.5),
    "Kuala Lumpur": (3.1, 101.7, 4.65),
    "Jakarta": (-6.2, 106.8, 4.75),
    "Manila": (14.6, 121.0, 4.95),
    "Bangkok": (13.75, 100.5, 5.0),
    "Colombo": (6.9, 79.9, 5.1),
    "Mumbai": (19.1, 72.9, 5.2),
    "Dhaka": (23.8, 90.4, 4.5),
    "Lagos": (6.5, 3.4, 4.55),
    "Accra": (5.6, -0.2, 5.0),
    "Douala": (4.05, 9.7, 4.2),
    "Nairobi": (-1.3, 36.8, 5.5),
    "Manaus": (-3.1, -60.0, 4.65),
    "Recife": (-8.05, -34.9, 5.5),
    "San Juan": (18.4, -66.1, 5.45),
    "Darwin": (-12.4, 130.9, 5.85),
    "Cairns": (-16.9, 145.7, 5.4),
    "Panama": (9.0, -79.5, 4.75),
}


def test_warm_cities_are_neither_dim_nor_bright() -> None:
    days = np.array(DAYS_IN_MONTH) / 365
    ratios = np.array([np.dot(built_in_sun(at, to), days) / sun for at, to, sun in WARM_CITIES.values()])
    band = 0.08  # as it is told beside every sizing
    assert abs(ratios.mean() - 1) < 0.03
    assert np.sqrt(np.mean((ratios - 1) ** 2)) < band
    assert np.all(np.abs(ratios - 1) < 1.5 * band)


def test_a_mountain_in_the_tropics_is_not_warm() -> None:
    low, high = built_in_clearness(4.7, -74.1, 0.0)[0], built_in_clearness(4.7, -74.1, 2548.0)[0]
    assert np.allclose(high, np.array(table_clearness(4.7, -74.1)[0]) * 0.88)
    assert not np.allclose(low, high)


def test_days_of_each_month_are_ranked_and_remember_the_day_before() -> None:
    ranks = day_ranks()
    for month, days in enumerate(DAYS_IN_MONTH, start=1):
        assert sorted(ranks[month == MONTH_OF_DAY]) == list(range(days))
    relative = ranks / np.repeat(DAYS_IN_MONTH, DAYS_IN_MONTH)
    assert np.corrcoef(relative[:-1], relative[1:])[0, 1] == pytest.approx(
        0.29, abs=0.105
    )  # Graham, Hollands & Huget 1988; chance of 365 days, 2 / 365**0.5


def test_position_in_words() -> None:
    assert position_text(0.0, -0.004) == "0.00 N, 0.00 W"
    assert position_text(-33.953, 151.181) == "33.95 S, 151.18 E"


def test_tables_are_read_once() -> None:
    assert climate.tables() is climate.tables()
