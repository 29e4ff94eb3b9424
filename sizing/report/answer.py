"""The report as plain JSON data: the public answer of the HTTP interface and of ``--json``."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import Note
from sizing.foundation.sources.all_sources import SOURCES
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.foundation.version import MODEL_VERSION
from sizing.foundation.working import steps
from sizing.hydraulic.outlet import Spillway
from sizing.operation.operating_point import REASONS, OperatingPoints, State
from sizing.operation.year import Month
from sizing.report.report import Report
from sizing.uncertainty.uncertainty import band, shares
from sizing.uncertainty.uncertainty_budget import remedy_of

WATER = ("water_l_per_day", "water_low_l_per_day", "water_high_l_per_day")


def answer(report: Report) -> dict[str, Any]:
    """Everything a report holds that can be written down; numbers in full, units in the names."""
    moment_roots = [root for station in report.moment.stations for root in station.roots]
    working = steps([*moment_roots, *report.months_worked, *report.band_worked])
    return {
        "model_version": MODEL_VERSION,
        "title": report.design.title,
        "design": report.design.model_dump(mode="json", exclude_unset=True, exclude_none=True),
        "place": {
            "name": report.place.name,
            "latitude_deg": report.place.latitude,
            "longitude_deg": report.place.longitude,
            "elevation_m": report.place.elevation,
        },
        "mounting": {
            "tilt_deg": report.mounting.tilt,
            "azimuth_deg": report.mounting.azimuth,
            "compass_deg": report.mounting.compass_reading,
            "declination_deg": report.mounting.declination,
        },
        "sky": sky(report),
        "verdict": {
            "headline": report.verdict.headline,
            "dry": report.verdict.dry,
            "limit": report.verdict.limit,
        },
        "goal": goal(report),
        "months": [month(report, index, found) for index, found in enumerate(report.year.months)],
        "year": year(report),
        "how_sure": how_sure(report),
        "usual_day": {
            "flow_l_per_min": numbers(report.year.usual_flow / LITRE_PER_MINUTE),
            "jet_height_m": None if has_no_jet(report) else numbers(report.year.usual_jet),
        },
        "operating_points": points(report, report.points),
        "first_playing_irradiance_w_per_m2": report.first_sun,
        "moment": moment(report, {step["id"] for step in working}),
        "assumptions": [note(found) for found in report.assumptions],
        "warnings": [note(found) for found in report.warnings],
        "working": working,
        "sources": sources(working, {cause.source for cause in report.how_sure.causes}),
    }


def has_no_jet(report: Report) -> bool:
    """A spillway has a sheet and no jet."""
    return isinstance(report.fountain.waterway.outlet, Spillway)


def numbers(values: NDArray[np.float64]) -> list[Any]:
    """An array as nested lists of plain numbers."""
    return list(np.asarray(values, dtype=float).tolist())


def sky(report: Report) -> dict[str, Any]:
    """Where the sun of the year comes from."""
    found = report.sky
    return {
        "kind": found.kind,
        "title": found.title,
        "hour_basis": found.hour_basis,
        "clearness": [float(value) for value in found.clearness],
        "air_temperature_c": [float(value) for value in found.air_temperature_month],
        "year_band": found.year_band,
        "month_band": found.month_band,
    }


def month(report: Report, index: int, found: Month) -> dict[str, Any]:
    """One of the twelve months."""
    low, high = (float(end[index]) / found.days / LITRE for end in report.water_band)
    return {
        "month": found.month,
        "days": found.days,
        "poa_kwh_per_m2_day": found.poa_insolation,
        "running_h_per_day": found.running_hours,
        "water_l_per_day": found.water / LITRE,
        "water_low_l_per_day": low,
        "water_high_l_per_day": high,
        "water_dull_l_per_day": found.water_p10 / LITRE,
        "water_usual_l_per_day": found.water_p50 / LITRE,
        "water_bright_l_per_day": found.water_p90 / LITRE,
        "jet_height_m": None if has_no_jet(report) else found.jet,
        "flow_l_per_min": found.flow / LITRE_PER_MINUTE,
        "best_hour": found.best_hour,
        "first_hour": found.first_hour,
        "last_hour": found.last_hour,
        "dry_days": found.dry_days,
        "over_voltage_h": found.over_voltage_hours,
    }


def goal(report: Report) -> dict[str, Any] | None:
    """How far the goal is reached; nothing where the design sets none."""
    found = report.goal
    if found is None:
        return None
    return {
        "met": found.met,
        "hours": found.hours,
        "window_hours": found.window_hours,
        "months": [{"month": number, "days_out_of_ten": 10 * share} for number, share in found.day_share.items()],
        "poorest_month": found.poorest_month,
        "sentence": report.verdict.goal,
    }


def year(report: Report) -> dict[str, Any]:
    """The sums of the year."""
    found = report.year
    return {
        "water_l": found.water / LITRE,
        "water_low_l": report.year_band[0] / LITRE,
        "water_high_l": report.year_band[1] / LITRE,
        "running_h": found.running_hours,
        "poa_kwh_per_m2": found.poa_insolation,
        "hours_by_state": {state.name.lower(): hours for state, hours in found.hours_by_state.items()},
    }


def how_sure(report: Report) -> dict[str, Any]:
    """Likely ranges with all causes together, the causes, and what would narrow the year's range most."""
    found, jetless = report.how_sure, has_no_jet(report)
    jets = np.array([each.jet for each in report.year.months])
    jet_low, jet_high = (numbers(end) for end in band(jets, found.jet))
    best = max(report.year.months, key=lambda each: (each.water, each.poa_insolation)).month - 1
    remedy = remedy_of(found, report.year.water)
    return {
        "year": {key: year(report)[key] for key in ("water_l", "water_low_l", "water_high_l")},
        "months": [
            {
                **{key: month(report, index, each)[key] for key in ("month", *WATER)},
                "jet_height_m": None if jetless else each.jet,
                "jet_low_m": None if jetless else jet_low[index],
                "jet_high_m": None if jetless else jet_high[index],
            }
            for index, each in enumerate(report.year.months)
        ],
        "best_month": best + 1,
        "causes": causes(report, best),
        "shrink_most": None
        if remedy is None
        else {
            "causes": list(remedy.keys),
            "variance_share": remedy.share,
            "water_low_l": remedy.low / LITRE,
            "water_high_l": remedy.high / LITRE,
            "sentence": remedy.sentence,
        },
    }


