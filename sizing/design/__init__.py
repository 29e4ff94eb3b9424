"""The design file: its fields, their limits, and what is wrong with a value, where, in one sentence.

In come the bytes of a JSON file or plain data from the form; out comes a ``Design``, or problems with a pointer, a code and a
sentence. The models are the public contract (``schema_version`` 1): the form, the service and the command line read the same
ones, and the JSON Schema comes from them.

Read: ``fields`` (number, text, part, rows: each with label, unit, limits, advice), ``site``, ``budget_input``,
``kept_measurements``, ``goal_input``, ``design`` (panel, pump, cable, pipe, outlet, and all together), ``pointers`` (where a
wrong value stands, and its name), ``mistakes`` (its sentence), ``reading`` (bytes to a design), ``files``, ``schemas``.

Decided: this room holds data only and needs no library but pydantic. ``fountain`` turns a design into parts in SI. They are
two rooms so that a program that reads a wrong file does not load the whole of solar computing first.
A new field of a pump or panel is one line in ``design``: form, address, file and bench test carry it unasked
(``tests/test_new_fields.py``).
"""

from sizing.design.budget_input import PartKey, PartPrice, Price
from sizing.design.design import OF_BOX, ControllerConnection, Design, FittingInput, PanelInput, PumpInput
from sizing.design.files import file_bytes, reason
from sizing.design.goal_input import MOST_MORE_WINDOWS
from sizing.design.kept_measurements import MOST_RECORDS, MeasuredCurve, MeasurementInput
from sizing.design.pointers import extra, item_field, limits, locate, models_in, walk
from sizing.design.reading import LARGEST_FILE, parse_design, parse_json, read_as, read_design, read_site
from sizing.design.schemas import design_schema, site_schema
from sizing.design.site import MonthlySky, Site

__all__ = [
    "LARGEST_FILE",
    "MOST_MORE_WINDOWS",
    "MOST_RECORDS",
    "OF_BOX",
    "ControllerConnection",
    "Design",
    "FittingInput",
    "MeasuredCurve",
    "MeasurementInput",
    "MonthlySky",
    "PanelInput",
    "PartKey",
    "PartPrice",
    "Price",
    "PumpInput",
    "Site",
    "design_schema",
    "extra",
    "file_bytes",
    "item_field",
    "limits",
    "locate",
    "models_in",
    "parse_design",
    "parse_json",
    "read_as",
    "read_design",
    "read_site",
    "reason",
    "site_schema",
    "walk",
]
