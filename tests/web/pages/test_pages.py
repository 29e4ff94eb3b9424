"""The pages through the service: what they hold, where their links lead, what they keep and what they refuse."""

import csv
import io
import json
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from urllib.parse import parse_qsl, urlencode, urlsplit

import httpx
import pytest

from sizing.design.reading import LARGEST_FILE, parse_design
from sizing.foundation.sources import SOURCES
from tests.asking import SKIES, ask, post
from tests.markup import Element, read
from web.forms.form import Texts, texts_of
from web.forms.grids import POINTS
from web.forms.questions import BOXES, CHOICES, SECTIONS
from web.forms.sending import LONGEST_LINK, apart
from web.pages.garden.form_page import EXAMPLE, example_texts, in_page_order

ROOT = Path(__file__).resolve().parents[3]
NOTICE = (ROOT / "sizing" / "data" / "NOTICE").read_text(encoding="utf-8")
LARGEST_PAGE = 150_000
"""[byte] What a phone on a slow line can still be asked to load."""
DRY = {"outlet.height_above_water_m": "5"}
RARELY = {"outlet.height_above_water_m": "1.8"}
"""Lifts so high that winter stays dry."""


def design_texts(stem: str) -> Texts:
    """The texts of a design in ``examples/``."""
    return texts_of(parse_design((ROOT / "examples" / f"{stem}.json").read_bytes()))


def address(path: str, texts: Mapping[str, str], **moment: str) -> str:
    """An address with all answers, and a moment."""
    return f"{path}?{urlencode(dict(texts) | {f'moment.{name}': text for name, text in moment.items()})}"


def results(changes: Mapping[str, str] | None = None, **moment: str) -> str:
    """Address of the results of the worked example with changes."""
    return address("/results", dict(example_texts()) | dict(changes or {}), **moment)


WRONG = {
    "place.latitude_deg": "",
    "place.skyline.6.azimuth_deg": "310",
    "sky.kind": "catapult",
    "panels.0.vmp_v": "12 cm",
    "pumps.0.position": "",
    f"{POINTS}.2.head_m": "x",
    "pumps.0.winding_resistance_ohm": "-1",
    "cable.area_mm2": "1,234",
    "fittings.elbow_90.count": "many",
    "pipe.roughness_mm": "9",
    "outlet.bore_mm": "abc",
}
MEAN_DAYS = [1.2, 2.2, 3.4, 4.4, 5.4, 5.9, 6.0, 5.2, 3.8, 2.4, 1.3, 1.0]
TYPED_MONTHS = {"sky.kind": "monthly", "sky.origin": "our weather service, 1991 to 2020"}
TYPED_MONTHS |= {f"sky.ghi_kwh_per_m2_day.{month}": f"{sun:g}" for month, sun in enumerate(MEAN_DAYS)}
COMPASS = {"mounting.azimuth_deg": "", "mounting.compass_deg": "171", "place.compass_date": "2026-05-31"}
PAGES = {
    "form": "/",
    "form with answers": address("/", design_texts("terrace_spillway")),
    "form with errors": results(WRONG),
    "results of the example": results(),
    "results of the quince court": address("/results", design_texts("quince_court_jet")),
    "results of the spillway": address("/results", design_texts("terrace_spillway")),
    "results of the bubbler": address("/results", design_texts("fern_bubbler")),
    "results without water": results(DRY),
    "results with dry months": results(RARELY),
    "results at night": results(month="6", hour="1", sky="clear"),
    "results at a dull hour": results(month="12", hour="9", sky="dull"),
    "results at a strength": results(strength="300"),
    "results at no strength": results(strength="0"),
    "places of a name": address("/places", dict(example_texts()) | {"find": "springfield"}),
    "a place by coordinates": address("/places", dict(example_texts()) | {"find": "36.1 N, 79 57 W"}),
    "no place": address("/places", dict(example_texts()) | {"find": "xyzzyx"}),
    "results by compass": results(COMPASS),
    "results of typed months": results(TYPED_MONTHS),
    "sky of the example": address("/sky", example_texts()),
    "sky of typed months": address("/sky", dict(example_texts()) | TYPED_MONTHS),
    "sky of the south": address(
        "/sky",
        {"place.latitude_deg": "-33.9", "place.longitude_deg": "18.4", "mounting.tilt_deg": "30"} | {"mounting.azimuth_deg": "0"},
    ),
    "what the class measured": address("/class", design_texts("quince_court_jet")),
    "a predicted day": address("/class/sheet", design_texts("quince_court_jet") | {"sheet.day": "2026-05-12"}),
    "a first clear day": address("/class/first-day", design_texts("quince_court_jet") | {"first.day": "2026-05-12"}),
    "a bench test to fill in": address("/class/bench", design_texts("quince_court_jet")),
    "comparison of the orchard": address("/compare", design_texts("orchard_choice")),
    "comparison of one pair": address("/compare", example_texts()),
    "parts of the orchard": address("/parts", design_texts("orchard_choice")),
    "parts with a wrong price": address("/parts", dict(example_texts()) | {"budget.parts.pipe.amount": "-3"}),
    "report of the example": address("/report", example_texts()),
    "report of the orchard": address("/report", design_texts("orchard_choice")),
    "report without water": address("/report", dict(example_texts()) | DRY),
    "how it computes": "/sources",
    "for programs": "/api",
    "nothing here": "/nothing-here",
}
SIGHTINGS = [
    {"azimuth_deg": 60.0, "altitude_deg": 14.0},
    {"compass_deg": 92.5, "height_m": 7.3, "distance_m": 22.5},
    {"azimuth_deg": 200.0, "height_m": 3.0, "distance_m": 41.0},
    {"compass_deg": 261.0, "altitude_deg": 12.0},
]
RESULTS = [name for name in PAGES if name.startswith("results")]


