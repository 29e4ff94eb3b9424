"""``python -m tests.benchmarks.cloudy_days FOLDER``: are decisions from twelve monthly means those of the real hours?

FOLDER holds weather files (EPW, TMY3) of the reader's own; none comes with the project. Every file is sized twice: by its own
hours, and by a year made of nothing but its twelve monthly means. Three fountains, two windows of four and three hours,
goals at what each fountain gives in three strengths of sun; half a year of months, the bright one. What is compared is what
a club decides by: days of ten that reach the goal, dry days, water, and the smallest panel for seven days of ten.

A day counts where nine tenths of its window's steps reach the goal. The windows follow the sun on both sides, so that no
clock stands between them. Nothing of ``sizing.operation.goal`` is used here: this is the judge.
"""

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pvlib.iotools import read_bsrn

from sizing.design.reading import parse_design
from sizing.electric.single_diode import of_more_current
from sizing.foundation.errors import SizingError
from sizing.fountain.components import Fountain, fountain_of
from sizing.light.irradiance import PlaneSun, plane_sun
from sizing.operation.operating_point import OperatingGrid, flow_alone, solve_grid
from sizing.operation.year import month_of_day
from sizing.place.place import Place
from sizing.sky import synthetic_year as made_up
from sizing.sky.clouds import CLOUD_SPREAD, STREAM
from sizing.sky.solar_position import DAY_OF_YEAR, equation_of_time
from sizing.sky.weather import TRUE_SOLAR_TIME, Sky, monthly_sky, sky_of_bytes

Array = NDArray[np.float64]

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FOUNTAINS = ("quince_court_jet.json", "fern_bubbler.json", "terrace_spillway.json")
WINDOWS = ((10.0, 14.0), (9.0, 12.0))
STRENGTHS = (300.0, 425.0, 550.0)
"""[W/m2] In whose sun, with cells at 35 degrees, each fountain gives the flow that is its goal."""
SHARE, DAYS_OF_TEN, TILT = 0.9, 7.0, 30.0
PANELS = 1.02 ** np.arange(-60, 90)
"""[1] Sizes of panel that are tried, over the example's own."""
PAYERNE_LONGITUDE = 6.944
"""[deg] Of the station whose record ships with pvlib's source distribution."""
BRIGHT = {True: (4, 5, 6, 7, 8, 9), False: (10, 11, 12, 1, 2, 3)}


@dataclass(frozen=True, eq=False)
class Tried:
    """One fountain, its goals [m3/s], and the same fountain with every size of panel."""

    fountain: Fountain
    solved: OperatingGrid
    goals: Array
    sizes: tuple[OperatingGrid, ...]


@dataclass(frozen=True, eq=False)
class Decided:
    """What a year says: goal days of ten (windows x goals), those of the poorest month, smallest panel [1] of each window,
    water of the year [m3/s summed] and dry days; one row for each fountain."""

    days: Array
    poorest: Array
    panel: Array
    water: Array
    dry: Array


def tried_fountains() -> list[Tried]:
    """The three fountains, solved for every size of panel once."""
    found = []
    for name in FOUNTAINS:
        fountain = fountain_of(parse_design((EXAMPLES / name).read_bytes()))
        supplies = [replace(fountain.supply, panel=of_more_current(fountain.supply.panel, float(size))) for size in PANELS]
        solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
        goals = flow_alone(solved, np.array(STRENGTHS), np.full(len(STRENGTHS), 35.0))
        sizes = tuple(solve_grid(supply, fountain.pump, fountain.waterway) for supply in supplies)
        found.append(Tried(fountain, solved, goals, sizes))
    return found


def sun_hour(sky: Sky, place: Place) -> Array:
    """True solar time of each step [h]."""
    if sky.hour_basis == TRUE_SOLAR_TIME:
        return sky.hour
    zone = float(sky.hour_basis.rsplit("UTC", 1)[1])
    minutes = np.asarray(equation_of_time(DAY_OF_YEAR))[sky.day]
    return np.asarray((sky.hour + place.longitude / 15 - zone + minutes / 60) % 24)


