"""The sheet of a day, a filled sheet and the looks at a finished fountain, as plain data with units in the names."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.csv_file import RowProblem
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.foundation.working import Worked, steps
from sizing.measured.day.clear_day import ClearDay, day_words
from sizing.measured.day.clear_day_uncertainty import SEEN, LessonSure
from sizing.measured.day.commissioning import NAMES, Kept, Looked, Wanted, judged_sentence
from sizing.measured.day.filled_sheet import Compared
from sizing.measured.day.sentences import by_chance, likely_stage, stage_sentence, verdict_sentence
from sizing.measured.day.sheet import Sheet
from sizing.measured.day.stage_residual import StageResidual
from sizing.operation.operating_point import REASONS, State
from sizing.uncertainty.causes import Cause
from sizing.uncertainty.uncertainty import shares

Array = NDArray[np.float64]

KEYS = {
    "sun_height": ("sun_altitude_deg", 1.0),
    "voltage": ("panel_voltage_v", 1.0),
    "current": ("panel_current_a", 1.0),
    "flow": ("flow_l_per_min", 1 / LITRE_PER_MINUTE),
    "jet": ("jet_height_m", 1.0),
}
"""Name and unit of each quantity in the answer: what an SI value is multiplied by."""


def sheet_answer(sheet: Sheet) -> dict[str, Any]:
    """A predicted day: a line every half hour, what makes it unsure, and the best moment's working."""
    return {
        **head_of(sheet.lesson),
        "day": sheet.day.isoformat(),
        "title": f"A clear {day_words(sheet.day)}",
        "lines": [line_of(sheet, index) for index in range(len(sheet.hour))],
        "causes": causes_of_day(sheet.sure, sheet.found.flow),
        "worked_time_h": sheet.moment.time,
        "working": steps([root for station in sheet.moment.stations for root in station.roots]),
    }


def head_of(lesson: ClearDay) -> dict[str, Any]:
    """What every answer about real days begins with."""
    return {
        "time_zone": lesson.time_zone,
        "tilt_deg": lesson.mounting.tilt,
        "azimuth_deg": lesson.mounting.azimuth,
        "has_jet": lesson.has_jet,
        "notes": [{"code": note.code, "severity": note.severity, "detail": note.detail} for note in lesson.notes],
    }


def line_of(sheet: Sheet, index: int) -> dict[str, Any]:
    """One line of a sheet."""
    found = sheet.found
    line: dict[str, Any] = {
        "time_h": float(sheet.hour[index]),
        "sun_altitude_deg": float(found.sun_altitude[index]),
        "sun_azimuth_deg": float(found.sun_azimuth[index]),
        "poa_w_per_m2": float(found.poa[index]),
        "cell_temperature_c": float(found.cell_temperature[index]),
        "state": State(int(found.state[index])).name.lower(),
        "reason": REASONS[State(int(found.state[index]))],
    }
    for name in SEEN:
        key, factor = KEYS[name]
        ends = (getattr(found, name), sheet.low[name], sheet.high[name])
        line[key] = dict(zip(("value", "low", "high"), (factor * float(end[index]) for end in ends), strict=True))
    return line


def causes_of_day(sure: LessonSure, flow: Array) -> list[dict[str, Any]]:
    """Causes by their share in the uncertainty of the flow at the hour with most of it."""
    best = int(np.argmax(flow))
    share = shares(sure.effects["flow"])[:, best]
    rows = [cause_of(cause, float(part)) for cause, part in zip(sure.causes, share, strict=True) if part > 0]
    return sorted(rows, key=lambda row: -row["share"])


def cause_of(cause: Cause, share: float) -> dict[str, Any]:
    """One cause."""
    return {
        "key": cause.key,
        "words": cause.words,
        "taken": cause.taken,
        "basis": cause.basis,
        "source": cause.source,
        "share": share,
    }


def problems_answer(problems: tuple[RowProblem, ...]) -> list[dict[str, Any]]:
    """What could not be read of a log."""
    return [{"row": each.row, "column": each.column, "sentence": each.sentence} for each in problems]


def compared_answer(found: Compared) -> dict[str, Any]:
    """A filled sheet beside its prediction, and the stages along the path."""
    return {
        **head_of(found.lesson),
        "verdict": verdict_sentence(found.doubts, found.wholes),
        "likely_stage": None if (worst := likely_stage(found.doubts)) is None else worst.stage,
        "by_chance": None if (chance := by_chance(found.doubts)) is None else chance.value,
        "stages": [stage_of(doubt) for doubt in found.doubts],
        "wholes": [whole_of(whole) for whole in found.wholes],
        "rows": rows_of(found),
        "problems": problems_answer(found.log.problems),
        "working": steps(judged_roots(found)),
    }