@lru_cache(maxsize=40)
def answered(where: str) -> httpx.Response:
    """The answer of an address, asked once."""
    return ask("GET", where)


@lru_cache(maxsize=40)
def page(where: str) -> Element:
    """The page of an address, read once."""
    return read(answered(where).text)


# Every page


def status_kind_and_title(name: str, found: Element) -> None:
    response = answered(PAGES[name])
    expected = 422 if name in ("form with errors", "parts with a wrong price") else 404 if name == "nothing here" else 200
    assert response.status_code == expected
    assert response.headers["content-type"] == "text/html; charset=utf-8"
    assert response.headers["cache-control"] == ("private, no-cache" if expected == 200 else "no-store")
    title = found.one("head").one("title").text
    assert title.endswith(" · Solar fountain sizing")
    assert title.startswith("Error: ") == (expected != 200)


def one_frame_and_headings_in_steps(name: str, found: Element) -> None:
    assert found.one("html")["lang"] == "en"
    for tag in ("main", "header", "footer", "h1"):
        found.one(tag)
    assert found.all("nav")[0]["aria-label"] == "Pages"
    assert {each["aria-label"] for each in found.all("nav")} <= {"Pages", "This design"}
    levels = [int(each.tag[1]) for each in found.one("main").all("h1", "h2", "h3", "h4")]
    if levels[0] == 2:  # the summary of errors stands above the heading of the page
        assert found.one("main").all("h2")[0]["id"] == "error-heading"
        levels = levels[1:]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def every_id_is_unique_and_every_reference_leads_somewhere(name: str, found: Element) -> None:
    ids = Counter(each["id"] for each in found.walk() if "id" in each.attributes)
    assert {name: count for name, count in ids.items() if count > 1} == {}
    for each in found.walk():
        for attribute in ("aria-describedby", "aria-labelledby", "for", "form"):
            for target in each[attribute].split():
                assert target in ids, f"{attribute}={target}"
        if each["href"].startswith("#"):
            assert each["href"][1:] in ids, each["href"]


def every_control_has_a_name_and_every_link_its_words(name: str, found: Element) -> None:
    labelled = {each["for"] for each in found.all("label") if each.text}
    for each in found.all("input", "select", "textarea"):
        if each["type"] != "hidden":
            assert each["id"] in labelled or each["aria-label"] or each.inside("label"), each.attributes
    for each in found.all("a", "button", "summary"):
        assert each.text, each.attributes
    for each in found.all(role="region"):
        assert each["aria-label"]
    for each in found.all("img"):
        assert "alt" in each.attributes


def every_table_has_a_caption_and_headers(name: str, found: Element) -> None:
    for table in found.all("table"):
        assert table.one("caption").text
        assert all(head["scope"] in ("row", "col", "rowgroup") for head in table.all("th"))
        widths = {sum(int(cell["colspan"] or 1) for cell in row.all("th", "td")) for row in table.all("tr")}
        assert len(widths) == 1


def nothing_that_the_content_policy_forbids(name: str, found: Element) -> None:
    for each in found.walk():
        assert each.tag not in ("script", "style", "iframe", "object")
        assert not [attribute for attribute in each.attributes if attribute == "style" or attribute.startswith("on")]


def links_to_other_pages_lead_somewhere(name: str, found: Element) -> None:
    for each in found.all("a"):
        parts = urlsplit(each["href"])
        if name == "how it computes" and each["href"] in NOTICE:
            continue  # the credits, whose licences ask for their links
        assert not parts.scheme, "links stay on the service"
        if parts.path and not parts.query:
            target = answered(parts.path)
            assert target.status_code == 200, parts.path
            if parts.fragment:
                assert read_cached(parts.path, parts.fragment)


@lru_cache(maxsize=200)
def read_cached(path: str, fragment: str) -> bool:
    return bool(page(path).all(id=fragment))


CHECKS = (
    status_kind_and_title,
    one_frame_and_headings_in_steps,
    every_id_is_unique_and_every_reference_leads_somewhere,
    every_control_has_a_name_and_every_link_its_words,
    every_table_has_a_caption_and_headers,
    nothing_that_the_content_policy_forbids,
    links_to_other_pages_lead_somewhere,
)


@pytest.mark.parametrize("name", PAGES)
def test_every_page_in_one_visit(name: str) -> None:
    found, wrong = page(PAGES[name]), []
    for check in CHECKS:
        try:
            check(name, found)
        except AssertionError as error:
            wrong.append(f"{check.__name__}: {error}")
    assert not wrong, "\n".join(wrong)


def test_titles_tell_pages_apart() -> None:
    titles = [
        page(PAGES[name]).one("head").one("title").text for name in ("form", "how it computes", "for programs", "nothing here")
    ]
    titles += [page(PAGES[name]).one("head").one("title").text for name in ("results of the spillway", "results of the bubbler")]
    assert len(set(titles)) == len(titles)


def test_static_files_are_kept_for_a_year_under_an_address_of_their_content() -> None:
    found = page("/")
    for where in [found.one("link", rel="stylesheet")["href"], found.one("link", rel="icon")["href"]]:
        response = ask("GET", where)
        assert response.status_code == 200
        assert response.headers["cache-control"] == "public, max-age=31536000, immutable"
        assert "max-age" not in ask("GET", where.partition("?")[0]).headers["cache-control"]
    assert ask("GET", "/static/../pages.py").status_code == 404
    assert ask("GET", "/static/nothing.css?v=1").status_code == 404


