"""The climate that ships with the project: sun, air temperature and rain of each month, anywhere on land.

``data/README.md`` says whose data the tables hold, how they were made and how far they are off. Warm months: seven weather files,
each left out of its fit, were 8.4 % off in the year with one factor for all months, now 5.9 %; 30 warm cities from memory, used
for no fit, 12 %, now 4.3 % (mean -9.5 %, now +0.3 %), so the band of 8 % holds there too.
"""

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import CLEAREST_MONTH, LAPSE_RATE, TABLE_CORRECTION, WARM_BASE, WARM_SLOPE
from sizing.foundation.errors import input_error
from sizing.foundation.working import formula
from sizing.place.place import checked_position, looked_up_elevation
from sizing.sky.solar_position import monthly_extraterrestrial

Numeric = float | NDArray[np.float64]
Months = tuple[float, ...]

TABLES = Path(__file__).parents[1] / "data" / "sky.npz"
SOUTHERN_LIMIT, NORTHERN_LIMIT = -58.5, 73.5
"""[deg] Edges of the outermost rows of the clearness table."""
THIN_COVERAGE = 0.25
"""[1] Less land data around the place than this is worth a warning."""
ONE_STEP = 1e-6
"""[deg] A tenth of a metre: a place so near to a line of the grid lies on it."""
TABLE_SOURCES = {"clearness": "merra_2", "sea_level_temperature": "era5", "rain": "era5", "day_rank": "graham_1988"}
"""Source key of each shipped table."""
CLEARNESS_UNIT, TEMPERATURE_UNIT, RAIN_UNIT = 1e-4, 0.1, 4.0
"""[1], [Cel], [mm] What one count of each table stands for."""


@dataclass(frozen=True)
class Grid:
    """Nodes of a table: first latitude and longitude [deg], steps [deg], and how many rows and columns."""

    latitude: float
    latitude_step: float
    longitude: float
    longitude_step: float
    rows: int
    columns: int


CLEARNESS_GRID = Grid(-57.0, 3.0, -180.0, 3.0, 44, 120)
CLIMATE_GRID = Grid(90.0, -2.0, 0.0, 2.0, 91, 180)


@lru_cache(maxsize=1)
def tables() -> dict[str, NDArray[np.generic]]:
    """The shipped tables by name, read once."""
    with np.load(TABLES) as file:
        return {name: file[name] for name in file.files}


def corners(latitude: float, longitude: float, grid: Grid) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.float64]]:
    """Rows, columns and weights of the four nodes around a place; the last column meets the first.

    Parameters
    ----------
    latitude, longitude : [deg]; beyond the outermost row, that row alone counts

    Returns
    -------
    rows, columns, weights : shape (4,), weights sum to 1

    Examples
    --------
    >>> corners(-57.0, 178.5, CLEARNESS_GRID)[1:]
    (array([119,   0, 119,   0]), array([0.5, 0.5, 0. , 0. ]))
    """
    row = min(max((latitude - grid.latitude) / grid.latitude_step, 0.0), grid.rows - 1.0)
    column = ((longitude - grid.longitude) / grid.longitude_step) % grid.columns
    south, west = min(int(row), grid.rows - 2), int(column) % grid.columns
    up, across = row - south, column % 1
    rows = np.array([south, south, south + 1, south + 1])
    columns = np.array([west, west + 1, west, west + 1]) % grid.columns
    weights = np.array([(1 - up) * (1 - across), (1 - up) * across, up * (1 - across), up * across])
    return rows, columns, weights


@formula("minimum(maximum((air_temperature - 24) / 3, 0), 1)", unit="1", source="table_comparison")
def warm_share(air_temperature: Numeric) -> Numeric:
    """How far a month counts as warm [1] by its mean air temperature [Cel]: not at all up to 24 Cel, wholly from 27 Cel.

    Examples
    --------
    >>> float(warm_share(25.5)), float(warm_share(10.0))
    (0.5, 0.0)
    """
    return np.minimum(np.maximum((air_temperature - 24) / 3, 0), 1)


