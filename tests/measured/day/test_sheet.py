"""A predicted day, the sheet that was filled in, and the looks at a finished fountain."""

import datetime
import json

import numpy as np
import pytest

from sizing.answers.kit import plain
from sizing.foundation.errors import InputError
from sizing.measured.day.answer import compared_answer, first_day_answer, sheet_answer
from sizing.measured.day.clear_day import expected
from sizing.measured.day.commissioning import kept_looks, trend_of, wanted_on
from sizing.measured.day.filled_sheet import compared
from sizing.measured.day.sentences import verdict_sentence
from sizing.measured.day.sheet import sheet_of
from sizing.measured.logs.logs import SheetLog, read_sheet
from tests.looks import EXAMPLE, HOURS, MAY, changed, clear_day, filled, sheet


def test_with_nothing_wrong_every_stage_agrees_and_says_what_was_not_read() -> None:
    log = filled(clear_day())
    quiet = SheetLog(**{**log.__dict__, "sun_height": np.full(len(HOURS), np.nan)})
    found = compared(clear_day(), quiet)
    told = verdict_sentence(found.stages, found.wholes)
    assert told.startswith("Every stage that was read does what was computed")
    assert "height of the sun" in told


def test_ranges_grow_with_what_is_not_known() -> None:
    """A panel of 5 % more current over the root of three, sized anew, moves each line as the budget says."""
    found, at = sheet(), 8
    keys = [cause.key for cause in found.sure.causes]
    more = 1 + 0.05 / np.sqrt(3)
    panel = EXAMPLE["panels"][0]
    stronger = changed(EXAMPLE, panels__0__imp_a=more * panel["imp_a"], panels__0__isc_a=more * panel["isc_a"])
    judge = expected(clear_day(json.dumps(stronger)), [MAY], found.hour[[at]])
    for name in ("voltage", "current", "flow", "jet"):
        moved = float(getattr(judge, name)[0] - getattr(found.found, name)[at])
        assert float(found.sure.effects[name].above[keys.index("panel"), at]) == pytest.approx(moved, rel=0.03), name
        assert found.low[name][at] < getattr(found.found, name)[at] < found.high[name][at]


def test_the_worked_moment_is_the_line_of_the_sheet() -> None:
    found = sheet()
    best = int(np.argmax(found.found.effective))
    assert found.moment.time == found.hour[best]
    assert float(found.moment.operation.flow[0]) == pytest.approx(float(found.found.flow[best]), rel=0.003)
    answer = sheet_answer(found)
    by_id = {step.id: step for step in answer.working}
    assert by_id["effective_irradiance"].value == pytest.approx(float(found.found.effective[best]))
    assert by_id["dni"].source == "ineichen_perez_2002"
    assert json.loads(json.dumps(plain(answer), allow_nan=False)) == plain(answer)


@pytest.mark.parametrize(
    ("day", "hours", "said"),
    [
        (MAY, (12.0, 11.0), "runs from 12 to 11"),
        (MAY, (0.0, 3.0), "the sun is down from 0:00 to 3:00"),
        (datetime.date(1926, 5, 12), (9.0, 12.0), "days from 2000 to 2100"),
    ],
)
def test_days_and_hours_that_cannot_be(day: datetime.date, hours: tuple[float, float], said: str) -> None:
    with pytest.raises(InputError, match=said):
        sheet_of(clear_day(), day, *hours)


def test_polar_night_and_midnight_sun() -> None:
    place = {"latitude_deg": 69.65, "longitude_deg": 18.96, "time_zone": "Europe/Oslo"}
    north = clear_day(json.dumps(changed(EXAMPLE, place=place)))
    with pytest.raises(InputError, match="the sun is down"):
        sheet_of(north, datetime.date(2026, 12, 15), 0.0, 24.0)
    found = sheet_of(north, datetime.date(2026, 6, 21), 0.0, 24.0)
    assert len(found.hour) == 49
    assert np.all(np.isfinite([found.high[name] for name in found.high]))


def test_a_sheet_is_printed_filled_in_and_read_again() -> None:
    head = "day,time,predicted_flow_l_per_min,measured_panel_voltage_v,measured_panel_current_a,measured_jet_height_cm,sky"
    raw = (
        f"{head}\n2026-05-12,9:30,5.8,11.2,0.49,58,clear\n2026-05-12,10:00,6.4,,,,\n2026-05-12,10:30,6.8,13.4,640 mA,,thin haze\n"
    )
    log = read_sheet(raw.encode())
    assert log.row.tolist() == [2, 4]  # the line without any reading is passed over
    assert log.current.tolist() == [0.49, 0.64]
    assert float(log.jet[0]) == pytest.approx(0.58)
    found = compared_answer(compared(clear_day(), log))
    assert found.rows[0].panel_voltage_v.measured == 11.2
    assert found.rows[1].jet_height_m.measured is None


def test_what_is_accepted_on_the_first_day_and_what_is_not() -> None:
    noon = expected(clear_day(), [MAY], np.array([13.0]))
    volts, amperes, flow = float(noon.voltage[0]), float(noon.current[0]), 6e4 * float(noon.flow[0])
    look = {"day": MAY.isoformat(), "clock_hour": 13.0, "panel_voltage_v": volts, "panel_current_a": amperes}
    looks = [{**look, "flow_l_per_min": flow}, {**look, "flow_l_per_min": 0.7 * flow}, {**look, "sky": "clouds"}]
    kept = kept_looks(clear_day(json.dumps(EXAMPLE | {"measurements": looks})))
    assert kept is not None
    accepted = [[each.accepted for each in look] for look in kept.looks]
    assert accepted == [[True, True, True], [True, True, False], [None, None]]
    wanted = wanted_on(clear_day(), MAY)
    assert wanted.sheet.hour.tolist() == [11.0, 13.0, 15.0]  # the sun is highest at 12:58
    answer = first_day_answer(wanted, kept)
    limits = answer.lines[1].flow_l_per_min
    assert limits.least < flow < limits.most
    assert (limits.least, limits.most) == pytest.approx((6e4 * kept.looks[0][2].least, 6e4 * kept.looks[0][2].most))
    assert answer.kept is not None
    assert [[each.verdict for each in look.readings] for look in answer.kept.looks][1:] == [
        ["accept", "accept", "look at"],
        ["not judged", "not judged"],
    ]


def test_years_compare() -> None:
    """Three looks at different hours, each 6 % of the flow less than the year before: by hand a slope of -0.06."""
    looks = []
    for year, hour, share in ((2027, 12.5, 1.0), (2028, 13.5, 0.94), (2029, 11.5, 0.88)):
        at = expected(clear_day(), [datetime.date(year, 5, 12)], np.array([hour]))
        flow = 6e4 * share * float(at.flow[0])
        looks.append({"day": f"{year}-05-12", "clock_hour": hour, "flow_l_per_min": flow})
    kept = kept_looks(clear_day(json.dumps(EXAMPLE | {"measurements": looks})))
    assert kept is not None
    (trend,) = kept.trends
    assert trend.ratios == pytest.approx((1.0, 0.94, 0.88))
    assert trend.change == pytest.approx(-0.06, abs=0.0003)
    assert 0.01 < trend.uncertainty < 0.05
    assert trend_of(kept.whole, "jet") is None
    assert kept_looks(clear_day()) is None
