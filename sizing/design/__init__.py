"""sizing.design."""

from sizing.design.budget_input import PartKey, PartPrice, Price
from sizing.design.design import OF_BOX, ControllerConnection, Design, FittingInput, PanelInput, PumpInput
from sizing.design.kept_measurements import MOST_RECORDS, MeasuredCurve, MeasurementInput
from sizing.design.pointers import extra, item_field, limits, locate, models_in, walk
from sizing.design.reading import LARGEST_FILE, parse_design, parse_json, read_as, read_design, read_site
from sizing.design.schemas import design_schema, site_schema
from sizing.design.site import MonthlySky, Site

__all__ = [
    "LARGEST_FILE",
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
    "item_field",
    "limits",
    "locate",
    "models_in",
    "parse_design",
    "parse_json",
    "read_as",
    "read_design",
    "read_site",
    "site_schema",
    "walk",
]
