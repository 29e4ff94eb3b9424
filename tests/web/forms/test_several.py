"""Several panels and pumps, their prices and a goal on the form: add, copy, remove, choose, keep, refuse, send."""

import json
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

import httpx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.design.reading import parse_design, read_design
from tests.asking import ask
from tests.draws import drawn
from tests.markup import Element, read
from tests.web.pages.test_pages import boxes
from web.forms.form import Texts, texts_of, tidy, understand
from web.forms.grids import points_of
from web.forms.sending import LONGEST_ADDRESS, URLENCODED, apart
from web.forms.several import MOST, added, chosen_position, copied, count, ids, pressed, removed
from web.pages.frame.answers import answers
from web.pages.frame.leads import SIDES
from web.pages.garden.form_page import example_texts, in_page_order
from web.pages.garden.summaries import key_numbers

ROOT = Path(__file__).resolve().parents[3]
CHOICE: dict[str, Any] = json.loads((ROOT / "examples" / "orchard_choice.json").read_text(encoding="utf-8"))
GOAL = {"goal.jet_height_m": "0.4", "goal.from_hour": "9:30", "goal.to_hour": "14", "goal.months.may": "yes"}


def choice(**changes: str) -> Texts:
    """The texts of three panels and four pumps with changes; two underscores stand for a dot."""
    return texts_of(read_design(CHOICE)) | {name.replace("__", "."): text for name, text in changes.items()}


def one() -> Texts:
    """The texts of one panel and one pump."""
    return dict(example_texts())


def send(address: str, texts: Any) -> httpx.Response:
    """Send a form in a body."""
    return ask("POST", address, content=urlencode(texts), headers={"content-type": URLENCODED})


def names(texts: Texts, key: str = "pumps") -> list[str]:
    """Names by position."""
    return [texts.get(f"{key}.{index}.name", "") for index in range(count(texts, key))]


# Texts


def test_a_new_one_stands_at_the_end_with_an_id_and_nothing_else() -> None:
    found = added(one(), "pumps")
    assert {name: text for name, text in found.items() if name not in one()} == {"pumps.1.id": "pump-1"}
    assert added(found, "pumps")["pumps.2.id"] == "pump-2"
    assert added({}, "panels") == {"panels.0.id": "panel", "panels.1.id": "panel-1"}


def test_a_copy_stands_behind_its_like_with_an_id_and_a_name_of_its_own() -> None:
    before = choice()
    found = copied(before, "pumps", 1)
    second, third, fourth = names(before)[1:]
    assert names(found)[1:] == [second, f"{second}, copy", third, fourth]
    assert found["pumps.2.points.3.head_m"] == before["pumps.1.points.3.head_m"]
    assert found["pumps.2.price.amount"] == "64"
    assert len(set(ids(found, "pumps"))) == 5
    assert found["chosen.pump"] == before["chosen.pump"] == "1"
    assert copied(before, "pumps", 0)["chosen.pump"] == "2"
    assert copied(before, "pumps", 4) == before
    assert names(copied(found, "pumps", 2))[3] == f"{second}, copy 2"
    assert len(copied({"pumps.0.name": "x" * 80}, "pumps", 0)["pumps.1.name"]) <= 80


def test_one_less_moves_the_others_up_and_the_last_one_stays() -> None:
    before = choice()
    found = removed(before, "pumps", 0)
    assert names(found) == names(before)[1:]
    assert (found["chosen.pump"], removed(before, "pumps", 3)["chosen.pump"]) == ("0", "1")
    assert removed(before, "pumps", 1)["chosen.pump"] == "0"  # the chosen one is gone: the first is sized
    assert found["pumps.0.points.4.flow_l_per_min"] == "15"
    assert not any(name.startswith("pumps.3.") for name in found)
    assert removed(one(), "pumps", 0) == one()
    assert removed(before, "pumps", 7) == before
    assert understand(found).design is not None


@pytest.mark.parametrize("key", MOST)
def test_there_are_never_more_than_a_design_holds(key: str) -> None:
    texts = one()
    for _ in range(MOST[key] + 2):
        texts = added(texts, key)
    assert count(texts, key) == MOST[key]
    assert copied(texts, key, 0) == texts
    assert len(set(ids(texts, key))) == MOST[key]