def causes(report: Report, best: int) -> list[dict[str, Any]]:
    """Each cause with its share in the variance of the year, and of water and jet of the best month (0 to 11)."""
    found = report.how_sure
    in_year, in_month, in_jet = (
        numbers(share) for share in (shares(found.year), shares(found.months).T[best], shares(found.jet).T[best])
    )
    return [
        {
            "key": cause.key,
            "words": cause.words,
            "given": cause.taken,
            "standard_uncertainty": float(np.sqrt((cause.below**2 + cause.above**2) / 2)),
            "standard_uncertainty_below": cause.below,
            "standard_uncertainty_above": cause.above,
            "unit": cause.unit,
            "basis": cause.basis,
            "source": cause.source,
            "advice": cause.advice,
            "year_share": in_year[index],
            "month_share": in_month[index],
            "jet_share": in_jet[index],
            "low_effect_l": float(found.year.below[index]) / LITRE,
            "high_effect_l": float(found.year.above[index]) / LITRE,
        }
        for index, cause in enumerate(found.causes)
    ]


def points(report: Report, found: OperatingPoints) -> list[dict[str, Any]]:
    """The operating points at the listed strengths of sun."""
    rows = []
    for index, irradiance in enumerate(report.strengths):
        state = State(int(found.state[index]))
        rows.append(
            {
                "irradiance_w_per_m2": float(irradiance),
                "cell_temperature_c": float(report.strength_temperature[index]),
                "voltage_v": float(found.voltage[index]),
                "current_a": float(found.current[index]),
                "speed_ratio": float(found.speed[index]),
                "flow_l_per_min": float(found.flow[index]) / LITRE_PER_MINUTE,
                "head_m": float(found.head[index]),
                "jet_height_m": None if has_no_jet(report) else float(found.jet[index]),
                "state": state.name.lower(),
                "reason": REASONS[state],
            }
        )
    return rows


def moment(report: Report, ids: set[str]) -> dict[str, Any]:
    """The moment that is worked out, station by station along the path."""
    found = report.moment
    return {
        "month": found.month or None,
        "hour": found.hour if found.month else None,
        "sky": found.sky or None,
        "day_of_year": found.day + 1 if found.month else None,
        "time_h": found.time if found.month else None,
        "state": found.state.name.lower(),
        "reason": REASONS[found.state],
        "stations": [
            {
                "name": station.name,
                "value": station.roots[0].value,
                "unit": station.roots[0].unit,
                "working_id": station.roots[0].name if station.roots[0].name in ids else None,
            }
            for station in found.stations
            if station.roots
        ],
    }


def note(found: Note) -> dict[str, Any]:
    """An assumption or a warning."""
    return {"code": found.code, "severity": found.severity, "detail": found.detail, "pointer": found.pointer}


def sources(working: list[dict[str, Any]], others: set[str]) -> dict[str, Any]:
    """The publications that the working names, and others."""
    keys = sorted({step["source"] for step in working if step["source"]} | others)
    return {
        key: {
            "title": SOURCES[key].title,
            "publisher": SOURCES[key].publisher,
            "year": SOURCES[key].year,
            "where": SOURCES[key].where,
            "read": SOURCES[key].read,
        }
        for key in keys
    }