@pytest.mark.parametrize("where", ["/", results(), "/sources", "/api", address("/design.json", example_texts())])
def test_head_answers_as_get_without_the_body(where: str) -> None:
    head, get = ask("HEAD", where), answered(where)
    assert head.status_code == get.status_code == 200
    assert head.content == b""
    assert head.headers["content-type"] == get.headers["content-type"]


# The form


def boxes(found: Element) -> dict[str, str]:
    """What the main form would send: every box, hidden field and marked way."""
    form = found.one("form", action="/results")
    sent = {}
    for each in form.all("input"):
        if each["type"] not in ("radio", "checkbox") or "checked" in each.attributes:
            assert each["name"] not in sent
            sent[each["name"]] = each["value"]
    for each in form.all("select"):
        marked = [option for option in each.all("option") if "selected" in option.attributes]
        sent[each["name"]] = (marked or each.all("option"))[0]["value"]
    return sent


def said(texts: Mapping[str, str]) -> dict[str, str]:
    """Texts that are not empty."""
    return {name: text for name, text in texts.items() if text}


def test_the_form_begins_with_the_worked_example_and_says_so() -> None:
    found = page("/")
    assert "worked example" in found.one("main").all("p", **{"class": "note"})[0].text
    assert said(boxes(found)) == dict(example_texts())
    assert not page(address("/", {"pipe.length_m": "8"})).all("p", **{"class": "note"})


@pytest.mark.parametrize("stem", ["quince_court_jet", "terrace_spillway", "fern_bubbler"])
def test_the_form_shows_a_design_as_it_is(stem: str) -> None:
    texts = design_texts(stem)
    assert said(boxes(page(address("/", texts)))) == texts


def test_the_order_of_the_page_is_the_order_of_the_questions() -> None:
    form = page("/").one("form", action="/results")
    names = [each["name"] for each in form.all("input", "select") if each["type"] != "hidden"]
    names = dict.fromkeys(BOXES[name].name if name in BOXES else name for name in names)  # type: ignore[assignment]
    asked = list(in_page_order(example_texts()))
    assert [name for name in names if name not in ("find", "weather")] == asked
    assert next(iter(names)) == "find"
    assert list(names)[list(names).index("weather") - 1].startswith("sky.")
    assert [each.text for each in form.all("h2")] == [section.title for section in SECTIONS]


def test_no_box_keeps_people_from_typing() -> None:
    for each in page("/").all("input", type="text"):
        # without autocomplete="off", which would empty the boxes when people come back
        assert not {"required", "maxlength", "pattern", "placeholder", "autocomplete"} & set(each.attributes)
    negative = ("place.latitude_deg", "place.longitude_deg", "panels.0.voc_temperature_coefficient_pct_per_c")
    assert all("inputmode" not in page("/").one(id=name).attributes for name in negative)
    assert page("/").one(id="pipe.length_m")["inputmode"] == "decimal"
    assert page("/").one(id="outlet.count")["inputmode"] == "numeric"


def test_names_with_markup_quotes_and_other_letters_come_back_as_they_were_typed() -> None:
    odd = {"title": '<script>alert("1")</script>', "place.name": "O'Hara & Söhne 🐸", "note": "{{ 7 * 7 }}"}
    odd["panels.0.name"] = '"><b>'
    texts = dict(example_texts()) | odd
    for where in (address("/", texts), address("/results", texts), address("/results", texts | {"pipe.length_m": "abc"})):
        found = page(where)
        assert not found.all("script", "b")
        sent = {each["name"]: each["value"] for each in found.all("input") if each["name"] in odd}
        assert sent == odd
        assert "49" not in found.one("head").one("title").text
    assert page(address("/results", texts)).one("head").one("title").text.startswith('<script>alert("1")</script> · ')
    names = [each.text for each in page(address("/results", texts)).all("dd")]
    assert "O'Hara & Söhne 🐸" in names


# Errors


def test_errors_come_in_the_order_of_the_page_with_all_texts_kept() -> None:
    found = page(PAGES["form with errors"])
    summary = found.one(id="error-summary")
    assert (summary["tabindex"], summary["role"]) == ("-1", "alert")
    assert "autofocus" in summary.attributes
    links = summary.all("a")
    order = list(in_page_order(WRONG))
    targets = [link["href"][1:] for link in links]
    expected = (WRONG.keys() | {"place.skyline.6.altitude_deg"}) - {"place.skyline.6.azimuth_deg"}
    assert set(targets) == expected
    assert targets == sorted(targets, key=order.index)
    sent = boxes(found)
    assert {name: sent[name] for name in WRONG if name not in CHOICES} == {
        name: text for name, text in WRONG.items() if name not in CHOICES
    }
    assert {name: sent[name] for name in CHOICES if name in WRONG} == {"sky.kind": "built_in", "pumps.0.position": "submersible"}


def test_each_sentence_stands_beside_its_field_and_is_tied_to_it() -> None:
    found = page(PAGES["form with errors"])
    for link in found.one(id="error-summary").all("a"):
        name = link["href"][1:]
        box = found.one(id=name)
        assert f"{name}-error" in box["aria-describedby"].split()
        assert found.one(id=f"{name}-error").text == f"Error: {link.text}"
        if box["type"] == "text":
            assert box["aria-invalid"] == "true"
        details = box
        while details.parent is not None:
            details = details.parent
            if details.tag == "details":
                assert "open" in details.attributes
    assert len(found.all("p", **{"class": "err"})) == len(found.one(id="error-summary").all("a"))


