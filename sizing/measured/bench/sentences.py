"""What a bench test says, in sentences: the fit, readings and teams that stand apart, the label."""

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.aligned_numbers import with_range
from sizing.foundation.errors import Note
from sizing.foundation.formats import figures, length, percent, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.measured.bench.curves import Curve
from sizing.measured.bench.fit import Fit
from sizing.measured.bench.measured_pump import NEAR_SHUT_OFF, LabelComparison, LabelRow
from sizing.measured.bench.residuals import Apart, TeamOff
from sizing.measured.bench.settings import Readings, Settings, rows_named

MOST_NAMED = 5
"""Readings that stand apart are named one by one up to so many."""
FAR_OFF = 2.5
"""[1] Misses, over what the instruments allow, that scatter hardly explains."""
NEAR = 1.15
"""[1] A rated voltage beyond the measured ones by more than this is carried far."""


def litres(flow: float, digits: int = 3) -> str:
    """A flow as people say it."""
    return quantity(flow / LITRE_PER_MINUTE, "L/min", digits)


def counted(number: int, one: str) -> str:
    """A number of things.

    Examples
    --------
    >>> counted(1, "team"), counted(3, "voltage")
    ('1 team', '3 voltages')
    """
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def fit_notes(
    fit: Fit,
    found: Readings,
    settings: Settings,
    voltage: float,
    scatter: float,
    motor: tuple[float, float],
    shut_off: Curve,
) -> tuple[Note, ...]:
    """What was fitted, and how well.

    Parameters
    ----------
    voltage : [V] rated
    scatter : [1] of the fillings, in what the instruments allow
    motor : uncertainty of winding [ohm] and no-load current [A]
    shut_off : the pump without flow, at rated voltage
    """
    levels = int(settings.level.max()) + 1
    stops = with_range(float(shut_off.head[0]), float(shut_off.head_uncertainty[0]), "m")
    text = (
        f"One pump fits all {len(found.row)} readings ({counted(len(settings.flow), 'setting')} at "
        f"{counted(levels, 'voltage')}) at once: at {quantity(voltage, 'V')} its water stops at {stops}; its "
        f"winding has {with_range(fit.winding, motor[0], 'Ohm')}, and without water it would draw "
        f"{with_range(fit.no_load, motor[1], 'A')}."
    )
    notes = [Note("fitted", "info", text, "log"), *scatter_notes(fit, scatter), *usual_notes(fit, settings, levels)]
    if fit.states == 2:
        text = "The pump was measured in two states only; between them its head is taken as a parabola, which nobody measured."
        notes.append(Note("two_states", "warning", text, "log"))
    elif fit.states < 5:
        text = f"The pump was measured in {fit.states} states only; more heights would show the bend of its curve."
        notes.append(Note("few_states", "info", text, "log"))
    if fit.least > NEAR_SHUT_OFF * fit.most:
        text = (
            "No reading came near shut-off; there the curve is only carried on, and the pump’s points begin at its smallest "
            "measured flow."
        )
        notes.append(Note("shut_off_not_measured", "info", text, "log"))
    low, high = float(settings.voltage.min()), float(settings.voltage.max())
    if not low / NEAR <= voltage <= high * NEAR:
        text = (
            f"The rated {quantity(voltage, 'V')} is outside the measured {figures(low)} to {quantity(high, 'V')}; the curve is "
            "carried there by the pump’s laws; measure nearer to it."
        )
        notes.append(Note("voltage_far", "warning", text, "log"))
    return (*notes, hose_note(found))


def hose_note(found: Readings) -> Note:
    """What the bench's own hose takes, or that it is not known."""
    lost = float(np.max(found.head - found.height))
    if lost > 0:
        text = (
            f"What the bench’s hose takes was added to the heights: up to {length(lost)}, at {litres(float(found.flow.max()))}."
        )
        return Note("hose_added", "info", text, "log")
    text = (
        "Heights of the outlet are taken as heads: what the bench’s own hose takes is counted against the pump; give its length "
        "and bore, or use a short, wide one."
    )
    return Note("hose_counted", "info", text, "log")


