"""What people wait for beside a sizing: towns searched, a weather file read and sized, a comparison printed."""

from api.answers.places import places_bytes
from sizing.answers.places import kept_elevation
from tests.benchmarks.figures import Figure, seconds, taking_turns
from tests.web.pages.test_compare_page import compared, orchard, texts
from tests.web.pages.test_weather_page import large_epw, send
from web.pages.compare.compare_page import compare_content
from web.pages.frame.site import page

SEARCHES = ("san", "springfield, il", "new york", "xqzvw")


def searched_anew(text: str) -> float:
    """Time of one answer to a search of towns, no elevation known yet [s]."""
    kept_elevation.cache_clear()
    return seconds(lambda: places_bytes(text, 12))


def answers_beside(repeats: int = 5) -> list[Figure]:
    """The slowest search by its best of all repeats, and medians of the two pages."""
    places_bytes("warm", 12)
    slowest = max(min(searched_anew(text) for _ in range(repeats)) for text in SEARCHES)
    found, given = compared("orchard"), texts(orchard())
    send(large_epw())
    printed, sized = taking_turns(
        [
            lambda: page("compare.html", current="/compare", **compare_content(found, given, False)),
            lambda: send(large_epw()),
        ],
        repeats,
    )
    return [
        Figure("search of towns to its answer, elevations looked up", f"{1e3 * slowest:.1f} ms", "30 ms", slowest <= 0.030),
        Figure("page of 12 pairs printed, comparison known", f"{1e3 * printed:.0f} ms", "75 ms", printed <= 0.075),
        Figure("weather file of 1.6 MB read, checked and sized", f"{1e3 * sized:.0f} ms", "400 ms", sized <= 0.400),
    ]
