"""The sky over a new place, the search for a town, and a sky explained."""

import statistics

from sizing.answers.kit import plain
from sizing.design.reading import read_site
from sizing.place.place import Place
from sizing.place.towns import find_towns
from sizing.report.garden_sky import explain_sky
from sizing.report.sky_answer import sky_answer
from sizing.sky.weather import built_in_sky
from tests.benchmarks.figures import Figure, seconds

QUERIES = ("ljub", "san", "koln", "springfield, il", "tamale ghana", "new york", "st. john", "bloemfontein", "a", "xyzzy")


def sky_figures(repeats: int = 21) -> list[Figure]:
    """Each place is a new one; the tables are loaded."""
    places = [Place("", 46.05 + 0.017 * step, 14.51 + 0.013 * step, 298.0) for step in range(repeats)]
    built_in_sky(Place("", 45.0, 10.0, 100.0))
    built_in = statistics.median(seconds(lambda place=place: built_in_sky(place)) for place in places)
    find_towns("warm")
    searches = [seconds(lambda query=query: find_towns(query)) for query in QUERIES for _ in range(5)]
    sites = [read_site({"place": {"latitude_deg": 47.3 + 0.011 * step, "longitude_deg": 8.1}}) for step in range(repeats)]
    explained = statistics.median(seconds(lambda site=site: plain(sky_answer(explain_sky(site)))) for site in sites)
    worst = max(searches)
    return [
        Figure("built-in sky for a new place", f"{1e3 * built_in:.1f} ms", "25 ms", built_in <= 0.025),
        Figure(
            "town search, median and worst of 50",
            f"{1e3 * statistics.median(searches):.1f} ms, {1e3 * worst:.1f} ms",
            "10 ms",
            worst <= 0.010,
        ),
        Figure("a new sky explained", f"{1e3 * explained:.1f} ms", "", None),
    ]
