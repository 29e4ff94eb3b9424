"""sizing.sky."""

from sizing.sky.clock import clock_shift, nearest_town
from sizing.sky.sky_months import SkyMonth, SkyYear, monthly_of
from sizing.sky.solar_position import DAYS_IN_MONTH
from sizing.sky.typed_units import TYPED_UNITS, doubtful_unit, shown_values
from sizing.sky.weather import TRUE_SOLAR_TIME, Sky, built_in_sky, sky_of_bytes
from sizing.sky.weather_file import LARGEST_FILE

__all__ = [
    "DAYS_IN_MONTH",
    "LARGEST_FILE",
    "TRUE_SOLAR_TIME",
    "TYPED_UNITS",
    "Sky",
    "SkyMonth",
    "SkyYear",
    "built_in_sky",
    "clock_shift",
    "doubtful_unit",
    "monthly_of",
    "nearest_town",
    "shown_values",
    "sky_of_bytes",
]
