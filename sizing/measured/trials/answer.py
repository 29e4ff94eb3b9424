"""A log of directions and tilts as plain data: numbers, texts, lists, ``None``; units in the names."""

from dataclasses import replace
from typing import Any

import numpy as np

from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.foundation.working import Worked, by_method, steps, work
from sizing.measured.day.answer import head_of, problems_answer
from sizing.measured.logs.logs import TurnLog
from sizing.measured.trials.fit import Difference, comparable
from sizing.measured.trials.orientation_trial import Measured, OrientationTrial, Tried
from sizing.measured.trials.sentences import angle_words, ends_sentence, explanation, held_words, model_sentence, next_sentence
from sizing.measured.trials.sun_heights import SunHeights

KEYS = {
    "current": ("panel_current_a", "A", 1.0),
    "voltage": ("panel_voltage_v", "V", 1.0),
    "power": ("panel_power_w", "W", 1.0),
    "flow": ("flow_l_per_min", "L/min", 1 / LITRE_PER_MINUTE),
}
"""Name and unit of each quantity in the answer, and what an SI value is multiplied by."""
FIRST = ("flow", "power", "current", "voltage")
"""The order in which quantities are told; a verdict speaks of the first that was measured."""


def turned_answer(found: OrientationTrial) -> dict[str, Any]:
    """All that a log of directions and tilts tells."""
    heights = found.heights
    return {
        **head_of(found.lesson),
        "verdict": verdict(found),
        "experiments": [experiment_answer(trial) for trial in found.tried],
        "readings": [reading_answer(found, at) for at in range(len(found.log.row))],
        "sun_heights": None if heights is None else heights_answer(heights),
        "problems": problems_answer(found.problems),
        "working": steps(
            [*(root for trial in found.tried for root in trial_roots(found, trial)), *(heights.working if heights else ())]
        ),
    }


def verdict(found: OrientationTrial) -> str:
    """The largest experiment's main quantity in a sentence, or what the heights of the sun say."""
    for trial in found.tried:
        for name in FIRST:
            part = next((each for each in trial.measured if each.quantity == name), None)
            if part is not None:
                return ends_sentence(trial, part)
    return found.heights.sentences[0] if found.heights else ""


def experiment_answer(trial: Tried) -> dict[str, Any]:
    """One experiment."""
    return {
        "changed": trial.experiment.changed,
        "title": f"The panel {held_words(trial)}",
        "held_deg": trial.experiment.held,
        "reference_day": trial.day.isoformat(),
        "reference_time_h": trial.hour,
        "days_and_teams": trial.blocks,
        "explanation": list(explanation(trial)),
        "quantities": [
            quantity_answer(trial, part) for part in sorted(trial.measured, key=lambda each: FIRST.index(each.quantity))
        ],
    }


def quantity_answer(trial: Tried, part: Measured) -> dict[str, Any]:
    """One quantity of an experiment, group by group."""
    key, unit, factor = KEYS[part.quantity]
    fit = part.fit
    groups = [
        {
            "angle_deg": float(part.angle[at]),
            "words": angle_words(trial.experiment.changed, float(part.angle[at])),
            "readings": int(fit.count[at]),
            "mean_as_read": factor * float(fit.raw[at]),
            "comparable_mean": factor * float(fit.mean[at]),
            "low": plain(factor * float(fit.low[at])),
            "high": plain(factor * float(fit.high[at])),
            "expected": factor * float(part.expected[at]),
            "measured_over_expected": float(fit.mean[at] / part.expected[at]),
        }
        for at in range(len(part.angle))
    ]
    return {
        "quantity": key,
        "unit": unit,
        "groups": groups,
        "sentences": [
            said for said in (ends_sentence(trial, part), next_sentence(trial, part), model_sentence(trial, part)) if said
        ],
        "best_to_least": difference_answer(part.ends),
        "best_to_next": difference_answer(part.next),
        "scatter_pct": plain(100 * fit.scatter),
        "freedom": fit.freedom,
        "model": {"angle_deg": part.line[0].tolist(), "value": (factor * part.line[1]).tolist()},
        "left_out": problems_answer(part.left_out),
    }


def plain(value: float) -> float | None:
    """A number as plain data; ``None`` where there is none."""
    return float(value) if np.isfinite(value) else None


def difference_answer(found: Difference | None) -> dict[str, Any] | None:
    """A difference between two groups."""
    if found is None:
        return None
    return {
        "share_pct": 100 * found.share,
        "uncertainty_pct": 100 * found.uncertainty,
        "confidence_pct": 100 * found.confidence,
        "more_readings_of_each": found.more,
    }


def reading_answer(found: OrientationTrial, at: int) -> dict[str, Any]:
    """One row, as it was read, and how strong the sky was by its current."""
    log: TurnLog = found.log
    return {
        "row": int(log.row[at]),
        "day": log.day[at].isoformat(),
        "time_h": float(log.hour[at]),
        "direction_deg": float(log.direction[at]),
        "tilt_deg": float(log.tilt[at]),
        "panel_voltage_v": plain(log.voltage[at]),
        "panel_current_a": plain(log.current[at]),
        "flow_l_per_min": plain(log.flow[at] / LITRE_PER_MINUTE),
        "sky": log.sky[at],
        "team": log.team[at],
        "sky_factor": plain(found.sky_factor[at]),
    }


def heights_answer(found: SunHeights) -> dict[str, Any]:
    """Heights of the sun."""
    rows = [
        {
            "row": int(row),
            "by": "shadow" if shadow else "instrument",
            "measured_deg": float(measured),
            "uncertainty_deg": float(spread),
            "computed_deg": float(computed),
        }
        for row, shadow, measured, spread, computed in zip(
            found.row, found.by_shadow, found.measured, found.uncertainty, found.computed, strict=True
        )
    ]
    return {
        "rows": rows,
        "offset_deg": found.offset,
        "offset_uncertainty_deg": found.offset_uncertainty,
        "clock_behind_min": found.minutes,
        "clock_uncertainty_min": found.minutes_uncertainty,
        "sentences": list(found.sentences),
    }


def trial_roots(found: OrientationTrial, trial: Tried) -> list[Worked]:
    """How one reading of each quantity of an experiment was carried to the reference moment."""
    roots = []
    for part in trial.measured:
        key, unit, factor = KEYS[part.quantity]
        at = int(np.argmax(part.values))
        row = int(found.log.row[part.rows[at]])
        expected = float(part.expected[part.group[at]])
        reading = Worked("reading", factor * float(part_reading(found.log, part, at)), unit, "measured")
        there = by_method(
            "expected_at_reference", factor * expected, unit, "ineichen_perez_2002", "By the design under a clear sky."
        )
        ratio = float(part.values[at]) / float(part_reading(found.log, part, at))
        then = by_method(
            "expected_then",
            factor * expected / ratio,
            unit,
            "ineichen_perez_2002",
            f"By the design under a clear sky, at the minute of row {row}.",
        )
        carried = work(comparable, reading=reading, expected_at_reference=there, expected_then=then)
        roots.append(replace(carried, name=f"comparable_{key}", unit=unit))
    return roots


def part_reading(log: TurnLog, part: Measured, at: int) -> float:
    """The reading behind a comparable one, in SI."""
    row = part.rows[at]
    return float(log.voltage[row] * log.current[row] if part.quantity == "power" else getattr(log, part.quantity)[row])
