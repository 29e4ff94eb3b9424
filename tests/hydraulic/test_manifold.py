"""A ring or row that feeds jets: limits, symmetry, published factors and port laws, and a solver of its own."""

import fluids
import numpy as np
import pytest
from scipy.optimize import fsolve

from sizing.foundation.constants import STANDARD_GRAVITY as GRAVITY
from sizing.hydraulic.manifold import Manifold, ring, row, shared
from sizing.hydraulic.outlet import Nozzle, above_lowest, jet_height, jets, nozzle_head, outlet_head

NU = 1.1e-6
LITRE_PER_MINUTE = 1 / 60000
FLOW = np.array([0.7, 3.1, 7.3, 13.0]) * LITRE_PER_MINUTE


def area(bore: float) -> float:
    return float(np.pi / 4 * bore**2)


def crown(bore: float, count: int, manifold: Manifold | None) -> Nozzle:
    return Nozzle(bore, count, 0.2, 0.62, 0.97, manifold)


@pytest.mark.parametrize("build", [ring, row])
def test_a_very_wide_feed_is_no_feed(build: type) -> None:
    wide = crown(0.003, 12, build(0.6, 12, 0.5, 1.5e-6, NU))
    np.testing.assert_allclose(outlet_head(wide, FLOW), nozzle_head(FLOW, 0.003, 12, 0.62), rtol=1e-5)
    alike = jets(wide, FLOW)
    np.testing.assert_allclose(alike.lowest, alike.highest, rtol=1e-5)
    np.testing.assert_allclose(alike.mean, jets(crown(0.003, 12, None), FLOW).mean, rtol=1e-5)


def test_no_flow_needs_no_head_and_more_flow_needs_more() -> None:
    flow = np.linspace(0.0, 25.0, 400) * LITRE_PER_MINUTE
    for manifold in (ring(0.6, 11, 0.013, 1.5e-6, NU), row(1.5, 9, 0.013, 1.5e-6, NU)):
        nozzle = crown(0.003, 11, manifold)
        head = np.asarray(outlet_head(nozzle, flow))
        assert head[0] == 0
        assert np.all(np.diff(head) > 0)
        found = jets(nozzle, flow)
        assert float(np.asarray(found.lowest)[0]) == 0
        assert np.all(np.asarray(found.lowest) <= found.mean)
        assert np.all(np.asarray(found.mean) <= found.highest)


def test_one_number_is_found_as_in_an_array() -> None:
    nozzle = crown(0.003, 8, ring(0.5, 8, 0.016, 1.5e-6, NU))
    together = np.asarray(outlet_head(nozzle, FLOW))
    for index, flow in enumerate(FLOW):
        assert float(outlet_head(nozzle, float(flow))) == pytest.approx(together[index], rel=1e-12)
        assert float(jet_height(nozzle, float(flow))) == pytest.approx(float(jets(nozzle, FLOW).lowest[index]), rel=1e-12)
        spread = float(jets(nozzle, FLOW).highest[index]) - float(jets(nozzle, FLOW).lowest[index])
        assert float(above_lowest(nozzle, float(flow))) == pytest.approx(spread, rel=1e-9)


def test_a_ring_is_two_rows_back_to_back() -> None:
    """By symmetry the halves of a ring of twelve are rows of six, each with half of the flow."""
    whole, bore, width = ring(0.7, 12, 0.013, 1.5e-6, NU), 0.003, 0.013
    half = Manifold(1, 6.0, whole.first, whole.spacing, width, 1.5e-6, NU)
    found, one = shared(whole, area(bore), 0.62, FLOW), shared(half, area(bore), 0.62, FLOW / 2)
    np.testing.assert_allclose(found.feed, one.feed, rtol=1e-12)
    np.testing.assert_allclose(found.beside, one.beside, rtol=1e-12)


def test_holes_pass_all_of_the_water() -> None:
    for manifold in (ring(0.7, 11, 0.013, 1.5e-6, NU), ring(0.7, 12, 0.013, 1.5e-6, NU), row(2.1, 7, 0.013, 1.5e-6, NU)):
        found = shared(manifold, area(0.003), 0.62, FLOW)
        through = 0.62 * area(0.003) * np.sqrt(2 * GRAVITY * found.beside)
        total = manifold.branches * np.tensordot(found.holes, through, axes=1)
        np.testing.assert_allclose(total, FLOW, rtol=1e-12)


@pytest.mark.parametrize(("holes", "factor"), [(5, 0.440), (10, 0.385), (20, 0.359)])
def test_friction_of_a_row_is_christiansens_factor(holes: int, factor: float) -> None:
    """Christiansen 1942, factors for a loss with the square of the flow and the first outlet at one spacing (from memory).

    Tiny holes take so much head that they share alike; with one friction factor the whole row loses F times what it would
    without holes.
    """
    length, width, bore = 30.0, 0.02, 0.0008
    manifold = row(length, holes, width, 1.5e-6, NU)
    flow = 9.0 * LITRE_PER_MINUTE
    found = shared(manifold, area(bore), 0.62, flow)
    speed = flow / area(width)
    without = fluids.friction_factor(Re=speed * width / NU, eD=1.5e-6 / width) * length / width * speed**2 / (2 * GRAVITY)
    lost = float(found.feed) - float(found.beside[-1])
    assert lost / without == pytest.approx(factor, rel=0.01)


