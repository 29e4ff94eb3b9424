"""The goal: made-up flows whose hours and days can be counted by hand, and jets put back into their own formula."""

import numpy as np
import pytest

from sizing.design.reading import read_design
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet, Spillway, jet_height
from sizing.hydraulic.pipes import Pipe
from sizing.operation.goal import FlowBand, Goal, flow_band, goal_found, in_window, needed_flow
from sizing.operation.load_line import PipeSystem
from sizing.report.report import size
from sizing.report.verdict import goal_sentence, goal_words
from sizing.uncertainty.chance import Chance
from tests.operation.test_year import FIRST_DAY, STEPS, block, sky_of
from tests.wrong import Build

PIPE = Pipe(2.5, 0.013, 1.5e-6, 2.0, 1.1e-6)
NOZZLE = Nozzle(0.0053, 2, 0.37, 0.946, 0.962)
FLOWS = FlowBand(1e-4)
every_step = pytest.mark.parametrize("per_day", STEPS)


def asked(months: tuple[int, ...] = (5, 6), share: float = 0.7, hours: tuple[float, float] = (10.0, 15.0)) -> Goal:
    return Goal(None, 1e-4, (hours,), months, share, 1.0)


@every_step
def test_hours_and_days_are_counted_by_hand(per_day: int) -> None:
    """Flow from 9 to 16 on the first 20 days of May and on all of June: 20/31 of May's days, 30/30 of June's."""
    flow = block(per_day, 9, 16, 1.2e-4, slice(FIRST_DAY[4], FIRST_DAY[4] + 20)) + block(
        per_day, 9, 16, 1.2e-4, slice(FIRST_DAY[5], FIRST_DAY[6])
    )
    found = goal_found(asked(), sky_of(per_day), flow.ravel(), FLOWS)
    assert found.day_share == {5: pytest.approx(20 / 31), 6: 1.0}
    assert (found.hours, found.window_hours) == (250.0, 305.0)  # 50 and 61 days of 5 hours
    assert found.poorest_month == 5
    assert not found.met
    assert goal_found(asked(share=0.6), sky_of(per_day), flow.ravel(), FLOWS).met


