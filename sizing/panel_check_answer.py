"""A panel check as plain data: numbers, texts, lists, ``None``; units in the names."""

from typing import Any

import numpy as np

from sizing.clear_sky import CLEAR_SKY_SHARE
from sizing.doubt import DOUBT
from sizing.panel_check import Drawn, PanelCheck, Sitting
from sizing.panel_diagnosis import Explanation
from sizing.panel_faults import SIZE, SUN, WARMTH
from sizing.panel_points import USED, Beside, Kind
from sizing.panel_words import ADVICE, NAMES, amount
from sizing.panel_working import reading_roots, sitting_roots
from sizing.sheet_answer import head_of, problems_answer
from sizing.working import steps

MOST_WORKED = 12
"""Readings whose sums are shown one by one."""


def plain(value: float | np.floating[Any]) -> float | None:
    """A number as plain data; ``None`` where there is none."""
    return float(value) if np.isfinite(value) else None


def panel_check_answer(found: PanelCheck) -> dict[str, Any]:
    """All that a panel check tells."""
    head = head_of(found.lesson)
    head["notes"] = [{"code": note.code, "severity": note.severity, "detail": note.detail} for note in found.notes]
    used = np.isin(found.kind, USED) & ~found.cloudy
    return {
        **head,
        "verdict": found.verdict,
        "label": {
            "open_circuit_voltage_v": found.label.voc,
            "short_circuit_current_a": found.label.isc,
            "in_series": found.label.in_series,
            "in_parallel": found.label.in_parallel,
        },
        "clear_sky_uncertainty_pct": 100 * CLEAR_SKY_SHARE,
        "readings": [reading_answer(found, index) for index in range(len(found.kind))],
        "used": int(used.sum()),
        "sittings": [sitting_answer(found, sitting) for sitting in found.sittings],
        "problems": problems_answer(found.log.problems),
    }


def reading_answer(found: PanelCheck, index: int) -> dict[str, Any]:
    """One reading with all that is known of it."""
    log, told = found.log, float(found.told[index])
    worked = index < MOST_WORKED and not found.cloudy[index] and found.kind[index] in USED
    return {
        "row": int(log.row[index]),
        "team": log.team[index],
        "day": log.day[index].isoformat(),
        "time_h": float(log.hour[index]),
        "sky": log.sky[index],
        "sitting": int(found.sitting[index]),
        "kind": Kind(int(found.kind[index])).name.lower(),
        "voltage_v": float(log.voltage[index]),
        "current_a": float(log.current[index]),
        "voltage_uncertainty_v": float(found.readings.voltage_uncertainty[index]),
        "current_uncertainty_a": float(found.readings.current_uncertainty[index]),
        "effective_w_per_m2": float(found.readings.effective[index]),
        "cell_temperature_c": float(found.readings.cell_temperature[index]),
        "clear_sky": beside_answer(found.beside, index),
        "told_sun": beside_answer(found.shape, index),
        "sun_told_w_per_m2": plain(told * found.readings.effective[index]),
        "sun_told_over_clear_sky": plain(told),
        "working": steps(reading_roots(found, index)) if worked else [],
    }


def beside_answer(beside: Beside, index: int) -> dict[str, Any] | None:
    """A reading beside a curve; ``None`` where nothing is compared."""
    if not np.isfinite(beside.ratio[index]):
        return None
    times = float(beside.times[index])
    return {
        "unit": "V" if beside.in_volts[index] else "A",
        "measured": float(beside.measured[index]),
        "computed": float(beside.computed[index]),
        "ratio": float(beside.ratio[index]),
        "uncertainty": float(beside.uncertainty[index]),
        "times_uncertainty": times,
        "within": abs(times) <= DOUBT,
    }


def sitting_answer(found: PanelCheck, sitting: Sitting) -> dict[str, Any]:
    """One sitting."""
    diagnosis = sitting.diagnosis
    return {
        "sitting": int(found.sitting[sitting.at[0]]),
        "day": sitting.day.isoformat(),
        "from_h": sitting.first,
        "to_h": sitting.last,
        "rows": found.log.row[sitting.at].tolist(),
        "sun_told_over_clear_sky": sitting.told,
        "sun_told_uncertainty": sitting.told_uncertainty,
        "sentences": list(sitting.sentences),
        "likeliest": None if diagnosis is None else diagnosis.best.key,
        "rivals": [] if diagnosis is None else [each.key for each in diagnosis.rivals],
        "widening": None if diagnosis is None else diagnosis.widening,
        "hidden": [] if diagnosis is None else list(diagnosis.hidden),
        "explanations": []
        if diagnosis is None
        else [explanation_answer(found, each, diagnosis.widening) for each in diagnosis.ranked],
        "curves": [curve_answer(curve) for curve in sitting.curves],
        "working": steps(sitting_roots(found, sitting)),
    }


def explanation_answer(found: PanelCheck, each: Explanation, widening: float) -> dict[str, Any]:
    """One explanation; numbers that do not belong to it are ``None``."""
    numbers, spread, suspect = each.fit.numbers, widening * each.fit.uncertainty, each.fit.suspect
    sized = SIZE in suspect.free
    ohms = sized and each.key == "resistance"
    return {
        "key": each.key,
        "name": NAMES[each.key],
        "sentence": amount(each, found.label, widening),
        "advice": ADVICE[each.key],
        "likelihood_pct": None if each.likelihood is None else 100 * each.likelihood,
        "misfit": each.fit.misfit,
        "numbers_found": each.fit.found,
        "score": each.score,
        "light_over_clear_sky": float(numbers[SUN]),
        "light_uncertainty": float(spread[SUN]),
        "cells_warmer_k": float(numbers[WARMTH]),
        "cells_warmer_uncertainty_k": float(spread[WARMTH]),
        "shaded_light_pct": 100 * float(numbers[SIZE]) if sized and not ohms else None,
        "shaded_light_uncertainty_pct": 100 * float(spread[SIZE]) if sized and not ohms else None,
        "parts": suspect.parts if suspect.parts > 1 else None,
        "resistance_ohm": float(numbers[SIZE]) if ohms else None,
        "resistance_uncertainty_ohm": float(spread[SIZE]) if ohms else None,
        "power_over_label": each.power,
    }


def curve_answer(curve: Drawn) -> dict[str, Any]:
    """One curve of the picture."""
    return {"key": curve.key, "name": curve.name, "voltage_v": curve.voltage.tolist(), "current_a": curve.current.tolist()}