def test_gaps_of_an_address_are_closed_and_what_is_chosen_moves_along() -> None:
    odd = {"pumps.2.name": "B", "pumps.0.name": "A", "pumps.11.name": "C", "chosen.pump": "11", "pumps.5.name": " "}
    assert tidy(odd) == {"pumps.1.name": "B", "pumps.0.name": "A", "pumps.2.name": "C", "chosen.pump": "2"}
    assert tidy({"pumps.1.name": "B", "pumps.0.name": ""}) == {"pumps.0.name": "B"}


@pytest.mark.parametrize("fields", [{}, {"add": "wires"}, {"copy": "pumps"}, {"copy": "pumps.x"}, {"remove": "pumps.12"}])
def test_a_button_that_is_none_changes_nothing(fields: dict[str, str]) -> None:
    assert pressed(fields, one()) == (one(), "")


# Designs


def test_all_panels_and_pumps_of_a_design_are_kept() -> None:
    found = understand(choice())
    assert found.errors == {}
    assert found.design == read_design(CHOICE)


def test_ids_that_are_missing_or_doubled_are_made_good() -> None:
    texts = {name: text for name, text in choice(pumps__2__id="pump-12v-8l").items() if name != "panels.1.id"}
    design = understand(texts).design
    assert design is not None
    assert [pump.id for pump in design.pumps] == ["pump-12v-8l", "pump-12v-15l", "pump-1", "pump-12v-box"]
    assert [panel.id for panel in design.panels] == ["panel-10w", "panel-1", "panel-50w"]
    assert design.chosen is not None
    assert design.chosen.panel == "panel-1"


@pytest.mark.parametrize("text", ["4", "-1", "x", "²", "1.0"])
def test_a_pump_that_is_not_there_cannot_be_sized(text: str) -> None:
    found = understand(choice(chosen__pump=text))
    assert list(found.errors) == ["chosen.pump"]
    assert "“1. 12 V pond pump, 8 litres a minute (invented)” is marked now" in found.errors["chosen.pump"]
    assert chosen_position(found.texts, "pumps") == 0
    assert understand(one() | {"chosen.pump": text}).design is not None  # nothing to choose from


def test_what_is_wrong_says_of_which_pump_and_stands_beside_its_box() -> None:
    found = understand(
        choice(
            pumps__2__points__2__head_m="x",
            pumps__1__rated_voltage_v="12 cm",
            pumps__3__max_head_m="",
            panels__0__vmp_v="",
            pumps__0__known="?",
        )
    )
    assert set(found.errors) == {
        *("panels.0.vmp_v", "pumps.0.known", "pumps.1.rated_voltage_v", "pumps.2.points.2.head_m", "pumps.3.max_head_m")
    }
    assert found.errors["panels.0.vmp_v"].startswith("Voltage at maximum power (panel 1) is missing")
    assert found.errors["pumps.0.known"].startswith("What you know of the pump (pump 1): none of the ways")
    assert found.errors["pumps.1.rated_voltage_v"].startswith("Rated voltage (pump 2): 12 cm has another unit")
    assert found.errors["pumps.2.points.2.head_m"].startswith('Head (pump 3, point 3) is "x", not a number')
    assert found.errors["pumps.3.max_head_m"].startswith("Highest head on the box (pump 4) is empty; a pump known by its box")


def test_one_for_which_nothing_was_typed_says_so_once() -> None:
    found = understand(added(one(), "pumps") | {"pumps.1.position": "surface", "pumps.1.known": "points"})
    assert found.errors == {"pumps.1.name": "Pump 2 is empty; fill in its boxes, or press “Remove this one”"}
    named = understand(added(one(), "panels") | {"panels.1.name": "New"})
    assert {name.split(".")[1] for name in named.errors} == {"1"}
    assert len(named.errors) == 4
    assert named.errors["panels.1.isc_a"].startswith("Short-circuit current (panel 2) is missing")


def test_a_pump_without_points_is_named() -> None:
    texts = {name: text for name, text in choice().items() if not name.startswith(points_of(2))}
    assert understand(texts).errors[f"{points_of(2)}.0.flow_l_per_min"].startswith("The table (pump 3) has no points; give")


# Prices