@pytest.mark.some(4)
@pytest.mark.parametrize("path", ["/results", "/results.csv", "/design.json"])
@pytest.mark.parametrize("query", ["", "pipe.length_m=8", "x=1", "sky.kind=weather_file"])
def test_an_address_that_says_too_little_comes_back_as_the_form(path: str, query: str) -> None:
    found = ask("GET", f"{path}?{query}")
    assert found.status_code == 422
    assert "place.latitude_deg" in [each["href"][1:] for each in read(found.text).one(id="error-summary").all("a")]


def test_what_only_the_sizing_finds_is_shown_in_the_form_too() -> None:
    found = page(results({"place.latitude_deg": "-31", "place.longitude_deg": "-25"}))
    assert [each["href"] for each in found.one(id="error-summary").all("a")] == ["#sky.kind"]
    assert boxes(found)["place.longitude_deg"] == "-25"


def test_a_design_by_a_weather_file_is_refused_with_a_sentence() -> None:
    found = ask("GET", address("/results", design_texts("weather_file_jet")))
    assert found.status_code == 422
    assert "takes its sun from a weather file; choose that file below" in read(found.text).one(id="error-summary").text


# Places


def ways_back(found: Element) -> list[dict[str, str]]:
    """The answers that each match of a search leads back with."""
    links = [each["href"] for each in found.one("table").all("a")]
    assert all(urlsplit(link).fragment == "place-questions" for link in links)
    return [dict(parse_qsl(urlsplit(link).query)) for link in links]


def test_a_town_fills_in_its_place_and_keeps_all_of_ones_own() -> None:
    """What is still the example's garden goes (``test_left_over``); all else stays."""
    texts = dict(example_texts()) | {"title": "Ours & theirs", "pipe.length_m": "7,3 m", "mounting.azimuth_deg": "181"}
    found = page(address("/places", texts | {"find": "novo mesto"}))
    taken = ways_back(found)[0]
    # Novo mesto: 45.80 N, 15.17 E
    assert float(taken["place.latitude_deg"]) == pytest.approx(45.80, abs=0.02)
    assert float(taken["place.longitude_deg"]) == pytest.approx(15.17, abs=0.02)
    assert taken["place.time_zone"] == "Europe/Ljubljana"
    assert taken["place.name"] == "Novo Mesto, Slovenia"
    assert "place.elevation_m" not in taken
    assert "find" not in taken
    place = ("place.latitude_deg", "place.longitude_deg", "place.name", "place.time_zone", "place.elevation_m", "cleared")
    assert {name: text for name, text in taken.items() if name not in place} == {
        name: text for name, text in texts.items() if name not in place and not name.startswith(("place.skyline", "note"))
    }
    assert ask("GET", address("/results", taken)).status_code == 200
    assert dict(parse_qsl(urlsplit(found.one("p", **{"class": "eyebrow"}).one("a")["href"]).query)) == texts


def test_several_towns_of_one_name_are_told_apart() -> None:
    found = page(PAGES["places of a name"])
    rows = [[cell.text for cell in row.all("th", "td")] for row in found.one("tbody").all("tr")]
    assert {row[1] for row in rows[:6]} >= {"Illinois", "Massachusetts", "Missouri"}
    assert len({tuple(row) for row in rows}) == len(rows)
    assert "GeoNames" in found.one("main").text
    assert "CC BY 4.0" in found.one("main").text


def test_coordinates_are_shown_as_they_were_read_and_take_the_clock_of_the_nearest_town() -> None:
    found = page(PAGES["a place by coordinates"])
    assert "Read as 36.1° north, 79.95° west." in found.one("main").text
    (taken,) = ways_back(found)
    assert (taken["place.latitude_deg"], taken["place.longitude_deg"]) == ("36.1", "-79.95")
    assert taken["place.time_zone"] == "America/New_York"
    assert taken["place.name"].endswith(", United States")
    (near,) = ways_back(page(address("/places", {"find": "46.06 N, 14.50 E"})))
    assert near["place.name"] == "Near Ljubljana, Slovenia"
    (far,) = ways_back(page(address("/places", {"find": "30.0 S, 90 E"})))
    assert far["place.name"].startswith("30° south, 90° east")


@pytest.mark.parametrize(
    ("sought", "said"),
    [
        ("", "Type the name of a town"),
        ("   ", "Type the name of a town"),
        ("xyzzyx", "No town of this name is in the list"),
        ("46.05 14.51 7", "As coordinates: 3 numbers stand in the text"),
        ("91 N, 14 E", "As coordinates: latitude is 91 degrees"),
        ("x" * 300, "That is no name of a town"),
        ("<script>", "No town of this name is in the list"),
    ],
)
def test_a_search_without_a_match_says_what_to_do(sought: str, said: str) -> None:
    found = ask("GET", address("/places", dict(example_texts()) | {"find": sought}))
    assert found.status_code == 200
    main = read(found.text).one("main")
    assert said in main.text
    assert not main.all("table", "script")
    sent = {each["name"]: each["value"] for each in main.one("form").all("input")}
    assert sent == dict(example_texts()) | {"find": sought}


def test_a_search_left_undone_is_done_before_the_sizing() -> None:
    found = ask("GET", results({"find": "novo mesto"}))
    assert found.status_code == 303
    assert found.headers["location"] == address("/places", dict(example_texts()) | {"find": "novo mesto"})
    assert boxes(page(address("/", {"find": "novo mesto"})))["find"] == "novo mesto"


# Directions


def test_both_directions_of_the_panel_are_shown() -> None:
    text = page(PAGES["results by compass"]).one("main").text.replace("\N{NO-BREAK SPACE}", " ")
    answer = post(ask("GET", PAGES["results by compass"].replace("/results", "/design.json")).json()).json()
    true, east = answer["mounting"]["azimuth_deg"], answer["mounting"]["declination_deg"]
    assert true == pytest.approx(171 + east)
    assert f"faces {true:.1f}° from true north (south); the compass showed 171° there on 2026-05-31" in text
    assert f"pointed {east:.2g}° east of true north" in text
    assert "compass showed" not in page(results()).one("main").text


