"""A bench test as plain data: numbers, texts, lists, ``None``; units in the names."""

from typing import Any

import numpy as np

from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.foundation.working import steps
from sizing.measured.bench.advice import advice_sentence
from sizing.measured.bench.bench import Bench
from sizing.measured.bench.curves import Curve
from sizing.measured.bench.measured_pump import LabelComparison
from sizing.measured.bench.sentences import label_sentences
from sizing.measured.bench.working import bench_roots, setting_roots

MOST_WORKED = 40
"""Settings whose sum is shown one by one."""
MOST_ADVICE = 3


def plain(value: float | np.floating[Any]) -> float | None:
    """A number as plain data; ``None`` where there is none."""
    return float(value) if np.isfinite(value) else None


def bench_answer(found: Bench) -> dict[str, Any]:
    """All that a bench test tells."""
    return {
        "name": found.name,
        "rated_voltage_v": found.rated_voltage,
        "readings": len(found.readings.row),
        "left_out_rows": np.setdiff1d(found.log.row, found.readings.row).tolist(),
        "settings": settings_answer(found),
        "fit": fit_answer(found),
        "curve": curve_answer(found.curve),
        "curves": [curve_answer(curve) for curve in found.levels],
        "rows": rows_answer(found),
        "apart": [
            {
                "row": one.row,
                "team": one.team,
                "quantity": one.quantity,
                "times_uncertainty": one.times,
                "measured": one.measured / (LITRE_PER_MINUTE if one.quantity == "flow" else 1.0),
                "expected": one.expected / (LITRE_PER_MINUTE if one.quantity == "flow" else 1.0),
                "unit": "L/min" if one.quantity == "flow" else "A",
            }
            for one in found.apart
        ],
        "teams": [
            {
                "team": team.team,
                "readings": team.readings,
                "above_others_pct": 100 * team.share,
                "uncertainty_pct": 100 * team.uncertainty,
                "differs": bool(team.differs),
            }
            for team in found.teams
        ],
        "notes": [{"code": note.code, "severity": note.severity, "detail": note.detail} for note in found.notes],
        "problems": [
            {"row": problem.row, "column": problem.column, "sentence": problem.sentence} for problem in found.log.problems
        ],
        "advice": [
            {
                "kind": one.kind,
                "voltage_v": one.voltage,
                "height_m": one.height,
                "curve_narrower_pct": 100 * one.curve,
                "shut_off_narrower_pct": 100 * one.shut_off,
                "flow_narrower_pct": None if one.flow is None else 100 * one.flow,
                "sentence": advice_sentence(one),
            }
            for one in found.further[:MOST_ADVICE]
        ],
        "pump": found.pump,
        "label": None if found.label is None else label_answer(found.label),
        "working": steps(bench_roots(found)),
    }


def settings_answer(found: Bench) -> list[dict[str, Any]]:
    """Every setting with its flow; the sums of the first ones, step by step."""
    settings = found.settings
    return [
        {
            "voltage_v": float(settings.voltage[index]),
            "current_a": float(settings.current[index]),
            "height_m": float(settings.height[index]),
            "head_m": float(settings.head[index]),
            "repeats": int(settings.repeats[index]),
            "teams": int(settings.teams[index]),
            "flow_l_per_min": float(settings.flow[index]) / LITRE_PER_MINUTE,
            "uncertainty_l_per_min": float(settings.uncertainty[index]) / LITRE_PER_MINUTE,
            "by_chance_l_per_min": float(settings.chance[index]) / LITRE_PER_MINUTE,
            "scatter_pct": 100 * float(settings.scatter[index]) if settings.repeats[index] > 1 else None,
            "working": steps(setting_roots(found, index)) if index < MOST_WORKED else [],
        }
        for index in range(len(settings.flow))
    ]