def solved(manifold: Manifold, bore: float, flow: float, count: int) -> tuple[float, np.ndarray]:
    """Feed head and head beside each hole of a row, all equations at once, each stretch with a friction factor of its own."""
    pipe, hole = area(manifold.diameter), 0.62 * area(bore)

    def off(unknown: np.ndarray) -> np.ndarray:
        through, feed = unknown[:-1] * flow / count, float(unknown[-1])
        passing = np.append(np.cumsum(through[::-1])[::-1], 0.0) / pipe
        energy, wrong = feed, []
        for index in range(count):
            length = manifold.first if index == 0 else manifold.spacing
            speed = passing[index]
            factor = fluids.friction_factor(Re=speed * manifold.diameter / NU, eD=manifold.roughness / manifold.diameter)
            energy -= factor * length / manifold.diameter * speed**2 / (2 * GRAVITY)
            beside = energy - passing[index + 1] ** 2 / (2 * GRAVITY)
            wrong.append(through[index] ** 2 / (hole**2 * 2 * GRAVITY) - beside)
        return np.append(wrong, (through.sum() - flow) / flow)

    found = fsolve(off, np.append(np.ones(count), float(nozzle_head(flow, bore, count, 0.62))), xtol=1e-12)
    assert np.all(np.abs(off(found)) < 1e-8)
    return float(found[-1]), (found[:-1] * flow / count / hole) ** 2 / (2 * GRAVITY)


@pytest.mark.parametrize(
    ("length", "count", "width", "bore", "litres"),
    [(1.2, 8, 0.016, 0.003, 9.0), (3.1, 12, 0.013, 0.002, 6.0), (0.6, 6, 0.019, 0.005, 17.0), (6.0, 9, 0.013, 0.003, 7.0)],
)
def test_a_solver_with_friction_of_its_own_in_each_stretch_agrees(
    length: float, count: int, width: float, bore: float, litres: float
) -> None:
    """One friction factor for a flow in place of one for each stretch: 2 % in the head (chosen beforehand)."""
    manifold, flow = row(length, count, width, 1.5e-6, NU), litres * LITRE_PER_MINUTE
    found = shared(manifold, area(bore), 0.62, flow)
    feed, beside = solved(manifold, bore, flow, count)
    assert float(found.feed) == pytest.approx(feed, rel=0.02)
    np.testing.assert_allclose(found.beside, beside, rtol=0.03)


def test_sharing_lies_between_the_two_port_laws_of_outfall_diffusers() -> None:
    """Rawn, Bowerman and Brooks 1961 (from memory): a port passes 0.63 - 0.58 x of the ideal flow if sharp, 0.975 (1 - x)^(3/8)
    if rounded, with x the velocity head of what passes by over the energy; ours goes with (1 - x)^(1/2)."""

    def share_of_the_first(port: str, manifold: Manifold, narrow: float, holes: int) -> float:
        """Flow of the hole at the feed over that of the last, without friction, in units of the last one."""
        laws = {
            "sharp": lambda x: (0.63 - 0.58 * x) / 0.63,
            "rounded": lambda x: (1 - x) ** 0.375,
        }
        passing, flow = 0.0, 1.0
        for _ in range(holes):
            flow = laws[port](narrow * passing**2)
            passing += flow
        return flow

    holes, bore, width = 6, 0.004, 0.016
    frictionless = Manifold(1, float(holes), 1e-9, 1e-9, width, 0.0, NU)
    narrow = (0.62 * area(bore) / area(width)) ** 2
    beside = shared(frictionless, area(bore), 0.62, 12 * LITRE_PER_MINUTE).beside
    ours = float(np.sqrt(beside[0] / beside[-1]))
    sharp, rounded = (share_of_the_first(port, frictionless, narrow, holes) for port in ("sharp", "rounded"))
    assert sharp < ours < rounded < 1


def test_speed_starves_the_first_hole_and_friction_the_last() -> None:
    short, long = (shared(row(length, 6, 0.013, 1.5e-6, NU), area(0.004), 0.62, 10 * LITRE_PER_MINUTE) for length in (0.1, 12.0))
    assert short.beside[0] < short.beside[-1]
    assert long.beside[0] > long.beside[-1]


def test_holes_far_wider_together_than_their_pipe_hardly_play_and_break_nothing() -> None:
    found = shared(row(0.5, 12, 0.012, 1.5e-6, NU), area(0.008), 0.62, FLOW)
    assert np.all(np.isfinite(found.beside))
    assert np.all(np.asarray(found.feed) > 0)
    assert found.beside[0, -1] < 0.1 * found.beside[-1, -1]