def judged_roots(found: Compared) -> list[Worked]:
    """The numbers of all judgements."""
    chance = by_chance(found.doubts)
    roots = [root for doubt in (*found.doubts, *found.wholes) for root in doubt.working]
    return roots if chance is None else [*roots, chance]


def whole_of(whole: StageResidual) -> dict[str, Any]:
    """A quantity against its prediction, all stages together."""
    return {
        "quantity": KEYS[whole.stage][0],
        "measured_over_predicted": whole.ratio,
        "uncertainty": whole.uncertainty,
        "off": whole.off,
        "readings": whole.count,
        "doubtful": whole.doubtful,
    }


def stage_of(doubt: StageResidual) -> dict[str, Any]:
    """One stage along the path."""
    return {
        "stage": doubt.stage,
        "sentence": stage_sentence(doubt),
        "measured_over_computed": doubt.ratio if doubt.stage != "sun" else None,
        "measured_less_computed_deg": doubt.ratio if doubt.stage == "sun" else None,
        "uncertainty": doubt.uncertainty,
        "off": doubt.off,
        "change_per_hour": doubt.drift,
        "change_uncertainty": None if doubt.drift is None else doubt.drift_uncertainty,
        "readings": doubt.count,
        "doubtful": doubt.doubtful,
    }


def rows_of(found: Compared) -> list[dict[str, Any]]:
    """The rows of a filled sheet, each quantity that was read beside its prediction."""
    log = found.log
    heads = zip(log.row.tolist(), [day.isoformat() for day in log.day], log.hour.tolist(), log.sky, log.team, strict=True)
    rows: list[dict[str, Any]] = [dict(zip(("row", "day", "time_h", "sky", "team"), head, strict=True)) for head in heads]
    for name, side in found.sides.items():
        key, factor = KEYS[name]
        read = ~np.isnan(side.measured)
        columns = [(factor * values).tolist() for values in (side.measured, side.predicted, side.low, side.high)]
        for row, known, measured, predicted, low, high, off in zip(rows, read.tolist(), *columns, side.off.tolist(), strict=True):
            row[key] = {
                "measured": measured if known else None,
                "predicted": predicted,
                "low": low,
                "high": high,
                "off": off if known else None,
            }
    return rows


def wanted_answer(wanted: Wanted) -> dict[str, Any]:
    """What to measure on a first clear day, and what to accept."""
    sheet = wanted.sheet
    lines = []
    for index in range(len(sheet.hour)):
        line = line_of(sheet, index)
        for name, (key, factor) in KEYS.items():
            value = sheet.found.sun_altitude if name == "sun_height" else getattr(sheet.found, name)
            ends = (value[index], wanted.least[name][index], wanted.most[name][index])
            line[key] = {end: factor * float(number) for end, number in zip(("value", "least", "most"), ends, strict=True)}
        lines.append(line)
    return {**head_of(sheet.lesson), "day": sheet.day.isoformat(), "title": f"A clear {day_words(sheet.day)}", "lines": lines}


def kept_answer(kept: Kept) -> dict[str, Any]:
    """The looks that a design holds: each reading judged, the stages of the last day, the years."""
    log = kept.whole.log
    return {
        "sentence": judged_sentence(kept),
        "looks": [
            {
                "day": log.day[index].isoformat(),
                "time_h": float(log.hour[index]),
                "sky": log.sky[index],
                "readings": [looked_answer(each) for each in look],
            }
            for index, look in enumerate(kept.looks)
        ],
        "last": compared_answer(kept.last),
        "trends": [
            {
                "quantity": KEYS[trend.name][0],
                "days": [day.isoformat() for day in trend.days],
                "measured_over_expected": list(trend.ratios),
                "change_per_year": trend.change,
                "uncertainty_per_year": trend.uncertainty,
                "sentence": trend.sentence,
            }
            for trend in kept.trends
        ],
    }


def looked_answer(each: Looked) -> dict[str, Any]:
    """One reading of a look."""
    key, factor = KEYS[each.name]
    ends = ("measured", "expected", "least", "most")
    verdict = {True: "accept", False: "look at", None: "not judged"}[each.accepted]
    return {
        "quantity": key,
        "words": NAMES[each.name],
        **{end: factor * getattr(each, end) for end in ends},
        "verdict": verdict,
    }