def fit_answer(found: Bench) -> dict[str, Any]:
    """The numbers of the fit."""
    fit, curve, shut_off = found.fit, found.curve, found.shut_off
    best = int(np.argmax(curve.efficiency))
    return {
        "winding_resistance_ohm": fit.winding,
        "winding_uncertainty_ohm": found.motor[0],
        "winding_assumed": bool(fit.usual[0]),
        "no_load_current_a": fit.no_load,
        "no_load_uncertainty_a": found.motor[1],
        "no_load_assumed": bool(fit.usual[1]),
        "shut_off_measured": bool(curve.flow[0] == 0),
        "shut_off_head_m": float(shut_off.head[0]),
        "shut_off_head_uncertainty_m": float(shut_off.head_uncertainty[0]),
        "largest_flow_l_per_min": float(curve.flow[-1]) / LITRE_PER_MINUTE,
        "best_efficiency_pct": 100 * float(curve.efficiency[best]),
        "best_efficiency_uncertainty_pct": 100 * float(curve.efficiency_uncertainty[best]),
        "best_flow_l_per_min": float(curve.flow[best]) / LITRE_PER_MINUTE,
        "states": fit.states,
        "misfit": fit.misfit,
        "freedom": fit.freedom,
        "widening": float(np.sqrt(fit.widening)),
        "scatter": found.scatter,
    }


def curve_answer(curve: Curve) -> dict[str, Any]:
    """The pump at one voltage, with the ends of the likely ranges."""
    rows = [
        {
            "flow_l_per_min": float(flow) / LITRE_PER_MINUTE,
            "head_m": float(head),
            "head_low_m": max(float(head - spread), 0.0),
            "head_high_m": float(head + spread),
            "current_a": float(current),
            "current_low_a": max(float(current - off), 0.0),
            "current_high_a": float(current + off),
            "efficiency_pct": 100 * float(share),
            "efficiency_low_pct": 100 * max(float(share - wide), 0.0),
            "efficiency_high_pct": 100 * float(share + wide),
        }
        for flow, head, spread, current, off, share, wide in zip(
            curve.flow,
            curve.head,
            curve.head_uncertainty,
            curve.current,
            curve.current_uncertainty,
            curve.efficiency,
            curve.efficiency_uncertainty,
            strict=True,
        )
    ]
    return {"voltage_v": curve.voltage, "rows": rows}


def rows_answer(found: Bench) -> list[dict[str, Any]]:
    """Every reading beside what all readings together say at its volts and head."""
    readings, misses = found.readings, found.misses
    columns = (
        readings.row.tolist(),
        readings.team,
        readings.voltage.tolist(),
        readings.current.tolist(),
        readings.height.tolist(),
        readings.head.tolist(),
        (readings.volume / LITRE).tolist(),
        readings.fill_time.tolist(),
        (readings.flow / LITRE_PER_MINUTE).tolist(),
        [plain(value) for value in misses.flow / LITRE_PER_MINUTE],
        misses.head_off.tolist(),
        misses.head_pull.tolist(),
        misses.current_off.tolist(),
        misses.current_pull.tolist(),
        found.settings.member.tolist(),
        found.apart_mask.tolist(),
    )
    names = (
        "row",
        "team",
        "voltage_v",
        "current_a",
        "height_m",
        "head_m",
        "volume_l",
        "fill_time_s",
        "flow_l_per_min",
        "expected_flow_l_per_min",
        "head_off_m",
        "head_off_times",
        "current_off_a",
        "current_off_times",
        "setting",
        "apart",
    )
    return [dict(zip(names, row, strict=True)) for row in zip(*columns, strict=True)]


def label_answer(label: LabelComparison) -> dict[str, Any]:
    """The pump beside its label."""
    return {
        "voltage_v": label.voltage,
        "from": "points" if label.points else "box",
        "sentences": list(label_sentences(label)),
        "head_m": label.head,
        "label_flow_l_per_min": label.label_flow / LITRE_PER_MINUTE,
        "flow_l_per_min": plain(label.flow / LITRE_PER_MINUTE),
        "flow_uncertainty_l_per_min": plain(label.flow_uncertainty / LITRE_PER_MINUTE),
        "rows": [
            {
                "flow_l_per_min": row.flow / LITRE_PER_MINUTE,
                "label_head_m": row.label_head,
                "head_m": row.head,
                "head_uncertainty_m": row.head_uncertainty,
                "head_differs": bool(row.head_differs),
                "label_current_a": row.label_current,
                "current_a": row.current,
                "current_uncertainty_a": row.current_uncertainty,
                "current_differs": bool(row.current_differs),
            }
            for row in label.rows
        ],
    }
