"""A panel check from its log: every reading beside the label, sitting by sitting what may be wrong, and the curves of it."""

import datetime
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.aligned_numbers import with_range
from sizing.foundation.errors import Note
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.day.clear_day import ClearDay, Expected, expected
from sizing.measured.day.stage_residuals import DOUBT
from sizing.measured.logs.instruments import USUAL, Instruments
from sizing.measured.logs.logs import PanelLog
from sizing.measured.panel_check.diagnosis import USUAL_SHADES, Diagnosis, curve_of, diagnosed
from sizing.measured.panel_check.faults import Fit, Suspect, as_labelled, shaded_group
from sizing.measured.panel_check.points import USED, Beside, Kind, Readings, beside_clear_sky, kinds, readings_of, sittings
from sizing.measured.panel_check.sentences import (
    METER_AMPERES,
    NOTHING,
    TOUCH_VOLTS,
    cloud_sentence,
    cold_sentence,
    diagnosis_sentences,
    safety_sentence,
    shape_sentence,
    sun_sentence,
    verdict,
)
from sizing.measured.panel_check.shapes import Labelled, labelled
from sizing.measured.panel_check.short_circuit_sun import beside_told_sun, told_by_nearest, told_share

Array = NDArray[np.float64]

MOST_SITTINGS = 6
"""The latest so many are looked at closely."""
MOST_FITTED = 80
"""Of more readings in a sitting some are taken evenly: no curve needs more."""
USUAL_DIRT = 0.8
"""[1] Light behind a dirty glass, for the picture."""
CHANGE = 0.01
"""[1] So well the clear sky's own change from one sitting to the next is known (common practice, no source)."""
MOST_NAMED = 5


@dataclass(frozen=True, eq=False)
class Drawn:
    """A curve for a picture: volts and amperes, and what it is."""

    key: str
    name: str
    voltage: Array
    current: Array


@dataclass(frozen=True, eq=False)
class Sitting:
    """Readings taken one after the other: which rows, what the short circuit tells [1, of a clear sky] and how sure,
    what may be wrong (None where nothing could be fitted), sentences and curves."""

    day: datetime.date
    first: float
    last: float
    at: NDArray[np.int64]
    told: float | None
    told_uncertainty: float | None
    diagnosis: Diagnosis | None
    sentences: tuple[str, ...]
    curves: tuple[Drawn, ...]


@dataclass(frozen=True, eq=False)
class PanelCheck:
    """All that a panel check tells; ``sitting`` is the number of each reading's."""

    log: PanelLog
    lesson: ClearDay
    instruments: Instruments
    label: Labelled
    clear: Expected
    readings: Readings
    kind: NDArray[np.int8]
    cloudy: NDArray[np.bool_]
    sitting: NDArray[np.int64]
    told: Array
    nearest: Array
    beside: Beside
    shape: Beside
    sittings: tuple[Sitting, ...]
    notes: tuple[Note, ...]

    @property
    def verdict(self) -> str:
        """First of all: what the latest sitting says that can be explained."""
        explained = [each.diagnosis for each in self.sittings if each.diagnosis is not None]
        return verdict(explained[-1], self.label) if explained else NOTHING


def panel_check_of(log: PanelLog, lesson: ClearDay, instruments: Instruments = USUAL) -> PanelCheck:
    """What the readings at a panel's terminals say of it.

    Parameters
    ----------
    log : readings with nothing but meters or a load on the panel
    lesson : the design on real days; its dirt is in the clear sky's sun already

    Examples
    --------
    >>> from pathlib import Path
    >>> from sizing.measured.logs.logs import read_panel
    >>> from sizing.measured.day.clear_day import clear_day_of
    >>> from sizing.design.reading import parse_design
    >>> lesson = clear_day_of(parse_design(Path("examples/quince_court_jet.json").read_bytes()))
    >>> found = panel_check_of(read_panel(Path("examples/panel_wren_yard.csv").read_bytes()), lesson)
    >>> found.sittings[0].diagnosis.best.key
    'clean'
    """
    clear = expected(lesson, log.day, log.hour, air_temperature=log.air_temperature)
    label = labelled(lesson.fountain.panel_input, lesson.fountain.supply.panel)
    rise = clear.cell_temperature - clear.air_temperature
    found = readings_of(log.voltage, log.current, clear.effective, clear.cell_temperature, rise, instruments)
    kind = kinds(found, label, instruments)
    number = sittings(log.day, log.hour)
    told = told_share(found, label, kind)
    cloudy = np.array([sky == "clouds" for sky in log.sky], dtype=bool)
    nearest = told_by_nearest(told, log.hour, number, log.team)
    check = PanelCheck(
        log,
        lesson,
        instruments,
        label,
        clear,
        found,
        kind,
        cloudy,
        number,
        told,
        nearest,
        beside_clear_sky(found, label, np.where(cloudy, Kind.NOTHING, kind).astype(np.int8)),
        beside_told_sun(found, label, kind, nearest, instruments.current_digit),
        (),
        (),
    )
    last = range(max(int(number.max()) + 1 - MOST_SITTINGS, 0), int(number.max()) + 1)
    sat = tuple(sitting_of(check, which) for which in last)
    return replace(check, sittings=sat, notes=(*notes_of(check), *between(check, sat), *lesson.notes))


