"""Words on paper: the report and the results are complete on A4 and Letter, headers of tables come again on each sheet."""

import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.paper import CUT, PAPER, TALL, printed, sheets
from tests.browser.test_look_and_reach import UNFOLD, pages

Open = Callable[..., Any]

MOST_OF_REPORT = 18
WORDS = """() => {
  const found = [], walk = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const holder = walk.currentNode.parentElement;
    if (holder.getClientRects().length && !holder.closest('title, desc, .vh')) found.push(walk.currentNode.data);
  }
  return found;
}"""
"""The words of every piece of text that shows."""


def test_the_report_is_whole_on_both_papers(visit: Open, tmp_path: Path) -> None:
    page = visit(pages()["report"], scripts=True)
    for paper, width in PAPER.items():
        content = printed(page, paper)
        assert 4 <= sheets(content) <= MOST_OF_REPORT
        page.emulate_media(media="print")
        page.set_viewport_size({"width": width, "height": TALL})
        assert page.evaluate(CUT) == []
        if shutil.which("pdftotext") is not None:
            path = tmp_path / f"{paper}.pdf"
            path.write_bytes(content)
            text = subprocess.run(["pdftotext", str(path), "-"], capture_output=True, check=True, text=True).stdout
            expected = {word for found in page.evaluate(WORDS) for word in re.findall(r"\w{3,}", found)}
            assert len(expected) > 300
            shown = text.replace("-\n", "-")  # pdftotext itself joins some words that a line parts at their dash
            assert sorted(word for word in expected - in_address(page) if word not in shown) == []
            (budget,) = [sheet for sheet in text.split("\f") if "Parts and budget, an estimate" in sheet]
            assert "All together" in budget
            last = text.split("\f")[-2]
            for together in ("Looked at by", "To fill in by hand", "Licensed for electrical work"):
                assert together in last
    for hidden in ("nav", ".skip", "form"):
        assert not page.locator(hidden).first.is_visible()


def in_address(page: Any) -> set[str]:
    """Words of the address, which is broken wherever a line ends."""
    return set(re.findall(r"\w{3,}", page.locator(".address").inner_text()))


def test_what_is_printed_and_what_is_not(visit: Open) -> None:
    page = visit(pages()["jet"], scripts=True)
    page.emulate_media(media="print")
    shown = page.locator("main").inner_text()
    for expected in ("The twelve months", "Operating points", "What was assumed", "As in the worked example", "Pipe length, in"):
        assert expected in shown
    assert "Jet height by month and hour, cm; a dash where the sun is down" in shown
    for hidden in ("Show this moment", "Change answers", "as CSV", "Every number and its working", "Sun on the panel"):
        assert hidden not in shown
    for selector in ("nav", ".skip", "form.moment"):
        assert not page.locator(selector).first.is_visible()
    page.emulate_media(media="screen")
    page.get_by_text("Pump and motor", exact=True).click()
    page.emulate_media(media="print")
    shown = page.locator("main").inner_text()
    assert "Every number and its working" in shown
    assert "wire to water efficiency" in shown
    assert "Sun on the panel" not in shown


@pytest.mark.slow
def test_headers_of_tables_come_again_on_each_sheet_and_rows_stay_whole(visit: Open) -> None:
    page = visit(pages()["jet"], scripts=True)
    page.emulate_media(media="print")
    heads = page.evaluate("() => [...document.querySelectorAll('thead')].map(each => getComputedStyle(each).display)")
    assert set(heads) == {"table-header-group"}
    kept = page.evaluate("() => [...document.querySelectorAll('tr, figure')].map(each => getComputedStyle(each).breakInside)")
    assert set(kept) == {"avoid"}


@pytest.mark.slow
def test_every_word_of_the_page_is_on_the_paper(visit: Open, tmp_path: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("comparing the words on paper needs pdftotext")
    page = visit(pages()["jet"], scripts=True)
    page.evaluate(UNFOLD)
    page.emulate_media(media="print")
    expected = {word for text in page.evaluate(WORDS) for word in re.findall(r"\w{3,}", text)}
    assert len(expected) > 500
    for paper in PAPER:
        path = tmp_path / f"{paper}.pdf"
        path.write_bytes(printed(page, paper))
        text = subprocess.run(["pdftotext", str(path), "-"], capture_output=True, check=True, text=True).stdout
        assert sorted(expected - set(re.findall(r"\w{3,}", text))) == []
        assert text.count("\f") == sheets(path.read_bytes())
