"""Pages on a wide screen, on phones and on paper: nothing runs out at the side, and the checks of axe-core find nothing."""

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from sizing.design.reading import parse_design
from tests.browser.paper import CUT, PAPER, TALL, printed, sheets
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
        "what would meet it": f"/reach?{urlencode(design('orchard_choice'))}",
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
    "bubbler",
    "places",
    "sky",
    "directions",
    "comparison",
    "what would meet it",
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


BUILT_ALIKE = ("choice", "bubbler", "nothing to compare", "nothing")
"""Pages of the same parts as others here; their rules need no second look."""
UNFOLDED = ("errors", "spillway", "comparison")
"""One page of each kind of folded part, judged on the narrowest phone with all of it in sight."""
FIRST = ("form", "errors", "jet", "comparison", "parts")
"""One page of each template that is large; the others follow with the slow tests."""
OTHER_COLOURS = ("form", "first day")
"""With an answer of a bench test and one of a panel check they show all pairs of words and ground that any page has, pictures
too (12, counted on 2026-11-25); judging contrasts takes as long as all other rules together."""


A4, LETTER, FEW_SHEETS, SHEETS = ("A4",), ("Letter",), (3, 8), (1, 12)
ON_PAPER = {
    "jet": (A4 + LETTER, FEW_SHEETS),
    "spillway": (A4, FEW_SHEETS),
    "bubbler": (LETTER, FEW_SHEETS),
    **dict.fromkeys(("form", "places", "sky", "comparison", "parts", "sources", "programs"), (A4, SHEETS)),
}
"""Papers on which a page is printed, and how many sheets it may take; the report has a test of its own."""


@pytest.mark.parametrize("kind", [kind if kind in FIRST else pytest.param(kind, marks=pytest.mark.slow) for kind in KINDS])
def test_every_page_on_screens_and_on_paper_in_one_visit(visit: Open, kind: str) -> None:
    page = visit(pages()[kind], scripts=True)
    wrong = [] if kind in BUILT_ALIKE + UNFOLDED else axe(page, kind)
    wrong += on_paper(page, *ON_PAPER[kind]) if kind in ON_PAPER else []
    wrong += controls_on_paper(page) if kind == "parts" else []
    page.emulate_media(media="null")
    wrong += at_width(page, 1280) + at_width(page, PHONE)
    page.evaluate(UNFOLD)
    wrong += [f"unfolded: {each}" for each in at_width(page, NARROWEST)]
    wrong += axe(page, kind) if kind in UNFOLDED else []
    assert not wrong, "\n".join(wrong)


def axe(page: Any, kind: str) -> list[str]:
    """What axe-core finds wrong."""
    return [f"axe: {each}" for each in violations(page, kind in OTHER_COLOURS)]


def at_width(page: Any, width: int) -> list[str]:
    """What runs out at the side of a screen."""
    page.set_viewport_size({"width": width, "height": 800})
    whole = page.evaluate("document.documentElement.scrollWidth")
    wrong = [f"at {width} px: the page is {whole} px wide"] if whole > width else []
    return wrong + [f"at {width} px: {each} runs out at the side" for each in page.evaluate(RUNS_OUT)]


def on_paper(page: Any, papers: tuple[str, ...], expected: tuple[int, int]) -> list[str]:
    """What is cut off on paper, and a page of too few or too many sheets; the page is left as it looks on the last paper."""
    wrong = []
    for paper in papers:
        count = sheets(printed(page, paper))
        wrong += [] if expected[0] <= count <= expected[1] else [f"on {paper}: {count} sheets"]
        page.emulate_media(media="print")
        page.set_viewport_size({"width": PAPER[paper], "height": TALL})
        wrong += [f"on {paper}: {each} is cut off" for each in page.evaluate(CUT)]
    return wrong


def controls_on_paper(page: Any) -> list[str]:
    """Boxes and buttons that show on a printed list of parts, and a sum that does not."""
    controls = page.locator("main").locator("button:visible, input:visible, select:visible").count()
    wrong = [f"on paper: {controls} boxes and buttons"] if controls else []
    return wrong if page.locator(".bought tfoot").is_visible() else [*wrong, "on paper: no sum"]


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
