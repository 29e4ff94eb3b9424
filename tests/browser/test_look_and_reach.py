"""Pages on a wide screen and on phones: nothing runs out at the side, and the checks of axe-core find nothing."""

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from sizing.design.reading import parse_design
from web.forms.form import Texts, texts_of
from web.forms.grids import POINTS
from web.pages.garden.form_page import example_texts

Open = Callable[..., Any]

ROOT = Path(__file__).resolve().parent.parent.parent
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PHONE, NARROWEST = 360, 320
"""[px] WCAG 2.2, 1.4.10: no scrolling in two directions at 320."""


@lru_cache(maxsize=1)
def pages() -> dict[str, str]:
    """Addresses of all kinds of pages."""
    wrong = {"pipe.length_m": "abc", "place.latitude_deg": "", "fittings.elbow_90.count": "many", "outlet.kind": "catapult"}
    wrong |= {f"{POINTS}.2.head_m": "x", "sky.kind": "monthly"}
    sun = (1.2, 2.2, 3.4, 4.4, 5.4, 5.9, 6.0, 5.2, 3.8, 2.4, 1.3, 1.0)
    months = {"sky.kind": "monthly"} | {f"sky.ghi_kwh_per_m2_day.{month}": f"{value:g}" for month, value in enumerate(sun)}
    return {
        "form": "/",
        "errors": results(dict(example_texts()) | wrong),
        "several": f"/?{urlencode(design('orchard_choice'))}",
        "choice": results(design("orchard_choice")),
        "jet": results(example_texts()),
        "spillway": results(design("terrace_spillway")),
        "bubbler": results(design("fern_bubbler")),
        "places": f"/places?{urlencode(dict(example_texts()) | {'find': 'springfield'})}",
        "sky": f"/sky?{urlencode(dict(example_texts()) | months)}",
        "directions": f"/orientation?{urlencode(dict(example_texts()) | {'direction.from': '14', 'direction.to': '9'})}",
        "comparison": f"/compare?{urlencode(design('orchard_choice') | {'connections': 'both'})}",
        "nothing to compare": f"/compare?{urlencode(example_texts())}",
        "parts": f"/parts?{urlencode(design('orchard_choice') | {'budget.parts.pipe.amount': '-3'})}",
        "report": f"/report?{urlencode(design('orchard_choice'))}",
        "first day": f"/class/first-day?{urlencode(design('quince_court_jet') | {'first.day': 'May'})}",
        "sources": "/sources",
        "programs": "/api",
        "nothing": "/nothing-here",
    }


def design(stem: str) -> Texts:
    """The texts of a design in ``examples/``."""
    return texts_of(parse_design((ROOT / "examples" / f"{stem}.json").read_bytes()))


def results(texts: Any) -> str:
    """Address of the results of texts."""
    return f"/results?{urlencode(dict(texts))}"


KINDS = (
    "form",
    "errors",
    "several",
    "choice",
    "jet",
    "spillway",
    "places",
    "sky",
    "directions",
    "comparison",
    "nothing to compare",
    "parts",
    "report",
    "first day",
    "sources",
    "programs",
    "nothing",
)
UNFOLD = "document.querySelectorAll('details').forEach(part => part.open = true)"
RUNS_OUT = """() => [...document.querySelectorAll('main *, header *, footer *')].filter(each => {
  if (each.closest('.scroll, pre, svg, .vh')) return false;
  const box = each.getBoundingClientRect();
  return box.width > 0 && (box.right > innerWidth + 0.5 || box.left < -0.5) && !each.matches('.skip');
}).map(each => `${each.tagName}.${each.className} ${each.textContent.trim().slice(0, 40)}`)"""


BUILT_ALIKE = ("choice", "nothing to compare", "nothing")
"""Pages of the same parts as others here; their rules need no second look."""
UNFOLDED = ("errors", "spillway", "comparison")
"""One page of each kind of folded part, judged on the narrowest phone with all of it in sight."""
FIRST = ("form", "errors", "jet", "comparison", "report", "parts")
"""One page of each template that is large; the others follow with the slow tests."""
OTHER_COLOURS = ("form", "first day")
"""With an answer of a bench test and one of a panel check they show all pairs of words and ground that any page has, pictures
too (12, counted on 2026-11-25); judging contrasts takes as long as all other rules together."""


@pytest.mark.parametrize("kind", [kind if kind in FIRST else pytest.param(kind, marks=pytest.mark.slow) for kind in KINDS])
def test_axe_finds_nothing_and_nothing_runs_out_at_the_side(visit: Open, kind: str) -> None:
    page = visit(pages()[kind], scripts=True)
    if kind not in BUILT_ALIKE + UNFOLDED:
        assert violations(page, kind in OTHER_COLOURS) == []
    for width, unfolded in ((1280, False), (PHONE, False), (NARROWEST, True)):
        if unfolded:
            page.evaluate(UNFOLD)
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{kind} at {width}, unfolded: {unfolded}"
        assert page.evaluate(RUNS_OUT) == [], f"{kind} at {width}, unfolded: {unfolded}"
    if kind in UNFOLDED:
        assert violations(page, kind in OTHER_COLOURS) == []


def violations(page: Any, contrasts: bool) -> list[str]:
    """What axe-core finds wrong, with or without the contrasts of colours."""
    from axe_playwright_python.sync_playwright import Axe

    rules = {"color-contrast": {"enabled": contrasts}}
    found = Axe().run(page, options={"runOnly": RULES, "rules": rules, "resultTypes": ["violations"]}).response["violations"]
    return [f"{each['id']}: {[node['html'][:120] for node in each['nodes']]}" for each in found]


@pytest.mark.parametrize("where", ["/", f"/?{urlencode(design('orchard_choice'))}"], ids=["one", "several"])
def test_touch_targets_are_large(visit: Open, where: str) -> None:
    """44 px for what is pressed alone; links in a line of words are as tall as their line."""
    page = visit(where, width=PHONE, scripts=True)
    small = page.evaluate(
        """() => [...document.querySelectorAll(
          'button:not(.vh), summary, select, input:not([type=radio], [type=checkbox]), .choice, nav a')]
        .filter(each => each.getClientRects().length && each.getBoundingClientRect().height < 43.5)
        .map(each => each.outerHTML.slice(0, 80))"""
    )
    assert small == []


def test_words_of_a_row_begin_at_one_height_and_so_do_its_boxes(visit: Open) -> None:
    page = visit("/", scripts=True)
    names = ["panels.0.vmp_v", "panels.0.imp_a", "panels.0.voc_v", "panels.0.isc_a"]
    names += ["mounting.tilt_deg", "mounting.azimuth_deg", "mounting.compass_deg", "place.compass_date"]
    found = [[page.locator(f'[{key}="{name}"]').bounding_box()["y"] for key in ("for", "id")] for name in names]
    for row in (found[:4], found[4:]):
        assert all(abs(label - row[0][0]) < 1 and abs(box - row[0][1]) < 1 for label, box in row)
