"""Sizing a garden solar fountain, in the order the sun and the water travel.

Read the modules in the order of ``PATH``: the place, the sun over it, the year of weather, the light
on the panel, the panel, the cable, the water itself, the pump and its motor, the pipe, the outlet,
the operating point where all of them agree, and the year of operating points. Then the design file,
the parts it describes, one moment worked out number by number, and the report that answers the garden
club's questions.

``FOUNDATION`` modules carry no physics of the fountain and may be imported by every stage. A stage
imports the foundation and stages that stand before it in ``PATH``, never one that stands after it;
``tests/test_imports.py`` keeps it so.
"""

FOUNDATION = ("errors", "working", "sources", "units", "words", "constants", "tables")

PATH = (
    "town_list",
    "towns",
    "coordinate_signs",
    "coordinates",
    "place",
    "compass",
    "sightings",
    "sun",
    "clock",
    "climate",
    "synthetic_year",
    "monthly_values",
    "typed_units",
    "weather_file",
    "file_notes",
    "weather",
    "clock_sky",
    "sky_months",
    "irradiance",
    "sun_paths",
    "skyline_words",
    "diode",
    "label",
    "panel",
    "wiring",
    "water",
    "motor",
    "pump",
    "pump_curve",
    "friction",
    "pipes",
    "spillway",
    "outlet",
    "load_line",
    "operating_point",
    "direct_solve",
    "year",
    "goal",
    "planes",
    "directions",
    "seasons",
    "aims",
    "fields",
    "site",
    "design",
    "pointers",
    "mistakes",
    "reading",
    "setting",
    "skies",
    "assembly",
    "assumptions",
    "cautions",
    "verdict",
    "moment_sun",
    "moment_power",
    "moment_water",
    "moment",
    "months_worked",
    "causes",
    "moved",
    "uncertainty",
    "budget",
    "report",
    "answer",
    "changes",
    "orientation",
    "orientation_words",
    "orientation_answer",
)

MODEL_VERSION = "0.1.0"
"""Changes when a shown number changes; README lists what changed and why."""