def test_a_design_file_with_sightings_keeps_them_all() -> None:
    design = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    design["place"] |= {"compass_date": "2026-05-31", "skyline": SIGHTINGS}
    design["mounting"] = {"tilt_deg": 35, "compass_deg": 171.5}
    design["sky"] = {"kind": "monthly", "ghi_kwh_per_m2_day": MEAN_DAYS, "origin": "our weather service, 1991 to 2020"}
    opened = ask("POST", "/open", files={"design": ("x.json", json.dumps(design).encode())})
    assert opened.status_code == 303
    saved = ask("GET", address("/design.json", boxes(page(opened.headers["location"])))).json()
    for part in ("place", "mounting", "sky"):
        assert saved[part] == design[part]


# The sky


SKY = [name for name in PAGES if name.startswith("sky")]


@pytest.mark.parametrize("name", SKY)
def test_the_sky_is_that_of_the_interface_for_programs(name: str) -> None:
    query = dict(parse_qsl(urlsplit(PAGES[name]).query))
    saved = ask("GET", address("/design.json", dict(example_texts()) | {"place.elevation_m": "", "place.time_zone": ""} | query))
    design = saved.json()
    answer = post({part: design[part] for part in ("place", "sky", "mounting")}, address=SKIES).json()
    if name == "sky of the south":
        del design["place"]["skyline"], design["place"]["name"]
        answer = post({part: design[part] for part in ("place", "sky", "mounting")}, address=SKIES).json()
    found = page(PAGES[name])
    words = found.one("main").text
    assert answer["skyline"]["sentence"] in words
    assert answer["origin"] in words
    table = next(each for each in found.all("table") if each.one("caption").text.startswith("Sun on level ground"))
    for row, month in zip(table.one("tbody").all("tr"), answer["months"], strict=True):
        cells = [cell.text for cell in row.all("td")]
        assert cells[0] == f"{month['sun_kwh_per_m2_day']:.2f}"
        assert cells[1] == f"{month['dull_day_kwh_per_m2']:.2f}"
        assert float(plain(cells[6])) == pytest.approx(month["air_temperature_c"], abs=0.051)
    for note in answer["notes"]:
        assert note["detail"] in words
    assert (answer["comparison"] is not None) == ("Beside the built-in table" in words)
    if answer["comparison"] is not None:
        assert answer["comparison"]["sentence"] in words


def test_the_sky_says_where_typed_months_come_from() -> None:
    assert "The typed values come from: our weather service, 1991 to 2020." in page(PAGES["sky of typed months"]).one("main").text


def test_results_and_form_lead_to_the_sky_and_back() -> None:
    link = next(each["href"] for each in page(results()).all("a") if each.text == "Its sky")
    assert link == PAGES["sky of the example"]
    assert page("/").one("button", formaction="/sky").text == "Look at the sky over this garden"
    links = {each.text: each["href"] for each in page(link).one("nav", **{"aria-label": "This design"}).all("a")}
    known = {"What it will do": results(), "Change answers": address("/", example_texts()), "Its sky": "#content"}
    assert known.items() <= links.items()


def test_the_sky_needs_no_pump_and_says_what_is_wrong_with_place_and_sun() -> None:
    fine = ask("GET", address("/sky", dict(example_texts()) | {"pipe.length_m": "abc", "panels.0.vmp_v": ""}))
    assert fine.status_code == 200
    for changes, target in (
        ({"place.latitude_deg": "95"}, "place.latitude_deg"),
        ({"place.latitude_deg": "46° 73'"}, "place.latitude_deg"),
        ({"place.latitude_deg": "-31", "place.longitude_deg": "-25"}, "sky.kind"),
        ({"mounting.azimuth_deg": "", "mounting.compass_deg": "3"}, "place.compass_date"),
        ({"place.time_zone": "Mars/Base"}, "place.time_zone"),
        (TYPED_MONTHS | {"sky.ghi_kwh_per_m2_day.0": "11"}, "sky.ghi_kwh_per_m2_day.0"),
    ):
        refused = ask("GET", address("/sky", dict(example_texts()) | changes))
        assert refused.status_code == 422
        form = read(refused.text)
        assert [each["href"] for each in form.one(id="error-summary").all("a")] == [f"#{target}"]
        assert changes.items() <= boxes(form).items() | {("sky.kind", "monthly")}


MEGAJOULES = {"sky.unit": "mj_per_m2_day"} | {f"sky.ghi_kwh_per_m2_day.{i}": f"{3.6 * sun:g}" for i, sun in enumerate(MEAN_DAYS)}


def test_months_in_another_unit_are_the_same_sky() -> None:
    texts = dict(example_texts()) | TYPED_MONTHS | MEGAJOULES
    saved = ask("GET", address("/design.json", texts)).json()
    assert saved["sky"]["ghi_kwh_per_m2_day"] == pytest.approx(MEAN_DAYS)
    assert page(address("/results", texts)).one("h1").text == page(results(TYPED_MONTHS)).one("h1").text
    assert boxes(page(address("/", texts)))["sky.unit"] == "mj_per_m2_day"
    assert "MJ/m² a day" in [each.text for each in page(address("/results", texts)).all("dd")]


