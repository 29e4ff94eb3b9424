"""The basin's water through the year: in equals out, hand sums, dry spells, and skies at the edges of the world."""

import json
import math
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from sizing.answers.shared import working_of
from sizing.basin.answer import WaterBalanceAnswer
from sizing.basin.basin import basin_of
from sizing.basin.evaporation import air_over_water, evaporation_worked
from sizing.basin.sentences import dry_spell_sentence, volume, year_sentence
from sizing.basin.water_balance import WaterBalance, evaporated_water, topped_up, water_balance_of
from sizing.design.reading import read_design
from sizing.foundation.formats import NARROW_SPACE, SPACE
from sizing.foundation.sources import SOURCES
from sizing.report.report import Report, size
from sizing.sky.climate import built_in_rain

FOLDER = Path(__file__).resolve().parents[2] / "examples"
STEMS = sorted(path.stem for path in FOLDER.glob("*.json"))
BASIN = {"length_m": 1.9, "width_m": 1.3, "depth_m": 0.37, "dry_spell_days": 23}
DARK = [0, 0.2, 1.4, 3.2, 4.4, 4.6, 4.5, 3.2, 1.7, 0.5, 0, 0]
COLD = [-8, -8, -6, -2, 2, 7, 11, 10, 6, 1, -4, -7]


def plain(text: str) -> str:
    return text.replace(SPACE, " ").replace(NARROW_SPACE, " ")


@lru_cache
def sized(stem: str, changes: str = "{}") -> Report:
    document = json.loads((FOLDER / f"{stem}.json").read_text(encoding="utf-8"))
    return size(read_design(document | json.loads(changes)), FOLDER)


def with_parts(stem: str = "quince_court_jet", **changes: object) -> Report:
    """An example with whole parts of the design in place of its own."""
    return sized(stem, json.dumps(changes, sort_keys=True))


def balance_of(report: Report) -> WaterBalance:
    return water_balance_of(report, basin_of(report))


def at(latitude: float, longitude: float, sun: list[float], air: list[float] | None = None) -> Report:
    sky: dict[str, object] = {"kind": "monthly", "ghi_kwh_per_m2_day": sun}
    if air is not None:
        sky["air_temperature_c"] = air
    place = {"latitude_deg": latitude, "longitude_deg": longitude, "elevation_m": 3}
    return with_parts(place=place, sky=sky, basin=BASIN)


CASES = {stem: (lambda stem=stem: sized(stem)) for stem in STEMS} | {
    "polar night": lambda: at(71.0, 25.8, DARK, COLD),
    "open sea": lambda: at(-3.1, -150.3, [5.7] * 12),
    "never plays": lambda: with_parts(outlet={"kind": "nozzle", "bore_mm": 6, "height_above_water_m": 9}, basin=BASIN),
    "too small": lambda: with_parts(basin={"diameter_m": 0.2, "depth_m": 0.05, "wind": "exposed", "dry_spell_days": 200}),
}


@pytest.mark.some(3)
@pytest.mark.parametrize("name", CASES)
def test_what_comes_in_goes_out(name: str) -> None:
    report = CASES[name]()
    found = balance_of(report)
    assert [month.month for month in found.months] == list(range(1, 13))
    for month in found.months:
        comes_in = month.rain_l_per_day + month.top_up_l_per_day
        goes_out = month.evaporated_l_per_day + month.splashed_l_per_day + month.overflow_l_per_day
        assert comes_in == pytest.approx(goes_out, rel=1e-12, abs=1e-12)
        assert month.rain_kept_l_per_day + month.overflow_l_per_day == pytest.approx(month.rain_l_per_day, rel=1e-12, abs=1e-12)
        assert month.top_up_l_per_day == 0 or month.overflow_l_per_day == 0
        assert min(month.evaporated_l_per_day, month.splashed_l_per_day, month.top_up_l_per_day, month.overflow_l_per_day) >= 0
    year_in, year_out = found.year_rain + found.year_top_up, found.year_evaporated + found.year_splashed + found.year_overflow
    assert year_in == pytest.approx(year_out, rel=1e-12)
    assert found.working[0].value == pytest.approx(1000 * found.year_top_up, rel=1e-12)


@pytest.mark.some(3)
@pytest.mark.parametrize("name", CASES)
def test_whole_finite_and_unfolding(name: str) -> None:
    report = CASES[name]()
    found = balance_of(report)
    assert WaterBalanceAnswer.of(found).level_fall_m == found.level_fall
    for text in (found.sentence, found.dry_spell_sentence, *found.assumptions):
        assert text[0].isupper() or text[0].isdigit()
        assert text.endswith(".")
        assert "nan" not in text
    values: dict[str, float] = {}
    words = {"exp": np.exp, "sqrt": np.sqrt, "maximum": np.maximum, "minimum": np.minimum, "pi": math.pi}
    for step in working_of((*basin_of(report).working, *found.working)):
        values[step.id] = step.value
        if step.formula:
            shown = eval(step.formula, words | {part.name: values[part.id] for part in step.inputs})
            assert step.value == pytest.approx(shown, rel=1e-9, abs=1e-300), step.id
        assert math.isfinite(step.value)
        assert step.basis == "given" or step.source in SOURCES, step.id
        assert step.basis != "computed" or step.formula or step.method, step.id


