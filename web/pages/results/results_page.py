"""What the results page prints, gathered from a report and the answers it came from."""

from collections.abc import Mapping
from typing import Any

from sizing.foundation import LITRE, MONTHS, figures, litres, quantity
from sizing.fountain import question, strain_told
from sizing.operation import REASONS
from sizing.report import Report, WhatIf, hours_sentence, jets_sentence, what_ifs
from sizing.uncertainty import chance_explained, margin_words
from web.forms.sending import carried, filled, href, method_for
from web.forms.typed_sky import unit_note
from web.pages.frame.answers import answers
from web.pages.frame.leads import leads
from web.pages.frame.unfolded import chapters, month_sums
from web.pages.garden.form_page import example_texts
from web.pages.garden.left_over import moved_away
from web.pages.results import pictures as results
from web.pages.results import what_if
from web.pages.results.obstacles import obstacle_table
from web.pages.results.sure import sure

SKIES = ("clear", "usual", "dull")


def results_content(
    report: Report, texts: Mapping[str, str], repeated: str = "", changes: tuple[WhatIf, ...] | None = None
) -> dict[str, Any]:
    """Everything that the results page prints.

    Parameters
    ----------
    repeated : how well the answers repeat a weather file that was sent
    changes : what one change at a time would do, if it is at hand
    """
    texts = filled(texts)  # empty boxes would only lengthen every link
    found = what_ifs(report) if changes is None else changes
    doubt = None if repeated else unit_note(report.design.sky, report.place, texts)
    return {
        "report": report,
        "unit_doubt": "" if doubt is None else capital(doubt.detail),
        "texts": texts,
        "repeated": repeated,
        "spillway": results.is_spillway(report),
        "leads": leads(texts, "/results"),
        "method": method_for(texts),
        "carried": carried(texts),
        "strange": () if repeated else moved_away(texts),
        "change_place": href("/", texts, "place-questions"),
        "change_unit": href("/", texts, "sky.unit"),
        **goal_parts(report),
        "obstacles": obstacle_table(report),
        "sure": sure(report),
        "what_ifs": what_if.rows(report, found, results.is_spillway(report)),
        "ages": what_if.ages_told(found),
        **moment_parts(report),
        **year_parts(report),
        "questions": [question(each) for each in report.questions],
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


def goal_parts(report: Report) -> dict[str, Any]:
    """Hours that reach the goal, each of its months with its days of ten, and what the chance means; nothing without a goal."""
    found, chance = report.goal, report.chance
    if found is None or chance is None:
        return {}
    rows = tuple((MONTHS[month - 1], f"{10 * share:.1f}") for month, share in found.day_share.items())
    borne, above = report.goal_borne or found, quantity(found.hours_above, "h")
    return {
        "goal_hours": figures(found.hours),
        "goal_window": figures(found.window_hours),
        "goal_borne": figures(borne.hours) if borne.hours < found.hours else "",
        "goal_above": f"In {above} there is more than you want." if found.hours_above > 0 else "",
        "goal_rows": rows,
        "goal_margin": margin_words(chance),
        "goal_chance": chance_explained(),
    }


def moment_parts(report: Report) -> dict[str, Any]:
    """The moment in words and its strip; what the three lists show marked."""
    moment = report.moment
    best = max(report.year.months, key=lambda month: (month.water, month.poa_insolation))
    return {
        "months": MONTHS,
        "skies": SKIES,
        "best_month": MONTHS[best.month - 1],
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
        "jets": "" if results.is_spillway(report) else jets_sentence(report.jets),
        "year_water": said[0] if water > 0 else "",
        "year_low": said[1],
        "year_high": said[2],
        "year_hours": figures(report.year.running_hours),
        "strain": strain_told(report.strain),
    }