@pytest.mark.parametrize("base", ["panels.0", "pumps.0", "connection"])
def test_a_price_is_all_or_nothing(base: str) -> None:
    texts = one() | {"connection.kind": "controller"}
    whole = {f"{base}.price.amount": "24,90", f"{base}.price.currency": "eur"}
    found = understand(texts | whole)
    assert found.design is not None
    part: Any = {"panels.0": found.design.panels[0], "pumps.0": found.design.pumps[0]}.get(base, found.design.connection)
    assert part.price.model_dump() == {"amount": 24.9, "currency": "EUR", "source": "", "date": ""}
    assert found.texts[f"{base}.price.currency"] == "eur"
    for name in whole:
        lacking = understand(texts | whole | {name: ""})
        assert list(lacking.errors) == [name]
        assert "is missing and must be given" in lacking.errors[name]
    wrong = understand(texts | whole | {f"{base}.price.currency": "€", f"{base}.price.date": "yesterday"})
    assert set(wrong.errors) == {f"{base}.price.currency", f"{base}.price.date"}
    assert "three capital letters, such as EUR" in wrong.errors[f"{base}.price.currency"]


def test_the_price_of_a_controller_counts_only_with_one() -> None:
    texts = one() | {"connection.price.amount": "x", "connection.kind": "direct"}
    assert understand(texts).errors == {}
    assert "connection.price.amount" in understand(texts | {"connection.kind": "controller"}).errors


# Goal


def test_a_goal_is_read_and_written() -> None:
    design = understand(one() | GOAL | {"goal.months.december": "yes", "goal.days_out_of_ten": "9"}).design
    assert design is not None
    assert design.goal is not None
    assert design.goal.model_dump() == {
        **{"jet_height_m": 0.4, "jet_height_to_m": None, "flow_l_per_min": None, "flow_to_l_per_min": None},
        **{"from_hour": 9.5, "to_hour": 14.0, "more_windows": (), "window_share_pct": 90.0},
        **{"months": (5, 12), "days_out_of_ten": 9},
    }
    assert understand(texts_of(design)).design == design
    assert understand(one()).design.goal is None  # type: ignore[union-attr]


def test_a_band_and_windows_are_read_and_written_whichever_boxes_they_stand_in() -> None:
    more = {"goal.more_windows.1.from_hour": "14:30", "goal.more_windows.1.to_hour": "15.25"}
    band = {"goal.jet_height_to_m": "0.8", "goal.window_share_pct": "75"}
    design = understand(one() | GOAL | more | band).design
    assert design is not None
    assert design.goal is not None
    assert [(each.from_hour, each.to_hour) for each in design.goal.more_windows] == [(14.5, 15.25)]
    assert (design.goal.jet_height_to_m, design.goal.window_share_pct) == (0.8, 75)
    assert understand(texts_of(design)).design == design
    wrong = understand(one() | GOAL | {"goal.more_windows.2.from_hour": "13", "goal.more_windows.2.to_hour": "15"})
    assert list(wrong.errors) == ["goal.more_windows.2.from_hour"]
    assert "begin at 14 or later" in wrong.errors["goal.more_windows.2.from_hour"]


@pytest.mark.parametrize(
    ("changes", "name", "said"),
    [
        ({"goal.months.may": ""}, "goal.months", "Months in which it should play: none is ticked; tick at least one"),
        ({"goal.jet_height_m": ""}, "goal.jet_height_m", "or the flow in its place"),
        ({"goal.flow_l_per_min": "3"}, "goal.flow_l_per_min", "a goal has one of the two; keep one"),
        ({"goal.from_hour": ""}, "goal.from_hour", "First hour of the goal is missing"),
        ({"goal.to_hour": ""}, "goal.to_hour", "Last hour of the goal is missing"),
        ({"goal.to_hour": "9:15"}, "goal.to_hour", "the last must come later on the same day"),
        ({"goal.to_hour": "9:75"}, "goal.to_hour", 'is "9:75", not a number'),
        ({"goal.from_hour": "24:30"}, "goal.from_hour", "it must be between 0 and 24"),
        ({"goal.days_out_of_ten": "0"}, "goal.days_out_of_ten", "it must be between 1 and 10"),
        ({"outlet.kind": "spillway", "outlet.width_m": "0.3"}, "goal.jet_height_m", "a spillway throws no jet"),
    ],
)
def test_a_goal_that_cannot_be_says_what_to_change(changes: Texts, name: str, said: str) -> None:
    found = understand(one() | GOAL | changes)
    assert list(found.errors) == [name]
    assert said in found.errors[name]
    assert name in set(in_page_order(found.texts))


@pytest.mark.parametrize("name", ["goal.jet_height_m", "goal.days_out_of_ten", "goal.months.may"])
def test_a_goal_that_is_begun_must_be_finished(name: str) -> None:
    found = understand(one() | {name: "1"})
    assert set(found.errors) >= {"goal.from_hour", "goal.to_hour"}
    assert ("goal.months" in found.errors) == (name != "goal.months.may")


