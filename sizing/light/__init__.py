"""sizing.light."""

from sizing.light.irradiance import cell_temperature
from sizing.light.sun_paths import DAY_OF_21ST, SkylineMonth, SunPath, SunPaths

__all__ = ["DAY_OF_21ST", "SkylineMonth", "SunPath", "SunPaths", "cell_temperature"]