def test_a_year_by_hand() -> None:
    report = with_parts(basin=BASIN)
    found, basin = balance_of(report), basin_of(report)
    depth = evaporation_worked(air_over_water(report.sky, report.place, "open"), 7).value
    rain = built_in_rain(report.place.latitude, report.place.longitude)
    july = found.months[6]
    # 1.9 x 1.3 = 2.47 m2; 0.5 % of a jet's water in open wind; rain of 31 days.
    assert july.evaporated_l_per_day == pytest.approx(2.47 * depth, rel=1e-12)
    assert july.splashed_l_per_day == pytest.approx(0.005 * 1000 * report.year.months[6].water, rel=1e-12)
    assert july.rain_l_per_day == pytest.approx(rain[6] * 2.47 / 31, rel=1e-12)
    losses = [month.evaporated_l_per_day + month.splashed_l_per_day for month in found.months]
    assert found.thirstiest == int(np.argmax(losses)) + 1
    assert found.loss_per_day == pytest.approx(max(losses) / 1000, rel=1e-12)
    assert found.dry_spell_loss == pytest.approx(23 * max(losses) / 1000, rel=1e-12)
    assert found.level_fall == pytest.approx(23 * max(losses) / 1000 / 2.47, rel=1e-12)
    assert found.days_lasting == pytest.approx(1000 * basin.usable_volume / max(losses), rel=1e-12)
    assert found.lasts == (found.level_fall <= basin.usable_depth)
    assert july.top_up_l_per_week == 7 * july.top_up_l_per_day


def test_wind_and_outlet_and_playing_decide_the_splash() -> None:
    def splashed(**changes: object) -> float:
        return balance_of(with_parts(**changes)).year_splashed

    open_basin = splashed(basin=BASIN)
    assert splashed(basin=BASIN | {"wind": "sheltered"}) == pytest.approx(open_basin / 5, rel=1e-12)
    assert splashed(basin=BASIN | {"wind": "exposed"}) == pytest.approx(open_basin * 3, rel=1e-12)
    assert balance_of(CASES["never plays"]()).year_splashed == 0.0
    assert balance_of(CASES["never plays"]()).year_evaporated == pytest.approx(
        balance_of(with_parts(basin=BASIN)).year_evaporated
    )
    bubbler = sized("fern_bubbler")
    # Sheltered 0.1 %, a bubbling pipe a tenth of that.
    assert balance_of(bubbler).year_splashed == pytest.approx(1e-4 * bubbler.year.water, rel=1e-12)


def test_evaporation_scales_with_the_surface_and_ends_at_none() -> None:
    wide = balance_of(with_parts(basin=BASIN | {"width_m": 2.6}))
    assert wide.year_evaporated == pytest.approx(2 * balance_of(with_parts(basin=BASIN)).year_evaporated, rel=1e-12)
    assert evaporated_water(5.3, 0.0) == 0.0
    assert topped_up(0.0, 0.0, 0.0) == 0.0


def test_a_longer_dry_spell_takes_more_until_it_does_not_last() -> None:
    short, long = (balance_of(with_parts(basin=BASIN | {"dry_spell_days": days})) for days in (3, 60))
    assert long.level_fall == pytest.approx(20 * short.level_fall, rel=1e-12)
    assert short.lasts
    assert short.dry_spell_sentence.endswith("so it lasts.")
    assert not long.lasts
    assert "which is more than it holds" in long.dry_spell_sentence
    assert "top it up before, or switch the pump off" in long.dry_spell_sentence
    assert "does not last a day" in balance_of(CASES["too small"]()).dry_spell_sentence


def test_sentences_of_the_ends() -> None:
    assert dry_spell_sentence(21, 7, 0.0, 0.0, 0.2, 0.3, None).endswith("the basin lasts any dry spell.")
    assert "in 1 day 40 L" in plain(dry_spell_sentence(1, 7, 0.04, 0.02, 0.2, 0.3, 10.0))
    dry = plain(year_sentence(3.1, 0.0, 0.0, 0.0, 3.1, [0.0] * 6 + [93.0] + [0.0] * 5))
    assert dry == (
        "Over a year 3.1 m³ evaporate, and nothing splashes away; no rain falls by the built-in table. "
        "3.1 m³ are topped up, most in July: 93 L a week."
    )
    wet = plain(year_sentence(0.31, 0.07, 2.2, 0.38, 0.0, [0.0] * 12))
    assert wet.endswith(
        "of the 2.2 m³ of rain that fall into the basin, 380 L make up for that, so that in no month the basin "
        "needs more, dry spells apart."
    )
    assert plain(volume(0.9)) == "900 L"


def test_where_the_numbers_come_from_is_told() -> None:
    typed = balance_of(CASES["open sea"]()).assumptions
    assert any("rain is that of the built-in table" in text for text in typed)
    assert any("10 m above open ground" in text for text in balance_of(sized("weather_file_jet")).assumptions)
    assert not any("built-in table" in text for text in balance_of(sized("quince_court_jet")).assumptions)
    night = balance_of(CASES["polar night"]())
    assert night.months[0].splashed_l_per_day == 0.0
    assert night.thirstiest in (5, 6, 7, 8)
