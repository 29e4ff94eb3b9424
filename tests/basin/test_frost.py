"""Frost: months judged by the sky's own air, and what is said of them."""

import json
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from sizing.basin.answer import FrostAnswer
from sizing.basin.frost import Frost, first_of, frost_of, frost_sentence
from sizing.design.reading import read_design
from sizing.foundation.formats import NARROW_SPACE, SPACE, month_span
from sizing.installation.reasons import frost as frost_reason
from sizing.installation.wires import wires_of
from sizing.report.report import Report, size

FOLDER = Path(__file__).resolve().parents[2] / "examples"
STEMS = sorted(path.stem for path in FOLDER.glob("*.json"))
SUN = [1.1, 2.0, 3.3, 4.4, 5.5, 6.0, 6.1, 5.2, 3.8, 2.3, 1.2, 0.8]


def plain(text: str) -> str:
    return text.replace(SPACE, " ").replace(NARROW_SPACE, " ")


@lru_cache
def sized(stem: str, air: tuple[float, ...] | None = None) -> Report:
    document = json.loads((FOLDER / f"{stem}.json").read_text(encoding="utf-8"))
    if air is not None:
        document["sky"] = {"kind": "monthly", "ghi_kwh_per_m2_day": SUN, "air_temperature_c": air}
    return size(read_design(document), FOLDER)


def with_air(*air: float) -> Frost:
    return frost_of(sized("quince_court_jet", air))


@pytest.mark.parametrize("stem", STEMS)
def test_whole_and_of_one_mind_with_the_safety_notes(stem: str) -> None:
    report = sized(stem)
    found = frost_of(report)
    assert FrostAnswer.of(found).months == list(found.months)
    assert not set(found.months) & set(found.single_nights)
    for text in (found.sentence, found.judged, *found.advice):
        assert text[0].isupper()
        assert text.endswith(".")
    assert bool(found.advice) == bool(found.months or found.single_nights or found.ten_years <= 0)
    reason = frost_reason(report, wires_of(report))
    cold = [month for month in range(1, 13) if found.mean_lowest[month - 1] < 5]
    assert set(cold) <= set(found.months) | set(found.single_nights)
    assert (reason is None) == (not cold and found.ten_years > 0)
    if reason is not None and cold:
        assert month_span(cold) in reason.sentence


def test_the_days_are_those_of_the_sky() -> None:
    report = sized("weather_file_jet")
    found = frost_of(report)
    lows = report.sky.air_temperature.reshape(365, -1).min(axis=1)
    january = lows[:31]
    assert found.mean_lowest[0] == pytest.approx(january.mean(), rel=1e-12)
    assert found.coldest[0] == january.min()
    assert found.hard_nights[0] == int(np.count_nonzero(january <= -2))
    assert sum(found.hard_nights) == int(np.count_nonzero(lows <= -2))
    assert "the weather file's days" in found.judged


def test_a_cold_garden_a_mild_one_and_one_that_never_thaws() -> None:
    cold = with_air(-9, -8, -3, 9, 13, 17, 20, 19, 15, 10, 6.5, -4)
    assert {1, 2, 3, 12} <= set(cold.months)
    assert not {5, 6, 7, 8, 9} & (set(cold.months) | set(cold.single_nights))
    assert cold.advice[0].startswith("Before November, switch the pump off, take it out")
    assert any("protects neither pump nor pipe" in text for text in cold.advice)
    mild = with_air(*[24.0] * 12)
    assert (mild.months, mild.single_nights, mild.advice) == ((), (), ())
    assert "a single cold night still can be" in mild.sentence
    ice = with_air(*[-17.0] * 12)
    assert ice.months == tuple(range(1, 13))
    assert ice.sentence.startswith("Water may freeze in every month")
    assert ice.advice[0].startswith("Before the first frost")
    nights = with_air(6, 9, *[14.0] * 10)
    assert nights.months == ()
    assert nights.single_nights
    assert "No month freezes by this sky, but single nights may" in nights.sentence
    assert len(nights.advice) == 1


def test_words() -> None:
    coldest = [-4.3, -1.0, *[3.0] * 10]
    said = plain(frost_sentence((1, 2), (3, 12), coldest))
    assert said == (
        "Water freezes in basin and pipe in January and February: the coldest hour of this year of sky has −4 °C, in January. "
        "Single nights may freeze in March, December too."
    )
    assert first_of((1, 2, 12)) == "December"
    assert first_of((5, 6, 7, 8)) == "May"