def sitting_of(check: PanelCheck, number: int) -> Sitting:
    """One sitting: its sun, its shape, what may be wrong."""
    at = np.flatnonzero(check.sitting == number)
    hours = check.log.hour[at]
    usable = at[np.isin(check.kind[at], USED) & ~check.cloudy[at]]
    told, spread = sun_told(check, usable)
    said: list[str] = []
    if told is not None and spread is not None:
        light = told * float(np.median(check.readings.effective[usable]))
        said.append(sun_sentence(told, spread, light, CLEAR_SKY_SHARE))
        compared = usable[~np.isnan(check.shape.times[usable])]
        if len(compared):
            said.append(shape_sentence(len(compared), int(np.sum(np.abs(check.shape.times[compared]) > DOUBT))))
    where = (check.log.day[int(at[0])], float(hours.min()), float(hours.max()), at, told, spread)
    clouded = shape_under_clouds(check, at)
    if len(usable) == 0:
        return Sitting(*where, None, (NOTHING, *clouded), ())
    chosen = usable[np.unique(np.linspace(0, len(usable) - 1, MOST_FITTED).round().astype(int))]
    teams = len({check.log.team[index] for index in chosen})
    own = check.readings.only(chosen).by_chance(check.instruments, teams)
    diagnosis = diagnosed(own, check.label, check.instruments)
    said += [*diagnosis_sentences(diagnosis, check.label), *clouded]
    return Sitting(*where, diagnosis, tuple(said), drawn(own, check.label, diagnosis, told))


def shape_under_clouds(check: PanelCheck, at: NDArray[np.int64]) -> tuple[str, ...]:
    """What can be said of the readings of a sitting for which clouds were remarked."""
    times = check.shape.times[at[check.cloudy[at]]]
    compared = np.abs(times[~np.isnan(times)])
    return (cloud_sentence(len(compared), int(np.sum(compared > DOUBT))),) if len(compared) else ()


def sun_told(check: PanelCheck, usable: NDArray[np.int64]) -> tuple[float | None, float | None]:
    """Mean of what the short circuits tell, and its uncertainty: the meter's share in common, the last digit by chance."""
    shorts = usable[~np.isnan(check.told[usable])]
    if len(shorts) == 0:
        return None, None
    told, current = float(check.told[shorts].mean()), check.log.current[shorts]
    digit = float(np.mean(check.instruments.current_digit / current)) / np.sqrt(len(shorts))
    scatter = float(np.std(check.told[shorts], ddof=1)) / told / np.sqrt(len(shorts)) if len(shorts) > 1 else 0.0
    return told, told * float(np.hypot(check.instruments.current_share, max(digit, scatter)))


def drawn(own: Readings, label: Labelled, diagnosis: Diagnosis, told: float | None) -> tuple[Drawn, ...]:
    """The label under a clear sky and under the sun that was told, the likeliest explanation, and what dirt and shade do."""
    clean, dirty = Suspect("clean", as_labelled), Suspect("dirt_or_haze", as_labelled)
    shaded = shaded_group(label, 2 * label.in_series, (0.0, 1.0))
    wanted = [("label", "clear sky", clean, 1.0, 1.0)]
    if told is not None:
        wanted.append(("told", "its own sun", clean, told, 1.0))
    wanted += [
        ("dirty", "dirty", dirty, USUAL_DIRT, 1.0),
        ("shaded", "part shade", shaded, 1.0, USUAL_SHADES["shaded_group"]),
    ]
    curves = [
        Drawn(key, name, *curve_of(label, own, Fit(suspect, np.array([sun, 0.0, size]), np.zeros(3), 0.0, 0)))
        for key, name, suspect, sun, size in wanted
    ]
    best = Drawn("best", "fits best", *curve_of(label, own, diagnosis.best.fit))
    return (*curves[:-2], best, *curves[-2:])


