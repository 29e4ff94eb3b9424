"""Shapes of a panel with something wrong, and whether a fault can be told from readings of it."""

from dataclasses import replace

import numpy as np
import pytest

from sizing.electric.panel import current_at_voltage, fit_label, open_circuit_voltage
from sizing.electric.single_diode import at_conditions
from sizing.measured.logs.instruments import USUAL
from sizing.measured.panel_check.diagnosis import curve_of, diagnosed
from sizing.measured.panel_check.faults import SIZE, SUN, WARMTH, fitted, suspects
from sizing.measured.panel_check.sentences import diagnosis_sentences
from sizing.measured.panel_check.shapes import (
    BYPASS_DROP,
    Labelled,
    bypassed_current,
    held_current,
    voltage_at_current,
    with_resistance,
)
from tests.electric.panels import CELLS, DIODE, LABEL, LOADS, circuit, printed, read
from tests.electric.panels import SUN as LIGHT

HERE = at_conditions(DIODE, LIGHT, CELLS)
VOLTS = np.linspace(0.0, 19.0, 39)
PLAIN = np.asarray(current_at_voltage(HERE, VOLTS))


def suspect(key: str, free: tuple[int, ...] | None = None, parts: int | None = None):
    return next(each for each in suspects(LABEL) if each.key == key and free in (None, each.free) and parts in (None, each.parts))


def test_without_a_fault_every_shape_is_the_label() -> None:
    for parts in (1, 2, 3, 36):
        assert held_current(HERE, VOLTS, parts, 1.0) == pytest.approx(PLAIN, abs=1e-9)
        assert bypassed_current(HERE, VOLTS, parts, 1.0) == pytest.approx(PLAIN, abs=1e-9)
    assert with_resistance(HERE, VOLTS, 0.0) == pytest.approx(PLAIN, abs=1e-12)


def test_volts_at_a_current_are_the_curve_the_other_way_round() -> None:
    assert voltage_at_current(HERE, PLAIN) == pytest.approx(VOLTS, abs=1e-9)
    assert np.isnan(voltage_at_current(HERE, 1.02 * float(PLAIN[0]) + 0.1))


def test_a_string_of_one_part_has_less_sun() -> None:
    less = current_at_voltage(at_conditions(DIODE, 0.4 * LIGHT, CELLS), VOLTS)
    # The leak, in proportion to the light, is the only difference: 0.08 % of the current.
    assert bypassed_current(HERE, VOLTS, 1, 0.4).clip(0) == pytest.approx(less, abs=0.002 * float(PLAIN[0]))


@pytest.mark.parametrize("parts", [2, 3])
def test_a_bypass_diode_takes_a_part_and_its_own_drop(parts: int) -> None:
    """In full shade the others stop at (n - 1)/n of the open circuit, less half a volt: sums of volts, by hand."""
    end = float(open_circuit_voltage(HERE)) * (parts - 1) / parts - BYPASS_DROP
    sides = bypassed_current(HERE, np.array([end - 0.02, end + 0.02]), parts, 1e-6)
    assert sides[0] > 0.002
    assert abs(sides[1]) < 1e-3


@pytest.mark.parametrize(("parts", "light", "bypass"), [(2, 0.5, True), (3, 0.3, True), (3, 0.9, True), (36, 0.6, False)])
def test_shade_agrees_with_a_circuit_of_parts(parts: int, light: float, bypass: bool) -> None:
    volts, amperes = circuit(parts, light, bypass)
    judge = np.interp(-VOLTS, -volts, amperes, right=0.0)
    shape = bypassed_current if bypass else held_current
    found = shape(HERE, VOLTS, parts, light)
    # The shaded part's own leak is what the closed form leaves out: up to 2 % of the short circuit.
    assert np.max(np.abs(found - judge)[judge > 0]) < 0.02 * float(PLAIN[0])


def test_resistance_takes_volts_in_proportion_to_the_current() -> None:
    amperes = with_resistance(HERE, VOLTS, 2.5)
    inner = np.asarray(current_at_voltage(HERE, VOLTS + 2.5 * amperes))
    assert amperes[amperes > 0] == pytest.approx(inner[amperes > 0], rel=1e-9)


CASES = {
    "dirt_or_haze": ({"sun": 0.75 * LIGHT, "cells": CELLS - 3.1}, SUN, 0.75),
    "hotter": ({"cells": CELLS + 14.0}, WARMTH, 14.0),
    "resistance": ({"resistance": 3.0}, SIZE, 3.0),
    "shaded_group": ({"parts": 2, "light": 0.5}, SIZE, 0.5),
    "shaded_cell": ({"parts": 36, "light": 0.7, "bypass": False}, SIZE, 0.7),
}