# Pages


def page(texts: Texts, address: str = "/") -> Element:
    """The page of an address."""
    return read(ask("GET", f"{address}?{urlencode(texts)}").text)


def test_one_of_each_is_asked_as_ever_and_sent_by_address() -> None:
    found = read(ask("GET", "/").text)
    assert found.one("form", action="/results")["method"] == "get"
    assert not found.all("select", name="chosen.pump")
    assert not found.all("button", name="remove")
    assert [each.text for each in found.all("button", name="add")] == ["Add another panel", "Add another pump"]
    assert [each["value"] for each in found.all("button", name="copy")] == ["panels.0", "pumps.0"]


def test_several_fold_up_but_for_the_one_that_is_sized() -> None:
    found = page(choice())
    assert found.one("form", action="/results")["method"] == "post"
    members = found.all("details", **{"class": "member"})
    summaries = [each.all("summary")[0].text.replace("\N{NO-BREAK SPACE}", " ") for each in members]
    assert ["open" in each.attributes for each in members] == [False, True, False, False, True, False, False]
    assert summaries[1] == "2. 20 W panel (invented) 20.1 W, 17.8 V, 54.50 NZD sized"
    numbers = key_numbers(choice(), "pumps.3").replace("\N{NO-BREAK SPACE}", " ")
    assert numbers == "12 V, up to 2.9 m, up to 34 L/min, 29.50 NZD"
    marked = [each.one("option", selected="")["value"] for each in found.all("select") if each["name"].startswith("chosen.")]
    assert marked == ["1", "1"]
    assert {name: text for name, text in boxes(found).items() if text} == choice()
    assert len(found.all("button", name="remove")) == 7


def test_an_error_inside_a_folded_one_opens_it() -> None:
    found = page(choice(pumps__2__points__1__head_m="x"), "/results")
    members = found.all("details", **{"class": "member"})[3:]
    assert ["open" in each.attributes for each in members] == [False, True, True, False]
    (link,) = found.one(id="error-summary").all("a")
    assert found.one(id=link["href"][1:]).inside("details")


@pytest.mark.parametrize("way", ["GET", "POST"])
def test_buttons_keep_what_was_typed_and_lead_to_the_one_meant(way: str) -> None:
    typed = one() | {"pipe.length_m": "7,3 mm", "title": "Ours & <b>"}

    def press(**button: str) -> str:
        found = ask("GET", f"/change?{urlencode(typed | button)}") if way == "GET" else send("/change", typed | button)
        assert found.status_code == 303
        return found.headers["location"]

    added_one = urlsplit(press(add="pumps"))
    assert (added_one.path, added_one.fragment) == ("/", "pumps.1-questions")
    texts = dict(parse_qsl(added_one.query))
    assert texts == typed | {"pumps.1.id": "pump-1", "open": "pumps.1"}
    found = page(texts)
    assert "open" in found.all("details", **{"class": "member"})[1].attributes
    assert found.one(id=added_one.fragment).tag == "fieldset"
    assert boxes(found)["pipe.length_m"] == "7,3 mm"
    assert "open" not in boxes(found)
    assert urlsplit(press(copy="panels.0")).fragment == "panels.1-questions"
    typed |= texts
    last = urlsplit(press(remove="pumps.1"))
    assert last.fragment == "pumps.0-questions"
    assert dict(parse_qsl(last.query)) == {name: text for name, text in typed.items() if not name.startswith(("pumps.1", "open"))}


def test_anchors_of_the_buttons_are_those_they_lead_to() -> None:
    for each in page(choice()).all("button"):
        if each["formaction"].startswith("/change"):
            texts = choice() | {each["name"]: each["value"]}
            assert ask("GET", f"/change?{urlencode(texts)}").headers["location"].endswith(each["formaction"].partition("#")[2])


def test_the_buttons_at_the_end_lead_to_pages_that_are_there() -> None:
    for texts in (one(), choice()):
        for each in page(texts).one("form", action="/results").all("button"):
            path = each["formaction"].partition("#")[0]
            assert not path or send(path, texts).status_code in (200, 303, 422), path
        words = [each.text for each in page(texts).all("button")]
        assert ("Compare pumps and panels" in words) == (texts != one() and "/compare" in dict(SIDES))


