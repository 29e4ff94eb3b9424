"""What a search over all directions found, in whole sentences."""

import math

from sizing.foundation.formats import MONTHS, compass, figures, litres, month_span, percent, quantity, spans
from sizing.foundation.units import LITRE
from sizing.fountain.site_setup import compass_field
from sizing.operation.operating_point import STATE_WORDS, State
from sizing.orientation.directions import LITTLE, TIE, Season, TiltsFound
from sizing.orientation.orientation import Aim, Choice, Orientation, Origin
from sizing.orientation.planes import Planes
from sizing.place.compass import compass_notes, declination_uncertainty
from sizing.uncertainty.sentences import outlook_words

AS_GOOD = 0.005
"""[1] A loss below this is none that anybody could measure."""
WORTH_IT = 0.01
"""[1] Two tilts a year that gain less than this are not worth the trouble."""
ALIKE = 5.0
"""[deg] Azimuths nearer to each other than this are told once."""
LARGE = 10.0
"""[m3] From here on water is told in cubic metres."""
CAUSES = {
    State.TOO_LITTLE_SUN: "the panel's current does not start the motor",
    State.BELOW_LOWEST_VOLTAGE: f"the pump {STATE_WORDS[State.BELOW_LOWEST_VOLTAGE]}, for it gets less than its lowest voltage",
    State.CANNOT_LIFT: "the pump turns but cannot lift the water to the outlet",
}
TRUE_NORTH = "Directions count from true north; a compass needle points to magnetic north, which may lie many degrees beside it."


def degrees(angle: float) -> str:
    """An angle to a tenth of a degree, as nobody sets a panel finer.

    Examples
    --------
    >>> degrees(32.0), degrees(359.97 % 360), degrees(1e-300)
    ('32', '0', '0')
    """
    return figures(round(angle, 1) % 360, 4)


def direction(tilt: float, azimuth: float) -> str:
    """A direction in words.

    Examples
    --------
    >>> direction(35.0, 190.0), direction(0.0, 190.0), direction(90.0, 270.0)
    ('35° to the south (190°)', 'level', '90° to the west (270°)')
    """
    if degrees(tilt) == "0":
        return "level"
    return f"{degrees(tilt)}° to the {compass(azimuth)} ({degrees(azimuth)}°)"


def turned(one: float, other: float) -> float:
    """Angle between two azimuths [deg], 0..180.

    Examples
    --------
    >>> turned(359.0, 3.0), turned(175.0, 180.0)
    (4.0, 5.0)
    """
    return abs((one - other + 180) % 360 - 180)


def amount(value: float, unit: str) -> str:
    """Water [m3] or hours [h] with a unit that suits their size."""
    if unit == "h":
        return quantity(value, "h")
    return quantity(value, "m3") if value >= LARGE else litres(value / LITRE)


def best_words(planes: Planes, aim: Aim) -> str:
    """The best plane of an aim in words."""
    return direction(float(planes.tilt[aim.best]), float(planes.azimuth[aim.best]))


def verdict(found: Orientation, aim: Aim) -> str:
    """What today's choice gives up for one aim, in one sentence or two."""
    most = amount(float(aim.values[aim.best]), aim.unit)
    if aim.outcome == "never":
        return never(found, aim)
    if aim.outcome == "alike":
        return f"Direction makes no difference to {aim.words}: every direction tried comes within {percent(TIE)} of {most}."
    best, today = best_words(found.planes, aim), direction(found.mounting.tilt, found.mounting.azimuth)
    edge = " The best stands upright, and nothing steeper was tried." if found.planes.tilt[aim.best] == 90 else ""
    if aim.today <= 0:
        return f"Today's choice, {today}, brings no {aim.words}; the best, {best}, brings {most}.{edge}"
    given = f"{amount(aim.today, aim.unit)} against {most} at the best direction tried, {best}"
    if aim.given_up < AS_GOOD:
        return f"Today's choice, {today}, is as good as any for {aim.words}: {given}.{edge}"
    return f"Today's choice, {today}, gives up {percent(aim.given_up)} of the {aim.words}: {given}.{edge}"