@pytest.mark.parametrize("path", ["/results", "/sky"])
def test_a_unit_that_hardly_can_be_is_pointed_out(path: str) -> None:
    doubtful = dict(example_texts()) | TYPED_MONTHS | {"sky.unit": "mj_per_m2_day"}
    warned = " ".join(each.text for each in page(address(path, doubtful)).all(role="note"))
    assert "the typed months hold" in warned
    assert "check the unit" in warned
    for fine in (TYPED_MONTHS, TYPED_MONTHS | MEGAJOULES):
        assert "check the unit" not in page(address(path, dict(example_texts()) | fine)).one("main").text


def test_the_built_in_values_are_filled_in() -> None:
    filled = ask("GET", address("/months", dict(example_texts()) | {"title": "Ours", "pipe.length_m": "abc"}))
    assert filled.status_code == 303
    where = urlsplit(filled.headers["location"])
    assert where.fragment == "sky-questions"
    texts = dict(parse_qsl(where.query))
    assert (texts["sky.kind"], texts["title"], texts["pipe.length_m"]) == ("monthly", "Ours", "abc")
    built_in = post(json.loads(EXAMPLE.read_text(encoding="utf-8"))).json()["year"]["water_l"]
    by_months = ask("GET", address("/design.json", texts | {"pipe.length_m": "1.2"})).json()
    # cut to three decimals, a month loses at most 0.001 of about 1 kWh/m2
    assert post(by_months).json()["year"]["water_l"] == pytest.approx(built_in, rel=2e-3)
    sea = ask("GET", address("/months", dict(example_texts()) | {"place.latitude_deg": "-31", "place.longitude_deg": "-25"}))
    assert sea.status_code == 422
    assert ask("GET", address("/months", {"place.latitude_deg": ""})).status_code == 422


def test_a_search_left_undone_is_done_before_the_sky() -> None:
    assert ask("GET", address("/sky", {"find": "koln"})).headers["location"] == "/places?find=koln"


# Results


@pytest.mark.some(2)
@pytest.mark.parametrize("name", RESULTS)
def test_the_page_says_what_the_interface_for_programs_answers(name: str) -> None:
    parts = urlsplit(PAGES[name])
    asked = dict(parse_qsl(parts.query))
    moment = {key: asked[f"moment.{key}"] for key in ("month", "hour", "sky") if f"moment.{key}" in asked}
    if "moment.strength" in asked:
        moment = {"irradiance_w_per_m2": asked["moment.strength"]}
    design = ask("GET", f"/design.json?{parts.query}").json()
    answer = post(design, f"?{urlencode(moment)}").json()
    found = page(PAGES[name])
    assert found.one("h1").text == answer["verdict"]["headline"]
    lead = f"{answer['verdict']['dry']} {answer['verdict']['limit']} {(answer['jets'] or {}).get('sentence', '')}"
    assert found.one("p", **{"class": "lead"}).text == lead.strip()
    for note in answer["warnings"]:
        assert note["detail"] in [each.all("p")[0].text.removeprefix("Look again. ") for each in found.all(role="note")]
    listed = [each.text for each in found.one(id="assumptions").parent.all("li")]  # type: ignore[union-attr]
    assert {note["detail"] for note in answer["assumptions"]} <= set(listed)
    for station in answer["moment"]["stations"]:
        if station["working_id"] is not None:
            assert found.all(id=station["working_id"])
    assert f": {answer['moment']['reason']}." in found.one("main").text


@pytest.mark.some(4)
@pytest.mark.parametrize("name", RESULTS)
def test_the_monthly_table_agrees_with_the_file_and_leads_to_its_working(name: str) -> None:
    found = page(PAGES[name])
    table = next(each for each in found.all("table") if each.one("caption").text.startswith("The twelve months"))
    query = urlsplit(PAGES[name]).query
    months = list(csv.DictReader(io.StringIO(ask("GET", f"/results.csv?{query}").text, newline="")))
    rows = table.one("tbody").all("tr")
    assert len(rows) == len(months) == 12
    for row, month in zip(rows, months, strict=True):
        cells = [cell.text for cell in row.all("td")]
        assert float(plain(cells[2])) == pytest.approx(float(month["water_l_per_day"]), rel=0.02, abs=0.6)
        assert float(plain(cells[1])) == pytest.approx(float(month["running_h_per_day"]), abs=0.6)
        assert cells[-1] == month["dry_days"]
        links = row.all("a")
        assert len(links) == 4
        for link in links:
            target = found.one(id=link["href"][1:])
            assert target.inside("details")
            assert target.text


def plain(text: str) -> str:
    """A shown number as Python reads it."""
    return text.replace("\N{NARROW NO-BREAK SPACE}", "").replace("\N{MINUS SIGN}", "-")


@pytest.mark.some(4)
@pytest.mark.parametrize("name", RESULTS)
def test_the_strip_leads_to_the_working_of_its_numbers(name: str) -> None:
    found = page(PAGES[name])
    strip = found.one("ol", **{"class": "strip"})
    assert [each.one("a")["href"] for each in strip.all("li")]
    for link in strip.all("a"):
        assert found.one(id=link["href"][1:]).inside("details")


@pytest.mark.some(4)
@pytest.mark.parametrize("name", RESULTS)
def test_a_page_is_small_enough_for_a_slow_line(name: str) -> None:
    assert len(answered(PAGES[name]).content) <= LARGEST_PAGE


@pytest.mark.parametrize("name", RESULTS)
def test_links_carry_all_answers(name: str) -> None:
    found = page(PAGES[name])
    texts = {key: text for key, text in parse_qsl(urlsplit(PAGES[name]).query) if not key.startswith("moment.")}
    changing = {each["href"] for each in found.all("a") if each.text == "Change answers"}
    if len(urlencode(texts)) <= LONGEST_LINK:
        assert [dict(parse_qsl(urlsplit(each).query)) for each in changing] == [texts]
    else:  # a long design stands once on the page, and buttons carry it
        assert not changing
        assert found.one("button", formaction="/").text == "Change answers"
    for path in ("/results.csv", "/design.json"):
        assert found.one("button", formaction=path)["form"] == "moment-form"
    hidden = {each["name"]: each["value"] for each in found.one(id="moment-form").all("input", type="hidden")}
    assert apart(hidden) == texts


