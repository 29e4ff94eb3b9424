"""sizing.place."""

from sizing.place.coordinate_signs import EAST_OR_WEST, WORDS
from sizing.place.coordinates import Axis, read_angle, read_coordinates
from sizing.place.place import Place, Skyline, looked_up_elevation, skyline_altitude
from sizing.place.town_list import Town
from sizing.place.towns import LONGEST_QUERY, find_towns

__all__ = [
    "EAST_OR_WEST",
    "LONGEST_QUERY",
    "WORDS",
    "Axis",
    "Place",
    "Skyline",
    "Town",
    "find_towns",
    "looked_up_elevation",
    "read_angle",
    "read_coordinates",
    "skyline_altitude",
]