@pytest.mark.parametrize("key", CASES)
def test_faults_are_told_apart_where_the_readings_allow(key: str) -> None:
    given, which, size = CASES[key]
    found = diagnosed(read(*circuit(**given), 3, 2 * LOADS), LABEL, USUAL)
    assert found.best.key == key
    assert found.best.likelihood is None or found.best.likelihood > 0.8
    spread = float(found.best.fit.uncertainty[which])
    assert abs(float(found.best.fit.numbers[which]) - size) < 3 * spread + 0.02 * size
    assert found.widening < 2


@pytest.mark.slow
def test_likely_ranges_hold_the_truth_two_times_in_three() -> None:
    """Meters off by what they are good for, and a label that is itself a little off."""
    # 60 draws: 41 are expected inside, with a standard deviation of 3.6 (binomial); 30 to 52 is three of them.
    joint = [fitted(read(*circuit(resistance=3.0), seed), printed(seed), suspect("resistance"), USUAL) for seed in range(60)]
    assert 30 <= sum(abs(fit.numbers[SIZE] - 3.0) < fit.uncertainty[SIZE] for fit in joint) <= 52
    assert abs(np.mean([fit.numbers[SIZE] for fit in joint]) - 3.0) < 0.5 * joint[0].uncertainty[SIZE]
    less = circuit(sun=0.8 * LIGHT, cells=CELLS - 2.5)
    dirty = [fitted(read(*less, seed), printed(seed), suspect("dirt_or_haze"), USUAL) for seed in range(60)]
    assert 30 <= sum(abs(fit.numbers[SUN] - 0.8) < fit.uncertainty[SUN] for fit in dirty) <= 52


def test_a_clean_panel_without_noise_is_met_exactly() -> None:
    found = diagnosed(read(*circuit()), LABEL, USUAL)
    assert found.best.key == "clean"
    assert found.best.fit.misfit < 1e-3
    assert found.best.power == pytest.approx(1.0, abs=1e-4)
    assert found.rivals == ()
    assert found.widening == 1


def test_a_clean_panel_raises_no_alarm() -> None:
    assert diagnosed(read(*circuit(), 100), printed(100), USUAL).best.key == "clean"


@pytest.mark.parametrize(("share", "seeds", "key"), [(0.66, (9, 22), "dirt_or_haze"), (1.18, (9, 23), "brighter")])
def test_light_alone_is_no_fault_of_the_cells(share: float, seeds: tuple[int, ...], key: str) -> None:
    """A fault that is less than two of its uncertainties away from none is not named before the light alone."""
    curve = circuit(sun=share * LIGHT, cells=CELLS + 12 * (share - 1))
    for seed in seeds:
        assert diagnosed(read(*curve, seed), printed(seed), USUAL).best.key == key


@pytest.mark.some(2)
@pytest.mark.parametrize("seed", [19, 26, 28, 4])
def test_dirt_in_still_air_is_dirt_with_warm_cells(seed: int) -> None:
    """A quarter less light outweighs 4.5 K: 0.33 % of the volts for each; dirt cools nothing, so all of it is left over."""
    found = diagnosed(read(*circuit(sun=0.75 * LIGHT, cells=CELLS + 4.5), seed), printed(seed), USUAL)
    assert found.best.key == "dirt_or_haze"
    assert found.best.fit.numbers[SUN] == pytest.approx(0.75, abs=0.03)
    assert 3.0 < found.best.fit.numbers[WARMTH] < 13.0
    told = "Besides, the cells would be" in diagnosis_sentences(found, LABEL)[0]
    assert told == (WARMTH in found.best.fit.suspect.free)


@pytest.mark.parametrize(("share", "resistance", "first"), [(0.4, 3.0, "less light"), (0.75, 9.0, "resistance in leads")])
def test_what_costs_more_is_named_first(share: float, resistance: float, first: str) -> None:
    """Six tenths of the light against 0.34 A through 3 of 50 ohm; a quarter of it against 0.64 A through 9 of 27 ohm."""
    found = diagnosed(read(*circuit(sun=share * LIGHT, resistance=resistance)), LABEL, USUAL)
    said = diagnosis_sentences(found, LABEL)
    assert found.best.key == "resistance"
    assert found.best.freed_sun
    assert f" to {first}" in said[0]
    assert ("Wash" in said[1]) == (first == "less light")