def test_no_button_offers_more_than_a_design_holds() -> None:
    texts = one()
    for _ in range(5):
        texts = copied(texts, "panels", 0)
    found = page(texts)
    assert [each["value"] for each in found.all("button", name="add")] == ["pumps"]
    assert [each["value"] for each in found.all("button", name="copy")] == ["pumps.0"]
    assert len(found.all("button", name="remove")) == 6
    assert "6 panels are the most that one design holds; remove one to add another." in found.one("main").text


@pytest.mark.parametrize("path", ["/", "/results", "/results.csv", "/design.json", "/sky", "/places"])
def test_what_is_sent_in_a_body_has_a_short_address(path: str) -> None:
    texts = choice(note="", find="koln" if path == "/places" else "") | dict.fromkeys(in_page_order({}), "") | choice()
    found = send(path, texts)
    assert found.status_code == 303
    where = urlsplit(found.headers["location"])
    assert where.path == path
    assert dict(parse_qsl(where.query)) == {name: text for name, text in texts.items() if text}
    assert ask("GET", found.headers["location"]).status_code == 200


def test_a_body_that_is_no_form_is_refused() -> None:
    assert ask("POST", "/results", content=b"{}", headers={"content-type": "application/json"}).status_code == 415
    many = urlencode({str(number): "1" for number in range(5000)})
    assert ask("POST", "/results", content=many, headers={"content-type": URLENCODED}).status_code == 413


# As long as it gets


def longest() -> Texts:
    """Six panels, twelve pumps with forty points each, a whole skyline, typed months, prices, a goal."""
    design = json.loads(json.dumps(CHOICE))
    steps = [(0.25 * row, 1.8 - 0.0413 * row, 0.42 + 0.0053 * row) for row in range(40)]
    points = [{"flow_l_per_min": flow, "head_m": round(head, 4), "current_a": round(amps, 4)} for flow, head, amps in steps]
    pump, panel = design["pumps"][1] | {"points": points}, design["panels"][0]
    design["pumps"] = [pump | {"id": f"pump-{number}", "name": f"Pump {number} (invented)"} for number in range(12)]
    design["panels"] = [panel | {"id": f"panel-{number}"} for number in range(6)]
    design["chosen"] = {"panel": "panel-5", "pump": "pump-11"}
    design["place"]["skyline"] = [{"azimuth_deg": 5.0 * row, "altitude_deg": 3.25} for row in range(72)]
    return texts_of(read_design(design))


@pytest.mark.slow
def test_the_longest_design_passes_everywhere_without_an_address() -> None:
    texts = longest()
    everything = dict.fromkeys(in_page_order(texts), "") | texts
    assert len(urlencode(texts)) > LONGEST_ADDRESS
    form = send("/", everything)
    assert form.status_code == 200
    assert "too long for the address of a page" in read(form.text).one("main").text
    assert {name: text for name, text in boxes(read(form.text)).items() if text} == texts
    results = send("/results", everything)
    assert results.status_code == 200
    found = read(results.text)
    whole = found.one(id="whole-design")
    assert apart({each["name"]: each["value"] for each in whole.all("input")}) == texts
    assert {each["formaction"] for each in whole.all("button")} >= {"/design.json", "/", "/sky"}
    assert not [each["href"] for each in found.all("a") if len(each["href"]) > LONGEST_ADDRESS]
    assert found.one(id="moment-form")["method"] == "post"
    for path in ("/sky", "/months", "/results.csv"):
        assert send(path, everything).status_code == 200, path


@pytest.mark.slow
def test_the_longest_design_is_changed_saved_and_opened() -> None:
    texts = longest()
    copy = send("/change", texts | {"remove": "pumps.0"})
    assert copy.status_code == 200
    assert len(read(copy.text).all("button", name="remove")) == 17
    saved = send("/design.json", texts)
    opened = ask("POST", "/open", files={"design": ("x.json", saved.content)})
    assert opened.status_code == 200
    assert {name: text for name, text in boxes(read(opened.text)).items() if text} == texts
    assert parse_design(saved.content) == understand(texts).design


def test_a_place_is_found_for_the_longest_design() -> None:
    texts = longest()
    found = read(send("/places", texts | {"find": "novo mesto"}).text)
    assert not [each for each in found.one("main").all("a") if each["href"].startswith("/?")]
    button = found.all("button", name="take")[0]
    assert (button.text, button["formaction"], button["form"]) == ("Novo Mesto", "/places#place-questions", "search")
    taken = boxes(read(send("/places", texts | {"find": "novo mesto", "take": button["value"]}).text))
    assert taken["place.name"] == "Novo Mesto, Slovenia"
    assert taken["pumps.11.points.39.flow_l_per_min"] == "9.75"


