"""Invented benches: a pump that is known exactly, measured by teams whose instruments are off by a known law."""

from dataclasses import dataclass

import numpy as np

from sizing.electric.motor import speed_at_voltage
from sizing.measured.logs.instruments import USUAL, Instruments
from sizing.measured.logs.logs import BenchLog


@dataclass(frozen=True)
class Truth:
    """A pump by its motor and curves that are no polynomials: h = h0 (1 - x^bend), load rising as x^0.9."""

    winding: float = 1.6
    no_load: float = 0.08
    rated_voltage: float = 12.0
    rated_current: float = 0.9
    shut_off: float = 2.1
    largest_flow: float = 10 / 6e4
    bend: float = 1.8

    def at(self, voltage, share):
        """Flow [m3/s], head [m] and current [A] of a state (share of the largest flow) at a voltage."""
        back_emf = self.rated_voltage - self.rated_current * self.winding
        load = (self.rated_current - self.no_load) * (0.55 + 0.45 * share**0.9)
        speed = speed_at_voltage(voltage, back_emf, self.winding, self.no_load, load)
        head = self.shut_off * (1 - share**self.bend)
        return speed * self.largest_flow * share, speed**2 * head, self.no_load + speed**2 * load


def bench_log(
    truth: Truth = Truth(),
    seed: int | None = None,
    voltages=(7.0, 9.5, 12.0),
    shares=(0.05, 0.275, 0.5, 0.725, 0.95),
    repeats: int = 2,
    litres: float = 5.0,
    own: Instruments = USUAL,
    bucket: float | None = None,
) -> BenchLog:
    """A log of that pump; exact without a seed.

    What an instrument has in common in all readings is drawn once, the rest for each reading; a head is set once for all
    repeats of a setting. ``bucket`` is how much more water it holds than its mark says, as a share.
    """
    draw = np.random.default_rng(seed)
    grid = np.meshgrid(voltages, shares, np.arange(repeats), indexing="ij")
    voltage, share, repeat = (part.ravel() for part in grid)
    flow, head, current = truth.at(voltage, share)
    count, size = len(flow), 0.0 if seed is None else 1.0

    def noise(spread, number=count):
        return size * spread * draw.standard_normal(number)

    common = [1 + noise(spread, 1) for spread in (own.volume_calibration, own.voltage_share, own.current_share)]
    if bucket is not None:
        common[0] = 1 + bucket
    volume = np.full(count, litres / 1000)
    return BenchLog(
        row=np.arange(2, count + 2),
        voltage=(voltage + noise(own.voltage_digit)) * common[1],
        current=(current + noise(own.current_digit)) * common[2],
        head=np.maximum(head + np.repeat(noise(own.head_reading, count // repeats), repeats), 0.0),
        volume=volume + noise(own.volume_reading),
        fill_time=volume * common[0] / flow + noise(own.time_reading),
        team=tuple("AB"[int(number) % 2] for number in repeat),
        problems=(),
    )
