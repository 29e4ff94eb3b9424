"""Sources of numbers and formulas: what the basin loses to the air."""

from sizing.foundation.sources.publication import Source

SOURCES: dict[str, Source] = {
    "fao_56": Source(
        "Crop evapotranspiration, FAO Irrigation and Drainage Paper 56",
        "Allen, Pereira, Raes & Smith, FAO",
        1998,
        "examples 8, 9, 17, 18 and annex 2",
        "secondary",
    ),
    "hargreaves_samani_1982": Source(
        "Estimating potential evapotranspiration",
        "Hargreaves & Samani, J. Irrigation and Drainage Division 108",
        1982,
        "solar radiation from the daily range of temperature",
        "memory",
    ),
    "mcmahon_2013": Source(
        "Estimating actual, potential, reference crop and pan evaporation using standard meteorological data",
        "McMahon et al., Hydrology and Earth System Sciences 17",
        2013,
        "pp. 1331-1363: Penman's open water with the wind function of 1956, albedo 0.08",
        "memory",
    ),
    "chow_1988": Source(
        "Applied Hydrology", "Chow, Maidment & Mays, McGraw-Hill", 1988, "examples 3.5.1 to 3.5.4, evaporation", "memory"
    ),
    "smith_lof_jones_1998": Source(
        "Rates of evaporation from swimming pools in active use",
        "Smith, Löf & Jones, ASHRAE Transactions 104-1A",
        1998,
        "abstract: quiet outdoor pools at 74 % of the usual formula (95 + 0.425 v) (pw - pa) / Y",
        "secondary",
    ),
    "tombstone_pan": Source(
        "Class A pan evaporation at Tombstone, Arizona, 1974 to 2012",
        "USDA-ARS Southwest Watershed Research Center",
        2014,
        "poster: about 4 inches in January, 13 in June; coefficient 0.7 to open water from memory",
    ),
}
