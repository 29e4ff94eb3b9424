"""A weather file sent with the form: sized by its own hours, and what a design file keeps of it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from sizing.foundation import LITRE, SPACE, SizingError, figures, litres
from sizing.fountain import place_of
from sizing.report import Report, size
from sizing.sky import LARGEST_FILE, Sky, monthly_of, sky_of_bytes
from web.forms.form import Texts, sentences_of, understand
from web.forms.grids import MONTHLY_AIR, MONTHLY_SUN
from web.forms.typed_sky import OF_DESIGN, UNIT

UPLOAD = "weather"
"""Name of the box that takes the file."""
CHOOSE = "Choose a weather file (EPW or TMY3), then press “Size with this file”"
NOT_SENT = "The weather file was not sent; choose it again and press “Size with this file”"
TOO_LARGE = "The weather file is over 5 MB; an hourly year is about 2 MB; choose a file of one year"
CHOOSE_AGAIN = "The weather file is not kept; change what is named above, then choose the file again"


@dataclass(frozen=True)
class Sized:
    """A design sized by a weather file: the report, the answers that carry its months, a sentence on how far those are off."""

    report: Report
    texts: Texts
    repeated: str


@dataclass(frozen=True)
class Refused:
    """What is wrong with the answers by field, and with the file."""

    errors: dict[str, str]
    file_error: str


def size_with_file(texts: Texts, name: str, content: bytes) -> Sized | Refused:
    """Size the answers of a form with the hours of a weather file.

    Parameters
    ----------
    texts : of the form; where the sun comes from does not count
    name : of the file, for sentences
    content : its bytes
    """
    if not content:
        return Refused({}, CHOOSE)
    if len(content) > LARGEST_FILE:
        return Refused({}, TOO_LARGE)
    texts = without_sky(texts)
    understood = understand(texts)
    if understood.design is None:
        return Refused(understood.errors, CHOOSE_AGAIN)
    try:
        place, _ = place_of(understood.design)
        sky, _ = sky_of_bytes(content, name, place)
        report = size(understood.design, sky=sky)
    except SizingError as error:
        of_file = [problem.detail for problem in error.problems if problem.pointer.startswith("#/sky")]
        if of_file:
            return Refused({}, of_file[0][0].upper() + of_file[0][1:])
        return Refused(sentences_of(texts, error.problems), CHOOSE_AGAIN)
    carried = texts | months_of(sky, f"Monthly means of the weather file {sky.title}")
    return Sized(report, carried, repeated(report, carried))


def without_sky(texts: Mapping[str, str]) -> Texts:
    """The answers without those on the sun, so that the built-in table is marked and nothing typed counts."""
    return {name: text for name, text in texts.items() if not name.startswith("sky.")} | {"sky.kind": "built_in"}


def months_of(sky: Sky, origin: str) -> Texts:
    """Twelve months of a sky as answers of the form; the sun is cut, never rounded up beyond what can be."""
    sun, air = monthly_of(sky)
    found = {"sky.kind": "monthly", UNIT: OF_DESIGN, "sky.origin": origin[:200]}
    found |= {f"{MONTHLY_SUN}.{month}": f"{math.floor(value * 1000) / 1000:g}" for month, value in enumerate(sun)}
    return found | {f"{MONTHLY_AIR}.{month}": f"{value:.1f}" for month, value in enumerate(air)}


def repeated(report: Report, carried: Mapping[str, str]) -> str:
    """How far the twelve months alone are from the file's own hours, sized for this very design."""
    by_months, by_hours = water_by(carried), report.year.water / LITRE
    if by_months is None:
        return (
            "At the place of this design the file's twelve months cannot be, so what is saved of this page cannot be sized "
            "again: give the design the place of the file."
        )
    off = by_months - by_hours
    if abs(off) < 0.5:
        return "Sized by those twelve months, it gives the same water in a year."
    share = f" ({figures(100 * abs(off) / by_hours, 2)}{SPACE}%)" if by_hours > 0 else ""
    return (
        f"Sized by those twelve months, it gives {litres(by_months)} a year instead of {litres(by_hours)}: "
        f"{litres(abs(off))}{share} {'more' if off > 0 else 'less'}."
    )


def water_by(texts: Mapping[str, str]) -> float | None:
    """Water of the year [L] by the answers of a form; None where they cannot be sized."""
    design = understand(texts).design
    try:
        return None if design is None else size(design).year.water / LITRE
    except SizingError:
        return None
