"""Kinds of nozzle and of pipe: published values, what theory says of them, and what no kind may do."""

import numpy as np
import pytest

from sizing.foundation.tables import NOZZLE_KINDS, PIPE_KINDS
from sizing.hydraulic.nozzle_kinds import NOZZLE_NAMES, nozzle_coefficients
from sizing.hydraulic.outlet import Nozzle, jet_height, outlet_head
from sizing.hydraulic.pipes import Pipe, pipe_loss

TOWARD = np.linspace(-1.0, 1.0, 9)


@pytest.mark.parametrize("kind", NOZZLE_KINDS)
def test_no_kind_passes_more_than_its_bore_at_its_speed(kind: str) -> None:
    for toward in TOWARD:
        discharge, velocity = nozzle_coefficients(kind, toward=float(toward))
        assert 0.5 < discharge <= velocity <= 1
    spread = NOZZLE_KINDS[kind]
    assert nozzle_coefficients(kind) == spread.typical
    assert nozzle_coefficients(kind, toward=-1.0) == pytest.approx(spread.one_end)
    assert nozzle_coefficients(kind, toward=1.0) == pytest.approx(spread.other_end)
    assert 0 < spread.narrowest < spread.widest


def test_typical_values_are_those_of_the_handbook() -> None:
    # Unwin (EB 1911): section 17, sharp orifice c_v 0.97, c_c 0.64, c = 0.62; section 49, cylinder 0.82; section 50, Castel.
    assert NOZZLE_KINDS["drilled_cap"].typical == (0.62, 0.97)
    assert pytest.approx(0.97 * 0.64, abs=0.002) == 0.62
    assert NOZZLE_KINDS["short_tube"].typical == (0.82, 0.82)
    assert NOZZLE_KINDS["smooth_cone"].typical == (0.946, 0.962)
    # A tube runs full at its end, so it passes its bore at its speed: both coefficients are one number.
    assert all(flow == speed for flow, speed in (NOZZLE_KINDS["short_tube"].one_end, NOZZLE_KINDS["short_tube"].other_end))
    # Its loss is that of the stream widening again behind a contraction to 0.64 (Borda): 1 / sqrt(1 + (1/0.64 - 1)²) = 0.872,
    # and friction in the tube takes a little more: below theory, by less than a tenth.
    theory = 1 / (1 + (1 / 0.64 - 1) ** 2) ** 0.5
    assert 0.9 * theory < 0.82 < theory


def test_a_hole_throws_highest_and_a_tube_lowest_at_one_flow() -> None:
    """The same flow through the same bore: what contracts is faster, and what loses less is higher."""
    flow = 6.1 / 60000
    built = {kind: Nozzle(0.006, 1, 0.2, *nozzle_coefficients(kind)) for kind in NOZZLE_NAMES}
    height = {kind: float(jet_height(nozzle, flow)) for kind, nozzle in built.items()}
    assert height["drilled_cap"] > height["smooth_cone"] > height["brass_jet"]
    assert height["not_known"] == height["smooth_cone"]
    head = {kind: float(outlet_head(nozzle, flow)) for kind, nozzle in built.items()}
    # At one flow the head goes with 1/c²: (0.946/0.62)² = 2.328 and (0.946/0.82)² = 1.331.
    assert head["drilled_cap"] / head["smooth_cone"] == pytest.approx(2.328, abs=0.001)
    assert head["short_tube"] / head["smooth_cone"] == pytest.approx(1.331, abs=0.001)
    share = {kind: height[kind] / head[kind] for kind in height}
    assert share["short_tube"] < 0.6725 < share["smooth_cone"]  # at most 0.67 of the head (Unwin, section 49)


def test_a_typed_coefficient_counts_before_that_of_the_kind() -> None:
    assert nozzle_coefficients("drilled_cap", 0.66) == (0.66, 0.97)
    assert nozzle_coefficients("drilled_cap", 0.98) == (0.98, 0.98)
    assert nozzle_coefficients("smooth_cone", velocity=0.9) == (0.9, 0.9)
    for toward in TOWARD:
        assert nozzle_coefficients("short_tube", 0.7, 0.8, float(toward)) == (0.7, 0.8)


def test_ribs_lose_as_much_as_their_rings_would() -> None:
    """Hawthorne and von Helms 1963 (secondary): rings S apart in a bore D, f = D/S (1 - (D/(D + 0.438 S))²)²."""
    bore, reynolds = 25.0, 15000.0
    smooth = 0.3164 / reynolds**0.25  # Blasius
    ratio = {}
    for apart in (3.0, 5.0):
        one_ring = (1 - (bore / (bore + 0.438 * apart)) ** 2) ** 2
        ratio[apart] = bore / apart * one_ring / smooth
    hose = PIPE_KINDS["ribbed_hose"]
    assert hose.typical == pytest.approx(ratio[3.0], rel=0.15)
    assert hose.high == pytest.approx(ratio[5.0], rel=0.15)
    # A maker of corrugated hose writes of almost 100 % more than in a plain pipe.
    assert hose.low == 2.0


def test_ribs_cost_that_many_times_the_friction_and_nothing_in_the_fittings() -> None:
    flow = np.array([0.0, 1.3, 7.7, 31.0]) / 60000
    plain, ribbed, fittings = (
        pipe_loss(Pipe(length, 0.019, 1.5e-6, 2.7, 1.1e-6, ribs), flow) for length, ribs in ((3.1, 1.0), (3.1, 3.0), (0.0, 3.0))
    )
    np.testing.assert_allclose(ribbed - fittings, 3 * (plain - fittings), rtol=1e-12)
    assert ribbed[0] == 0
    assert np.all(np.diff(ribbed) > 0)


def test_steel_is_rougher_and_only_a_hose_has_ribs() -> None:
    # EPANET 2.2 manual, ch. 3: 0.005 and 0.5 thousandths of a foot.
    assert PIPE_KINDS["smooth"].roughness == pytest.approx(0.005e-3 * 0.3048, rel=0.02)
    assert PIPE_KINDS["galvanised_steel"].roughness == pytest.approx(0.5e-3 * 0.3048, rel=0.02)
    assert [kind for kind, pipe in PIPE_KINDS.items() if pipe.typical != 1] == ["ribbed_hose"]
    assert all(1 <= pipe.low <= pipe.typical <= pipe.high for pipe in PIPE_KINDS.values())