@formula(
    "minimum((1 - warm) * table_correction * table_clearness"
    " + warm * (warm_base + warm_slope * table_clearness), clearest_month)",
    unit="1",
    source="table_comparison",
)
def corrected_clearness(
    table_clearness: Numeric,
    warm: Numeric,
    table_correction: float = TABLE_CORRECTION,
    warm_base: float = WARM_BASE,
    warm_slope: float = WARM_SLOPE,
    clearest_month: float = CLEAREST_MONTH,
) -> Numeric:
    """Clearness of a month [1] from the re-analysis, brought to what stations measure; ``warm`` is its ``warm_share`` [1].

    The re-analysis sees too few clouds in cool months; in warm months it makes the dull too dull and the bright too bright.

    Examples
    --------
    >>> float(corrected_clearness(0.584, 0.0)), float(corrected_clearness(0.42, 1.0)), float(corrected_clearness(0.87, 0.0))
    (0.5139, 0.4643, 0.75)
    """
    cool = (1 - warm) * table_correction * table_clearness
    return np.minimum(cool + warm * (warm_base + warm_slope * table_clearness), clearest_month)


def table_clearness(latitude: float, longitude: float) -> tuple[Months, float]:
    """Share of the sun above the air that reaches level ground, month by month, from the built-in table.

    Parameters
    ----------
    latitude : [deg], -58.5..73.5
    longitude : [deg]

    Returns
    -------
    clearness : twelve values [1], as in the table, before ``corrected_clearness``
    coverage : share of the table's nodes around the place that hold data, above 0 and up to 1

    Raises
    ------
    SizingError : where the table holds no data (open sea, near the poles)

    Examples
    --------
    >>> clearness, coverage = table_clearness(36.10, -79.95)
    >>> clearness[5], coverage
    (0.587, 1.0)
    """
    latitude, longitude = checked_position(latitude, longitude)
    found, known = known_nodes(latitude, longitude)
    if known.sum() <= 0 or not SOUTHERN_LIMIT <= latitude <= NORTHERN_LIMIT:
        raise input_error(
            "#/sky/kind",
            "no_climate_here",
            f"the built-in climate has no data at {position_text(latitude, longitude)}; it covers land between "
            f"{-SOUTHERN_LIMIT:g} S and {NORTHERN_LIMIT:g} N and a margin of about 2 degrees of sea; "
            "type 12 monthly values of sun or name a weather file.",
        )
    sunlit = known[:, None] * (found > 0)  # a node in polar night says nothing about a place with sun
    whole = sunlit.sum(axis=0)
    mean = np.divide((sunlit * found).sum(axis=0), whole, out=np.zeros(12), where=whole > 0)
    return tuple((mean * CLEARNESS_UNIT).tolist()), float(known.sum())


