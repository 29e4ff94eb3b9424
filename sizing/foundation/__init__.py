"""What every room uses: errors, units, constants, tables, and numbers that carry their working.

Nothing here knows a garden. In come plain numbers and texts; out come the same numbers with unit and source, the sentences for
what cannot be used, and numbers and tables as texts.

Read: ``errors`` (a wrong value is an ``InputError`` with a pointer and a sentence; night is a state, never an error),
``working`` (``@formula`` attaches text, unit and source to a function; ``work`` calls it and keeps what went in), ``units``,
``constants``, ``tables``, ``sources`` (a room of its own), ``formats`` (a number in words, once, when it is shown),
``aligned_numbers``, ``typed_numbers`` (digits as people type them), ``csv_file`` (a spreadsheet's text as rows), ``version``.

Decided: every value that we did not compute stands here once, with its unit and source key, and no other module repeats it.
Inside, all numbers are SI, except °C and degrees of arc. Formulas are written once, as text that the page shows and a test
evaluates against the function at awkward numbers; so a shown sum cannot differ from the sum that was done.
"""

from sizing.foundation import formats
from sizing.foundation.aligned_numbers import aligned, alike, column, one_decimal
from sizing.foundation.csv_file import RowProblem, text_of
from sizing.foundation.errors import InputError, Note, Problem, SizingError, input_error
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
from sizing.foundation.tables import USUAL_BORES
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
    "USUAL_BORES",
    "InputError",
    "Note",
    "Numbered",
    "Problem",
    "RowProblem",
    "SizingError",
    "Worked",
    "aligned",
    "alike",
    "clock",
    "column",
    "compass",
    "digits_grouped",
    "figures",
    "finite",
    "formats",
    "in_parts",
    "input_error",
    "length",
    "length_unit",
    "litres",
    "month_span",
    "numbered",
    "one_decimal",
    "percent",
    "quantity",
    "text_of",
    "tidy_digits",
    "unit",
    "with_point",
    "with_unit",
]
