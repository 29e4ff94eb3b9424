"""The page for paper: one design with everything that somebody has to see before signing, and nothing to press."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from starlette.responses import Response

from sizing.answer import answer
from sizing.comparison import Comparison, compare
from sizing.errors import SizingError
from sizing.report import Report, size
from web import results
from web.answers import Given, answers
from web.form import sentences_of, texts_of, tidy, understand
from web.form_page import example_texts, form
from web.installing import installing
from web.job import job
from web.leads import leads
from web.neighbours import choice
from web.results_page import goal_parts, year_parts
from web.sending import SERVICE, Fields, carried, filled, method_for, short_address
from web.site import STATIC, environment, page
from web.sure import sure

ON_SERVICE, ALONE = "base.html", "alone.html"
"""What is around the page: the service with its links, or nothing, in a file that is opened by itself."""


def report_page(fields: Fields) -> Response:
    """The page; the form again if something is wrong with the design."""
    texts = tidy(fields)
    understood = understand(texts)
    if understood.design is None:
        return form(texts, understood.errors)
    try:
        report = size(understood.design)
        found = compared(report)
    except SizingError as error:
        return form(texts, sentences_of(texts, error.problems))
    path = short_address("/report", texts)
    address = f"{fields.get(SERVICE, '').rstrip('/')}{path}" if path else ""
    around = {"leads": leads(filled(texts), "/report"), "method": method_for(texts), "carried": carried(texts)}
    content = report_content(report, texts, found) | around
    return page("report.html", current="/report", frame=ON_SERVICE, address=address, file="", **content)


def report_file(report: Report, name: str, folder: Path | None = None) -> str:
    """The page as one file that needs no service: the stylesheet is in it, and nothing leads out of it.

    Parameters
    ----------
    name : of the design file, which the page names to be sized again
    folder : where a weather file named by the design is looked for
    """
    content = report_content(report, texts_of(report.design), compared(report, folder))
    style = (STATIC / "style.css").read_text(encoding="utf-8")
    template = environment().get_template("report.html")
    return template.render(frame=ALONE, status=200, style=style, address="", file=name, method="", carried={}, **content)


def compared(report: Report, folder: Path | None = None) -> Comparison | None:
    """All pairs of the design; ``None`` where there is one alone."""
    design = report.design
    return compare(design, folder) if len(design.panels) * len(design.pumps) > 1 else None


def report_content(report: Report, texts: Mapping[str, str], found: Comparison | None) -> dict[str, Any]:
    """Everything that the page prints, wherever it stands."""
    return {
        "report": report,
        "job": job(report),
        **goal_parts(report),
        **year_parts(report),
        "stance": results.stance(report),
        "drawing": results.drawing(report),
        "water": results.water_chart(report),
        "monthly": results.monthly_table(report),
        "choice": None if found is None else choice(found, report),
        "sure": sure(report),
        "installing": installing(report),
        "listed": given(report, texts),
        "sources": answer(report)["sources"].values(),
    }


def given(report: Report, texts: Mapping[str, str]) -> list[Given]:
    """The answers that were given; a weather file, which the form has no box for, by its title."""
    found = [item for item in answers(filled(texts), example_texts()) if item.text]
    if report.sky.kind != "weather_file":
        return found
    kept = [item for item in found if not item.name.startswith("sky.")]
    at = next((index for index, item in enumerate(kept) if item.name.startswith("mounting.")), len(kept))
    return [*kept[:at], Given("sky.kind", "Where the sun comes from", f"Weather file: {report.sky.title}", True), *kept[at:]]
