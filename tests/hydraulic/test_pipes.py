"""Pipes: the friction law against other solutions of it, its smoothness, scaling, limits and refusals.

Published values stand in published/pipe_friction.toml and published/fittings.toml.
"""

from dataclasses import replace

import numpy as np
import pytest
from fluids.friction import Colebrook

from sizing.foundation import tables
from sizing.foundation.errors import InputError
from sizing.hydraulic.friction import colebrook_factor, friction_factor
from sizing.hydraulic.pipes import Pipe, fitting_k, fitting_loss, friction_loss, pipe_loss, reynolds_number, velocity

GARDEN = Pipe(length=7.3, diameter=0.0127, roughness=1.5e-6, fitting_k=3.7, kinematic_viscosity=1.0034e-6)
LITRE_PER_MINUTE = 1e-3 / 60
FLOW = np.linspace(0.0, 31.0, 400) * LITRE_PER_MINUTE


def test_velocity_by_hand() -> None:
    # 8.3 L/min = 1.38333e-4 m3/s through pi/4 x 0.0127² = 1.26677e-4 m2: 1.09202 m/s.
    assert velocity(8.3e-3 / 60, 0.0127) == pytest.approx(1.09202, rel=1e-5)
    # 1.09202 x 0.0127 / 1.0034e-6 = 13 821.6
    assert reynolds_number(1.09202, 0.0127, 1.0034e-6) == pytest.approx(13821.6, rel=1e-5)


def test_whole_pipe_by_hand() -> None:
    # Laminar, 0.9 L/min in 12.7 mm: V = 0.118412, Re = 1498.7, f = 0.042703.
    # Friction 0.042703 x 7.3 / 0.0127 x 0.118412² / 19.6133 = 0.017548; fittings 3.7 x 7.1490e-4 = 0.002645.
    assert pipe_loss(GARDEN, 0.9e-3 / 60) == pytest.approx(0.020193, rel=2e-4)


def test_factor_solves_the_colebrook_equation() -> None:
    reynolds, roughness = np.meshgrid(np.geomspace(4000, 1e8, 60), [0.0, 1e-6, 1.9e-4, 0.0031, 0.017, 0.05])
    factor = friction_factor(reynolds, roughness)
    assert colebrook_factor(reynolds, roughness, factor) == pytest.approx(factor, rel=1e-9)


@pytest.mark.parametrize("reynolds", [4000.0, 7300.0, 61_000.0, 2.9e6])
@pytest.mark.parametrize("roughness", [0.0, 0.00073, 0.0191, 0.05])
def test_factor_against_the_exact_solution_by_lambert(reynolds: float, roughness: float) -> None:
    assert friction_factor(reynolds, roughness) == pytest.approx(Colebrook(reynolds, roughness), rel=1e-8)


def test_fully_rough_limit() -> None:
    # Without viscosity the Colebrook equation leaves 1/sqrt(f) = -2 log10(e / 3.7 D).
    for roughness in (0.0031, 0.0191, 0.05):
        assert friction_factor(1e12, roughness) == pytest.approx((2 * np.log10(roughness / 3.7)) ** -2, rel=1e-6)


def test_rough_wall_readings_of_a_laboratory() -> None:
    # Maurer, section 3: 25 mm pipe, 3 m, 1.023e-6 m2/s; the roughness found from three readings of the head.
    # The readings give 0.473, 0.433 and 0.397 mm for one wall; 5 % in roughness is 1.6 % in head.
    for flow, roughness, head in ((0.20e-3, 0.473e-3, 0.052), (0.24e-3, 0.433e-3, 0.073), (0.30e-3, 0.397e-3, 0.110)):
        found = pipe_loss(Pipe(3.0, 0.025, roughness, 0.0, 1.023e-6), flow)
        assert found == pytest.approx(head, rel=0.016)


def hazen_williams(flow: float, diameter: float, c: float) -> float:
    """Head per length, SI form of the waterworks formula: an independent, coarser judge."""
    return 10.67 * (flow / c) ** 1.852 / diameter**4.8704


@pytest.mark.parametrize(("bore", "gallons"), [(0.622, 5), (0.622, 10), (0.824, 5), (0.824, 10), (1.049, 10)])
def test_plastic_pipe_against_the_waterworks_formula(bore: float, gallons: float) -> None:
    # EPANET 2.2 User Manual, ch. 3: new plastic pipe has C 140 to 150, or a roughness of 0.0015 mm. The two agree
    # near the speed the formula was made for, here 0.9 to 3.2 m/s.
    flow = gallons * 231 * 0.0254**3 / 60
    found = pipe_loss(Pipe(1.0, bore * 0.0254, 1.5e-6, 0.0, 1.0034e-6), flow)
    assert hazen_williams(flow, bore * 0.0254, 150) < found < hazen_williams(flow, bore * 0.0254, 140)


