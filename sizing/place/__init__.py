"""Where the garden is: coordinates, height, ground, and what rises above the horizon.

In come what people write: a town's name, coordinates in any usual form, compass readings, sightings of trees and walls. Out
comes a ``Place`` with true directions and one skyline. What could mean two things is asked about, never guessed.

Read: ``place`` (the record, and how much of the sky a skyline leaves), ``compass`` (magnetic to true north, by pygeomag),
``horizon_survey`` (sightings to a skyline), ``obstacles`` (trees and houses, each for itself), ``coordinates``,
``town_list``, ``towns`` (the search).

2026-11-25, towns from a slim list. Chosen: 34,006 places cut from GeoNames, 991 KB; a search takes 1.5 ms (the worst of 500
    took 9 ms) and asks no other computer. Refused: the package that the list is cut from (179 MB installed, 0.3 s and more a
    call). Weak: outside the United States regions are only code numbers there, so we name the next larger town instead ("near
    ...").
2026-12-01, obstacles each for itself. Chosen: upright screens that face the panel, over the typed skyline; the higher counts.
    A skyline of a single point stays a wall all round, as old files mean it, and a warning says so: to take it as one tree
    would have given old designs more sun unasked. Refused: a share of light that bare branches let through, without a source.
"""

from sizing.place.coordinates import EAST_OR_WEST, WORDS, Axis, read_angle, read_coordinates
from sizing.place.place import Obstacle, Place, Skyline, looked_up_elevation, skyline_altitude
from sizing.place.town_list import Town
from sizing.place.towns import LONGEST_QUERY, find_towns

__all__ = [
    "EAST_OR_WEST",
    "LONGEST_QUERY",
    "WORDS",
    "Axis",
    "Obstacle",
    "Place",
    "Skyline",
    "Town",
    "find_towns",
    "looked_up_elevation",
    "read_angle",
    "read_coordinates",
    "skyline_altitude",
]