def day_reach(flow: Array, inside: NDArray[np.bool_]) -> Array:
    """Flow that nine tenths of a day's window reach [m3/s], (days,), from flow and window, (days, steps)."""
    found = np.zeros(len(flow))
    for day, (values, chosen) in enumerate(zip(flow, inside, strict=True)):
        ordered = np.sort(values[chosen])
        found[day] = ordered[len(ordered) - int(np.ceil(SHARE * len(ordered) - 1e-9))] if len(ordered) else 0.0
    return found


def decided(sky: Sky, place: Place, tried: Sequence[Tried], days: NDArray[np.int64] | None = None) -> Decided:
    """What a year says of every fountain; ``days`` puts other days of it in each day's place."""
    sun = plane_sun(sky, place, TILT, 180.0 if place.latitude >= 0 else 0.0, 0.03)
    shape = (365, sky.steps_per_day)
    hour, month = sun_hour(sky, place).reshape(shape), month_of_day(sky)
    inside = [(hour >= first) & (hour < last) for first, last in WINDOWS]
    bright = BRIGHT[place.latitude >= 0]
    rows = [of_fountain(one, sun, shape, inside, month, bright, days) for one in tried]
    return Decided(*(np.array(column) for column in zip(*rows, strict=True)))


def of_fountain(
    one: Tried,
    sun: PlaneSun,
    shape: tuple[int, int],
    inside: Sequence[NDArray[np.bool_]],
    month: NDArray[np.int64],
    bright: Sequence[int],
    days: NDArray[np.int64] | None,
) -> tuple[Array, Array, Array, float, float]:
    """The row of one fountain."""
    order = np.arange(365) if days is None else days

    def shares(reach: Array, needed: float) -> Array:
        return np.array([10 * float((reach[month == number] >= needed).mean()) for number in bright])

    flow = flow_alone(one.solved, sun.effective, sun.cell_temperature).reshape(shape)
    reached = [day_reach(flow, window)[order] for window in inside]
    found = np.array([[shares(reach, float(goal) * (1 - 1e-9)) for goal in one.goals] for reach in reached])
    panels = [smallest(one, sun, shape, window, shares, order) for window in inside]
    water = flow[order]
    dry = float((water.sum(axis=1) == 0).sum())
    return found.mean(axis=2), found.min(axis=2), np.array(panels), float(water.sum()) * 24 / shape[1], dry


def smallest(
    one: Tried,
    sun: PlaneSun,
    shape: tuple[int, int],
    window: NDArray[np.bool_],
    shares: Callable[[Array, float], Array],
    order: NDArray[np.int64],
) -> float:
    """Smallest panel, over the example's own [1], that gives the middle goal on seven days of ten of each bright month."""
    steps, place = np.flatnonzero(window.ravel()), np.zeros(shape)
    low, high = 0, len(PANELS) - 1
    while low < high:
        middle = (low + high) // 2
        place.ravel()[steps] = flow_alone(one.sizes[middle], sun.effective[steps], sun.cell_temperature[steps])
        met = shares(day_reach(place, window)[order], float(one.goals[1])).min() >= DAYS_OF_TEN - 1e-9
        low, high = (low, middle) if met else (middle + 1, high)
    return float(PANELS[low])


def of_means(sky: Sky, place: Place, spread: float = CLOUD_SPREAD, stream: int = STREAM) -> Sky:
    """A year made of a year's twelve monthly means of sun and air."""
    per_day = sky.steps_per_day
    by_day, month = sky.ghi.reshape(365, per_day).mean(axis=1) * 24 / 1000, month_of_day(sky)
    means = [float(by_day[month == number].mean()) for number in range(1, 13)]
    found = monthly_sky(place, means, sky.air_temperature_month)
    year = made_up.synthetic_year(
        place.latitude, np.array(found.clearness), np.array(found.air_temperature_month), spread, stream
    )
    return replace(found, ghi=year.ghi, dhi=year.dhi, dni=year.dni)