def scatter_notes(fit: Fit, scatter: float) -> list[Note]:
    """Where readings scatter more than their instruments allow."""
    notes = []
    if scatter > 1.2:
        text = (
            f"Repeated fillings scatter {figures(scatter, 2)} times as much as bucket and stopwatch allow; that scatter was "
            "taken as their uncertainty."
        )
        notes.append(Note("fillings_scatter", "info", text, "log"))
    wide = float(np.sqrt(fit.widening))
    if fit.freedom <= 0:
        text = "There are just enough readings for the curve; whether they scatter cannot be seen; take a few more."
        notes.append(Note("no_spare_readings", "warning", text, "log"))
    elif wide > 1.2:
        text = (
            f"The settings miss the common curve by {figures(wide, 2)} times what the instruments allow; all ranges were made "
            "that much wider."
        )
        if wide > FAR_OFF:
            text += " Check that heights were taken from the water and not from the floor, and that the pump drew no air."
        notes.append(Note("ranges_widened", "warning" if wide > FAR_OFF else "info", text, "log"))
    return notes


def usual_notes(fit: Fit, settings: Settings, levels: int) -> list[Note]:
    """Where winding or no-load current are what is usual and not what was read."""
    names = [name for name, usual in zip(("winding", "no-load current"), fit.usual, strict=True) if usual]
    if not names:
        return []
    what = " and ".join(names)
    if levels == 1:
        other = quantity(0.7 * float(settings.voltage.max()), "V", 1)
        text = (
            f"Readings at one voltage cannot tell {what}; what is usual was counted in (15 % of the voltage lost in the winding, "
            f"10 % of the current without water, each with a wide range); a few readings at a second voltage, {other} or so, "
            "would tell."
        )
    else:
        text = (
            f"The readings tell less of {what} than what is usual for small motors, which was counted in; readings at voltages "
            "further apart would tell."
        )
    return [Note("motor_assumed", "info", text, "log")]


def apart_notes(apart: tuple[Apart, ...], change: tuple[float, float] | None, narrower: float = 1.0) -> tuple[Note, ...]:
    """Readings that stand apart, worst first, and what they do to the curve.

    Parameters
    ----------
    change : shut-off head and flow half-way without them, as shares of those with them, less one
    narrower : [1] width of the ranges without them, over that with them
    """
    notes = [Note("reading_apart", "warning", apart_sentence(one), "log") for one in apart[:MOST_NAMED]]
    if len(apart) > MOST_NAMED:
        text = f"{len(apart) - MOST_NAMED} more readings stand apart; the table marks them."
        notes.append(Note("more_apart", "warning", text, "log"))
    if apart:
        kept = "It was" if len(apart) == 1 else "They were"
        text = f"{kept} kept: look whether something was written down wrong or the pump drew air, and mend or leave out the row."
        if change is not None:
            head, flow = (f"{percent(abs(share))} {'higher' if share >= 0 else 'lower'}" for share in change)
            without = "it" if len(apart) == 1 else "them"
            text += f" Without {without} the shut-off head would be {head}, the flow half-way up {flow}"
            text += f", and all ranges {percent(1 - narrower, 1)} narrower." if narrower < 0.95 else "."
        notes.append(Note("kept", "info", text, "log"))
    return tuple(notes)


def left_out_note(found: Readings, apart: NDArray[np.bool_]) -> Note:
    """Rows with which no pump could be found at all, and what stands in the first of them."""
    first = int(np.flatnonzero(apart)[0])
    read = (
        f"{quantity(float(found.voltage[first]), 'V')}, {quantity(float(found.current[first]), 'A')}, "
        f"{quantity(float(found.head[first]), 'm')} and {litres(float(found.flow[first]))}"
    )
    text = (
        f"{rows_named(found.row[apart])} left out: with {'it' if np.sum(apart) == 1 else 'them'} no pump follows the readings, "
        f"and without one does. Row {int(found.row[first])} has {read}; look for a slip of the decimal point or a swapped pair."
    )
    return Note("slip_left_out", "warning", text, "log")


