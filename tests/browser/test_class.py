"""What a class does in the browser: a log sent with scripts off, its answer on a phone, a sheet on one piece of paper."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from tests.browser.paper import CUT, PAPER, TALL, printed, sheets
from tests.browser.test_flows import box, focused, follow
from tests.browser.test_look_and_reach import NARROWEST, RUNS_OUT, UNFOLD, design, violations

Open = Callable[..., Any]

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def address(part: str, **more: str) -> str:
    """Address of a part of the class's pages."""
    return (
        f"/class/{part}?{urlencode(design('quince_court_jet') | {name.replace('__', '.'): text for name, text in more.items()})}"
    )


def test_a_bench_log_becomes_the_design_s_pump_with_scripts_off(visit: Open) -> None:
    page = visit(address("bench"))
    box(page, "log").fill("volts,amps,height,volume,seconds\n12,0.6,0.5,5,0\n")
    follow(page, page.get_by_role("button", name="Work it out").last)
    page.locator("#error-summary:focus").wait_for()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert focused(page) == "log"
    assert "0.6,0.5,5,0" in box(page, "log").input_value()
    box(page, "log-file").set_input_files(EXAMPLES / "bench_heron_pump.csv")
    box(page, "date").fill("2026-11-02")
    follow(page, page.get_by_role("button", name="Work it out").last)
    assert "One pump fits all 24 readings" in page.locator("#answer").inner_text()
    assert box(page, "date").input_value() == "2026-11-02"
    follow(page, page.get_by_role("button", name="Use this pump in the design"))
    page.get_by_role("heading", name=re.compile("^Plays from about")).wait_for()
    assert "24 readings of the bench test of 2026-11-02" in page.locator("main").text_content()
    follow(page, page.get_by_role("button", name="What the class measured"))
    assert page.get_by_role("heading", level=1).inner_text() == "What the class measured"


@pytest.mark.some(1)
@pytest.mark.parametrize(
    ("part", "log", "contrasts"),
    [("bench", "heron_pump", True), ("directions", "millpond", False), ("panel", "wren_yard", True)],
)
def test_an_answer_fits_a_phone_and_paper_and_axe_finds_nothing(visit: Open, part: str, log: str, contrasts: bool) -> None:
    page = visit(address(part), scripts=True)
    box(page, "log-file").set_input_files(EXAMPLES / f"{part}_{log}.csv")
    page.locator("#log-form .send button").first.click()
    page.locator("#answer").wait_for()
    assert violations(page, contrasts) == []
    page.evaluate(UNFOLD)
    page.set_viewport_size({"width": NARROWEST, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= NARROWEST
    assert page.evaluate(RUNS_OUT) == []
    page.emulate_media(media="print")
    page.set_viewport_size({"width": PAPER["A4"], "height": TALL})
    assert page.evaluate(CUT) == []


@pytest.mark.slow
def test_a_sheet_of_ten_hours_is_one_piece_of_paper(visit: Open) -> None:
    page = visit(address("sheet", sheet__day="2026-05-12", sheet__from_hour="8", sheet__to_hour="18"), scripts=True)
    assert violations(page, False) == []
    for paper in PAPER:
        assert sheets(printed(page, paper)) == 1
    page.emulate_media(media="print")
    page.set_viewport_size({"width": PAPER["A4"], "height": TALL})
    assert page.evaluate(CUT) == []