@pytest.mark.parametrize("name", RESULTS)
def test_every_source_named_is_listed(name: str) -> None:
    for each in page(PAGES[name]).all("a"):
        if each["href"].startswith("/sources#source-"):
            assert each["href"].removeprefix("/sources#source-") in SOURCES


def test_sums_shown_are_sums_done() -> None:
    """60 x mean flow x hours is the water shown, for each month, from the page's own text."""
    found = page(results())
    for month in ("january", "june", "december"):
        text = found.one(id=f"water_in_{month}").text
        minutes, flow, hours, water = (float(plain(part).split()[0]) for part in text.replace("=", "×").split(" × "))
        assert minutes == 60
        assert minutes * flow * hours == pytest.approx(water, rel=2e-3)
        assert found.one(id=f"mean_flow_in_{month}").text.startswith(text.split(" × ")[1])


def test_a_fountain_that_never_plays_is_said_so_everywhere() -> None:
    found = page(results(DRY))
    assert found.one("h1").text == "This fountain does not play at any time of the year."
    assert "No water in any month; the first lines of this page say what sets the limit." in found.one("main").text
    assert "likely 0 L" not in found.one("main").text


def test_months_that_stay_dry_stand_beside_those_that_play() -> None:
    found = page(results(RARELY))
    table = next(each for each in found.all("table") if each.one("caption").text.startswith("The twelve months"))
    days = [row.all("td")[5].text for row in table.one("tbody").all("tr")]
    assert "dry" in days
    assert any("–" in day for day in days)


# Moments


def chosen_moment(found: Element) -> list[str]:
    """What the three lists show."""
    return [each.one("option", selected="").text for each in found.one(id="moment-form").all("select")]


def test_a_moment_is_worked_out_as_asked() -> None:
    found = page(results(month="12", hour="9", sky="dull"))
    assert chosen_moment(found) == ["December", "9:00", "dull"]
    assert "At 9:00 on a dull December day: " in found.one("main").text
    assert page(results()).one("main").text != found.one("main").text


@pytest.mark.some(2)
@pytest.mark.parametrize(
    "moment",
    [
        {"month": "13", "hour": "24", "sky": "rainy"},
        {"month": "0", "hour": "9.5", "sky": "<b>"},
        {"month": "-1", "hour": "000009", "strength": "1501"},
        {"month": "June", "strength": "-1"},
        {"month": "１", "strength": "nan"},
        {"month": "1e1", "strength": "1e3", "nonsense": "1"},
        {"strength": "9" * 50},
    ],
)
def test_a_moment_that_cannot_be_is_left_out(moment: dict[str, str]) -> None:
    usual, found = page(results()), page(results(**moment))
    assert found.one("main").text == usual.one("main").text


def test_night_says_so_and_has_no_sun() -> None:
    found = page(results(month="6", hour="1", sky="clear"))
    assert "At 1:00 on a clear June day: night." in found.one("main").text
    stations = found.one("ol", **{"class": "strip"}).all("li")
    assert [each.all("span")[0].text for each in stations] == ["Sun"]
    sun_orange = "#F46A25"
    drawn = [each for each in found.one(id="to-scale").all("circle") if each["fill"] == sun_orange]
    assert drawn == []
    assert [each for each in page(results()).one(id="to-scale").all("circle") if each["fill"] == sun_orange]


@pytest.mark.some(1)
@pytest.mark.parametrize("strength", ["100", "500", "1000"])
def test_each_strength_of_sun_unfolds(strength: str) -> None:
    rows = page(results()).all("button", name="moment.strength")
    assert [each["value"] for each in rows] == [str(sun) for sun in range(100, 1001, 100)]
    found = page(results(strength=strength))
    assert f"With {strength}\N{NO-BREAK SPACE}W/m² of sun in the cells: " in found.one("main").text
    assert found.one(id="effective_irradiance").text.startswith("effective irradiance")
    assert chosen_moment(found) == chosen_moment(page(results()))


# Files


def test_the_months_as_a_file_for_spreadsheets() -> None:
    found = ask("GET", address("/results.csv", example_texts()))
    assert found.status_code == 200
    assert found.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    assert found.headers["content-disposition"] == 'attachment; filename="fountain-months.csv"'
    lines = found.content.decode().split("\r\n")
    assert len(lines) == 14
    assert lines[-1] == ""
    assert "\n" not in found.text.replace("\r\n", "")
    rows = list(csv.DictReader(io.StringIO(found.text, newline="")))
    answer = post(ask("GET", address("/design.json", example_texts())).json()).json()
    for row, month in zip(rows, answer["months"], strict=True):
        assert row["design"] == answer["title"]
        assert {name: float(row[name]) for name, value in month.items() if isinstance(value, int | float)} == {
            name: value for name, value in month.items() if isinstance(value, int | float)
        }


def test_a_title_cannot_become_a_formula_of_a_spreadsheet() -> None:
    found = ask("GET", address("/results.csv", dict(example_texts()) | {"title": '=1+1, "x"'}))
    assert found.text.splitlines()[1].startswith('"\'=1+1, ""x""",1,')


