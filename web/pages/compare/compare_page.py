"""The page that compares every pump with every panel: which pair to take, all pairs by rank, why some fail."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from starlette.responses import Response

from sizing.comparison import Comparison, compare, comparison_answer, listed
from sizing.foundation import USUAL_BORES, SizingError, figures, month_span, quantity
from sizing.fountain import question
from sizing.uncertainty import chance_explained
from web.charts.pair_names import Names, by_number, names_of
from web.charts.pictures_of_pairs import lines_picture, months_picture, pumps_picture
from web.exports.pairs import pairs_csv
from web.forms.form import Texts, sentences_of, tidy, understand
from web.forms.panel_and_pump import SERIES
from web.forms.sending import Fields, carried, filled, href, method_for
from web.forms.several import count
from web.pages.compare.choice_words import headline, lead, runner_up
from web.pages.compare.pairs_tables import LISTED, noon_table, pairs_table, reasons_of, smallest_table
from web.pages.frame.leads import leads
from web.pages.frame.site import page, spreadsheet
from web.pages.garden.form_page import form

CONNECTIONS, BOTH = "connections", "both"
"""Name of the box that asks for both connections, and what it sends."""
PAIR = "pair"
"""Name of the field that says which pair was pressed: positions of panel and pump, and the connection."""
FEW = 12
"""More sentences on why pairs fail than this are folded up."""


@dataclass(frozen=True)
class Compared:
    """The answers of the form, whether both connections are asked for, what was found, and what is wrong."""

    texts: Texts
    both: bool
    found: Comparison | None
    errors: dict[str, str]


def compare_page(fields: Fields) -> Response:
    """All pairs side by side; the form again if something is wrong with the design."""
    done = compared(fields)
    if done.found is None:
        return form(done.texts, done.errors)
    return page("compare.html", current="/compare", **compare_content(done.found, done.texts, done.both))


def compare_table(fields: Fields) -> Response:
    """The pairs as RFC 4180; the form again if something is wrong with the design."""
    done = compared(fields)
    if done.found is None:
        return form(done.texts, done.errors)
    return spreadsheet(pairs_csv(comparison_answer(done.found)), "fountain-pairs.csv")


def compared(fields: Fields) -> Compared:
    """Compare what was sent, or say what is wrong with it."""
    texts, both = tidy(fields), fields.get(CONNECTIONS, "") == BOTH
    understood = understand(texts)
    if understood.design is None:
        return Compared(texts, both, None, understood.errors)
    try:
        return Compared(texts, both, compare(understood.design, both_connections=both), {})
    except SizingError as error:
        return Compared(texts, both, None, sentences_of(texts, error.problems))


def with_pair(fields: Fields) -> dict[str, str]:
    """What was sent with the pair that was pressed chosen; as it was where there is no such pair.

    Examples
    --------
    >>> with_pair({"pumps.0.name": "Old", "pumps.1.name": "New", "pair": "0.1.direct"})["chosen.pump"]
    '1'
    >>> with_pair({"outlet.bore_mm": "8", "pair": "0.0.direct.2.5"}).get("outlet.bore_mm")
    '2.5'
    """
    texts = {name: text for name, text in fields.items() if name not in (PAIR, CONNECTIONS)}
    panel, _, rest = fields.get(PAIR, "").partition(".")
    pump, _, rest = rest.partition(".")
    connection, _, bore = rest.partition(".")
    places = [[str(place) for place in range(count(texts, series.key))] for series in SERIES]
    if panel not in places[0] or pump not in places[1] or connection not in ("direct", "controller"):
        return texts
    nozzle = {"outlet.bore_mm": bore} if bore in [f"{usual:g}" for usual in USUAL_BORES] else {}
    return texts | {"chosen.panel": panel, "chosen.pump": pump, "connection.kind": connection} | nozzle


def compare_content(found: Comparison, texts: Mapping[str, str], both: bool) -> dict[str, Any]:
    """Everything that the page prints."""
    texts, names = filled(texts), names_of(found)
    line = leads(texts, "/compare")
    several = len(found.pairs) > 1
    head, rows = pairs_table(found, names) if several else ((), [])
    reasons = reasons_of(found, names)
    return {
        "title": found.design.title,
        "leads": line,
        "sender": "whole-design" if line.carried else "compare-form",
        "method": method_for(texts),
        "carried": carried(texts),
        "add": href("/", texts, "pumps-questions"),
        "both": both,
        "headline": headline(found, names),
        "lead": lead(found, names),
        "runner_up": runner_up(found, names) if several else [],
        "several": several,
        "head": head,
        "rows": rows,
        "beaten": any(row.beaten_by for row in rows),
        "ranked_by": found.ranked_by,
        "nozzles": nozzles_said(found),
        "noon": noon_table(found, names) if 1 < len(found.pairs) <= LISTED else None,
        "months": month_span(found.months),
        "reasons": reasons,
        "folded": len(reasons) > FEW,
        "smallest": smallest_table(found, names),
        "chance_explained": chance_explained(),
        "pictures": [pumps_picture(found, names), lines_picture(found, names)] if several else [],
        "by_month": months_picture(found, names, len(found.pairs) <= LISTED) if several else None,
        "questions": [question(each) for each in found.questions],
        "notes": [] if not several else [*(by_number(names, note.detail) for note in found.notes), *prices_missing(found, names)],
    }


def nozzles_said(found: Comparison) -> str:
    """What the nozzles of the pairs are, where some are not the design's; empty where all are."""
    own = {each.own.bore for each in found.pairs if each.own is not None}
    if not own:
        return ""
    (bore,) = own
    tried = f"{figures(USUAL_BORES[0])} to {quantity(USUAL_BORES[-1], 'mm')}"
    return (
        f"Pairs that do not likely meet the goal with your nozzle of {quantity(bore or 0.0, 'mm')} stand with the usual one, "
        f"nearest to yours, with which they do; we tried {tried}. Their numbers are those with it, and a press takes pair and "
        "nozzle. A nozzle has no price here. Pictures and the smallest panels keep your nozzle."
    )


def prices_missing(found: Comparison, names: Names) -> list[str]:
    """What has no price."""
    design = found.design
    if all(panel.price is None for panel in design.panels) and all(pump.price is None for pump in design.pumps):
        return ["No prices are given, so none are compared; each panel and pump of the form has a box for one."]
    lacking = [f"panel {names.panels[panel.id][0]}" for panel in design.panels if panel.price is None]
    lacking += [f"pump {names.pumps[pump.id][0]}" for pump in design.pumps if pump.price is None]
    controlled = any(each.pair.connection == "controller" for each in found.pairs)
    if controlled and getattr(design.connection, "price", None) is None:
        lacking.append("the controller")
    if not lacking:
        return []
    return [f"No price is given for {listed(lacking)}; what needs it has no price, for a missing price is never taken as zero."]
