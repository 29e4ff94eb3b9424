"""The answer in words: every branch, and its numbers against the year they come from."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from sizing.design.reading import read_design
from sizing.foundation.formats import MONTHS, SPACE
from sizing.operation.operating_point import State
from sizing.operation.year import Year
from sizing.report.report import Report, size
from sizing.report.verdict import Verdict, dry_spell, headline, limit, verdict_of

Build = Callable[..., dict[str, Any]]


@pytest.fixture(scope="module")
def sized(example: Build) -> Callable[..., Report]:
    return lambda changes=None, **other: size(read_design(example(changes, **other)))


@pytest.fixture(scope="module")
def jet(sized: Callable[..., Report]) -> Report:
    return sized()


def plain(text: str) -> str:
    return text.replace(SPACE, " ")


def with_dry_days(year: Year, dry: dict[int, int]) -> Year:
    return replace(year, months=tuple(replace(month, dry_days=dry.get(month.month, 0)) for month in year.months))


def test_a_jet_that_plays(jet: Report) -> None:
    best = replace(jet.year.months[6], first_hour=9.6667, last_hour=15.37, jet=0.618, water=1.0)
    assert (
        plain(headline(jet.fountain, best)) == "Plays from about 9:40 to 15:20 on a usual July day, 62 cm high at its best hour."
    )


def test_the_headline_tells_the_month_with_most_water(jet: Report) -> None:
    most = max(jet.year.months, key=lambda month: month.water)
    assert most.month in (6, 7)
    assert f" on a usual {MONTHS[most.month - 1]} day" in jet.verdict.headline


def test_a_spillway_tells_its_flow(sized: Callable[..., Report]) -> None:
    report = sized(name="terrace_spillway")
    best = max(report.year.months, key=lambda month: month.water)
    assert plain(report.verdict.headline).endswith(f"day, {best.flow * 60_000:.0f} L/min over the lip at its best hour.")
    assert report.verdict.dry == "It plays for some time on every day of the year."


def test_dry_on_a_usual_day_even_in_its_best_month(sized: Callable[..., Report]) -> None:
    report = sized({"/pumps/0/lowest_voltage_v": 11.9, "/mounting/azimuth_deg": 355, "/mounting/tilt_deg": 25})
    assert report.year.water > 0
    assert all(month.first_hour is None for month in report.year.months)
    assert report.verdict.headline.startswith("Even in ")
    assert report.verdict.headline.endswith(", its best month, it stays dry on a usual day.")


def test_it_never_plays(sized: Callable[..., Report]) -> None:
    report = sized({"/outlet/height_above_water_m": 9})
    assert report.year.water == 0
    assert report.verdict.headline == "This fountain does not play at any time of the year."
    assert report.verdict.dry == "It stays dry all year."
    assert plain(report.verdict.limit) == "Even in full sun the pump turns but cannot lift the water 9 m."


DRY_SPELLS: list[tuple[dict[int, int], str]] = [
    ({}, "It plays for some time on every day of the year."),
    ({2: 1}, "In February, its poorest month, it stays dry on 1 of 28 days."),
    ({1: 13, 12: 13, 2: 12}, "In February, its poorest month, it stays dry on 12 of 28 days."),
    ({2: 28}, "It stays dry all through February."),
    ({12: 31, 1: 31, 2: 28, 3: 30}, "It stays dry all through December to February."),
]


@pytest.mark.parametrize(("dry", "sentence"), DRY_SPELLS)
def test_how_often_the_poorest_month_stays_dry(dry: dict[int, int], sentence: str, jet: Report) -> None:
    assert dry_spell(with_dry_days(jet.year, dry)) == sentence


LIMITS: list[tuple[float | None, State, str]] = [
    (
        209.0,
        State.BELOW_LOWEST_VOLTAGE,
        "It needs about 210 W/m² of sun on the panel (clear noon sun is near 1000); "
        "with less, the pump starts and stops, for it gets less than its lowest voltage of 6 V.",
    ),
    (
        412.0,
        State.CANNOT_LIFT,
        "It needs about 410 W/m² of sun on the panel (clear noon sun is near 1000); "
        "with less, the pump turns but cannot lift the water 15 cm.",
    ),
    (
        73.0,
        State.TOO_LITTLE_SUN,
        "It needs about 73 W/m² of sun on the panel (clear noon sun is near 1000); "
        "with less, the panel's current does not start the motor.",
    ),
    (1.0, State.NIGHT, "It needs about 1 W/m² of sun on the panel (clear noon sun is near 1000); with less, there is no sun."),
    (None, State.TOO_LITTLE_SUN, "Even in full sun the panel's current does not start the motor."),
    (
        None,
        State.BELOW_LOWEST_VOLTAGE,
        "Even in full sun the pump starts and stops, for it gets less than its lowest voltage of 6 V.",
    ),
    (None, State.CANNOT_LIFT, "Even in full sun the pump turns but cannot lift the water 15 cm."),
]


@pytest.mark.parametrize(("sun", "state", "sentence"), LIMITS)
def test_what_sets_the_limit(sun: float | None, state: State, sentence: str, jet: Report) -> None:
    assert plain(limit(jet.fountain, sun, state)) == sentence


@pytest.mark.parametrize(
    ("changes", "state", "words"),
    [
        ({}, State.BELOW_LOWEST_VOLTAGE, "less than its lowest voltage"),
        ({"/pumps/0/lowest_voltage_v": 0}, State.CANNOT_LIFT, "cannot lift the water 15 cm"),
        (
            {"/pumps/0/lowest_voltage_v": 0, "/pumps/0/starting_current_a": 0.5},
            State.TOO_LITTLE_SUN,
            "does not start the motor",
        ),
    ],
)
def test_the_cause_is_the_one_that_holds_just_below(
    changes: dict[str, object], state: State, words: str, sized: Callable[..., Report]
) -> None:
    report = sized(changes)
    assert report.first_sun is not None
    assert words in plain(report.verdict.limit)
    assert verdict_of(report.fountain, report.year, report.first_sun, state) == report.verdict
    assert isinstance(report.verdict, Verdict)
