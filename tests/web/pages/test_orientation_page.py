"""The page of directions: its verdict, its map, its choice of what counts, and the links that try a direction."""

import re
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

import numpy as np
import pytest

from sizing.design.reading import parse_design
from sizing.orientation.orientation import Orientation, orient
from sizing.orientation.sentences import verdict
from tests.asking import ask
from tests.markup import Element, read
from web.charts.direction_map import BOTTOM, LEFT, WIDE, colour, direction_map, spot
from web.charts.kit.shapes import PAPER, RAMP, SAND, WIDTH, Circle, Line, Rectangle, Text
from web.forms.form import texts_of
from web.pages.garden.form_page import example_texts
from web.pages.orientation.orientation_page import HOUR, asked_direction, hour_of, with_direction

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"


@lru_cache(maxsize=4)
def searched(name: str = "quince_court_jet") -> Orientation:
    return orient(parse_design((EXAMPLES / f"{name}.json").read_bytes()), EXAMPLES)


def answers(name: str = "quince_court_jet", **changes: str) -> dict[str, str]:
    texts = texts_of(parse_design((EXAMPLES / f"{name}.json").read_bytes()))
    return texts | {key.replace("__", "."): value for key, value in changes.items()}


def shown(texts: dict[str, str], status: int = 200, address: str = "/orientation") -> Element:
    response = ask("GET", f"{address}?{urlencode(texts)}")
    assert response.status_code == status, response.text[:300]
    return read(response.text)


def plain(text: str) -> str:
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


def leads_to(link: Element) -> dict[str, str]:
    return dict(parse_qsl(urlsplit(link["href"]).query))


# The page


@pytest.mark.some(1)
@pytest.mark.parametrize("name", ["quince_court_jet", "terrace_spillway", "fern_bubbler"])
def test_the_page_says_first_what_the_direction_gives_up(name: str) -> None:
    found = searched(name)
    page = shown(answers(name))
    assert plain(page.one("h1").text) == plain(verdict(found, found.main))
    assert [plain(each.text) for each in page.all("h2")] == [
        "Every direction, the whole fountain",
        "What the present choice gives up",
        "Side by side",
        "Tilting with the seasons",
    ]
    ids = [each["id"] for each in page.walk() if each["id"]]
    assert len(ids) == len(set(ids))
    assert not page.all("script")
    assert not [each for each in page.walk() if each["style"]]
    assert {label["for"] for label in page.all("label")} <= set(ids)


def test_the_page_is_light() -> None:
    response = ask("GET", f"/orientation?{urlencode(answers())}")
    assert len(response.content) <= 150_000
    picture = re.search(r"<svg.*?</svg>", response.text, re.DOTALL)
    assert picture is not None
    assert len(picture[0]) <= 45_000


def test_a_wrong_design_is_shown_in_the_form() -> None:
    page = shown(answers(mounting__tilt_deg="91"), 422)
    assert "Panel tilt" in plain(page.text)
    assert page.one("input", name="mounting.tilt_deg")["value"] == "91"
    assert page.one(id="error-summary")


def test_the_choice_is_kept_and_counts() -> None:
    chosen = {"direction.counts": "hours_play", "direction.month.5": "on", "direction.from": "9:30", "direction.to": "14"}
    page = shown(answers() | chosen)
    assert "hours of play from 9:30 to 14:00 in May" in page.one("h1").text
    ticked = [box["name"] for box in page.all("input", type="checkbox") if "checked" in box.attributes]
    assert ticked == ["direction.month.5"]
    assert page.one("input", name="direction.from")["value"] == "9:30"
    assert page.one("option", value="hours_play").attributes.keys() >= {"selected"}
    assert "Chosen months: May. Chosen hours: 9:30 to 14:00, " in plain(page.text)
    hidden = {box["name"]: box["value"] for box in page.one(id="direction-form").all("input", type="hidden")}
    assert hidden == {name: text for name, text in answers().items() if text.strip()}