def apart_sentence(one: Apart) -> str:
    """One reading that stands apart."""
    shown = litres if one.quantity == "flow" else (lambda value: quantity(value, "A"))
    team = f" of team {one.team}" if one.team else ""
    by = ""
    if one.expected > 0:
        share = one.measured / one.expected - 1
        by = f", {percent(abs(share))} {'less' if share < 0 else 'more'}"
    return (
        f"Row {one.row}{team} stands apart: it has {shown(one.measured)}, and all other readings together say "
        f"{shown(one.expected)} at its voltage and height{by}, {figures(one.times, 2)} times its uncertainty."
    )


def team_notes(teams: tuple[TeamOff, ...]) -> tuple[Note, ...]:
    """Teams whose flows lie consistently off, or that none does."""
    if not teams:
        return ()
    off = [team for team in teams if team.differs]
    if len(teams) == 2 and off:
        off = off[:1]
    notes = []
    for team in off:
        other = f"team {team.others[0]}’s" if len(team.others) == 1 else "the other teams’"
        where = "above" if team.share > 0 else "below"
        by = f"{with_range(100 * abs(team.share), 100 * team.uncertainty, '%')} {where} {other}"
        text = (
            f"Team {team.team}’s flows lie {by}, beyond their scatter; weigh the water of both buckets, and compare the "
            "stopwatches."
        )
        notes.append(Note("team_off", "warning", text, "log"))
    if not off:
        text = f"The flows of {counted(len(teams), 'team')} agree within their scatter."
        notes.append(Note("teams_agree", "info", text, "log"))
    return tuple(notes)


def label_sentences(found: LabelComparison) -> tuple[str, ...]:
    """The pump against its label."""
    what = "label’s points" if found.points else "box"
    at = quantity(found.voltage, "V")
    if not found.rows:
        return (f"Nothing of the {what} lies within the measured curve at {at}.",)
    lines = []
    off = [row for row in found.rows if row.head_differs]
    if off:
        lines += [head_sentence(row, what, at) for row in (off[0], *off[-1:])][: len(off)]
    else:
        lines.append(f"At {at} its head agrees with the {what} within the likely range at every flow that was compared.")
    if found.flow_differs:
        by = f": {compared_words(found.flow / found.label_flow - 1)}" if found.label_flow > 0 else ""
        own = with_range(found.flow / LITRE_PER_MINUTE, found.flow_uncertainty / LITRE_PER_MINUTE, "L/min")
        lines.append(
            f"At a height of {length(found.head)} it moves {own}, and the {what} would have {litres(found.label_flow)}{by}."
        )
    currents = [row for row in found.rows if row.current_differs]
    if currents:
        row = max(currents, key=lambda one: abs(one.current / one.label_current - 1))
        lines.append(
            f"{place(row)} it draws {with_range(row.current, row.current_uncertainty, 'A')} instead of "
            f"{quantity(row.label_current, 'A')}: {compared_words(row.current / row.label_current - 1)}, beyond its likely range."
        )
    return tuple(lines)


def head_sentence(row: LabelRow, what: str, at: str) -> str:
    """Head against label at one flow."""
    by = f" {compared_words(row.head / row.label_head - 1)} head than the {what}" if row.label_head > 0 else " more head"
    own = with_range(row.head, row.head_uncertainty, "m")
    return f"{place(row)} and {at} it has{by}, beyond its likely range: {own} instead of {quantity(row.label_head, 'm')}."


def place(row: LabelRow) -> str:
    """Where on the curve."""
    return "At shut-off" if row.flow == 0 else f"At {litres(row.flow)}"


def compared_words(share: float) -> str:
    """How much more or less.

    Examples
    --------
    >>> compared_words(-0.104).replace("\\xa0", " ")
    '10 % less'
    """
    return f"{percent(abs(share))} {'less' if share < 0 else 'more'}"
