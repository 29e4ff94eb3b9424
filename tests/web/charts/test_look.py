"""The look: colours that can be read, pictures printed as the content policy allows, pages that hold together."""

import re
from collections import Counter
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

from sizing.light.sun_paths import sun_paths
from sizing.place.place import Place
from sizing.sky.day_courses import day_courses
from sizing.sky.sky_months import sky_months
from sizing.sky.weather import built_in_sky
from web.charts import curves
from web.charts import month_and_hour as hours
from web.charts import water_by_month as charts
from web.charts.curves import Curve, Point
from web.charts.drawing.fountain import fountain_to_scale
from web.charts.drawing.scene import NARROW, Fountain
from web.charts.kit import shapes
from web.charts.kit.shapes import Chart
from web.charts.path_strip import Reading, stations
from web.charts.sky.day_courses import day_courses_chart
from web.charts.sky.sky_by_month import sky_by_month
from web.charts.sky.sun_paths import sun_over_garden
from web.pages.frame.site import environment

WEB = Path(__file__).resolve().parents[3] / "web"
STYLE = (WEB / "static" / "style.css").read_text()
PAGES = environment()
PHONE = 320 - 2 * 16
"""[px] width of a picture on the narrowest phone: one rem of margin at either side."""


def luminance(colour: str) -> float:
    """Relative luminance of #RRGGBB, WCAG 2.2 definition."""
    parts = [int(colour[index : index + 2], 16) / 255 for index in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, WCAG 2.2 definition."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def variables() -> dict[str, str]:
    """Colours named in the stylesheet."""
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", STYLE))


def every_chart() -> list[Chart]:
    water = [46.0, 60, 88, 112, 131, 140, 144, 133, 108, 79, 50, 40]
    grid: list[list[float | None]] = [[None] * 7 + [0.0, 7.3, 19.1, 62, 62, 19.1, 7.3, 0.0] + [None] * 9 for _ in range(12)]
    family = [Curve("600 W/m²", [0, 14, 20], [0.7, 0.7, 0]), Curve("1000 W/m²", [0, 14, 21], [1.2, 1.2, 0])]
    load = Curve("what the pump draws", [0, 20], [0.1, 1.9])
    best = [Point("600 W/m²", 14, 0.7), Point("1000 W/m²", 14, 1.2)]
    fountain = Fountain("nozzle", 0.55, "submersible", 30, 1.8, 0.35, jet_now=0.62, jet_best=0.88)
    return [
        charts.water_by_month(water, [value * 0.9 for value in water], [value * 1.1 for value in water]),
        hours.month_and_hour(grid, litres_a_day=water),
        curves.panel_and_pump(family, load, [Point("1000 W/m²", 12.2, 1.2)], best, Point("now", 6.7, 0.7)),
        curves.head_and_flow(family, load, [Point("600 W/m²", 6.7, 0.7)]),
        fountain_to_scale(fountain),
        day_courses_chart(day_courses(built_in_sky(Place("x", 46.05, 14.51, 298.0))), "hours by the sun"),
        sky_by_month(*(sky_months(built_in_sky(Place("x", latitude, 14.51, 298.0))) for latitude in (46.05, 47.4))),
        sun_over_garden(sun_paths(Place("x", 46.05, 14.51, 298.0)), ((80.0, 20.0), (130.0, 25.0))),
    ]


def printed(chart: Chart, options: str = "") -> str:
    template = PAGES.from_string("{% import 'charts.html' as c %}{{ c.figure(chart" + options + ") }}")
    return template.render(chart=chart)


def test_known_contrasts() -> None:
    # WCAG 2.2: black on white is 21 to 1; grey #767676 on white is the known limit of 4.5 to 1 (4.54).
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("ground", [shapes.PAPER, shapes.POOL, shapes.SAND, variables()["wash"]])
@pytest.mark.parametrize("words", [shapes.INK, shapes.QUIET, shapes.WATER])
def test_words_can_be_read(words: str, ground: str) -> None:
    assert contrast(words, ground) >= 4.5


def test_orange_and_red_words_can_be_read() -> None:
    assert contrast(shapes.SUN_TEXT, shapes.PAPER) >= 4.5
    assert contrast(shapes.SUN_TEXT, variables()["wash"]) >= 4.5
    assert contrast(variables()["error"], shapes.PAPER) >= 4.5
    assert contrast(shapes.PAPER, shapes.WATER) >= 4.5


def test_lines_and_marks_stand_out() -> None:
    for line in (shapes.WATER, shapes.SUN, shapes.STONE, variables()["border"], variables()["sun"]):
        assert contrast(line, shapes.PAPER) >= 3
    assert contrast(shapes.WATER, shapes.SUN) >= 3
    assert contrast(variables()["amber"], "#0b0c0c") >= 3
    assert contrast("#0b0c0c", shapes.PAPER) >= 3


def test_the_ramp_darkens_step_by_step_so_that_it_reads_in_grey() -> None:
    ramp = (shapes.SAND, *shapes.RAMP)
    for paler, deeper in pairwise(ramp):
        assert luminance(paler) > luminance(deeper)
        assert contrast(paler, deeper) >= 1.15


def test_stylesheet_and_pictures_share_their_colours() -> None:
    named = {name: colour.upper() for name, colour in variables().items()}
    for name in ("ink", "quiet", "rule", "paper", "water", "sun"):
        assert named[name] == getattr(shapes, name.upper())
    assert named["sun-text"] == shapes.SUN_TEXT
    assert named["border"] == shapes.STONE


def test_every_text_is_ten_pixels_on_the_narrowest_phone() -> None:
    for chart in every_chart():
        sheet = chart.narrow or chart.picture
        for shape in sheet.shapes:
            if isinstance(shape, shapes.Text):
                assert shape.size * PHONE / sheet.width >= 10, shape.content
    assert NARROW.width == shapes.WIDTH


@pytest.mark.parametrize("chart", every_chart(), ids=lambda chart: chart.name)
def test_a_picture_is_sound_and_carries_its_own_colours(chart: Chart) -> None:
    html = printed(chart)
    for drawn in re.findall(r"<svg.*?</svg>", html, re.S):
        root = ElementTree.fromstring(drawn)
        ids = root.attrib["aria-labelledby"].split()
        space = "{http://www.w3.org/2000/svg}"
        assert [root.find(f"{space}{part}").attrib["id"] for part in ("title", "desc")] == ids  # type: ignore[union-attr]
        grouped = {member: group.attrib for group in root.iter(f"{space}g") for member in group}
        for part in root.iter():
            assert part.tag.removeprefix(space) in {
                "svg",
                "g",
                "title",
                "desc",
                "polyline",
                "polygon",
                "rect",
                "path",
                "circle",
                "text",
            }
            assert "style" not in part.attrib
            if part.tag.removeprefix(space) in {"polyline", "polygon", "rect", "path", "circle", "text"}:
                assert re.fullmatch(r"#[0-9A-F]{6}|none", (grouped.get(part, {}) | part.attrib)["fill"])
            assert not any(
                "nan" in value.lower() or "inf" in value.lower() for key, value in part.attrib.items() if key != "font-family"
            )
            assert not any(
                re.search(r"\.\d\d", value)
                for key, value in part.attrib.items()
                if key in {"x", "y", "points", "width", "cx", "d"}
            )
    assert "<figcaption>" in html
    assert html.count("<table") >= 1


def test_ids_are_unique_on_a_page_with_every_picture() -> None:
    html = "".join(printed(chart) for chart in every_chart())
    assert max(Counter(re.findall(r'\bid="([^"]+)"', html)).values()) == 1


def test_tables_have_captions_headers_and_a_region_to_scroll() -> None:
    html = printed(every_chart()[1])
    assert html.count("<table") == html.count("<caption>") == html.count('role="region" tabindex="0" aria-label=') == 2
    assert html.count('scope="row"') == 24
    assert "<details>" in html
    assert "<details open>" in printed(every_chart()[1], ", open=true")
    assert printed(every_chart()[1], ", short=false").count("<table") == 1


def test_words_from_outside_cannot_break_out() -> None:
    chart = curves.head_and_flow([Curve("<script>", [0, 9], [3, 0])], Curve('"><b>', [0, 9], [1, 2]), [], name="odd")
    html = printed(chart)
    assert "<script" not in html
    assert "<b>" not in html


@pytest.mark.parametrize("count", [6, 7])
def test_the_strip_is_a_list_of_links(count: int) -> None:
    keys = ("sun", "panel", "wire", "pump", "pipe", "outlet", "basin")[:count]
    strip = stations([Reading(key, 7.3, "W/m2", "below", f"#{key}") for key in keys])
    html = PAGES.from_string("{% import 'charts.html' as c %}{{ c.strip(strip) }}").render(strip=strip)
    assert html.count("<li") == html.count("<a href=") == count
    assert "7.3<small>&nbsp;W/m²</small>" in html


def test_the_frame_of_every_page() -> None:
    page = PAGES.get_template("base.html").render(
        static=lambda name: f"/static/{name}", version="7.3", current="/sources", leads=()
    )
    assert page.startswith("<!doctype html>")
    assert '<html lang="en">' in page
    assert page.count("<main") == page.count("<header") == page.count("<footer") == page.count("<nav") == 1
    assert page.index('class="skip"') < page.index("<header")
    assert re.findall(r'<a href="([^"]+)" aria-current="page">', page) == ["/sources"]
    assert "version 7.3" in page
    assert "local code" in page
    assert "licensed" in page
    assert page.count('rel="stylesheet"') == 1
    assert "<script" not in page
    assert "style=" not in page


def test_nothing_is_fetched_from_elsewhere() -> None:
    for path in [*(WEB / "templates").glob("*.html"), *(WEB / "static").iterdir()]:
        text = path.read_text().replace("http://www.w3.org/2000/svg", "")
        assert not re.search(r"https?:|@import|url\(", text), path.name


def test_the_stylesheet_serves_phone_print_and_forced_colours() -> None:
    for needed in (
        "@media print",
        "@page",
        "forced-colors: active",
        "max-width: 40rem",
        "details-content",
        "prefers-reduced-motion",
    ):
        assert needed in STYLE
    assert STYLE.count("{") == STYLE.count("}")


def test_the_icon_is_a_sound_picture() -> None:
    assert ElementTree.parse(WEB / "static" / "icon.svg").getroot().tag == "{http://www.w3.org/2000/svg}svg"