def notes_of(check: PanelCheck) -> tuple[Note, ...]:
    """What the reader should know of the readings and of safety."""
    kind, rows, notes = check.kind, check.log.row, list[Note]()

    def some(which: NDArray[np.bool_], code: str, text: str) -> None:
        if np.any(which):
            named = ", ".join(str(row) for row in rows[which][:MOST_NAMED])
            more = f" and {int(which.sum()) - MOST_NAMED} more" if which.sum() > MOST_NAMED else ""
            notes.append(Note(code, "warning", f"Row{'s' if which.sum() > 1 else ''} {named}{more}: {text}"))

    some(
        kind == Kind.IMPOSSIBLE,
        "impossible",
        "no panel with this label gives so much; check the unit (mA or A, mV or V) and the decimal point; left out.",
    )
    some(kind == Kind.DARK, "dark", "the sun is not on the panel at that day and hour; check both, and the time zone.")
    some(kind == Kind.NOTHING, "nothing", "neither volts nor amperes; a clip was off, or the panel was covered; left out.")
    some(
        check.cloudy,
        "clouds",
        "clouds were remarked; no clear sky can be held against them, so at most the shape of the curve is looked at.",
    )
    cold = (kind == Kind.OPEN) & ~check.cloudy & (check.log.voltage > check.label.voc) & ~np.isnan(check.beside.times)
    for index in np.flatnonzero(cold)[:MOST_NAMED]:
        cells, times = float(check.readings.cell_temperature[index]), float(check.beside.times[index])
        text = cold_sentence(int(rows[index]), float(check.log.voltage[index]), check.label, cells, times)
        notes.append(Note("above_label", "info" if abs(times) <= DOUBT else "warning", text))
    if np.any(np.isnan(check.log.air_temperature)):
        text = "Where no air temperature was written the climate’s mean of month and hour is taken; volts depend on it."
        notes.append(Note("air_taken", "info", text))
    if not np.any(kind == Kind.SHORT):
        text = "No short circuit was read; it is the quickest sign of the light in the cells."
        notes.append(Note("no_short", "info", text))
    if int(check.sitting.max()) + 1 > MOST_SITTINGS:
        text = f"Readings were taken in {int(check.sitting.max()) + 1} sittings; the latest {MOST_SITTINGS} are explained."
        notes.append(Note("many_sittings", "info", text))
    large = check.label.voc > TOUCH_VOLTS or check.label.isc > METER_AMPERES
    notes.append(Note("safety", "warning" if large else "info", safety_sentence(check.label.voc, check.label.isc)))
    return tuple(notes)


def between(check: PanelCheck, sat: tuple[Sitting, ...]) -> tuple[Note, ...]:
    """What changed between the first and the last sitting in which a short circuit was read; one meter for both."""
    known = [(each.told, each.told_uncertainty) for each in sat if each.told is not None and each.told_uncertainty is not None]
    if len(known) < 2:
        return ()
    common = check.instruments.current_share
    ends = [max((spread / told) ** 2 - common**2, 0.0) for told, spread in (known[0], known[-1])]
    change, spread = known[-1][0] / known[0][0] - 1, float(np.sqrt(sum(ends) + CHANGE**2))
    text = (
        f"The light that the short circuit tells, over a clear sky’s, is {with_range(abs(100 * change), 100 * spread, '%')} "
        f"{'more' if change > 0 else 'less'} in the last sitting than in the first. "
    )
    if abs(change) <= DOUBT * spread:
        text += "That is no more than chance."
    elif change > 0:
        text += "If the panel was washed in between, that was dirt; if not, the air cleared up."
    else:
        text += "Either haze came up or something fell on the glass."
    return (Note("between_sittings", "info", text),)