# Answers read back


def test_answers_are_those_of_the_pair_that_is_sized() -> None:
    found = {given.label: given for given in answers(choice() | GOAL, example_texts())}
    lines = [label for label in found if "to choose from" in label]
    assert lines == ["Panels to choose from; below, the one that is sized", "Pumps to choose from; below, the one that is sized"]
    assert found[lines[1]].text.startswith("1. 12 V pond pump, 8 litres a minute (invented); 2. 12 V brushless")
    assert found["Pump name"].text == "12 V brushless pump, 15 litres a minute (invented)"
    assert found["Panel name"].text == "20 W panel (invented)"
    assert found["Months in which it should play"].text == "January, February, March, May, October, November, December"
    assert not found["Rated voltage, in volts"].changed
    assert "Highest head on the box, in metres" not in found
    assert len(found) < 120


def test_answers_of_one_pair_have_no_such_lines() -> None:
    found = answers(one(), example_texts())
    assert not [given for given in found if "to choose from" in given.label or given.changed]
    assert not [given for given in found if given.name.startswith(("goal.", "connection.price"))]


# Any design there and back


def amounts(low: float, high: float) -> Any:
    """Numbers with up to four decimals."""
    return st.integers(int(low * 10000), int(high * 10000)).map(lambda number: number / 10000)


PRICES = st.none() | st.fixed_dictionaries(
    {"amount": amounts(0, 900), "currency": st.sampled_from(["EUR", "NZD"])},
    optional={"source": st.sampled_from(["a shop", "page 3, offer"]), "date": st.just("2026-05-31")},
)
WORDS = st.text("abcÄß 12&=?#%<>\"'+;/", min_size=1, max_size=20).map(lambda text: f"n{text}n")
GOALS = st.none() | st.fixed_dictionaries(
    {
        "from_hour": amounts(0, 11),
        "to_hour": amounts(12, 24),
        "months": st.sets(st.integers(1, 12), min_size=1).map(sorted),
    },
    optional={"days_out_of_ten": st.integers(1, 10)},
).flatmap(lambda goal: st.sampled_from([goal | {"jet_height_m": 0.37}, goal | {"flow_l_per_min": 4.13}]))


@st.composite
def designs(draw: Any) -> dict[str, Any]:
    """Designs with any number of panels and pumps, by points or by box, with and without prices and a goal."""
    design: dict[str, Any] = json.loads(json.dumps(CHOICE))
    for key in MOST:
        parts = draw(st.lists(st.sampled_from(CHOICE[key]), min_size=1, max_size=MOST[key]))
        members = [dict(part, id=f"id-{number}", name=draw(WORDS)) for number, part in enumerate(parts)]
        for member in members:
            del member["price"]
            if (price := draw(PRICES)) is not None:
                member["price"] = price
        design[key] = members
    numbers = {key: draw(st.integers(0, len(design[key]) - 1)) for key in MOST}
    design["chosen"] = {"panel": f"id-{numbers['panels']}", "pump": f"id-{numbers['pumps']}"}
    if draw(st.booleans()):
        del design["chosen"]
    del design["goal"]
    if (goal := draw(GOALS)) is not None:
        design["goal"] = goal
    return design


@drawn(40)
@given(designs())
def test_any_design_comes_back_as_it_went_in(data: dict[str, Any]) -> None:
    design = read_design(data)
    texts = texts_of(design)
    found = understand(dict(parse_qsl(urlencode(texts))))
    assert found.errors == {}
    assert found.design is not None
    assert found.design == design
    assert found.design.model_dump(exclude_unset=True) == design.model_dump(exclude_unset=True)
    assert texts_of(found.design) == texts


MANY = sorted(name for name in in_page_order(choice() | GOAL))


@drawn(60)
@given(
    st.dictionaries(st.sampled_from([*MANY, "chosen.panel", "chosen.pump", "pumps.1.id"]), st.text(max_size=12), max_size=6),
    st.sampled_from(
        [{}, {"add": "pumps"}, {"copy": "pumps.3"}, {"copy": "panels.0"}, {"remove": "pumps.1"}, {"remove": "panels.2"}]
    ),
)
def test_no_text_and_no_button_breaks_several(changes: dict[str, str], button: dict[str, str]) -> None:
    texts, _ = pressed(button, tidy(choice() | changes))
    found = understand(texts)
    assert found.texts == texts
    assert (found.design is None) == bool(found.errors)
    assert set(found.errors) <= set(in_page_order(texts))