def never(found: Orientation, aim: Aim) -> str:
    """Why an aim is out of reach in every direction."""
    if max(float(each.values.max()) for each in found.aims) > 0:
        return f"No direction brings any {aim.words.removeprefix('any ')}."
    if found.first_sun is None:
        cause = CAUSES.get(found.below, "there is not enough sun")
        return f"In no direction does this fountain play: even in full sun {cause}."
    least = quantity(found.first_sun, "W/m2", 2)
    return f"In no direction does this fountain play: it needs {least} of sun on the cells, and no direction ever gets that."


def flatness_sentence(aim: Aim) -> str:
    """How exactly the best direction must be kept."""
    little = percent(LITTLE)
    if aim.outcome != "found":
        return ""
    if aim.flatness.everywhere:
        return f"Any direction will do: none that was tried loses more than {little}."
    if aim.flatness.angle < 1:
        return f"It asks for care: even the next direction tried loses more than {little}."
    return f"Anything within {math.floor(aim.flatness.angle + 1e-6)}° of it loses less than {little}."


def choice_sentence(choice: Choice, hour_basis: str) -> str:
    """Which months and hours count, and where they come from."""
    marks: dict[Origin, str] = {"asked": "", "goal": " (those of the goal)", "assumed": " (an assumption)"}
    months = f"{month_span(choice.months)}{marks[choice.months_from]}"
    hours = f"{spans(choice.windows)}{marks[choice.hours_from]}"
    return f"Chosen months: {months}. Chosen hours: {hours}, {hour_basis}."


def tilts_sentence(found: TiltsFound) -> str:
    """What tilting with the months brings at one azimuth."""
    facing = f"Facing {compass(found.azimuth)} ({degrees(found.azimuth)}°)"
    if found.fixed_water.sum() <= 0:
        return f"{facing}, it stays dry at every tilt."
    return (
        f"{facing}, the one tilt with most water in the year is {degrees(found.fixed)}°; "
        f"the best tilt of each month would bring {percent(found.gain)} more."
    )


def two_tilts_sentence(found: TiltsFound) -> str:
    """What two tilts a year bring at one azimuth; nothing where it stays dry."""
    if found.fixed_water.sum() <= 0:
        return ""
    if found.two is None or found.two.gain < WORTH_IT:
        return f"Two tilts a year gain less than {percent(WORTH_IT)} over one that stays: not worth the trouble."
    first, second = (season_words(season) for season in found.two.seasons)
    return (
        f"Two tilts a year, {first} and {second}, bring {percent(found.two.gain)} more water "
        f"than the best tilt that stays, {degrees(found.fixed)}°."
    )


def season_words(season: Season) -> str:
    """A tilt and from when to when.

    Examples
    --------
    >>> season_words(Season(55.0, (9, 10, 11, 12, 1, 2, 3))), season_words(Season(15.0, (6,)))
    ('55° from September to March', '15° in June')
    """
    first, last = MONTHS[season.months[0] - 1], MONTHS[season.months[-1] - 1]
    return f"{degrees(season.tilt)}° " + (f"in {first}" if len(season.months) == 1 else f"from {first} to {last}")


def compass_sentence(found: Orientation) -> str:
    """What a compass shows at the best direction and how far to trust it; without one, that it does not show true north."""
    declination, best = found.mounting.declination, found.main.best
    if declination is None or found.main.outcome != "found" or found.planes.tilt[best] == 0:
        return TRUE_NORTH
    reading = (float(found.planes.azimuth[best]) - declination) % 360
    said = [
        f"The compass used here reads {reading:.0f}° at the best direction, {found.planes.azimuth[best]:.0f}° from true north: "
        f"its needle points {abs(declination):.1f}° {'east' if declination >= 0 else 'west'} of it."
    ]
    field = compass_field(found.design, found.place.elevation)
    if field is not None:
        said.append(f"That is known to about {float(declination_uncertainty(field.horizontal)):.1f}° here.")
        said += [note.detail for note in compass_notes(field) if note.code != "compass_turned"]
    return " ".join(said)


def chance_sentence(found: Orientation) -> str:
    """How surely the goal is met today and on the plane with most hours of it; empty without a goal."""
    if found.chances is None:
        return ""
    chances = found.chances
    best = direction(chances.tilt, chances.azimuth)
    return (
        f"That the goal is met: {outlook_words(chances.today)} with your orientation; {outlook_words(chances.best)} with {best}, "
        "which has most goal hours."
    )
