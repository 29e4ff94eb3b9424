"""A sizing with a pump known by its power, or that holds its speed: shape, working, causes, questions, cautions."""

import numpy as np
import pytest
from scipy.optimize import brentq

from sizing.design.reading import read_design
from sizing.electric.motor import MotorLabel
from sizing.foundation.working import Worked
from sizing.hydraulic.pump import Pump
from sizing.hydraulic.pump_curve import pump_from_points
from sizing.operation.operating_point import State
from sizing.report.answer import sizing_answer
from sizing.report.report import Report, size
from sizing.report.what_if import what_ifs
from tests.power_pumps import PUMPS, with_pump

every_shape = pytest.mark.parametrize("shape", PUMPS)


def report_of(shape: str, **changes: object) -> Report:
    return size(read_design(with_pump(shape) | changes))


def every_number(root: Worked) -> list[Worked]:
    return [root, *(part for _, inner in root.inputs for part in every_number(inner))]


@every_shape
def test_the_shape_is_told_once(shape: str) -> None:
    report = report_of(shape)
    assert report.year.water > 0
    told = [note for note in report.assumptions if note.code in ("pump_shape", "pump_shape_assumed")]
    assert [note.code for note in told] == ["pump_shape"]
    assert not {"winding_assumed", "no_load_assumed"} & {note.code for note in report.assumptions}


@every_shape
def test_causes_that_are_not_computed_do_not_act(shape: str) -> None:
    causes = {cause.key: cause for cause in report_of(shape).how_sure.causes}
    for key in ("winding", "no_load", "starting"):
        assert (causes[key].below, causes[key].above) == (0, 0)
    assert (causes["drive"].below > 0) == (shape == "power_points")
    assert causes["drive"].above == 0


def test_electronics_that_are_only_taken_to_track_are_less_sure_and_asked_about() -> None:
    silent = with_pump("power_points")
    silent["pumps"][0].pop("drive")
    unsure, sure = size(read_design(silent)), report_of("power_points")
    taken, told = ({cause.key: cause for cause in report.how_sure.causes}["drive"] for report in (unsure, sure))
    assert taken.below > 2 * told.below
    assert "drive" in {each.code for each in unsure.questions}
    assert "drive" not in {each.code for each in sure.questions}
    assert "starting_current" not in {each.code for each in unsure.questions}


def turning(pump: Pump, volts: float) -> float:
    """Speed ratio at shut-off on a battery, from Coulomb and viscous friction by search (Hughes & Drury, from memory)."""
    motor, load = pump.motor, float(pump.load_current[0])

    def spare(speed: float) -> float:
        friction = motor.no_load_current * (1 - motor.viscous_share) + motor.no_load_current * motor.viscous_share * speed
        return volts - speed * motor.back_emf - (friction + speed**2 * load) * motor.winding_resistance

    return float(brentq(spare, 0.0, 3.0))


def test_losses_that_grow_with_speed_leave_rated_voltage_alone_and_help_below_it() -> None:
    """All friction viscous in place of Coulomb: the same speed at 12 V, faster at 6 V, slower at 18 V."""
    flow, head, current = np.array([(0, 2.0, 0.5), (5, 1.0, 0.6), (10, 0, 0.7)]).T
    dry, oily = (
        pump_from_points("p", MotorLabel(12.0, 0.0, viscous_share=share), flow / 6e4, head, current, 999.1)
        for share in (0.0, 1.0)
    )
    assert turning(oily, 12.0) == pytest.approx(turning(dry, 12.0), rel=1e-9)
    assert turning(oily, 6.0) > 1.005 * turning(dry, 6.0)
    assert turning(oily, 18.0) < 0.999 * turning(dry, 18.0)


@every_shape
def test_a_moment_unfolds_and_its_numbers_agree(shape: str) -> None:
    report = report_of(shape)
    answer = sizing_answer(report)
    assert all((point.speed_ratio is None) == shape.startswith("power") for point in answer.operating_points)
    stations = {station.name: station.roots for station in report.moment.stations}
    found = report.moment.operation
    assert report.moment.state >= State.PLAYS
    power = stations["panel"][0]
    watts = float(found.voltage[0] * found.current[0])
    drop = float(found.current[0]) ** 2 * report.fountain.supply.cable_resistance
    assert power.value == pytest.approx(watts + drop, rel=1e-9)
    for roots in stations.values():
        for root in roots:
            for part in every_number(root):
                assert part.value == part.value


def test_play_beside_the_power_points_is_told() -> None:
    """The example lifts 0.15 m; the lowest head published is 0.3 m."""
    codes = {note.code for note in report_of("power_points").warnings}
    assert "beside_power_points" in codes


@every_shape
def test_a_controller_is_not_offered_to_electronics(shape: str) -> None:
    keys = {each.change.key for each in what_ifs(report_of(shape))}
    assert ("controller" in keys) == (shape == "power_points_volts")