def test_smooth_pipe_loses_somewhat_more_than_a_state_table_of_c_150() -> None:
    # Illinois Administrative Code title 77 part 906 appendix A exhibit I, 1 in schedule 40, C 150, ft per 100 ft:
    # 0.28, 1.52, 5.50 at 2, 5, 10 gal/min. C 150 is meant for fast water; a smooth pipe at garden speeds loses
    # 20..27 %, 10..15 % and 3..7 % more.
    for gallons, printed, low, high in ((2, 0.28, 1.20, 1.27), (5, 1.52, 1.10, 1.15), (10, 5.50, 1.03, 1.07)):
        flow = gallons * 231 * 0.0254**3 / 60
        found = 100 * pipe_loss(Pipe(1.0, 1.049 * 0.0254, 1.5e-6, 0.0, 1.022e-6), flow)
        assert low < found / printed < high


def test_head_rises_with_flow_for_every_roughness() -> None:
    # f Re² is the head up to a constant of the pipe. Its steepness between 2000 and 4000 never falls
    # below that of laminar flow, 64.
    reynolds = np.unique(np.concatenate([np.linspace(1900.0, 4100.0, 441), np.geomspace(1.0, 1e7, 160)]))
    roughness = np.linspace(0.0, 0.05, 501)[:, None]
    head = friction_factor(reynolds, roughness) * reynolds**2
    assert head.shape == (501, reynolds.size)
    assert (np.diff(head) / np.diff(reynolds)).min() > 63.999


@pytest.mark.parametrize("roughness", [0.0, 1.2e-4, 0.0073, 0.05])
def test_bridge_meets_both_laws_in_value_and_slope(roughness: float) -> None:
    for joint in (2000.0, 4000.0):
        step = 0.01
        values = friction_factor(joint + step * np.array([-2, -1, 0, 1, 2]), roughness)
        assert values[4] == pytest.approx(values[0], rel=1e-4)
        below, above = (values[1] - values[0]) / step, (values[4] - values[3]) / step
        assert above == pytest.approx(below, rel=1e-3)
    # 64/2000 and its slope -64/2000² by hand.
    assert friction_factor(2000.0, roughness) == 0.032
    assert (friction_factor(2000.01, roughness) - 0.032) / 0.01 == pytest.approx(-1.6e-5, rel=1e-3)


def test_no_flow_no_loss() -> None:
    assert pipe_loss(GARDEN, 0.0) == 0.0
    assert pipe_loss(GARDEN, np.zeros(3)).tolist() == [0.0, 0.0, 0.0]
    assert friction_factor(0.0, 0.001) == 0.0


def test_nearly_no_flow_nearly_no_loss() -> None:
    # Laminar to the last: 32 nu L V / (g D²) with V = 1e-9 m3/s / 1.26677e-4 m2 = 7.8941e-6 m/s:
    # 32 x 1.0034e-6 x 7.3 x 7.8941e-6 / (9.80665 x 1.6129e-4) = 1.16983e-6 m.
    assert pipe_loss(replace(GARDEN, fitting_k=0.0), 1e-9) == pytest.approx(1.16983e-6, rel=1e-4)


def test_scaling() -> None:
    bare = replace(GARDEN, fitting_k=0.0)
    assert pipe_loss(replace(bare, length=14.6), FLOW) == pytest.approx(2 * pipe_loss(bare, FLOW), rel=1e-12)
    # Laminar: proportional to the flow. Fully rough: to its square. Fittings: to its square.
    assert pipe_loss(bare, 0.6 * LITRE_PER_MINUTE) == pytest.approx(2 * pipe_loss(bare, 0.3 * LITRE_PER_MINUTE), rel=1e-12)
    rough = replace(bare, roughness=0.05 * bare.diameter)
    assert pipe_loss(rough, 2.0) == pytest.approx(4 * pipe_loss(rough, 1.0), rel=1e-5)
    assert fitting_loss(3.7, 2 * 0.73) == pytest.approx(4 * fitting_loss(3.7, 0.73), rel=1e-14)
    # Laminar loss at one flow falls with the fourth power of the bore.
    wide = replace(bare, diameter=2 * bare.diameter)
    assert pipe_loss(wide, 0.3 * LITRE_PER_MINUTE) == pytest.approx(pipe_loss(bare, 0.3 * LITRE_PER_MINUTE) / 16, rel=1e-12)


