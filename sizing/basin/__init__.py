"""The basin under the fountain: its size, its water through the year, its frost.

In comes a finished report; out come the basin (given, or proposed where the design has none), what evaporates, splashes and
rains into it month by month, what is topped up, how long it lasts in a dry spell, and when it freezes.

Read: ``evaporation`` (Penman, month by month), ``shape`` (areas and volumes), ``basin``
(all of that together), ``water_balance``, ``sentences`` (basin and water in words), ``frost``, ``answer``.

2026-11-25, evaporation by Penman, and what a sky does not know. Chosen: Penman's combination for open water (albedo 0.08, wind
    function of 1956), its pieces those of FAO-56; the dew point is the month's mean lowest temperature; wind at 2 m by class
    (1, 2, 4 m/s), also where a weather file has wind, because that is measured 10 m up in the open; no heat is kept from month
    to month. Figures: FAO-56's grass at Uccle 3.88 of 3.88 mm a day, open water there 5.25; the built-in sky at Tombstone,
    Arizona, gives 2.3 in January and 7.9 in June, beside 2.3 and 7.7 of the measured pan times 0.7. Refused: the swimming-pool
    formula (it assumes still air, which a garden does not have, and needs the water's temperature). Weakest: splash (0.1, 0.5
    or 1.5 % of a jet's water by wind; a sheet a fifth, a bubbling pipe a tenth of that) is an assumption without any source and
    often as large as evaporation; and a month's rain is spread evenly, so storms that run over count as kept. A measured basin
    would change our mind.
"""

from sizing.basin.answer import BasinAnswer, FrostAnswer, MonthOfWaterAnswer, WaterBalanceAnswer
from sizing.basin.water_balance import WaterBalance

__all__ = ["BasinAnswer", "FrostAnswer", "MonthOfWaterAnswer", "WaterBalance", "WaterBalanceAnswer"]
