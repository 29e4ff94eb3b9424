"""A bucket and a stopwatch: published rows, what repeats can do and what they cannot."""

import numpy as np
import pytest

from sizing.answers.shared import working_of
from sizing.foundation.units import US_GALLON
from sizing.foundation.working import Worked
from sizing.measured.bench.bucket import bucket_flow, fill_notes, flow_share, reading_share, scatter_share, worked_bucket
from sizing.measured.logs.instruments import UNITS, USUAL, Instruments, instrument, meter_uncertainty, small_sample

LITRE_PER_MINUTE = 1e-3 / 60


def bucket(litres: float, seconds: list[float], own: Instruments = USUAL) -> tuple[Worked, Worked]:
    """Flow of a bucket filled so many times, and its uncertainty as a share."""
    flows = litres / 1000 / np.array(seconds)
    return worked_bucket(litres / 1000, litres / 1000 / float(flows.mean()), flows, own)


def part(share: Worked, name: str) -> float:
    """A number that went into a share."""
    return dict(share.inputs)[name].value


@pytest.mark.parametrize(
    ("litres", "mark", "seconds", "thumb", "flow", "per_cent"),
    [
        # JCGM 100, 5.1.6, by hand: root of (0.1/10)² + (0.2/30)² = 0.0120; root of (0.25/18.9)² + (0.3/20)² = 0.0200
        (10, 0.1, 30, 0.2, 20.0, 1.2),
        (18.9, 0.25, 20, 0.3, 56.7, 2.0),
    ],
)
def test_flow_and_uncertainty_of_one_filling(litres, mark, seconds, thumb, flow, per_cent) -> None:
    own = Instruments(volume_calibration=0.0, volume_reading=mark / 1000, time_reading=thumb)
    found, share = bucket(litres, [float(seconds)], own)
    assert found.value / LITRE_PER_MINUTE == pytest.approx(flow, abs=0.11)
    assert 100 * share.value == pytest.approx(per_cent, abs=0.05)


def test_five_gallons_in_half_a_minute_are_600_gallons_an_hour() -> None:
    """Trade rule: 3600 times gallons over seconds."""
    assert bucket_flow(5 * US_GALLON, 30.0) * 3600 / US_GALLON == pytest.approx(600)


@pytest.mark.parametrize(
    ("freedom", "factor"),
    [(1, 1.84), (2, 1.32), (3, 1.20), (4, 1.14), (5, 1.11), (10, 1.05), (20, 1.03), (50, 1.01)],
)
def test_small_samples_are_widened_as_printed(freedom, factor) -> None:
    """JCGM 100, table G.2, column 68.27 % (from memory)."""
    assert float(small_sample(freedom)) == pytest.approx(factor, abs=0.005)


def test_repeats_shrink_chance_but_never_the_mark() -> None:
    one, many, endless = (bucket(5, count * [10.0])[1] for count in (1, 16, 10_000))
    assert part(many, "chance_share") == pytest.approx(part(one, "chance_share") / 4)
    assert part(many, "volume_calibration") == part(one, "volume_calibration") == 0.02
    assert endless.value == pytest.approx(0.02, rel=1e-3)


def test_a_pump_that_pulses_is_less_sure_than_its_instruments() -> None:
    """Times 18, 20, 22 s of 5 L: flows 16.67, 15, 13.64 L/min, mean 15.10, deviation 1.517: 10.05 %; times 1.32 over √3."""
    found, share = bucket(5, [18.0, 20.0, 22.0])
    assert found.value / LITRE_PER_MINUTE == pytest.approx(15.10, abs=0.005)
    assert 100 * part(share, "chance_share") == pytest.approx(10.05 * 1.32 / np.sqrt(3), abs=0.03)
    assert scatter_share(np.array([1.0])) == 0


def test_the_stated_uncertainty_holds_two_times_in_three() -> None:
    """800 buckets drawn with a mark of their own each; seeded."""
    draw = np.random.default_rng(17)
    mark = 1 + USUAL.volume_calibration * draw.standard_normal(800)
    times = 20.0 + USUAL.time_reading * draw.standard_normal((800, 4))
    volumes = 0.006 * mark[:, None] + USUAL.volume_reading * draw.standard_normal((800, 4))
    share = flow_share(reading_share(0.006, USUAL.volume_reading, 20.0, USUAL.time_reading) / 2, USUAL.volume_calibration)
    inside = np.abs(np.mean(volumes / times, axis=1) / (0.006 / 20.0) - 1) < share
    assert 0.63 < inside.mean() < 0.73


def test_notes_of_haste_and_of_few_repeats() -> None:
    hasty = fill_notes(np.full(4, 2.4), np.array([4]))
    assert [note.code for note in hasty] == ["filled_too_fast"]
    assert "larger bucket" in hasty[0].detail
    assert [note.code for note in fill_notes(np.full(3, 30.0), np.array([3]))] == ["few_repeats"]
    assert fill_notes(np.full(4, 30.0), np.array([4])) == ()
    several = fill_notes(np.array([2.0, 10.0, 11.0, 1.5]), np.array([2, 5]))
    assert [note.detail[:10] for note in several] == ["2 of 4 fil", "1 of 2 set"]


def test_a_meter_by_hand() -> None:
    """0.5 % of 12 V is 0.06 V, with 0.01 V: root of 0.0037 is 0.0608 V."""
    assert float(meter_uncertainty(12.0, 0.005, 0.01)) == pytest.approx(0.0608, abs=5e-5)


def test_every_instrument_has_a_unit_and_an_origin() -> None:
    assert set(UNITS) == set(Instruments.__dataclass_fields__)
    found = bucket(10, [30.0, 31.0], Instruments(time_reading=0.5))
    basis = {step.id: step.basis for step in working_of(found)}
    assert basis["time_reading"] == "measured"
    assert basis["volume_calibration"] == basis["volume_reading"] == "assumed"
    assert all(instrument(USUAL, name).source == "common_practice" for name in UNITS)
