"""The fountain's year in every direction: which way the panel should face, and what another way costs.

In come a design and what is wanted (water, hours, the goal, in which months); out come the best planes, the design's own plane
beside them, and tilts through the seasons.

Read: ``planes`` (hundreds of planes at once), ``directions`` (the grid, its best, how flat it is, tilts through the seasons),
``goal_chances``, ``orientation`` (what is wanted, and all of it), ``sentences``, ``answer``.

2026-11-25, all directions at once. 649 planes (19 tilts, 36 azimuths, level once) with the 35,040 steps of a year, skyline,
    glass, dirt, warm cells, pump and pipe included, take 0.10 s; a whole search at a new place with a new skyline takes 0.15 s
    and up to 15 MB beside its result. Chosen: the cosines of all planes as one matrix product; glass from a table over the
    cosine (4096 cells); flow by one gather from a table of irradiance x cell temperature (0.25 W/m² x 0.25 K, nearest cell);
    single precision; 64 planes and one month at a time (about 150 KB, which stays in the cache; all planes at once take twice
    as long). Refused: ``plane_sun`` and ``flow_alone`` plane by plane (2.7 s); interpolation in the table (the step where the
    pump starts is the hard part, and a finer table is cheaper); mornings as mirrored afternoons (true of the sun to 0.00001 %,
    of the water only to 0.6 %: air is warmer after noon, and a skyline or a clock breaks it). Apart from single sizings: sun
    0.00001 %, water and hours less than 0.1 % of the best plane's; less than 0.3 % of a plane's own, or three steps where that
    is more. A flow that depends on more than irradiance and cell temperature would change our mind.
2026-11-25, the best plane is the middle of the best. Planes within 0.1 % of the best are as good, because the search is no
    finer. We name the one nearest to their middle (weighted by the room around each), so that the best under an open sky faces
    the equator and does not jump with noise.
"""

from sizing.orientation.answer import GridAnswer, OrientationAnswer, orientation_answer
from sizing.orientation.directions import AZIMUTHS, TILTS, TiltsFound, as_table
from sizing.orientation.orientation import Aim, AimKey, Orientation, Side, Wanted, orient
from sizing.orientation.sentences import (
    ALIKE,
    LARGE,
    amount,
    best_words,
    chance_sentence,
    choice_sentence,
    compass_sentence,
    degrees,
    direction,
    flatness_sentence,
    tilts_sentence,
    turned,
    two_tilts_sentence,
    verdict,
)

__all__ = [
    "ALIKE",
    "AZIMUTHS",
    "LARGE",
    "TILTS",
    "Aim",
    "AimKey",
    "GridAnswer",
    "Orientation",
    "OrientationAnswer",
    "Side",
    "TiltsFound",
    "Wanted",
    "amount",
    "as_table",
    "best_words",
    "chance_sentence",
    "choice_sentence",
    "compass_sentence",
    "degrees",
    "direction",
    "flatness_sentence",
    "orient",
    "orientation_answer",
    "tilts_sentence",
    "turned",
    "two_tilts_sentence",
    "verdict",
]