def test_hours_that_cannot_be_are_told_beside_their_box_and_kept() -> None:
    page = shown(answers() | {"direction.from": "14", "direction.to": "9", "direction.month.5": "on"}, 422)
    assert plain(page.one(id="direction.to-error").text) == (
        "Error: Counting from 14 to 9 would end before it begins; the second hour must come later on the same day"
    )
    box = page.one("input", name="direction.to")
    assert (box["value"], box["aria-invalid"], box["aria-describedby"]) == ("9", "true", "direction.to-error")
    assert page.one("input", name="direction.from")["value"] == "14"
    assert page.all("title")[0].text.startswith("Error: ")
    assert [box["name"] for box in page.all("input", type="checkbox") if "checked" in box.attributes] == ["direction.month.5"]
    page = shown(answers() | {"direction.from": "noon", "direction.to": "<b>"}, 422)
    assert "Enter an hour of the day between 0 and 24" in page.one(id="direction.from-error").text
    assert page.one("input", name="direction.to")["value"] == "<b>"
    assert [box["name"] for box in page.all("input") if "autofocus" in box.attributes] == ["direction.from"]


def test_a_fountain_that_never_plays_has_no_map() -> None:
    page = shown(answers(outlet__height_above_water_m="9"))
    assert page.one("h1").text.startswith("In no direction does this fountain play: even in full sun")
    assert not page.all("svg")
    assert [plain(each.text) for each in page.all("h2")] == ["Every direction, the whole fountain"]


@pytest.mark.slow
def test_a_link_tries_the_best_direction_without_the_compass() -> None:
    texts = answers(
        mounting__tilt_deg="61", mounting__azimuth_deg="", mounting__compass_deg="95", place__compass_date="2026-05-31"
    )
    page = shown(texts)
    link = next(each for each in page.all("a") if plain(each.text).startswith("Use this direction: "))
    asked = leads_to(link)
    assert (
        plain(link.text) == f"Use this direction: {asked['mounting.tilt_deg']}° to the south ({asked['mounting.azimuth_deg']}°)"
    )
    assert "mounting.compass_deg" not in asked
    better = read(ask("GET", link["href"]).text)
    assert "L a year" in plain(better.text)
    again = shown(asked)
    assert "is as good as any for water in the year" in again.one("h1").text
    east = next(each for each in page.all("a") if each.text == "East")
    assert (leads_to(east)["mounting.azimuth_deg"], leads_to(east)["mounting.tilt_deg"]) == ("90", "61")


def test_a_design_too_long_for_an_address_has_no_link_that_loses_it() -> None:
    assert with_direction({"note": "x" * 8000}, 35.0, 180.0) == ""


def test_every_direction_as_a_table_for_spreadsheets() -> None:
    page = shown(answers() | {"direction.month.5": "on"})
    link = next(each for each in page.all("a") if each.text == "Every direction as CSV")
    response = ask("GET", link["href"])
    assert response.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    rows = response.text.split("\r\n")
    assert len(rows) == 2 + 19 * 37
    assert all(cell for cell in rows[1].split(",")[3:9])
    assert ask("GET", f"/orientation.csv?{urlencode(answers(mounting__tilt_deg='x'))}").status_code == 422


def test_the_example_opens_without_answers_in_the_form() -> None:
    assert ask("GET", f"/orientation?{urlencode(dict(example_texts()))}").status_code == 200


# What is asked


def test_nothing_asked_leaves_it_to_the_goal() -> None:
    asked = asked_direction({"title": "x"})
    assert (asked.wanted.months, asked.wanted.hours, asked.counts, asked.errors) == (None, None, "", {})
    assert asked_direction({"direction.from": "", "direction.to": " "}).wanted.hours is None


@pytest.mark.parametrize(
    ("text", "hour"),
    [
        *(("0", 0), ("24", 24), ("9:30", 9.5), ("9.25", 9.25), ("9,5", 9.5), ("7:05", 7 + 5 / 60)),
        *((text, None) for text in ("", "24:01", "-1", "9:60", "nan", "1e1", "٤")),
    ],
)
def test_hours_as_people_write_them(text: str, hour: float | None) -> None:
    assert hour_of(text) == (None if hour is None else pytest.approx(hour))
    assert bool(HOUR.fullmatch(text)) >= (hour is not None)


