"""What people do, with scripts switched off: by keyboard, with mistakes, back and forth, with files."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import httpx
import pytest

from tests.sky.test_weather_file import epw
from web.forms.grids import POINTS
from web.forms.questions import CHOICES
from web.pages.garden.form_page import example_texts, in_page_order

Open = Callable[..., Any]


def results(**changes: str) -> str:
    """Address of the results of the worked example with changes."""
    return f"/results?{urlencode(dict(example_texts()) | {name.replace('__', '.'): text for name, text in changes.items()})}"


def box(page: Any, name: str) -> Any:
    """A field by its id."""
    return page.locator(f'[id="{name}"]')


def focused(page: Any) -> str:
    """What the keyboard is on: its id, name or words."""
    here = "document.activeElement"
    return str(page.evaluate(f"{here}.id || {here}.name || {here}.innerText.trim()"))


def tab_stops(page: Any, last: str) -> list[str]:
    """Everything that the tabulator key reaches, up to a button."""
    stops: list[str] = []
    while len(stops) < 150 and (not stops or stops[-1] != last):
        page.keyboard.press("Tab")
        stops.append(focused(page))
    return stops


def test_the_example_is_sized_by_keyboard_alone(visit: Open) -> None:
    page = visit("/")
    stops = tab_stops(page, "Size this fountain")
    assert stops[:5] == ["Skip to the content", "Solar fountain sizing", "Size", "How it computes", "For programs"]
    names = [stop for stop in stops if stop in set(in_page_order(example_texts()))]
    folded = ("place.skyline", "sky.ghi", "sky.air", "fittings.")
    more = {"place.elevation_m", "place.albedo", "place.time_zone", "note", "water_temperature_c"}
    seen = [name for name in in_page_order(example_texts()) if name in names]
    assert names == seen
    assert not [name for name in names if name.startswith(folded) or name in more]
    assert {name for name in CHOICES if not re.match(r"pumps\.[1-9]", name)} <= set(names)
    assert {"title", "place.latitude_deg", "panels.0.vmp_v", f"{POINTS}.6.current_a", "outlet.count"} <= set(names)
    page.keyboard.press("Enter")
    page.wait_for_url("**/results?*")
    assert page.title().startswith("Quince-court jet")
    assert page.locator("h1").inner_text().startswith("Plays from about ")


def test_the_skip_link_leads_past_the_head(visit: Open) -> None:
    page = visit("/")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert focused(page) == "content"
    page.keyboard.press("Tab")
    assert focused(page) == "find"


@pytest.mark.slow
def test_a_changed_design_is_sized_as_the_interface_for_programs_sizes_it(visit: Open, base: str) -> None:
    page = visit("/")
    for name, text in (("pipe.length_m", "7,3 m"), ("mounting.tilt_deg", "60"), (f"{POINTS}.4.flow_l_per_min", "11")):
        box(page, name).fill(text)
    page.get_by_role("radio", name="Beside the water").check()
    follow(page, page.get_by_role("button", name="Size this fountain"))
    page.get_by_text("Your own answers").click()
    own = page.locator("dl.answers").first.inner_text()
    for line in ("Panel tilt, in degrees", "60", "Beside the water", "Pipe length, in metres", "7,3 m", "Flow of point 5, L/min"):
        assert line in own
    assert "4 of " in page.locator("main").inner_text()
    with page.expect_download() as saved:
        page.get_by_role("button", name="This design as a file").click()
    design = json.loads(saved.value.path().read_text(encoding="utf-8"))
    assert (design["pipe"]["length_m"], design["mounting"]["tilt_deg"], design["pumps"][0]["position"]) == (7.3, 60, "surface")
    answer = httpx.post(f"{base}/api/v1/sizings", json=design).json()
    assert page.locator("h1").inner_text() == answer["verdict"]["headline"]
    page.goto(results())
    assert page.locator("h1").inner_text() != answer["verdict"]["headline"]


def test_a_mistake_keeps_all_texts_and_leads_to_its_field(visit: Open) -> None:
    page = visit("/")
    box(page, "title").fill('Ours & "theirs" <b>')
    box(page, "pipe.length_m").fill("abc")
    box(page, "place.latitude_deg").fill("")
    box(page, "pipe.length_m").press("Enter")
    page.wait_for_url("**/results?*")
    assert page.title().startswith("Error: ")
    page.locator("#error-summary:focus").wait_for()
    page.keyboard.press("Tab")
    assert focused(page) == "Latitude is missing and must be given; add a number between -90 and 90°"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert focused(page) == "pipe.length_m"
    assert box(page, "pipe.length_m").input_value() == "abc"
    assert box(page, "title").input_value() == 'Ours & "theirs" <b>'
    page.keyboard.press("Control+A")
    page.keyboard.type("2.5")
    box(page, "place.latitude_deg").fill("46.05")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name=re.compile("^Plays from about")).wait_for()
    assert 'Ours & "theirs" <b>' in page.locator(".eyebrow").inner_text()


def test_a_mistake_in_a_folded_table_stands_open_and_one_in_a_choice_leads_to_its_first_way(visit: Open) -> None:
    page = visit(results(fittings__elbow_90__count="many", outlet__kind="catapult"))
    page.get_by_role("link", name=re.compile("Number of fittings")).click()
    assert focused(page) == "fittings.elbow_90.count"
    assert box(page, "fittings.elbow_90.count").is_visible()
    page.get_by_role("link", name=re.compile("What the water plays from")).click()
    assert focused(page) == "outlet.kind"
    assert box(page, "outlet.kind").is_checked()


def test_back_keeps_what_was_typed(visit: Open) -> None:
    page = visit("/")
    box(page, "pipe.length_m").fill("3.1")
    box(page, "outlet.bore_mm").fill("wide")
    follow(page, page.get_by_role("button", name="Size this fountain"))
    page.go_back()
    assert (box(page, "pipe.length_m").input_value(), box(page, "outlet.bore_mm").input_value()) == ("3.1", "wide")
    box(page, "outlet.bore_mm").fill("5")
    follow(page, page.get_by_role("button", name="Size this fountain"))
    follow(page, page.get_by_role("link", name="Change answers").first)
    assert (box(page, "pipe.length_m").input_value(), box(page, "outlet.bore_mm").input_value()) == ("3.1", "5")


def test_a_design_is_saved_and_opened_again_and_a_wrong_file_leads_to_its_box(visit: Open, tmp_path: Path) -> None:
    page = visit("/")
    box(page, "title").fill("Kept")
    box(page, "pipe.length_m").fill("1,9")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save as a design file").click()
    assert waiting.value.suggested_filename == "fountain-design.json"
    path = tmp_path / "kept.json"
    waiting.value.save_as(path)
    assert json.loads(path.read_text(encoding="utf-8"))["pipe"]["length_m"] == 1.9
    page = visit("/")
    wrong = tmp_path / "picture.json"
    wrong.write_bytes(b"\x89PNG")
    page.get_by_label("Design file").set_input_files(wrong)
    follow(page, page.get_by_role("button", name="Open this file"))
    page.locator("#error-summary:focus").wait_for()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert focused(page) == "design-file"
    page.get_by_label("Design file").set_input_files(path)
    follow(page, page.get_by_role("button", name="Open this file"))
    assert (box(page, "title").input_value(), box(page, "pipe.length_m").input_value()) == ("Kept", "1.9")
    follow(page, page.get_by_role("button", name="Size this fountain"))
    assert page.title().startswith("Kept")


@pytest.mark.slow
def test_another_moment_and_strength_of_sun_are_chosen(visit: Open) -> None:
    page = visit(results())
    page.get_by_label("Month", exact=True).select_option("December")
    page.get_by_label("Hour", exact=True).select_option("10:00")
    page.get_by_label("Day", exact=True).select_option("dull")
    follow(page, page.get_by_role("button", name="Show this moment"))
    assert "At 10:00 on a dull December day: " in page.locator("main").inner_text()
    assert page.get_by_label("Month", exact=True).input_value() == "12"

    follow(page, page.get_by_role("button", name="400", exact=True))
    assert "With 400 W/m² of sun in the cells: plays." in page.locator("main").inner_text().replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.slow
def test_a_number_of_the_monthly_table_or_of_the_strip_opens_its_working(visit: Open) -> None:
    page = visit(results())
    assert not box(page, "water_in_june").is_visible()
    for name in ("water_in_june", "sun_in_june", "running_hours_in_december", "jet_in_may"):
        page.locator(f'a[href="#{name}"]').first.click()
        assert box(page, name).is_visible()
        assert in_view(page, name)

    links = page.locator("ol.strip a")
    assert links.count() == 6
    for index in range(6):
        target = str(links.nth(index).get_attribute("href"))[1:]
        links.nth(index).click()
        assert box(page, target).is_visible()
        assert in_view(page, target)


def follow(page: Any, control: Any) -> None:
    """Press a button or a link and stand on the page that it leads to: a click alone does not wait for it."""
    with page.expect_navigation():
        control.click()


def in_view(page: Any, name: str) -> bool:
    """Whether an element stands between the upper and the lower edge of the window."""
    found = box(page, name).bounding_box()
    return bool(found and 0 <= found["y"] < page.viewport_size["height"])


def test_ways_not_taken_stand_back(visit: Open) -> None:
    page = visit("/")

    def border(name: str) -> str:
        return str(box(page, name).evaluate("box => getComputedStyle(box).borderTopStyle"))

    assert (border("outlet.bore_mm"), border("outlet.width_m"), border("pumps.0.max_head_m")) == ("solid", "dashed", "dashed")
    page.get_by_role("radio", name="Spillway, a sheet over a lip").check()
    page.get_by_role("radio", name="Only what its box says").check()
    assert (border("outlet.bore_mm"), border("outlet.width_m"), border("pumps.0.max_head_m")) == ("dashed", "solid", "solid")
    assert border(f"{POINTS}.0.head_m") == "dashed"


def press(page: Any, control: Any) -> None:
    """Stand on a button and press it with the keyboard."""
    with page.expect_navigation():
        control.focus()
        page.keyboard.press("Enter")


@pytest.mark.slow
def test_pumps_are_added_copied_chosen_and_removed_by_keyboard(visit: Open) -> None:
    page = visit("/")
    box(page, "title").fill("Ours")
    box(page, "pipe.length_m").fill("1,3 m")
    press(page, page.get_by_role("button", name="Add another pump"))
    assert page.url.endswith("#pumps.1-questions")
    page.keyboard.press("Tab")
    assert focused(page) == "pumps.1.name"
    assert in_view(page, "pumps.1.name")
    follow(page, page.get_by_role("button", name="Size this fountain"))
    assert "Pump 2 is empty" in box(page, "error-summary").inner_text()
    press(page, page.get_by_role("button", name="Remove this one").nth(1))
    assert not page.get_by_role("button", name="Remove this one").count()
    page.keyboard.press("Tab")
    assert focused(page) == "pumps.0.name"
    press(page, page.get_by_role("button", name="Copy this one").nth(1))
    page.keyboard.press("Tab")
    assert focused(page) == "pumps.1.name"
    assert box(page, "pumps.1.name").input_value() == "12 V pond pump, 10 litres a minute (invented), copy"
    box(page, "pumps.1.points.4.flow_l_per_min").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("11")
    box(page, "chosen.pump").focus()
    page.keyboard.press("2")
    assert box(page, "chosen.pump").input_value() == "1"
    press(page, page.get_by_role("button", name="Size this fountain").last)
    assert "/results?" in page.url
    assert page.title().startswith("Ours")
    page.get_by_text("Your own answers").click()
    assert "11" in page.locator("dl.answers").first.inner_text()
    press(page, page.locator("nav[aria-label='This design']").get_by_text("Change answers"))
    assert (box(page, "title").input_value(), box(page, "pipe.length_m").input_value()) == ("Ours", "1,3 m")
    assert not box(page, "pumps.0.name").is_visible()
    page.locator("summary", has_text="1. 12 V pond pump").focus()
    page.keyboard.press("Enter")
    assert box(page, "pumps.0.name").is_visible()
    press(page, page.get_by_role("button", name="Remove this one").nth(0))
    assert box(page, "pumps.0.points.4.flow_l_per_min").input_value() == "11"
    assert page.locator("form").first.get_attribute("method") == "get"


@pytest.mark.slow
def test_an_error_in_a_folded_pump_leads_into_it_and_back_keeps_all(visit: Open) -> None:
    page = visit("/")
    follow(page, page.get_by_role("button", name="Copy this one").nth(1))
    box(page, "pumps.1.rated_voltage_v").fill("lots")
    follow(page, page.get_by_role("button", name="Size this fountain"))
    page.locator("#error-summary:focus").wait_for()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert focused(page) == "pumps.1.rated_voltage_v"
    assert box(page, "pumps.1.rated_voltage_v").input_value() == "lots"
    page.go_back()
    assert box(page, "pumps.1.rated_voltage_v").input_value() == "lots"


@pytest.mark.slow
def test_a_goal_is_ticked_by_keyboard(visit: Open) -> None:
    page = visit("/")
    for name, text in (("jet_height_m", "0.3"), ("from_hour", "10:30"), ("to_hour", "14")):
        box(page, f"goal.{name}").fill(text)
    follow(page, page.get_by_role("button", name="Size this fountain"))
    page.locator("#error-summary:focus").wait_for()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert focused(page) == "goal.months"
    box(page, "goal.months.may").focus()
    page.keyboard.press("Space")
    press(page, page.get_by_role("button", name="Size this fountain").last)
    assert "a jet of 30 cm for 90 % of the time from 10:30 to 14:00, May" in page.locator("main").inner_text().replace(
        "\N{NO-BREAK SPACE}", " "
    )


@pytest.mark.slow
def test_a_town_is_found_by_keyboard_and_sized(visit: Open) -> None:
    page = visit("/")
    box(page, "title").fill("Ours")
    box(page, "find").focus()
    page.keyboard.type("novo mesto")
    page.keyboard.press("Enter")
    page.wait_for_url("**/places?*")
    page.get_by_role("link", name="Novo Mesto").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/?*#place-questions")
    assert box(page, "place.name").input_value() == "Novo Mesto, Slovenia"
    assert box(page, "place.time_zone").input_value() == "Europe/Ljubljana"
    assert box(page, "place.latitude_deg").input_value().startswith("45.")
    assert box(page, "place.elevation_m").input_value() == ""
    assert (box(page, "title").input_value(), box(page, "find").input_value()) == ("Ours", "")
    box(page, "mounting.azimuth_deg").fill("170")  # the example's own direction does not come along to another town
    box(page, "pipe.length_m").press("Enter")
    page.get_by_role("heading", name=re.compile("^Plays from about")).wait_for()
    assert "Elevation looked up: " in page.locator("main").inner_text()


@pytest.mark.slow
def test_a_wrong_weather_file_leads_to_its_box_and_the_months_of_a_right_one_are_carried_on(visit: Open, tmp_path: Path) -> None:
    path, wrong = tmp_path / "greensboro.epw", tmp_path / "letter.epw"
    path.write_bytes(epw())
    wrong.write_bytes(b"Dear weather service")
    page = visit("/")
    box(page, "place.latitude_deg").fill("36.1, -79.95")
    box(page, "place.longitude_deg").fill("")
    box(page, "pipe.length_m").fill("7,3 m")
    box(page, "weather-file").set_input_files(wrong)
    follow(page, page.get_by_role("button", name="Size with this file"))
    page.locator("#error-summary:focus").wait_for()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert focused(page) == "weather-file"
    assert box(page, "pipe.length_m").input_value() == "7,3 m"
    box(page, "weather-file").set_input_files(wrong)
    follow(page, page.get_by_role("button", name="Size this fountain"))
    assert "The weather file was not sent; choose it again" in box(page, "error-summary").inner_text()
    box(page, "weather-file").set_input_files(path)
    follow(page, page.get_by_role("button", name="Size with this file"))
    page.get_by_role("heading", name=re.compile("^Plays from about")).wait_for()
    assert "Sized with the hours of Greensboro Piedmont Triad Int, EPW file." in page.locator("main").inner_text()
    follow(page, page.get_by_role("link", name="Change answers").first)
    assert page.get_by_role("radio", name="Twelve values of your own").is_checked()
    assert box(page, "sky.origin").input_value().startswith("Monthly means of the weather file Greensboro")
    assert box(page, "sky.ghi_kwh_per_m2_day.5").input_value().startswith("6.2")


@pytest.mark.slow
def test_the_sky_is_looked_at_and_left_again(visit: Open) -> None:
    page = visit("/")
    box(page, "title").fill("Ours")
    page.get_by_role("radio", name="Twelve values of your own").check()
    follow(page, page.get_by_role("button", name="Fill in the built-in values"))
    box(page, "sky.unit").select_option("MJ/m² a day")
    follow(page, page.get_by_role("button", name="Look at the sky over this garden"))
    assert "check the unit" in page.get_by_role("note").first.inner_text()
    follow(page, page.get_by_role("link", name="Change answers").first)
    assert (box(page, "sky.unit").input_value(), box(page, "title").input_value()) == ("mj_per_m2_day", "Ours")
    box(page, "sky.unit").select_option("kWh/m² a day")
    follow(page, page.get_by_role("button", name="Look at the sky over this garden"))
    assert page.locator("figure svg").count() == 3
    follow(page, page.get_by_role("link", name="What it will do"))
    assert page.title().startswith("Ours")


@pytest.mark.slow
def test_a_change_that_is_pressed_is_sized_and_can_be_gone_back_from(visit: Open) -> None:
    page = visit(results())
    before = page.locator("h1").inner_text()
    follow(page, page.get_by_role("button", name="a nozzle of 5 mm"))
    assert "outlet.bore_mm=5" in page.url
    assert "what_if" not in page.url
    assert page.locator("h1").inner_text() != before
    page.go_back()
    assert page.locator("h1").inner_text() == before