def test_open_and_short_circuit_alone_cannot_tell() -> None:
    """A bad joint and shade leave both as they are; less light has rivals that no such readings could tell from it."""
    ends = (LOADS[0], LOADS[-1])
    for given in ({}, {"resistance": 3.0}):
        found = diagnosed(read(*circuit(**given), None, ends), LABEL, USUAL)
        assert found.best.key == "clean"
        assert set(found.hidden) == {"resistance", "shaded_group", "shaded_cell"}
        assert any("could not have shown" in sentence for sentence in diagnosis_sentences(found, LABEL))
    found = diagnosed(read(*circuit(sun=0.7 * LIGHT, cells=CELLS - 3.75), None, ends), LABEL, USUAL)
    assert found.best.key == "dirt_or_haze"
    assert any("tell dirt from haze" in sentence for sentence in diagnosis_sentences(found, LABEL))


@pytest.mark.parametrize("seed", [0, 6])
def test_dirt_is_no_shade_where_open_and_short_circuit_alone_were_read(seed: int) -> None:
    """Both explain two readings equally well; which comes nearer is chance, so that the plainer one is told, with its rival."""
    dirty = read(*circuit(sun=0.75 * LIGHT, cells=CELLS - 3), seed, (LOADS[0], LOADS[-1]))
    found = diagnosed(dirty, printed(seed), USUAL)
    assert found.best.key == "dirt_or_haze"
    assert found.best.likelihood < 0.7
    assert "shaded_cell" in [each.key for each in found.rivals]
    assert diagnosis_sentences(found, LABEL)[0].startswith(
        "The readings cannot tell for sure; most plainly they point to less light"
    )


def test_what_readings_hide_is_asked_in_the_light_that_they_had() -> None:
    """Loads about the best one of a full sun (17.6 V / 0.86 A = 20 ohm) all lie on the level part in half of it."""
    loads = (LOADS[0], 18.0, 21.0, 25.0, np.inf)
    bright = diagnosed(read(*circuit(), None, loads), LABEL, USUAL)
    dim = diagnosed(read(*circuit(sun=0.5 * LIGHT, cells=CELLS - 6.25, resistance=3.0), None, loads), LABEL, USUAL)
    assert "resistance" not in bright.hidden
    assert dim.best.key == "dirt_or_haze"
    assert "resistance" in dim.hidden


def test_a_wild_reading_makes_nothing_certain() -> None:
    fine = read(*circuit(resistance=1.0), 7)
    wild = fine.current.copy()
    wild[2] -= 0.3
    broken = diagnosed(replace(fine, current=wild), LABEL, USUAL)
    assert broken.widening > 3
    first, *others = diagnosis_sentences(broken, LABEL)
    assert first.startswith("Nothing explains these readings")
    assert "times what the meters allow" in first
    assert not any("Fitting" in sentence or "clean and tighten" in sentence for sentence in others)


def test_a_panel_that_is_off_among_several() -> None:
    """Two strings of two: a string off halves the current; a panel bridged takes half the volts where it is the only string."""
    side = Labelled(fit_label(17.6, 0.86, 21.7, 0.92, 0.0005, -0.0033, 1, 2), 1, 2, 36, 21.7, 1.84, -0.0033)
    halved = read(*circuit())
    assert diagnosed(halved, side, USUAL).best.key == "string_off"
    row = Labelled(fit_label(17.6, 0.86, 21.7, 0.92, 0.0005, -0.0033, 2, 1), 2, 1, 72, 43.4, 0.92, -0.0033)
    volts, amperes = circuit()
    one = diagnosed(read(volts - BYPASS_DROP, amperes), row, USUAL)
    assert one.best.key == "panel_off"
    assert one.best.power == pytest.approx(0.5, abs=0.03)


@pytest.mark.parametrize("key", ["clean", "shaded_group", "shaded_cell", "resistance"])
def test_curves_begin_at_zero_volts_end_at_zero_amperes_and_fall(key: str) -> None:
    found = read(*circuit())
    volts, amperes = curve_of(LABEL, found, fitted(found, LABEL, suspect(key), USUAL))
    assert len(volts) == 40
    assert volts[0] == 0
    assert amperes[-1] == 0
    assert np.all(np.diff(volts) > 0)
    assert np.all(np.diff(amperes) <= 1e-9)