# The map


def test_each_field_has_the_colour_of_its_share() -> None:
    assert [colour(share) for share in (0, 0.01, 0.5, 0.501, 0.95, 0.951, 1.0)] == [
        *(SAND, RAMP[0], RAMP[0], RAMP[1], RAMP[4], RAMP[5], RAMP[5])
    ]
    found = searched()
    chart = direction_map(found, found.main)
    fields = [shape for shape in chart.picture.shapes if isinstance(shape, Rectangle) and shape.height == 12]
    values = found.main.values / found.main.values.max()
    for place in range(1, 649, 23):
        x, y = spot(float(found.planes.tilt[place]), float(found.planes.azimuth[place]), 180.0)
        field = next(each for each in fields if each.x <= x <= each.x + each.width and each.y <= y <= each.y + each.height)
        assert field.fill == colour(float(values[place]))


def test_the_equator_stands_in_the_middle() -> None:
    middle = LEFT + (WIDTH - LEFT) / 2
    assert spot(45.0, 180.0, 180.0)[0] == pytest.approx(middle)
    assert spot(45.0, 0.0, 0.0)[0] == pytest.approx(middle)
    assert spot(45.0, 90.0, 180.0)[0] == pytest.approx(middle - 9 * WIDE)
    assert spot(45.0, 90.0, 0.0)[0] == pytest.approx(middle + 9 * WIDE)
    assert spot(0.0, 77.0, 180.0) == pytest.approx((middle, BOTTOM - 6))
    words = [
        shape.content
        for shape in direction_map(searched("terrace_spillway"), searched("terrace_spillway").main).picture.shapes
        if isinstance(shape, Text)
    ]
    assert [word for word in words if word in ("north", "east", "south", "west")] == ["south", "west", "north", "east", "south"]


@pytest.mark.some(2)
@pytest.mark.parametrize("name", ["quince_court_jet", "terrace_spillway", "fern_bubbler", "weather_file_jet"])
def test_today_and_best_are_marked_with_sign_and_word(name: str) -> None:
    found = searched(name)
    for aim in found.aims:
        chart = direction_map(found, aim)
        words = {shape.content for shape in chart.picture.shapes if isinstance(shape, Text)}
        assert {"today", "best"} <= words
        diamond = next(shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.closed)
        assert diamond.fill == PAPER
        assert len([shape for shape in chart.picture.shapes if isinstance(shape, Circle)]) == 2
        for shape in chart.picture.shapes:
            spots = shape.points if isinstance(shape, Line) else ((shape.x, shape.y),)
            assert all(-0.5 <= x <= chart.picture.width + 0.5 and -0.5 <= y <= chart.picture.height + 0.5 for x, y in spots)


def test_the_table_holds_every_share() -> None:
    found = searched()
    table = direction_map(found, found.main).table
    assert len(table.rows) == 19
    assert {len(row) for row in table.rows} == {38}
    assert max(int(cell) for row in table.rows for cell in row[1:]) == 100
    tilt, azimuth = int(found.planes.tilt[found.main.best] / 5), int(found.planes.azimuth[found.main.best] / 10)
    assert table.rows[tilt][1 + azimuth] == "100"
    assert found.main.outcome == "found"
    assert np.isfinite(found.main.values).all()


def test_the_description_tells_the_finding_to_who_cannot_see_it() -> None:
    found: Any = searched()
    chart = direction_map(found, found.main)
    assert chart.finding in chart.description
    tilt, water = found.planes.tilt[found.main.best], found.main.values[found.main.best]
    best = f"{tilt:.0f}° to the south (180°), {water:.0f} m³"
    assert plain(chart.finding).startswith(f"Best for water in the year: {best}. Anything within ")