def known_nodes(latitude: float, longitude: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Counts of the clearness table at the nodes around a place, shape (4, 12), and their weights, 0 where there is no data.

    A place right on a line of the grid has neighbours on both sides; it is answered where a step to either side is.
    """
    for north in (0.0, -ONE_STEP, ONE_STEP):
        for east in (0.0, -ONE_STEP, ONE_STEP):
            rows, columns, weights = corners(latitude + north, longitude + east, CLEARNESS_GRID)
            found = tables()["clearness"][rows, columns].astype(float)
            known = weights * (found[:, 0] >= 0)
            if known.sum() > 0:
                return found, known
    return found, known


def built_in_clearness(latitude: float, longitude: float, elevation: float | None = None) -> tuple[Months, float]:
    """The built-in table's clearness [1] of each month, corrected, and its coverage; see ``table_clearness``.

    Parameters
    ----------
    latitude, longitude : [deg]
    elevation : [m], looked up where not given; it tells how warm the months are

    Examples
    --------
    >>> built_in_clearness(36.10, -79.95)[0][3]
    0.516
    """
    clearness, coverage = table_clearness(latitude, longitude)
    height = looked_up_elevation(latitude, longitude) if elevation is None else elevation
    warm = warm_share(np.array(built_in_temperature(latitude, longitude, height)))
    return tuple(np.asarray(corrected_clearness(np.array(clearness), warm)).tolist()), coverage


def built_in_sun(latitude: float, longitude: float, elevation: float | None = None) -> Months:
    """Sun on level ground [kWh/m2 a day], month by month, by the built-in table: a start for typing better values.

    Examples
    --------
    >>> [round(sun, 1) for sun in built_in_sun(36.10, -79.95)][:3]
    [2.4, 3.2, 4.0]
    """
    clearness, _ = built_in_clearness(latitude, longitude, elevation)
    return tuple(np.asarray(daily_sun(np.array(clearness), monthly_extraterrestrial(latitude))).tolist())


@formula("clearness * extraterrestrial_day * 24 / 1000", unit="kWh/m2", source="duffie_beckman")
def daily_sun(clearness: Numeric, extraterrestrial_day: Numeric) -> Numeric:
    """Sun on level ground in a day [kWh/m2] from the clearness [1] and the sun above the air [W/m2, mean of 24 h].

    Examples
    --------
    >>> daily_sun(0.517, 483.0)
    5.993
    """
    return clearness * extraterrestrial_day * 24 / 1000


@formula("sea_level_temperature - lapse_rate * elevation", unit="Cel", source="standard_atmosphere")
def temperature_at_height(sea_level_temperature: Numeric, elevation: Numeric, lapse_rate: float = LAPSE_RATE) -> Numeric:
    """Air temperature [Cel] at an elevation [m], from the temperature brought down to sea level [Cel].

    Examples
    --------
    >>> temperature_at_height(20.0, 1276.0)
    11.706
    """
    return sea_level_temperature - lapse_rate * elevation


def built_in_temperature(latitude: float, longitude: float, elevation: float) -> Months:
    """Mean air temperature [Cel] of each month from the built-in table, anywhere on Earth.

    Parameters
    ----------
    latitude, longitude : [deg]
    elevation : [m]

    Examples
    --------
    >>> [round(month) for month in built_in_temperature(52.30, 4.77, 0.0)]
    [4, 5, 7, 10, 13, 16, 18, 18, 16, 12, 8, 5]
    """
    sea_level = from_climate_grid("sea_level_temperature", latitude, longitude) * TEMPERATURE_UNIT
    return tuple(np.asarray(temperature_at_height(sea_level, elevation)).tolist())


def built_in_rain(latitude: float, longitude: float) -> Months:
    """Rain and snow [mm a month] from the built-in table, anywhere on Earth.

    Examples
    --------
    >>> round(sum(built_in_rain(36.10, -79.95)), -2)
    1100.0
    """
    return tuple((from_climate_grid("rain", latitude, longitude) * RAIN_UNIT).tolist())


def from_climate_grid(table: str, latitude: float, longitude: float) -> NDArray[np.float64]:
    """Counts of a table of the 2-degree grid at a place, each month on straight lines between its nodes, shape (12,)."""
    rows, columns, weights = corners(*checked_position(latitude, longitude), CLIMATE_GRID)
    return np.asarray(tables()[table][:, rows, columns].astype(float) @ weights)


def day_ranks() -> NDArray[np.int64]:
    """Rank of each of the 365 days within its month, 0 the dullest: the order in which days follow each other."""
    return tables()["day_rank"].astype(np.int64)


def position_text(latitude: float, longitude: float) -> str:
    """A position as people write it.

    Examples
    --------
    >>> position_text(-33.953, 151.181)
    '33.95 S, 151.18 E'
    """
    return f"{abs(latitude):.2f} {'S' if latitude < 0 else 'N'}, {abs(longitude):.2f} {'W' if longitude < 0 else 'E'}"
