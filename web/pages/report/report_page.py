"""The page for paper: one design with everything that somebody has to see before signing, and nothing to press."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from starlette.responses import Response

from sizing.comparison import Comparison, compare
from sizing.foundation import SizingError, Worked
from sizing.foundation.sources import SOURCES
from sizing.fountain import question
from sizing.installation import Building, building_of
from sizing.money import PairCost, bought, costs_beside
from sizing.reach import offer_sentence, reach_of
from sizing.report import Report, ages, size, sizing_answer
from web.exports.building import basin_csv, wires_csv
from web.forms.form import sentences_of, texts_of, tidy, understand
from web.forms.sending import SERVICE, Fields, carried, filled, method_for, short_address
from web.pages.compare.pairs_tables import choice
from web.pages.frame.answers import Given, answers
from web.pages.frame.leads import leads
from web.pages.frame.site import STATIC, environment, page, spreadsheet
from web.pages.garden.form_page import example_texts, form
from web.pages.report.budget import budget, hours_table, pairs_costs_csv
from web.pages.report.installing import installing
from web.pages.report.job import job
from web.pages.report.keeping import keeping
from web.pages.results import pictures as results
from web.pages.results import what_if
from web.pages.results.obstacles import obstacle_table
from web.pages.results.results_page import goal_parts, year_parts
from web.pages.results.sure import sure

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


def wires_table(fields: Fields) -> Response:
    """The sizes of cable as RFC 4180."""
    return built_table(fields, lambda title, built: wires_csv(title, built.wires), "fountain-cable.csv")


def basin_table(fields: Fields) -> Response:
    """The months of the basin as RFC 4180."""
    return built_table(fields, lambda title, built: basin_csv(title, built.balance), "fountain-basin.csv")


def pair_costs_table(fields: Fields) -> Response:
    """Ten years of the chosen pair beside others as RFC 4180."""
    return built_table(fields, lambda title, built: pairs_costs_csv(title, beside(built)), "fountain-pair-costs.csv")


def beside(built: Building) -> tuple[PairCost, ...]:
    """Ten years of the chosen pair and those next to it by rank; none where there is one alone."""
    found = compared(built.report)
    return () if found is None else costs_beside(found, built)


def built_table(fields: Fields, write: Callable[[str, Building], str], filename: str) -> Response:
    """A table for spreadsheets; the form if something is wrong with the design."""
    texts = tidy(fields)
    understood = understand(texts)
    if understood.design is None:
        return form(texts, understood.errors)
    try:
        built = building_of(size(understood.design))
    except SizingError as error:
        return form(texts, sentences_of(texts, error.problems))
    return spreadsheet(write(understood.design.title, built), filename)


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


def changes_said(report: Report) -> list[str]:
    """Single changes that would meet the goal, where it is not likely met as it is."""
    found = reach_of(report)
    return [] if found is None else [offer_sentence(found.design, offer) for offer in found.offers]


def report_content(report: Report, texts: Mapping[str, str], found: Comparison | None) -> dict[str, Any]:
    """Everything that the page prints, wherever it stands."""
    built, older = building_of(report), ages(report)
    return {
        "report": report,
        "job": job(report),
        **goal_parts(report),
        **year_parts(report),
        "questions": [question(each) for each in report.questions],
        "stance": results.stance(report),
        "drawing": results.drawing(report),
        "water": results.water_chart(report),
        "monthly": results.monthly_table(report),
        "changes": changes_said(report),
        "choice": None if found is None else choice(found, report),
        "obstacles": obstacle_table(report),
        "sure": sure(report),
        "older": what_if.rows(report, older, results.is_spillway(report)),
        "ages": what_if.ages_told(older),
        "spillway": results.is_spillway(report),
        "installing": installing(built.wires, built.notes),
        "keeping": keeping(built),
        "budget": budget(bought(built)),
        "hours": None if found is None else hours_table(costs_beside(found, built)),
        "listed": given(report, texts),
        "sources": publications(sources_of(built)),
        **beside_file(report),
    }


def sources_of(built: Building) -> set[str]:
    """Keys of every publication that a number or a limit of the page rests on."""
    wires = built.wires
    worked = every_step((*wires.working, wires.cold.working, *built.basin.working, *built.balance.working))
    rules = {wires.limit_source, wires.fuse.source, *(limit.source for limit in wires.limits)}
    worn = {wear.source for age in ages(built.report) for wear in age.change.parts}
    return {*sizing_answer(built.report).sources, *worn, *(step.source for step in worked if step.source), *rules}


def publications(keys: Iterable[str]) -> list[tuple[str, str, int]]:
    """Title, publisher and year of each publication, once however many of its pages count."""
    found = (SOURCES[key] for key in sorted(keys))
    return list(dict.fromkeys((source.title, source.publisher, source.year) for source in found))


def every_step(working: Iterable[Worked]) -> Iterator[Worked]:
    """Worked numbers with all that went into them."""
    for step in working:
        yield step
        yield from every_step(each for _, each in step.inputs)


def beside_file(report: Report) -> dict[str, str]:
    """What has to be said of repeating a design that takes its sun from a weather file."""
    if report.sky.kind != "weather_file":
        return {"from_file": "", "with_file": ""}
    return {"from_file": f" and the weather file {report.sky.title}", "with_file": ", and size it with the same weather file"}


def given(report: Report, texts: Mapping[str, str]) -> list[Given]:
    """The answers that were given; a weather file, which the form has no box for, by its title."""
    found = [item for item in answers(filled(texts), example_texts()) if item.text]
    if report.sky.kind != "weather_file":
        return found
    kept = [item for item in found if not item.name.startswith("sky.")]
    at = next((index for index, item in enumerate(kept) if item.name.startswith("mounting.")), len(kept))
    return [*kept[:at], Given("sky.kind", "Where the sun comes from", f"Weather file: {report.sky.title}", True), *kept[at:]]