def by_the_hour(sky: Sky) -> Sky:
    """The same year told in hourly means, as a weather file would."""
    first = slice(None, None, sky.steps_per_day // 24)

    def mean(values: Array) -> Array:
        return values.reshape(365 * 24, -1).mean(axis=1)

    middle = np.repeat(sky.zenith.reshape(365 * 24, -1).mean(axis=1), 1)
    return replace(
        sky,
        steps_per_day=24,
        day=sky.day[first],
        month=sky.month[first],
        hour=mean(sky.hour),
        zenith=middle,
        azimuth=sky.azimuth.reshape(365 * 24, -1)[:, sky.steps_per_day // 48],
        extraterrestrial_normal=sky.extraterrestrial_normal[first],
        ghi=mean(sky.ghi),
        dhi=mean(sky.dhi),
        dni=mean(sky.dni),
        air_temperature=mean(sky.air_temperature),
        wind_speed=mean(sky.wind_speed),
        calm=None,
    )


def told(name: str, files: dict[str, Decided], made: dict[str, Decided]) -> str:
    """One line of figures: how far the made-up years are from the files."""
    pairs = [(files[key], made[key]) for key in files]
    days = np.array([other.days - one.days for one, other in pairs])
    poorest = np.array([other.poorest - one.poorest for one, other in pairs])
    water = 100 * np.array([other.water / one.water - 1 for one, other in pairs])
    panel = 100 * np.array([other.panel / one.panel - 1 for one, other in pairs])
    dry = [np.array([of.dry for of in years]).sum(axis=0) for years in zip(*pairs, strict=True)]
    change = 100 * (dry[1] / np.maximum(dry[0], 1) - 1)
    whole = 100 * (dry[1].sum() / dry[0].sum() - 1)
    parts = [
        f"{name:34}",
        f"goal days {days.mean():+.2f} rms {rms(days):.2f}",
        f"poorest month {poorest.mean():+.2f} rms {rms(poorest):.2f}",
        f"water {water.mean():+.1f} rms {rms(water):.1f} worst {abs(water).max():.0f} %",
        f"dry days {whole:+.0f} % (" + " ".join(f"{value:+.0f}" for value in change) + ")",
        f"smallest panel median {np.median(panel):+.1f} %, two of three within {np.percentile(abs(panel), 68):.0f} %",
    ]
    return " | ".join(parts)


def rms(values: Array) -> float:
    """Root of the mean of squares."""
    return float(np.sqrt((values**2).mean()))


def resampled(sky: Sky, draw: np.random.Generator) -> NDArray[np.int64]:
    """Other days of the same months in every day's place, drawn with return."""
    month = month_of_day(sky)
    return np.concatenate([draw.choice(np.flatnonzero(month == number), (month == number).sum()) for number in range(1, 13)])


def files_in(folder: Path) -> dict[str, tuple[Sky, Place]]:
    """The weather files of a folder that the project reads."""
    found = {}
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() in (".epw", ".csv"):
            try:
                found[path.stem] = sky_of_bytes(path.read_bytes(), path.name)
            except SizingError as refused:
                print(f"{path.name}: left out, {str(refused)[:100]}")
    return found


def left_out(skies: dict[str, tuple[Sky, Place]], files: dict[str, Decided], tried: Sequence[Tried]) -> list[str]:
    """The lines for places that took no part in fitting: spread and dullest day fitted on all the others.

    A fit weighs goal days and dry days, by quarters of an hour and told by the hour alike.
    """
    grid = [(spread, dullest) for spread in (0.14, 0.16, 0.18, 0.20, 0.22) for dullest in (0.02, 0.04, 0.06, 0.08)]
    made: dict[tuple[float, float], dict[str, tuple[Decided, Decided]]] = {}
    kept = made_up.DULLEST_DAY
    for spread, dullest in grid:
        made_up.DULLEST_DAY = dullest
        years = {name: of_means(sky, place, spread) for name, (sky, place) in skies.items()}
        made[spread, dullest] = {
            name: (decided(year, skies[name][1], tried), decided(by_the_hour(year), skies[name][1], tried))
            for name, year in years.items()
        }
    made_up.DULLEST_DAY = kept

    def cost(cell: tuple[float, float], names: Sequence[str]) -> float:
        total = 0.0
        for reading in (0, 1):
            days = np.array([made[cell][name][reading].days - files[name].days for name in names])
            dry = [sum(of.dry.sum() for of in found) for found in
                   ([made[cell][name][reading] for name in names], [files[name] for name in names])]  # fmt: skip
            total += float((days**2).mean() + days.mean() ** 2 + (dry[0] / dry[1] - 1) ** 2)
        return total

    best = {
        name: min(grid, key=lambda cell, name=name: cost(cell, [other for other in skies if other != name])) for name in skies
    }  # type: ignore[misc]
    cells = list(best.values())
    print("fitted without one place:", {cell: cells.count(cell) for cell in sorted(set(cells))})
    readings = ("places left out", "places left out, told by the hour")
    return [told(words, files, {name: made[best[name]][name][number] for name in skies}) for number, words in enumerate(readings)]


def hidden_by_hours(record: Path) -> str:
    """The line for what hourly means hide: goal days of ten of a one-minute record, by its minutes, quarters and hours.

    Parameters
    ----------
    record : a month as the Baseline Surface Radiation Network writes it
    """
    data, meta = read_bsrn(str(record))
    noon = 12 - float(meta["longitude"]) / 15 if "longitude" in meta else 12 - PAYERNE_LONGITUDE / 15
    sun = np.nan_to_num(data["ghi"].to_numpy(float)).reshape(-1, 1440)
    clock = (np.arange(1440) + 0.5) / 60 - noon + 12
    shares: dict[int, list[float]] = {1: [], 15: [], 60: []}
    for first, last in WINDOWS:
        window = sun[:, (clock >= first) & (clock < last)]
        for minutes, found in shares.items():
            means = window[:, : window.shape[1] // minutes * minutes].reshape(len(sun), -1, minutes).mean(axis=2)
            found += [10 * float(((means >= least).mean(axis=1) >= SHARE - 1e-9).mean()) for least in range(200, 701, 100)]
    by = {minutes: np.array(found) for minutes, found in shares.items()}
    hours, quarters = by[60] - by[15], by[15] - by[1]
    return (
        f"{record.name}: {len(sun)} days; hours over quarters {hours.mean():+.2f} goal days of ten "
        f"({hours.min():+.1f} to {hours.max():+.1f}), quarters over minutes {quarters.mean():+.2f}"
    )


def main(arguments: Sequence[str]) -> int:
    """Print the table."""
    if not arguments:
        print("usage: python -m tests.benchmarks.cloudy_days FOLDER [--streams] [--leave-out] [--minutes RECORD]")
        return 2
    skies, tried = files_in(Path(arguments[0])), tried_fountains()
    files = {name: decided(sky, place, tried) for name, (sky, place) in skies.items()}
    print(f"{len(skies)} files, {len(tried)} fountains, windows {WINDOWS}, goals at {STRENGTHS} W/m2", flush=True)

    def years(make: Callable[[Sky, Place], Sky]) -> dict[str, Decided]:
        return {name: decided(make(sky, place), place, tried) for name, (sky, place) in skies.items()}

    print(told("smooth days", files, years(lambda sky, place: of_means(sky, place, 0.0))), flush=True)
    print(told("with clouds", files, years(of_means)), flush=True)
    print(told("with clouds, told by the hour", files, years(lambda sky, place: by_the_hour(of_means(sky, place)))), flush=True)
    chance: dict[str, Any] = {}
    draw = np.random.default_rng(7)
    for name, (sky, place) in skies.items():
        chance[name] = decided(sky, place, tried, resampled(sky, draw))
    print(told("chance: the file's days drawn anew", files, chance), flush=True)
    if "--streams" in arguments:
        for stream in range(1, 21):
            print(told(f"stream {stream}", files, years(lambda sky, place, stream=stream: of_means(sky, place, stream=stream))))  # type: ignore[misc]
    if "--leave-out" in arguments:
        print("\n".join(left_out(skies, files, tried)), flush=True)
    if "--minutes" in arguments:
        print(hidden_by_hours(Path(arguments[arguments.index("--minutes") + 1])), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