@every_step
def test_one_step_short_costs_the_day_but_not_its_other_hours(per_day: int) -> None:
    flow = block(per_day, 10, 15, 1e-4)
    flow[FIRST_DAY[5] + 3, 14 * per_day // 24] = 0.99e-4
    found = goal_found(asked(), sky_of(per_day), flow.ravel(), FLOWS)
    assert found.day_share == {5: 1.0, 6: pytest.approx(29 / 30)}
    assert found.hours == 305.0 - 24 / per_day


@every_step
def test_nine_tenths_of_the_steps_make_a_day_count(per_day: int) -> None:
    """Windows of 1 and 4 hours, 5 together: at 96 steps a day 2 of the 20 may fail, at 24 not one of the 5, at 48 one of 10."""
    spared = {24: 0, 48: 1, 96: 2}[per_day]
    goal = Goal(None, 1e-4, ((10.0, 11.0), (12.0, 16.0)), (6,), 0.7)
    for failing, counts in ((spared, True), (spared + 1, False)):
        flow = block(per_day, 10, 11, 1e-4) + block(per_day, 12, 16, 1e-4)
        for step in range(failing):  # from both windows, the first ones
            flow[FIRST_DAY[5] + 3, (10 if step % 2 else 12) * per_day // 24 + step] = 0
        share = goal_found(goal, sky_of(per_day), flow.ravel(), FLOWS).day_share[6]
        assert share == (1.0 if counts else pytest.approx(29 / 30))


@every_step
def test_between_two_windows_nothing_is_asked(per_day: int) -> None:
    flow = block(per_day, 10, 11, 1e-4) + block(per_day, 12, 14, 1e-4)
    found = goal_found(Goal(None, 1e-4, ((10.0, 11.0), (12.0, 14.0)), (5,), 1.0, 1.0), sky_of(per_day), flow.ravel(), FLOWS)
    assert (found.met, found.hours, found.window_hours) == (True, 93.0, 93.0)  # 31 days of 3 hours


@every_step
def test_too_much_is_no_better_than_too_little(per_day: int) -> None:
    """Above the band from 12 to 13 on ten days of June: 10 of 150 hours, and 20 of 30 days count."""
    flow = block(per_day, 9, 16, 1.5e-4) + block(per_day, 12, 13, 1e-4, slice(FIRST_DAY[5], FIRST_DAY[5] + 10))
    goal = asked((6,))
    found = goal_found(goal, sky_of(per_day), flow.ravel(), FlowBand(1e-4, 2e-4))
    assert (found.hours_above, found.hours, found.window_hours) == (10.0, 140.0, 150.0)
    assert found.day_share == {6: pytest.approx(20 / 30)}
    open_above = goal_found(goal, sky_of(per_day), flow.ravel(), FLOWS)
    assert (open_above.hours_above, open_above.day_share) == (0.0, {6: 1.0})


def test_a_flow_at_either_end_of_the_band_is_in_it() -> None:
    for flow, met in ((1e-4, True), (2e-4, True), (2.001e-4, False), (0.999e-4, False)):
        assert goal_found(asked(), sky_of(24), np.full(365 * 24, flow), FlowBand(1e-4, 2e-4)).met is met


@every_step
def test_nothing_outside_the_window_counts(per_day: int) -> None:
    flow = np.full((365, per_day), 5.0) - block(per_day, 10, 15, 5.0)
    found = goal_found(asked(), sky_of(per_day), flow.ravel(), FLOWS)
    assert (found.hours, found.met, set(found.day_share.values())) == (0.0, False, {0.0})


def test_seven_of_ten_is_met_by_exactly_seven_of_ten() -> None:
    flow = block(24, 10, 15, 1e-4, slice(FIRST_DAY[5], FIRST_DAY[5] + 21))  # 21 of June's 30 days
    assert goal_found(asked((6,)), sky_of(24), flow.ravel(), FLOWS).met


def test_a_flow_that_is_just_the_goal_reaches_it_and_no_flow_reaches_infinity() -> None:
    flow = np.full(365 * 24, 1e-4)
    assert goal_found(asked(), sky_of(24), flow, FLOWS).met
    assert goal_found(asked(), sky_of(24), flow, FlowBand(float("inf"))).hours == 0.0


def test_more_flow_never_reaches_less() -> None:
    rng = np.random.default_rng(7)
    flow = rng.uniform(0, 2e-4, 365 * 24)
    hours = [goal_found(asked(), sky_of(24), factor * flow, FLOWS).hours for factor in (0.3, 0.71, 1.0, 1.9, 40.0)]
    assert hours == sorted(hours)


@pytest.mark.parametrize(("hours", "steps"), [((10.0, 15.0), 5), ((10.5, 10.6), 1), ((9.99, 15.01), 7), ((0.0, 24.0), 24)])
def test_a_step_counts_where_the_window_touches_it(hours: tuple[float, float], steps: int) -> None:
    inside = in_window(asked((2,), hours=hours), sky_of(24))
    assert np.count_nonzero(inside) == 28 * steps


@pytest.mark.parametrize("outlet", [NOZZLE, Nozzle(0.012, 1, 0.0, 0.6, 0.97), OpenPipe(0.021, 0.2)])
@pytest.mark.parametrize("jet", [0.0191, 0.37, 2.3])
def test_the_needed_flow_throws_just_that_jet(outlet: Outlet, jet: float) -> None:
    flow = needed_flow(Goal(jet, None, ((9, 10),), (1,), 1.0), PipeSystem(PIPE, outlet))
    assert float(jet_height(outlet, flow)) == pytest.approx(jet, rel=1e-9)
    assert float(jet_height(outlet, 0.999 * flow)) < jet


def test_the_most_flow_throws_the_highest_jet_wanted() -> None:
    band = flow_band(Goal(0.5, None, ((9, 10),), (1,), 1.0, jet_to=0.8), PipeSystem(PIPE, NOZZLE))
    assert [float(jet_height(NOZZLE, flow)) for flow in band] == [pytest.approx(0.5, rel=1e-9), pytest.approx(0.8, rel=1e-9)]
    thin = PipeSystem(PIPE, Nozzle(0.001, 1, 0.0, 0.946, 0.962))  # its jets end at 4.004 m, see below
    assert flow_band(Goal(3.9, None, ((9, 10),), (1,), 1.0, jet_to=4.1), thin).most == float("inf")
    assert flow_band(Goal(None, 1e-4, ((9, 10),), (1,), 1.0, flow_to=2e-4), thin) == (1e-4, 2e-4)


def test_a_jet_out_of_reach_needs_no_finite_flow() -> None:
    """Luegers law has an end: h < 1/phi, with phi = 0.25/(d + (0.1 d)^3), d = 1 mm: 1.001/0.25 = 4.004 m."""
    thin = PipeSystem(PIPE, Nozzle(0.001, 1, 0.0, 0.946, 0.962))
    assert needed_flow(Goal(4.1, None, ((9, 10),), (1,), 1.0), thin) == float("inf")
    assert needed_flow(Goal(3.9, None, ((9, 10),), (1,), 1.0), thin) < 1.0
    assert needed_flow(Goal(0.1, None, ((9, 10),), (1,), 1.0), PipeSystem(PIPE, Spillway(0.3, 0.4, 0))) == float("inf")
    assert needed_flow(Goal(None, 7.3e-5, ((9, 10),), (1,), 1.0), thin) == 7.3e-5


def goal(**changes: object) -> dict[str, object]:
    return {"jet_height_m": 0.3, "from_hour": 10, "to_hour": 14, "months": [6, 7], "days_out_of_ten": 8} | changes


def test_a_report_says_whether_its_goal_is_met(example: Build) -> None:
    """A low jet at noon in summer is reached; one above the pump's shut-off head never is."""
    near = size(read_design(example({"/goal": goal(jet_height_m=0.02, from_hour=12, to_hour=12.5, days_out_of_ten=3)})))
    assert near.goal is not None
    assert near.goal.met
    assert near.chance is not None
    assert near.chance.outlook == "likely"
    assert near.verdict.goal.startswith("The goal is likely met (a jet of 2")
    far = size(read_design(example({"/goal": goal(jet_height_m=19)})))
    assert far.goal is not None
    assert (far.goal.met, far.goal.hours) == (False, 0.0)
    assert far.verdict.goal.endswith(": no hour of it is ever reached.")
    assert size(read_design(example({"/goal": None}))).verdict.goal == ""


def test_sentences_say_the_chance_and_name_the_poorest_month() -> None:
    flow = block(24, 9, 16, 1.2e-4, slice(FIRST_DAY[4], FIRST_DAY[6]))
    flow[FIRST_DAY[4] : FIRST_DAY[4] + 10] = 0
    some = goal_found(asked(), sky_of(24), flow.ravel(), FLOWS)
    words = "6 L/min all the time from 10:00 to 15:00, May and June, on 7 days out of 10"
    assert goal_words(asked()).replace("\N{NO-BREAK SPACE}", " ") == words
    for chance, begins in (
        (Chance(0.9, "likely", 1.3), f"The goal is likely met ({words}). The chance is 90 %."),
        (Chance(0.5, "even", 1.0), f"The goal may be met or missed ({words}). The chance is 50 %."),
        (Chance(0.1, "unlikely", 0.8), f"The goal is unlikely to be met ({words}). The chance is 10 %."),
    ):
        plain = goal_sentence(asked(), some, chance).replace("\N{NO-BREAK SPACE}", " ")
        assert plain == f"{begins} In May, the poorest of its months, we expect 6.8 of 10 days to reach it."
    alone = goal_sentence(asked((6,)), goal_found(asked((6,)), sky_of(24), flow.ravel(), FLOWS), Chance(1.0, "likely", 2.0))
    assert alone.endswith(" In June we expect 10 of 10 days to reach it.")
    never = goal_found(asked(), sky_of(24), 0 * flow.ravel(), FLOWS)
    assert goal_sentence(asked(), never, Chance(0.0, "unlikely", None)).endswith(": no hour of it is ever reached.")