@pytest.mark.parametrize("stem", ["quince_court_jet", "terrace_spillway", "fern_bubbler"])
def test_a_saved_design_opens_with_the_same_texts(stem: str) -> None:
    texts = design_texts(stem)
    saved = ask("GET", address("/design.json", texts))
    assert saved.headers["content-type"] == "application/json"
    assert saved.headers["content-disposition"] == 'attachment; filename="fountain-design.json"'
    opened = ask("POST", "/open", files={"design": ("x.json", saved.content)})
    assert opened.status_code == 303
    where = opened.headers["location"]
    assert dict(parse_qsl(urlsplit(where).query)) == texts
    assert said(boxes(page(where))) == texts


def test_a_price_survives_saving_and_opening() -> None:
    design = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    design["pumps"][0]["price"] = {"amount": 19.5, "currency": "EUR", "source": "a shop, page 3", "date": "2026-05-31"}
    opened = ask("POST", "/open", files={"design": ("x.json", json.dumps(design).encode())})
    form = page(opened.headers["location"])
    saved = ask("GET", address("/design.json", boxes(form))).json()
    assert saved["pumps"][0]["price"] == design["pumps"][0]["price"]


@pytest.mark.parametrize(
    ("content", "said_so"),
    [
        (b"", "Choose a design file that was saved from this page"),
        (b"{", "The design file is not JSON (line 1, column 2); it may have been cut off or edited; save it again"),
        (b"\xff\xfe", "The design file is not UTF-8 text"),
        (b"[1, 2]", "A design file holds one object and a list was given; start from one of the examples"),
        (b'{"a": 1, "a": 2}', 'The field "a" stands twice'),
        (b" " * (LARGEST_FILE + 1), "The design file has 65537 bytes; at most 65536 are read"),
        (b"\x89PNG\r\n\x1a\n" + bytes(500), "The design file is not UTF-8 text"),
    ],
    ids=["empty", "cut off", "not text", "a list", "doubled", "too large", "a picture"],
)
def test_a_wrong_upload_comes_back_with_a_sentence(content: bytes, said_so: str) -> None:
    found = ask("POST", "/open", files={"design": ("fountain.json", content)})
    assert found.status_code == 422
    form = read(found.text)
    assert form.one("head").one("title").text.startswith("Error: ")
    link = form.one(id="error-summary").one("a")
    assert link["href"] == "#design-file"
    assert link.text.startswith(said_so)
    assert form.one(id="design-file")["aria-describedby"].split() == ["design-file-hint", "design-file-error"]
    assert form.one(id="design-file-error").text == f"Error: {link.text}"


def test_an_upload_beyond_all_measure_is_refused_outright() -> None:
    found = ask("POST", "/open", files={"design": ("x.json", b" " * 200_000)})
    assert found.status_code == 413
    assert "65,536 bytes" in read(found.text).one("main").text


def test_a_design_with_more_rows_than_an_address_carries_is_shown_with_a_sentence() -> None:
    design = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    design["place"]["skyline"] = [{"azimuth_deg": 5.0 * row, "altitude_deg": 7.25} for row in range(72)]
    steps = [(0.25 * row, 1.8 - 0.04 * row, 0.42 + 0.005 * row) for row in range(40)]
    design["pumps"][0]["points"] = [{"flow_l_per_min": q, "head_m": h, "current_a": i} for q, h, i in steps]
    found = ask("POST", "/open", files={"design": ("x.json", json.dumps(design).encode())})
    assert found.status_code == 200
    form = read(found.text)
    assert "too long for the address of a page" in form.one("main").text
    assert boxes(form)[f"{POINTS}.39.flow_l_per_min"] == "9.75"
    assert boxes(form)["place.skyline.71.azimuth_deg"] == "355"


def test_an_upload_without_a_file_says_what_to_do() -> None:
    for sent in ({"data": {"design": "text"}}, {"files": {"other": ("x.json", b"{}")}}):
        found = ask("POST", "/open", **sent)
        assert found.status_code == 422
        assert "Choose a design file" in read(found.text).one(id="error-summary").text


def test_a_design_file_with_wrong_values_is_refused_with_its_first_sentence() -> None:
    design = json.loads(EXAMPLE.read_text(encoding="utf-8")) | {"colour": "red"}
    found = ask("POST", "/open", files={"design": ("x.json", json.dumps(design).encode())})
    assert found.status_code == 422
    assert '"colour" is not a field of the design' in read(found.text).one(id="error-summary").text


def test_a_design_by_a_weather_file_opens_with_its_texts_and_a_sentence() -> None:
    content = (ROOT / "examples" / "weather_file_jet.json").read_bytes()
    found = ask("POST", "/open", files={"design": ("x.json", content)})
    assert found.status_code == 422
    form = read(found.text)
    assert [each["href"] for each in form.one(id="error-summary").all("a")] == ["#sky.kind"]
    assert boxes(form)["sky.kind"] == "built_in"
    assert boxes(form)["title"] == design_texts("weather_file_jet")["title"]


# Other pages


def test_every_publication_is_listed_once() -> None:
    found = page("/sources")
    listed = [each["id"].removeprefix("source-") for each in found.all("tr") if each["id"]]
    assert sorted(listed) == sorted(SOURCES)
    for key, source in SOURCES.items():
        assert source.title in found.one(id=f"source-{key}").text


def test_the_page_for_programs_holds_a_design_that_works() -> None:
    found = page("/api")
    example = json.loads(found.all("pre")[-1].text)
    assert post(example).status_code == 200
    for option in ("month", "hour", "sky", "irradiance_w_per_m2"):
        assert option in [each.text for each in found.all("code")]
    answer = post(example).json()
    named = {part for each in found.all("table")[0].all("th", scope="row") for part in each.text.split(", ")}
    assert named <= set(answer)
