"""Sources of numbers and formulas: readings, and how sure they are."""

from sizing.foundation.sources.publication import Source

SOURCES: dict[str, Source] = {
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
}
