"""What of the sun falls on the panel and reaches its cells.

In come a sky, a place with its skyline, and a plane; out come irradiance on the plane, effective irradiance (after skyline,
glass and dirt) and cell temperature, step by step.

Read: ``irradiance`` (four parts of light, glass, dirt, warmth), ``iam`` (what the glass lets through), ``clear_sky`` (a real
day without clouds), ``sun_paths`` (the sun's way, and the sun that the skyline hides), ``skyline_loss`` (that loss as a
sentence).

2026-11-25, our own one-line Hay-Davies, pvlib as judge. A shown number must be the sum that was done, so the transposition is
    five formula functions. They agree with pvlib to 1e-8 W/m². pvlib still computes the reflection at the glass, reads weather
    files, and finds the sun for them.
2026-11-25, the sun of a real day is Ineichen and Perez's clear sky. The synthetic year knows no single day, but who measures
    stands in one. Chosen: pvlib's clear sky with its monthly map of turbidity, the sun by Reda and Andreas, the clock by the
    tz database. 5,000 moments on planes of their own take 30 ms (a skyline's share of the sky goes to 5° and 10° where a log
    has more than 200 planes). We take its uncertainty as 6 %. Refused: the year's own clear day, a quantile without a date. A
    school's own pyranometer would change our mind.
"""

from sizing.light.irradiance import cell_temperature
from sizing.light.sun_paths import DAY_OF_21ST, SkylineMonth, SunPath, SunPaths

__all__ = ["DAY_OF_21ST", "SkylineMonth", "SunPath", "SunPaths", "cell_temperature"]
