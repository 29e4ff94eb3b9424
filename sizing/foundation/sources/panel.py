"""Sources of numbers and formulas: the panel, its glass, cells and their warmth."""

from sizing.foundation.sources.publication import Source

SOURCES: dict[str, Source] = {
    "marion_2017": Source(
        "Numerical method for angle-of-incidence correction factors for diffuse radiation incident photovoltaic modules",
        "Marion, Solar Energy 147",
        2017,
        "pp. 344-348; glass by De Soto, Klein & Beckman 2006",
        "secondary",
    ),
    "iec_60904_3": Source(
        "IEC 60904-3 Photovoltaic devices: measurement principles, reference irradiance",
        "IEC",
        2019,
        "standard test conditions",
        "memory",
    ),
    "codata_2018": Source("CODATA recommended values of the fundamental constants", "NIST", 2018, "Boltzmann", "memory"),
    "de_soto_2006": Source(
        "Improvement and validation of a model for photovoltaic array performance",
        "De Soto, Klein & Beckman, Solar Energy 80",
        2006,
        "pp. 78-88",
        "secondary",
    ),
    "jordan_2013": Source(
        "Photovoltaic degradation rates: an analytical review",
        "Jordan & Kurtz, Progress in Photovoltaics 21",
        2013,
        "abstract: median 0.5 % a year of nearly 2000 rates; their later compendium has means of 0.8 to 0.9 %",
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
    "faiman_2008": Source(
        "Assessing the outdoor operating temperature of photovoltaic modules",
        "Faiman, Progress in Photovoltaics 16",
        2008,
        "pp. 307-315; also IEC 61853-2",
        "secondary",
    ),
    "jordan_kurtz_2013": Source(
        "Photovoltaic degradation rates: an analytical review",
        "Jordan & Kurtz, Progress in Photovoltaics 21",
        2013,
        "pp. 12-29: median of nearly 2000 rates 0.5 % a year",
        "secondary",
    ),
}
