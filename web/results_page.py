"""What the results page prints, gathered from a report and the answers it came from."""

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from sizing.assumptions import hours_sentence
from sizing.operating_point import REASONS
from sizing.report import Report
from sizing.units import LITRE
from sizing.words import MONTHS, figures, litres
from web import results
from web.answers import answers
from web.form_page import example_texts
from web.typed_sky import unit_note
from web.unfolded import chapters, month_sums

SKIES = ("clear", "usual", "dull")
BUILT_IN_BAND = (
    "The range is that of the sky alone: the built-in table is good to about 8 % a year and 12 % a month; twelve values "
    "from your weather service would narrow it."
)
OWN_BAND = "The range is that of the sky alone, from your own twelve values."
FILE_BAND = "The range is that of the sky alone: a typical year of the weather file."


def results_content(report: Report, texts: Mapping[str, str], repeated: str = "") -> dict[str, Any]:
    """Everything that the results page prints; ``repeated`` says how well the answers repeat a weather file that was sent."""
    texts = {name: text for name, text in texts.items() if text.strip()}  # empty boxes would only lengthen every link
    doubt = None if repeated else unit_note(report.design.sky, report.place, texts)
    return {
        "report": report,
        "unit_doubt": "" if doubt is None else capital(doubt.detail),
        "texts": texts,
        "repeated": repeated,
        "spillway": results.is_spillway(report),
        **addresses(texts),
        **moment_parts(report),
        **year_parts(report),
        "stance": results.stance(report),
        "drawing": results.drawing(report),
        "water": results.water_chart(report),
        "hours": results.hours_chart(report),
        "monthly": results.monthly_table(report),
        "panel_chart": results.panel_chart(report),
        "head_chart": results.head_chart(report),
        "points": results.points_table(report),
        "listed": answers(texts, example_texts()),
        "chapters": chapters(report),
        "sums": month_sums(report),
    }


def capital(detail: str) -> str:
    """A sentence with its capital letter and raised figures."""
    return (detail[0].upper() + detail[1:]).replace("m2", "m²")


def addresses(texts: Mapping[str, str]) -> dict[str, str]:
    """Where the links of the page lead, each with all answers."""
    kept = urlencode(texts)
    return {"change": f"/?{kept}", "sky": f"/sky?{kept}", "csv": f"/results.csv?{kept}", "save": f"/design.json?{kept}"}


def moment_parts(report: Report) -> dict[str, Any]:
    """The moment in words and its strip; what the three lists show marked."""
    moment = report.moment
    best = max(report.year.months, key=lambda month: (month.water, month.poa))
    return {
        "months": MONTHS,
        "skies": SKIES,
        "shown_month": moment.month or best.month,
        "shown_hour": moment.hour if moment.month else best.best_hour,
        "shown_sky": moment.sky or SKIES[0],
        "moment_words": results.moment_words(report),
        "moment_state": REASONS[moment.state],
        "hours_note": hours_sentence(report.sky),
        "strip": results.strip(report),
    }


def year_parts(report: Report) -> dict[str, str]:
    """The year's water and hours in words; as many figures as the range between low and high can bear."""
    water = report.year.water / LITRE
    low, high = (band / LITRE for band in report.year_band)
    digits = 2 if high - low >= 0.1 * water else 3
    said = [litres(float(f"{amount:.{digits}g}")) for amount in (water, low, high)]
    return {
        "year_water": said[0] if water > 0 else "",
        "year_low": said[1],
        "year_high": said[2],
        "year_hours": figures(report.year.running_hours),
        "band_note": {"built_in": BUILT_IN_BAND, "weather_file": FILE_BAND}.get(report.sky.kind, OWN_BAND),
    }