def test_trends() -> None:
    flow = FLOW[1:]
    loss = pipe_loss(GARDEN, flow)
    assert np.all(np.diff(loss) > 0)
    assert np.all(pipe_loss(replace(GARDEN, length=7.4), flow) > loss)
    assert np.all(pipe_loss(replace(GARDEN, diameter=0.0129), flow) < loss)
    assert np.all(pipe_loss(replace(GARDEN, fitting_k=3.8), flow) > loss)
    # Thicker water: more loss in laminar and in turbulent flow; between, it calms the flow and may lose less.
    reynolds = reynolds_number(velocity(flow, 0.0127), 0.0127, 1.0034e-6)
    settled = (reynolds < 2000) | (reynolds > 4000 * 1.31 / 1.0034)
    assert np.all((pipe_loss(replace(GARDEN, kinematic_viscosity=1.31e-6), flow) > loss)[settled])
    turbulent = flow[reynolds > 4000]
    assert np.all(pipe_loss(replace(GARDEN, roughness=1.5e-4), turbulent) > pipe_loss(GARDEN, turbulent))


def test_parts_add_up() -> None:
    flow = 8.3 * LITRE_PER_MINUTE
    speed = velocity(flow, GARDEN.diameter)
    factor = friction_factor(reynolds_number(speed, GARDEN.diameter, GARDEN.kinematic_viscosity), 1.5e-6 / 0.0127)
    parts = friction_loss(factor, 7.3, 0.0127, speed) + fitting_loss(3.7, speed)
    assert pipe_loss(GARDEN, flow) == pytest.approx(parts, rel=1e-14)


def test_scalar_is_the_array_element() -> None:
    together = pipe_loss(GARDEN, FLOW)
    assert together.shape == FLOW.shape
    for place in range(0, 400, 37):
        assert pipe_loss(GARDEN, float(FLOW[place])) == pytest.approx(together[place], rel=1e-14)
    reynolds, roughness = np.array([[900.0], [3100.0], [73_000.0]]), np.array([0.0, 0.0191])
    both = friction_factor(reynolds, roughness)
    assert both.shape == (3, 2)
    for i, j in np.ndindex(3, 2):
        assert friction_factor(float(reynolds[i, 0]), float(roughness[j])) == pytest.approx(both[i, j], rel=1e-14)


@pytest.mark.parametrize("roughness", [0.0501, -1e-6, float("nan")])
def test_rougher_than_any_pipe_is_refused(roughness: float) -> None:
    with pytest.raises(InputError) as caught:
        friction_factor(np.array([900.0, 9000.0]), roughness)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code, problem.minimum, problem.maximum) == ("#/pipe/roughness_mm", "out_of_range", 0.0, 0.05)
    assert problem.detail == (
        f"roughness is {roughness:.3g} of the inside diameter; the friction table runs from 0 to 0.05; "
        "choose a smoother or a wider pipe."
    )
    with pytest.raises(InputError, match="choose a smoother or a wider pipe"):
        pipe_loss(replace(GARDEN, roughness=roughness * GARDEN.diameter), FLOW)


def test_fittings_are_ordered_and_positive() -> None:
    for kind, loss in tables.FITTING_LOSS.items():
        assert 0 < loss.low <= loss.typical <= loss.high, kind
        assert fitting_k(kind) is loss


def test_hose_barb_and_small_valve_from_the_contraction_formula() -> None:
    # Unwin: (1/0.64 - 1)² where the stream narrows at a sharp edge (0.316, printed), (1 - a)² where it widens,
    # both in velocity heads of the narrow part; over a² for those of the hose.
    def narrowing(bore_ratio: float) -> float:
        area = bore_ratio**2
        return ((1 / 0.64 - 1) ** 2 + (1 - area) ** 2) / area**2

    barb = tables.FITTING_LOSS["hose_barb"]
    assert barb[:3] == pytest.approx((narrowing(0.85), narrowing(0.75), narrowing(0.65)), abs=0.005)
    assert tables.FITTING_LOSS["ball_valve"].high == pytest.approx(narrowing(0.8), abs=0.005)
    # A hose end hanging free contracts to one half (Borda).
    assert tables.FITTING_LOSS["entrance"].high == (1 / 0.5 - 1) ** 2


def test_unknown_fitting_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        fitting_k("trumpet")
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/pipe/fittings", "unknown")
    assert problem.detail == (
        "fitting is 'trumpet'; the table has entrance, elbow_90, elbow_45, tee_run, tee_branch, check_valve, ball_valve, "
        "gate_valve, hose_barb; choose one of these or the nearest."
    )
