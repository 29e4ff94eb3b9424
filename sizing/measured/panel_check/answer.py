"""A panel check as plain data: numbers, texts, lists, ``None``; units in the names."""

from collections.abc import Sequence
from math import isfinite
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sizing.answers.kit import plain
from sizing.answers.shared import RowProblemAnswer
from sizing.foundation.working import steps
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.day.answer import head_of
from sizing.measured.day.stage_residuals import DOUBT
from sizing.measured.panel_check.diagnosis import Explanation
from sizing.measured.panel_check.faults import SIZE, SUN, WARMTH
from sizing.measured.panel_check.panel_check import Drawn, PanelCheck, Sitting
from sizing.measured.panel_check.points import USED, Beside, Kind
from sizing.measured.panel_check.sentences import ADVICE, NAMES, amount
from sizing.measured.panel_check.working import reading_roots, sitting_roots

MOST_WORKED = 12
"""Readings whose sums are shown one by one."""
KINDS = {int(kind): kind.name.lower() for kind in Kind}


def plains(values: NDArray[np.float64]) -> list[float | None]:
    """Numbers as plain data; ``None`` where there is none."""
    return [value if isfinite(value) else None for value in values.tolist()]


def panel_check_answer(found: PanelCheck) -> dict[str, Any]:
    """All that a panel check tells."""
    head = plain(head_of(found.lesson))
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
        "readings": readings_answer(found),
        "used": int(used.sum()),
        "sittings": [sitting_answer(found, sitting) for sitting in found.sittings],
        "problems": [plain(RowProblemAnswer.of(problem)) for problem in found.log.problems],
    }


def readings_answer(found: PanelCheck) -> list[dict[str, Any]]:
    """Every reading with all that is known of it; column by column, since thousands of readings take turns."""
    log, readings = found.log, found.readings
    columns: dict[str, Sequence[Any]] = {
        "row": log.row.tolist(),
        "team": log.team,
        "day": [day.isoformat() for day in log.day],
        "time_h": log.hour.tolist(),
        "sky": log.sky,
        "sitting": found.sitting.tolist(),
        "kind": [KINDS[kind] for kind in found.kind.tolist()],
        "voltage_v": log.voltage.tolist(),
        "current_a": log.current.tolist(),
        "voltage_uncertainty_v": readings.voltage_uncertainty.tolist(),
        "current_uncertainty_a": readings.current_uncertainty.tolist(),
        "effective_w_per_m2": readings.effective.tolist(),
        "cell_temperature_c": readings.cell_temperature.tolist(),
        "clear_sky": besides_answer(found.beside),
        "told_sun": besides_answer(found.shape),
        "sun_told_w_per_m2": plains(found.told * readings.effective),
        "sun_told_over_clear_sky": plains(found.told),
        "working": [working_of(found, index) for index in range(len(found.kind))],
    }
    return [dict(zip(columns, row, strict=True)) for row in zip(*columns.values(), strict=True)]


def working_of(found: PanelCheck, index: int) -> list[Any]:
    """How the numbers of one of the first readings came about."""
    worked = index < MOST_WORKED and not found.cloudy[index] and found.kind[index] in USED
    return steps(reading_roots(found, index)) if worked else []


def besides_answer(beside: Beside) -> list[dict[str, Any] | None]:
    """Readings beside a curve; ``None`` where nothing is compared."""
    columns = {
        "unit": np.where(beside.in_volts, "V", "A").tolist(),
        "measured": beside.measured.tolist(),
        "computed": beside.computed.tolist(),
        "ratio": beside.ratio.tolist(),
        "uncertainty": beside.uncertainty.tolist(),
        "times_uncertainty": beside.times.tolist(),
        "within": (np.abs(beside.times) <= DOUBT).tolist(),
    }
    rows = zip(np.isfinite(beside.ratio).tolist(), *columns.values(), strict=True)
    return [dict(zip(columns, row, strict=True)) if compared else None for compared, *row in rows]


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
