"""Which further reading would narrow a bench test's curve most: each is tried on the information that there is.

A reading that was not yet taken has known uncertainties and, by the fit, known slopes; both tell what it would add,
whatever its outcome (a design of experiments, to first order).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import SizingError
from sizing.foundation.formats import length, percent, quantity
from sizing.hydraulic.pipes import Pipe, pipe_loss
from sizing.measured.bench.curves import back_emf_of_state, by_chance, last_state, slopes_at, states
from sizing.measured.bench.equations import equations, falling, powers, weights
from sizing.measured.bench.fit import Fit, inverse_of
from sizing.measured.bench.settings import Settings
from sizing.measured.logs.instruments import Instruments

Array = NDArray[np.float64]

FILLINGS = 4
"""A further setting is measured so often."""
WORTH_IT = 0.03
"""[1] A reading that narrows the ranges by less is not named."""


@dataclass(frozen=True)
class Further:
    """A further reading: words, voltage [V], height of the outlet [m], and how much narrower it makes what the test is for.

    ``curve`` is the share by which the mean range of the head shrinks, ``shut_off`` that of the shut-off head, ``flow`` that
    of the flow at the design's lift; ``best`` is the largest of them.
    """

    kind: str
    voltage: float
    height: float
    curve: float
    shut_off: float
    flow: float | None

    @property
    def best(self) -> float:
        return max(self.curve, self.shut_off, self.flow or 0.0)

    @property
    def mean(self) -> float:
        parts = (self.curve, self.shut_off, *(() if self.flow is None else (self.flow,)))
        return sum(parts) / len(parts)


def candidates(fit: Fit, settings: Settings) -> list[tuple[str, float, float]]:
    """Readings one could take: what each is, at which voltage and in which state of the pump."""
    top, low = float(settings.voltage.max()), float(settings.voltage.min())
    end = last_state(fit)
    other = 0.7 * top if settings.level.max() == 0 else low
    weakest = int(np.argmax(settings.chance / np.maximum(settings.flow, 1e-12) * (settings.flow > 0)))
    state = settings.flow[weakest] / (settings.voltage[weakest] - settings.current[weakest] * fit.winding) / fit.reach
    return [
        ("shut_off", top, 0.02 * end),
        ("low_hose", top, end),
        ("half_way", top, 0.5 * end),
        ("other_voltage" if settings.level.max() == 0 else "other_voltage_again", other, 0.7 * end),
        ("repeats", float(settings.voltage[weakest]), float(np.clip(state, 0.02 * end, end))),
    ]


def asked_of_bench(fit: Fit, voltage: float, lift: float | None) -> tuple[Array, Array]:
    """What the ranges are wanted of, as slopes by the numbers of the fit: the curve's heads, with shut-off first; the flow."""
    flows, heads, _ = states(fit, voltage, 12)
    at = slopes_at(fit, voltage, flows)
    if lift is None or not heads[-1] < lift < heads[0]:
        return at.head_by_value, np.zeros((0, fit.orders.count))
    flow = np.interp(lift, heads[::-1], flows[::-1])
    there = slopes_at(fit, voltage, np.array([flow]))
    return at.head_by_value, there.head_by_value / there.head_by_flow[:, None]


def further_readings(
    fit: Fit,
    settings: Settings,
    voltage: float,
    instruments: Instruments,
    lift: float | None = None,
    hose: Pipe | None = None,
) -> tuple[Further, ...]:
    """Candidates that would help, the best first.

    Parameters
    ----------
    voltage : [V] at which the curve is wanted
    lift : [m] of the design, if there is one
    hose : of the bench, which makes its heights smaller than the heads
    """
    heads, flow = asked_of_bench(fit, voltage, lift)
    free = fit.free
    before = inverse_of(fit.information, free)
    told = []
    for kind, volts, state in candidates(fit, settings):
        head, passed, information = information_of(fit, volts, state, instruments)
        height = head if hose is None else max(head - float(pipe_loss(hose, passed)), 0.0)
        try:
            after = inverse_of(fit.information + information / fit.widening, free)
        except SizingError:
            continue
        first, second = by_chance(before, heads), by_chance(after, heads)
        of_flow = 1 - by_chance(after, flow) / np.maximum(by_chance(before, flow), 1e-15) if len(flow) else None
        told.append(
            Further(
                kind,
                volts,
                height,
                float(1 - second.mean() / first.mean()) if first.mean() > 0 else 0.0,
                float(1 - second[0] / first[0]) if first[0] > 0 else 0.0,
                None if of_flow is None else float(of_flow[0]),
            )
        )
    return tuple(sorted((one for one in told if one.best >= WORTH_IT), key=lambda one: -one.mean))


def information_of(fit: Fit, voltage: float, state: float, instruments: Instruments) -> tuple[float, float, Array]:
    """Head [m] and flow [m3/s] of a reading in a state at a voltage, and what a setting of a few fillings there would tell."""
    one = np.array([state])
    back_emf = back_emf_of_state(fit, voltage, one)
    head = back_emf**2 * (falling(one, fit.orders.head)[0] @ fit.values[fit.orders.heads])
    current = fit.no_load + back_emf**2 * (powers(one, fit.orders.current)[0] @ fit.values[fit.orders.currents])
    flow = back_emf * state * fit.reach
    volume = max(5e-3, 10 * float(flow[0]))
    time = volume / float(flow[0])
    chance = np.hypot(instruments.volume_reading, float(flow[0]) * instruments.time_reading) / time
    digits = np.array([instruments.voltage_digit, instruments.current_digit, 0.0, chance]) ** 2 / FILLINGS
    digits[2] = instruments.head_reading**2
    reading = np.stack([np.full(1, voltage), current, head, flow], axis=-1)
    _, by_reading, by_value = equations(reading, fit.values, fit.orders, fit.reach)
    inverse = weights(by_reading, digits[None])[1]
    return float(max(head[0], 0.0)), float(flow[0]), np.einsum("nip,nij,njq->pq", by_value, inverse, by_value)


KINDS = {
    "shut_off": "one setting near shut-off: {voltage}, the hose raised until the water hardly runs, about {head}",
    "low_hose": "one setting with the hose low, near full flow: {voltage} and about {head}",
    "half_way": "one setting half-way: {voltage} and about {head}",
    "other_voltage": "a second voltage: {voltage} and about {head}",
    "other_voltage_again": "one more setting at {voltage} and about {head}",
    "repeats": "more repeats at {voltage} and about {head}, where the fillings tell least",
}


def advice_sentence(one: Further) -> str:
    """A further reading, and what it would do."""
    rounded = round(one.voltage * 2) / 2 if one.voltage > 3 else one.voltage
    words = KINDS[one.kind].format(voltage=quantity(rounded, "V"), head=length(one.height))
    gains = [
        (one.curve, "the whole curve"),
        (one.shut_off, "the shut-off head"),
        (one.flow or 0.0, "the flow at the design’s height"),
    ]
    told = [f"of {text} {percent(share, 2)}" for share, text in gains if share >= 0.02]
    return f"{words[0].upper()}{words[1:]}; four fillings there would make the range {', '.join(told)} narrower."
