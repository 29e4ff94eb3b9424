"""sizing.foundation."""

from sizing.foundation import formats
from sizing.foundation.aligned_numbers import alike, column, one_decimal
from sizing.foundation.csv_file import RowProblem, text_of
from sizing.foundation.errors import InputError, Note, Problem, SizingError, refuse
from sizing.foundation.formats import (
    MINUS,
    MONTHS,
    NARROW_SPACE,
    SHORT_MONTHS,
    SPACE,
    clock,
    compass,
    digits_grouped,
    figures,
    finite,
    length,
    length_unit,
    litres,
    month_span,
    percent,
    quantity,
    unit,
    with_unit,
)
from sizing.foundation.typed_numbers import IN_DOUBT, PARTS, in_parts, tidy_digits, with_point
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE, MILLIMETRE
from sizing.foundation.version import MODEL_VERSION
from sizing.foundation.working import Numbered, Worked, numbered

__all__ = [
    "IN_DOUBT",
    "LITRE",
    "LITRE_PER_MINUTE",
    "MILLIMETRE",
    "MINUS",
    "MODEL_VERSION",
    "MONTHS",
    "NARROW_SPACE",
    "PARTS",
    "SHORT_MONTHS",
    "SPACE",
    "InputError",
    "Note",
    "Numbered",
    "Problem",
    "RowProblem",
    "SizingError",
    "Worked",
    "alike",
    "clock",
    "column",
    "compass",
    "digits_grouped",
    "figures",
    "finite",
    "formats",
    "in_parts",
    "length",
    "length_unit",
    "litres",
    "month_span",
    "numbered",
    "one_decimal",
    "percent",
    "quantity",
    "refuse",
    "text_of",
    "tidy_digits",
    "unit",
    "with_point",
    "with_unit",
]
