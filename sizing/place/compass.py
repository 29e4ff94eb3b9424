"""Which way a compass points: magnetic declination, and true directions from compass readings and back.

A compass needle points to magnetic north, which lies off true north by the declination. The World Magnetic
Model gives it for 2025 to 2029 (by pygeomag). The date comes in from outside; nothing here reads a clock.
"""

import datetime
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from pygeomag import GeoMag
from pygeomag.wmm.wmm_2025 import WMM_2025

from sizing.foundation.errors import Note, input_error
from sizing.foundation.working import Constant, formula

Numeric = float | NDArray[np.float64]

FIRST_DATE, LAST_DATE = datetime.date(2025, 1, 1), datetime.date(2029, 12, 31)
"""What the model's issue of 2025 is made for."""
BLACKOUT_FIELD, CAUTION_FIELD = 2000.0, 6000.0
"""[nT] Horizontal field below which the makers of the model call a compass unusable, and unreliable."""
DECLINATION_ERROR = Constant(0.26, "declination_error", "deg", "wmm_2025")
HORIZONTAL_FIELD_ERROR = Constant(5417.0, "horizontal_field_error", "deg.nT", "wmm_2025")
"""The model's own error, as its technical report and the package that computes the field both have it."""
PLACE, DATE = "#/place", "#/place/compass_date"
ADVICE = (
    "type true directions instead (when the sun stands highest, the shadow of a plumb line lies along the true north-south line)"
)


@dataclass(frozen=True)
class Field:
    """The field of the Earth at a place and a day: declination [deg], east positive, and horizontal strength [nT]."""

    declination: float
    horizontal: float


def declination(latitude: float, longitude: float, elevation: float, date: datetime.date) -> float:
    """How far a compass needle points east of true north [deg]; west is negative.

    Parameters
    ----------
    latitude, longitude : [deg], north and east positive
    elevation : [m] above sea level
    date : 2025-01-01 to 2029-12-31

    Raises
    ------
    InputError : outside these dates, or so near a magnetic pole that no compass can be used

    Examples
    --------
    >>> declination(47.6205, -122.3493, 0.0, datetime.date(2025, 4, 2))
    15.07
    """
    return earth_field(latitude, longitude, elevation, date).declination


def earth_field(latitude: float, longitude: float, elevation: float, date: datetime.date) -> Field:
    """Declination and horizontal strength of the field; arguments and errors as for ``declination``."""
    if not FIRST_DATE <= date <= LAST_DATE:
        found = f"the compass was read on {date}; the magnetic model holds from {FIRST_DATE} to {LAST_DATE}"
        raise input_error(DATE, "no_compass_model", f"{found}; {ADVICE}.")
    # a fresh instance each time: it keeps sums of its own, which two threads must not share
    found = GeoMag(coefficients_data=WMM_2025).calculate(
        glat=latitude, glon=longitude, alt=elevation / 1000, time=decimal_year(date)
    )
    if found.h < BLACKOUT_FIELD:
        raise input_error(
            PLACE,
            "no_compass_here",
            f"the magnetic field along the ground is {found.h:.0f} nT here, near a magnetic pole; "
            f"a compass needs {BLACKOUT_FIELD:.0f} nT; {ADVICE}.",
            BLACKOUT_FIELD,
        )
    return Field(float(found.d), float(found.h))


def decimal_year(date: datetime.date) -> float:
    """The date as a year with decimals, at the beginning of the day.

    Examples
    --------
    >>> decimal_year(datetime.date(2027, 7, 2))
    2027.4986
    """
    first = datetime.date(date.year, 1, 1)
    return date.year + (date - first).days / (datetime.date(date.year + 1, 1, 1) - first).days


@formula("(compass_reading + declination) % 360", unit="deg", source="wmm_2025")
def true_azimuth(compass_reading: Numeric, declination: Numeric) -> Numeric:
    """Direction from true north [deg], clockwise, 0..360, from what a compass shows.

    Parameters
    ----------
    compass_reading : [deg], clockwise from magnetic north
    declination : [deg], east positive

    Examples
    --------
    >>> true_azimuth(180.0, 5.0), true_azimuth(3.0, -12.5)
    (185.0, 350.5)
    """
    return (compass_reading + declination) % 360


@formula("(true_azimuth - declination) % 360", unit="deg", source="wmm_2025")
def compass_reading(true_azimuth: Numeric, declination: Numeric) -> Numeric:
    """What a compass shows [deg], 0..360, in a direction counted clockwise from true north; arguments [deg].

    Examples
    --------
    >>> compass_reading(180.0, 5.0), compass_reading(3.0, 5.0)
    (175.0, 358.0)
    """
    return (true_azimuth - declination) % 360


@formula("sqrt(declination_error**2 + (horizontal_field_error / horizontal_field)**2)", unit="deg", source="wmm_2025")
def declination_uncertainty(
    horizontal_field: Numeric,
    declination_error: float = DECLINATION_ERROR,
    horizontal_field_error: float = HORIZONTAL_FIELD_ERROR,
) -> Numeric:
    """How far the declination may be off [deg], one standard deviation, where the horizontal field [nT] is so strong.

    Examples
    --------
    >>> float(declination_uncertainty(22000.0))
    0.358
    """
    return np.sqrt(declination_error**2 + (horizontal_field_error / horizontal_field) ** 2)


def compass_notes(field: Field) -> tuple[Note, ...]:
    """What the reader of a compass should know where the field is such.

    Examples
    --------
    >>> [note.code for note in compass_notes(Field(4.6, 22000.0))]
    ['compass_turned', 'compass_iron']
    """
    side = "east" if field.declination >= 0 else "west"
    known = float(declination_uncertainty(field.horizontal))
    turned = (
        f"Compass readings are turned {abs(field.declination):.1f}° to the {side}, to true north; "
        f"the model is good to about {known:.1f}° here."
    )
    iron = "Iron nearby (a fence, a car, reinforced concrete, the frame of a panel) can turn a compass much further than that."
    notes = [Note("compass_turned", "info", turned, DATE), Note("compass_iron", "info", iron, DATE)]
    if field.horizontal < CAUTION_FIELD:
        weak = (
            f"The magnetic field along the ground is only {field.horizontal:.0f} nT here, near a magnetic pole; "
            f"below {CAUTION_FIELD:.0f} nT a compass is unreliable; {ADVICE}."
        )
        notes.append(Note("compass_unreliable", "warning", weak, PLACE))
    return tuple(notes)
