"""The form: from a design to texts and back, every wrong text kept with a sentence at its own field."""

import json
import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sizing.design.design import NozzleOutlet
from sizing.design.pointers import limits, locate
from sizing.design.reading import parse_design, read_design
from sizing.design.site import MonthlySky
from sizing.foundation.errors import InputError
from sizing.report.report import size
from tests.draws import drawn
from web.forms.form import LONGEST_TEXT, Texts, known, sentences_of, texts_of, tidy, understand
from web.forms.grids import CELLS, COLUMNS, KINDS, MONTHLY_SUN, MOST_ROWS, POINTS, SKYLINE, grids
from web.forms.part_prices import PARTS, PRICE_FIELDS
from web.forms.position import AXES
from web.forms.questions import BOXES, SECTIONS
from web.forms.questions import CHOICES as ALL_CHOICES
from web.forms.questions import FIELDS as ALL_FIELDS
from web.forms.reading import CARRIED
from web.forms.typed_sky import SIGNS, UNIT
from web.pages.garden.form_page import example_texts, in_page_order, opened, sections

ROOT = Path(__file__).resolve().parents[3]
EXAMPLES = sorted((ROOT / "examples").glob("*.json"))
ON_PAGES = [path for path in EXAMPLES if '"weather_file"' not in path.read_text(encoding="utf-8")]
MEAN_DAYS = ("1.2", "2.2", "3.4", "4.4", "5.4", "5.9", "6.0", "5.2", "3.8", "2.4", "1.3", "1.0")
MONTHS_OF_SUN = {f"sky.ghi_kwh_per_m2_day.{month}": text for month, text in enumerate(MEAN_DAYS)}
MONTHS_OF_AIR = {f"sky.air_temperature_c.{month}": "14" for month in range(12)}
BOX = {"pumps.0.max_head_m": "2.1", "pumps.0.max_flow_l_per_min": "12", "pumps.0.rated_current_a": "0.7"}


GOAL = {"goal.jet_height_m": "0.4", "goal.from_hour": "9.5", "goal.to_hour": "14", "goal.months.may": "yes"}
GOAL_OF_FLOW = {name: text for name, text in GOAL.items() if name != "goal.jet_height_m"} | {"goal.flow_l_per_min": "4"}
OF_OTHERS = re.compile(r"(panels|pumps)\.[1-9]")
"""What names of a second panel or pump begin with; each is asked as the first one is."""
FIELDS = {name: field for name, field in ALL_FIELDS.items() if not OF_OTHERS.match(name)}
CHOICES = {name: choice for name, choice in ALL_CHOICES.items() if not OF_OTHERS.match(name)}


def filled(**changes: str) -> Texts:
    """The worked example with changes; two underscores stand for a dot."""
    return dict(example_texts()) | {name.replace("__", "."): text for name, text in changes.items()}


SIDES = ("basin.length_m", "basin.width_m")
WINDOW = {"goal.more_windows.0.from_hour": "15", "goal.more_windows.0.to_hour": "16"}
LATER_WINDOWS = {
    "goal.more_windows.1.from_hour": "16:30",
    "goal.more_windows.1.to_hour": "17",
    "goal.more_windows.2.from_hour": "8",
    "goal.more_windows.2.to_hour": "9",
}
FEED = {
    "outlet.kind": "nozzle",
    "outlet.count": "6",
    "outlet.feed.kind": "ring",
    "outlet.feed.size_m": "0.5",
    "outlet.feed.inside_diameter_mm": "16",
}
ROUND = {"basin.diameter_m": "1.6"}


def counting(name: str) -> Texts:
    """The worked example with whatever must be chosen and filled for a field to count."""
    texts = filled() | MONTHS_OF_SUN
    if name.startswith("sky.air"):
        texts |= MONTHS_OF_AIR
    if name in BOX:
        texts |= BOX
    if name.startswith("place.skyline"):
        texts |= {f"{SKYLINE}.1.azimuth_deg": "95", f"{SKYLINE}.1.altitude_deg": "18"}
    for choice in CHOICES.values():
        for way in choice.ways:
            if name in {field.name for field in way.fields} or (way.table and name in grids(texts)[way.table].cells):
                texts[choice.name] = way.value
    if ".price." in name:
        base = name.rpartition(".")[0]
        texts |= {f"{base}.amount": "24.9", f"{base}.currency": "EUR"}
    if name.startswith("connection.price"):
        texts["connection.kind"] = "controller"
    if name.startswith("basin."):
        texts |= {"basin.depth_m": "0.3"} | ({"basin.length_m": "2", "basin.width_m": "1.2"} if name in SIDES else ROUND)
    if name.startswith("goal."):
        texts |= GOAL_OF_FLOW if name.startswith("goal.flow") else GOAL
        texts |= WINDOW if name.startswith("goal.more_windows.0") else {}
        texts |= LATER_WINDOWS if name.startswith(("goal.more_windows.1", "goal.more_windows.2")) else {}
    if name.startswith("outlet.feed."):
        texts |= FEED
    if texts["outlet.kind"] == "spillway":
        texts |= {"outlet.width_m": "0.3"}
    return texts


def path_of(name: str) -> list[str | int]:
    """Where a field stands in the models; kinds are put in where a model has to be chosen."""
    parts: list[str | int] = [int(part) if part.isdigit() else part for part in name.split(".")]
    if parts[0] == "fittings":
        return ["pipe", "fittings", 0, parts[2]]
    if name.startswith(PARTS):
        return ["budget", "parts", 0, parts[3]]
    kinds = {"sky": "monthly", "connection": "controller"}
    if parts[0] == "outlet":
        kinds["outlet"] = counting(name)["outlet.kind"]
    return [parts[0], kinds[str(parts[0])], *parts[1:]] if parts[0] in kinds else parts


def shown_cells() -> list[str]:
    """Names of the boxes of the tables as the worked example shows them, less the rows to spare."""
    names = [name for grid in grids(example_texts()).values() for name in grid.cells]
    return [name for name in names if name in example_texts() or name.startswith(("sky.", "fittings."))]


NUMBERS = [name for name in [*FIELDS, *shown_cells()] if limits(locate(path_of(name)).field)[0] is not None]
MUST = [name for name in FIELDS if locate(path_of(name)).field.is_required()]  # type: ignore[union-attr]


# From a design to texts and back


@pytest.mark.parametrize("path", ON_PAGES, ids=lambda path: path.stem)
def test_a_design_comes_back_as_it_went_in(path: Path) -> None:
    design = parse_design(path.read_bytes())
    found = understand(texts_of(design))
    assert found.errors == {}
    assert found.design is not None
    before, after = (each.model_dump(mode="json", exclude_unset=True) for each in (design, found.design))
    for fittings in (before["pipe"]["fittings"], after["pipe"]["fittings"]):
        fittings.sort(key=lambda fitting: fitting["kind"])
    assert after == before


@pytest.mark.parametrize("path", ON_PAGES, ids=lambda path: path.stem)
def test_texts_come_back_as_they_went_in(path: Path) -> None:
    texts = texts_of(parse_design(path.read_bytes()))
    design = understand(texts).design
    assert design is not None
    assert texts_of(design) == texts


def test_what_a_design_leaves_open_stays_empty_so_that_the_results_say_what_was_assumed() -> None:
    data = json.loads((ROOT / "examples" / "quince_court_jet.json").read_text(encoding="utf-8"))
    del data["water_temperature_c"], data["mounting"]["soiling_pct"]
    texts = texts_of(read_design(data))
    assert "water_temperature_c" not in texts
    design = understand(texts).design
    assert design is not None
    assert {note.code for note in size(design).assumptions} >= {"soiling_assumed", "water_temperature_assumed"}


def test_prices_and_ids_of_an_opened_design_are_carried_along() -> None:
    data = json.loads((ROOT / "examples" / "quince_court_jet.json").read_text(encoding="utf-8"))
    price = {"amount": 24.9, "currency": "EUR", "source": "a shop", "date": "2026-05-31"}
    data["panels"][0]["price"] = data["pumps"][0]["price"] = price
    texts = texts_of(read_design(data))
    assert texts["panels.0.price.amount"] == "24.9"
    assert set(texts) >= {"panels.0.id", "pumps.0.id", "chosen.panel", "chosen.pump"}
    design = understand(texts).design
    assert design is not None
    assert design.pumps[0].price is not None
    assert design.pumps[0].price.model_dump() == price
    assert design.pumps[0].id == data["pumps"][0]["id"]


def test_fittings_of_one_kind_lose_together_what_they_lost_one_by_one() -> None:
    data = json.loads((ROOT / "examples" / "quince_court_jet.json").read_text(encoding="utf-8"))
    bends = [{"kind": "elbow_90", "count": 1, "k": 0.5}, {"kind": "elbow_90", "count": 3, "k": 1.7}]
    data["pipe"]["fittings"] = [*bends, {"kind": "elbow_45", "count": 1}, {"kind": "elbow_45", "count": 2}]
    texts = texts_of(read_design(data))
    # 1 * 0.5 + 3 * 1.7 = 5.6 over four bends is 1.4 each
    assert texts["fittings.elbow_90.count"] == "4"
    assert float(texts["fittings.elbow_90.k"]) == pytest.approx(1.4)
    assert texts["fittings.elbow_45.count"] == "3"
    assert "fittings.elbow_45.k" not in texts


def test_a_pump_known_by_its_box_has_no_points() -> None:
    texts = filled(pumps__0__known="box") | BOX
    design = understand(texts).design
    assert design is not None
    assert design.pumps[0].points is None
    assert design.pumps[0].max_head_m == 2.1
    again = texts_of(design)
    assert again["pumps.0.known"] == "box"
    assert not any(name.startswith(POINTS) for name in again)


def test_a_basin_and_prices_of_parts_come_back_in_the_order_of_the_list() -> None:
    data = json.loads((ROOT / "examples" / "quince_court_jet.json").read_text(encoding="utf-8"))
    pipe = {"part": "pipe", "amount": 2.5, "currency": "EUR", "source": "a shop", "date": "2026-05-31"}
    data["basin"] = {"diameter_m": 1.73, "depth_m": 0.31, "build": "tub", "dry_spell_days": 17}
    data["budget"] = {"contingency_pct": 7.5, "delivery": {"amount": 4, "currency": "EUR"}}
    data["budget"]["parts"] = [{"part": "cable", "amount": 0.8, "currency": "EUR"}, pipe]
    texts = texts_of(read_design(data))
    assert (texts["budget.parts.pipe.amount"], texts["budget.parts.cable.amount"]) == ("2.5", "0.8")
    design = understand(texts).design
    assert design is not None
    for part in ("basin", "budget"):
        assert design.model_dump(exclude_unset=True)[part] == read_design(data).model_dump(exclude_unset=True)[part]
    assert texts_of(design) == texts


def test_a_price_without_a_currency_takes_the_one_asked_once() -> None:
    texts = filled() | {"budget.parts.pipe.amount": "2,50", "budget.parts.fuse.amount": "3", "budget.parts.fuse.currency": "nzd"}
    seen = {"budget.source": "a shop", "budget.date": "2026-05-31"}
    together = understand(texts | seen).design
    assert together is not None
    assert together.budget is not None
    assert {(row.currency, row.source, row.date) for row in together.budget.parts} == {("NZD", "a shop", "2026-05-31")}
    again = texts_of(together)
    assert {name: text for name, text in again.items() if name.startswith("budget.")} == seen | {
        "budget.currency": "NZD", "budget.parts.pipe.amount": "2.5", "budget.parts.fuse.amount": "3",
    }  # fmt: skip
    for more, expected in (({"budget.currency": " chf"}, "CHF"), ({}, "NZD")):
        design = understand(texts | more).design
        assert design is not None
        assert design.budget is not None
        found = {price.part: (price.amount, price.currency) for price in design.budget.parts}
        assert found == {"fuse": (3.0, "NZD"), "pipe": (2.5, expected)}


def test_a_day_that_no_calendar_has_is_told_beside_its_box() -> None:
    price = {"budget.parts.pipe.amount": "2.5", "budget.parts.pipe.currency": "EUR", "budget.parts.pipe.date": "2026-02-30"}
    found = understand(filled() | price)
    assert list(found.errors) == ["budget.parts.pipe.date"]
    assert "2026-02-30, which no calendar has" in found.errors["budget.parts.pipe.date"]


def test_a_wrong_price_of_a_part_has_its_sentence_and_its_box_on_the_form() -> None:
    wrong = {"budget.parts.pipe.amount": "-3", "budget.parts.fuse.amount": "1,234", "budget.delivery.date": "5/6/2026"}
    texts = filled() | {"budget.parts.cable.amount": "1", "budget.currency": "EUR", "budget.delivery.amount": "2"} | wrong
    found = understand(texts)
    assert list(found.errors) == ["budget.parts.fuse.amount", "budget.delivery.date", "budget.parts.pipe.amount"]
    assert found.errors["budget.parts.pipe.amount"].startswith("Pipe: price of one is -3; it must be between 0 and 100000")
    assert found.errors["budget.parts.fuse.amount"] == "Fuse: price of one: 1,234 can be read in two ways; write 1.234 or 1234"
    assert "(part" not in " ".join(found.errors.values())
    assert [section.key for section in sections(found.errors)][-1] == "budget"
    assert sections({}) == SECTIONS


# Names


def test_every_field_stands_in_the_design_model() -> None:
    for name in [*FIELDS, *(name for name in CHOICES if name not in ("pumps.0.known", UNIT)), *CARRIED, *CELLS]:
        spot = locate(path_of(name))
        assert spot.field is not None, name
        if not name.startswith(("fittings.", PARTS)):
            assert spot.pointer == "#/" + name.replace(".", "/")


def test_every_column_of_a_table_has_its_cells() -> None:
    for base, columns in COLUMNS.items():
        assert {f"{base}.0.{key}" for key, _, _ in columns} <= set(CELLS)


def test_every_kind_of_fitting_has_its_row() -> None:
    schema = json.dumps(parse_design(EXAMPLES[0].read_bytes()).model_json_schema())
    assert all(f'"{kind}"' in schema for kind in KINDS)
    assert len(KINDS) == 9


def test_unknown_names_are_dropped() -> None:
    odd = {"pipe.length_m": "8", "pipe.colour": "red", "utm_source": "x", f"{POINTS}.40.head_m": "1", f"{POINTS}.01.head_m": "1"}
    odd |= {"fittings.funnel.count": "1", "sky.ghi_kwh_per_m2_day.12": "4", "moment.month": "6", "": "x", "pumps.12.name": "x"}
    odd |= {"panels.6.name": "x", "pumps.00.name": "x", "goal.months.0": "5", "goal.months.mai": "yes", "chosen.wire": "0"}
    assert tidy(odd) == {"pipe.length_m": "8"}
    assert known(f"{POINTS}.39.head_m")
    assert known(f"{SKYLINE}.71.azimuth_deg")
    assert not known(f"{SKYLINE}.72.azimuth_deg")


def test_overlong_texts_lose_their_tails() -> None:
    assert len(tidy({"note": "x" * 9000})["note"]) == LONGEST_TEXT


# Wrong texts


@pytest.mark.parametrize("name", MUST)
def test_what_must_be_given_says_so(name: str) -> None:
    texts = counting(name) | {name: "  "}
    found = understand(texts)
    assert found.design is None
    assert list(found.errors) == [name]
    assert "is missing and must be given" in found.errors[name] or "is empty" in found.errors[name]
    assert found.texts == texts


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("abc", 'is "abc", not a'),
        ("-1e6", "it must be between"),
        ("1e6", "it must be between"),
        ("1e999", "is infinite, not a"),
        ("nan", 'is "nan", not a'),
        ("1,234", "1,234 can be read in two ways; write 1.234 or 1234"),
        ("7 furlong", "7 furlong has another unit than this field"),
    ],
)
def test_a_wrong_number_is_kept_with_a_sentence_at_its_own_field(text: str, said: str) -> None:
    for name in NUMBERS:
        texts = counting(name) | {name: text}
        if name.endswith(".k"):
            texts |= {name.removesuffix("k") + "count": "1"}
        found = understand(texts)
        if text == "1,234" and name in AXES:  # no latitude or longitude has thousands
            assert found.errors == {}, name
            continue
        assert found.design is None, name
        assert list(found.errors) == [name]
        assert said in found.errors[name]
        assert found.errors[name][0].isupper()
        assert found.texts == texts


@pytest.mark.some(4)
@pytest.mark.parametrize("section", sorted({name.split(".")[0] for name in NUMBERS}))
def test_the_ends_of_each_range_are_taken_and_what_lies_beyond_is_not(section: str) -> None:
    for name in NUMBERS:
        if name.split(".")[0] == section:
            check_ends(name)


def check_ends(name: str) -> None:
    spot = locate(path_of(name))
    for end, beyond in zip(limits(spot.field), (-1, 1), strict=True):
        assert end is not None
        outside = understand(counting(name) | {name: f"{end + beyond * max(abs(end) * 0.01, 1.0):.6g}"})
        if not (name.endswith(".count") and end == 1):  # no fitting at all is fine
            assert name in outside.errors
        inside = understand(counting(name) | {name: f"{end:g}"})
        assert "must be between" not in inside.errors.get(name, "")


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("title", "x" * 121, "Title has 121 characters; at most 120 fit; shorten it"),
        ("panels.0.name", "x" * 81, "Panel name has 81 characters; at most 80 fit; shorten it"),
        ("note", "x" * 501, "Note has 501 characters; at most 500 fit; shorten it"),
        ("place.name", "a\tb", "with characters that cannot stand there"),
        ("place.time_zone", "<b>", "with characters that cannot stand there; write it like Europe/Ljubljana"),
        ("panels.0.in_series", "2.5", "Panels in series is 2.5, not a whole number"),
        ("outlet.count", "1.5", "Number of jets is 1.5, not a whole number"),
    ],
)
def test_other_wrong_texts(name: str, text: str, said: str) -> None:
    found = understand(filled() | {name: text})
    assert list(found.errors) == [name]
    assert said in found.errors[name]
    assert found.texts[name] == text


def test_several_wrong_texts_each_have_their_sentence() -> None:
    found = understand(filled(pipe__length_m="long", panels__0__vmp_v="12 cm", place__latitude_deg="", pumps__0__name=""))
    assert set(found.errors) == {"place.latitude_deg", "panels.0.vmp_v", "pumps.0.name", "pipe.length_m"}
    assert found.errors["panels.0.vmp_v"].startswith("Voltage at maximum power: 12 cm has another unit")


def test_a_text_that_is_unclear_is_asked_about_even_where_all_else_is_wrong_too() -> None:
    found = understand({"pipe.length_m": "1,234"})
    assert found.errors["pipe.length_m"] == "Pipe length: 1,234 can be read in two ways; write 1.234 or 1234"
    assert len(found.errors) > 8


@pytest.mark.parametrize("name", CHOICES)
@pytest.mark.parametrize("text", ["", "catapult", "<script>"])
def test_a_choice_that_is_none_of_the_ways_is_asked_about(name: str, text: str) -> None:
    joined = {"connection.kind": "controller"} if name == "connection.controller_kind" else {}
    found = understand(counting(f"{MONTHLY_SUN}.0" if name == UNIT else "") | BOX | joined | {name: text})
    choice = CHOICES[name]
    if text in [way.value for way in choice.ways]:  # what may stay unsaid has a way for it
        assert found.errors == {}
        return
    assert found.errors[name] == f"{choice.question}: none of the ways was chosen; “{choice.ways[0].words}” is marked now"
    assert found.texts[name] == text
    assert set(found.errors) <= {name, "outlet.height_above_water_m"}


def test_a_choice_that_is_not_in_the_address_takes_its_first_way() -> None:
    texts = {name: text for name, text in filled().items() if name not in CHOICES}
    design = understand(texts).design
    assert design is not None
    assert (design.sky.kind, design.connection.kind, design.outlet.kind) == ("built_in", "direct", "nozzle")
    assert design.pumps[0].position == "submersible"


def test_a_weather_file_is_refused_with_a_sentence() -> None:
    path = next(path for path in EXAMPLES if path not in ON_PAGES)
    found = understand(texts_of(parse_design(path.read_bytes())))
    assert list(found.errors) == ["sky.kind"]
    assert "takes its sun from a weather file; choose that file below" in found.errors["sky.kind"]


# Coordinates, compass and sightings


@pytest.mark.parametrize(
    ("latitude", "longitude", "where"),
    [
        # 46 + 3/60 = 46.05; 14 + 30/60 + 36/3600 = 14.51; 79 + 57/60 = 79.95
        ("46.05 N", "14.51 E", (46.05, 14.51)),
        ("46° 3' 0\" N", "14° 30' 36\" E", (46.05, 14.51)),
        ("36,1", "79 57 W", (36.1, -79.95)),
        ("\N{MINUS SIGN}29.1°", " -51.2 deg", (-29.1, -51.2)),
        ("46.05, 14.51", "", (46.05, 14.51)),
        ("79 57 W, 36 6 N", " ", (36.1, -79.95)),
        ("46,05 14,51", "", (46.05, 14.51)),
    ],
)
def test_coordinates_in_usual_forms(latitude: str, longitude: str, where: tuple[float, float]) -> None:
    texts = filled(place__latitude_deg=latitude, place__longitude_deg=longitude)
    found = understand(texts)
    assert found.design is not None, found.errors
    assert (found.design.place.latitude_deg, found.design.place.longitude_deg) == pytest.approx(where, abs=1e-9)
    assert found.texts == texts


@pytest.mark.parametrize(
    ("latitude", "longitude", "name", "said"),
    [
        ("14 E", "46 N", "place.latitude_deg", "this is a longitude; the field asks for the latitude"),
        ("46° 73'", "14.51", "place.latitude_deg", "minutes are 73"),
        ("46.05", "200 E", "place.longitude_deg", "a longitude counted on from 180 is written -160"),
        ("46.05, 14.51", "14.51", "place.latitude_deg", '"46.05, 14.51", not a number'),
        ("46.05", "", "place.longitude_deg", "is missing and must be given"),
        ("", "14.51", "place.latitude_deg", "is missing and must be given"),
        ("Ljubljana", "", "place.latitude_deg", 'is "Ljubljana", not a number'),
    ],
)
def test_coordinates_that_cannot_be_stand_beside_their_box(latitude: str, longitude: str, name: str, said: str) -> None:
    found = understand(filled(place__latitude_deg=latitude, place__longitude_deg=longitude))
    assert name in found.errors
    assert said in found.errors[name]


def test_a_compass_takes_the_place_of_true_directions() -> None:
    texts = filled(mounting__azimuth_deg="", mounting__compass_deg="171", place__compass_date="2026-05-31")
    texts |= {f"{SKYLINE}.0.azimuth_deg": "", f"{SKYLINE}.0.compass_deg": "56"}
    texts |= {f"{SKYLINE}.1.altitude_deg": "", f"{SKYLINE}.1.height_m": "7.3", f"{SKYLINE}.1.distance_m": "22,5 m"}
    design = understand(texts).design
    assert design is not None
    assert (design.mounting.azimuth_deg, design.mounting.compass_deg) == (None, 171)
    assert design.place.skyline[0].compass_deg == 56
    assert (design.place.skyline[1].height_m, design.place.skyline[1].distance_m) == (7.3, 22.5)
    again = texts_of(design)
    assert again == {name: text for name, text in texts.items() if text} | {f"{SKYLINE}.1.distance_m": "22.5"}


@pytest.mark.parametrize(
    ("changes", "name", "said"),
    [
        (
            {"mounting.azimuth_deg": ""},
            "mounting.azimuth_deg",
            "between 0 and 360 ° from true north, or what a compass shows there",
        ),
        ({"mounting.compass_deg": "171"}, "mounting.compass_deg", "is given twice"),
        ({f"{SKYLINE}.0.compass_deg": "56"}, f"{SKYLINE}.0.compass_deg", "is given twice"),
        ({f"{SKYLINE}.0.height_m": "5"}, f"{SKYLINE}.0.altitude_deg", "keep one of the two"),
        (
            {f"{SKYLINE}.0.altitude_deg": "", f"{SKYLINE}.0.height_m": "5"},
            f"{SKYLINE}.0.altitude_deg",
            "or both height and distance",
        ),
        ({f"{SKYLINE}.6.compass_deg": "7"}, f"{SKYLINE}.6.altitude_deg", "(skyline point 7) is missing"),
        ({"mounting.azimuth_deg": "", "mounting.compass_deg": "171"}, "place.compass_date", "the day counts"),
        (
            {"mounting.azimuth_deg": "", "mounting.compass_deg": "171", "place.compass_date": "31.5.2026"},
            "place.compass_date",
            "write it like 2026-05-31",
        ),
        (
            {"mounting.azimuth_deg": "", "mounting.compass_deg": "171", "place.compass_date": "2026-02-30"},
            "place.compass_date",
            "which no calendar has",
        ),
        (
            {"mounting.azimuth_deg": "", "mounting.compass_deg": "171", "place.compass_date": "2019-05-31"},
            "place.compass_date",
            "the magnetic model holds from 2025-01-01",
        ),
        (
            {f"{SKYLINE}.7.azimuth_deg": "60", f"{SKYLINE}.7.altitude_deg": "3"},
            f"{SKYLINE}.7.azimuth_deg",
            "60 degrees stands twice",
        ),
    ],
)
def test_directions_and_heights_that_cannot_stand(changes: Mapping[str, str], name: str, said: str) -> None:
    texts = filled() | dict(changes)
    found = understand(texts)
    errors = found.errors
    if found.design is not None:
        with pytest.raises(InputError) as error:
            size(found.design)
        errors = sentences_of(texts, error.value.problems)
    assert list(errors) == [name]
    assert said in errors[name]
    assert "_deg" not in errors[name]
    assert "_m" not in errors[name]


# Tables


def rows(*points: tuple[int, str, str, str]) -> Texts:
    """The worked example with other points of the pump in given rows."""
    texts = {name: text for name, text in filled().items() if not name.startswith(POINTS)}
    for row, *values in points:
        texts |= {f"{POINTS}.{row}.{key}": text for (key, _, _), text in zip(COLUMNS[POINTS], values, strict=True)}
    return texts


def test_rows_with_gaps_keep_their_row_in_errors() -> None:
    texts = rows((0, "0", "1.8", "0.42"), (3, "5", "x", "0.5"), (7, "10", "0", ""))
    found = understand(texts)
    assert found.errors == {
        f"{POINTS}.3.head_m": 'Head (point 4) is "x", not a number; write a number between 0 and 60 m',
        f"{POINTS}.7.current_a": "Current (point 8) is missing and must be given; add a number between 0.001 and 50 A",
    }
    assert found.texts == texts


def test_gaps_between_rows_do_not_matter() -> None:
    close = understand(rows((0, "0", "1.8", "0.42"), (1, "10", "0", "0.63"))).design
    apart = understand(rows((2, "0", "1.8", "0.42"), (9, "10", "0", "0.63"))).design
    assert close is not None
    assert close == apart


def test_points_that_only_the_sizing_can_judge_keep_their_row_too() -> None:
    texts = rows((0, "0", "1.8", "0.42"), (2, "6", "1.2", "0.5"), (4, "5", "0.9", "0.55"))
    design = understand(texts).design
    assert design is not None
    with pytest.raises(InputError) as error:
        size(design)
    found = sentences_of(texts, error.value.problems)
    assert list(found) == [f"{POINTS}.4.flow_l_per_min"]
    assert found[f"{POINTS}.4.flow_l_per_min"].startswith("Point 5 of the pump curve has 5 L/min after 6 L/min")


def test_a_pump_without_points_says_what_to_give() -> None:
    found = understand(rows())
    assert found.errors == {
        f"{POINTS}.0.flow_l_per_min": "The table has no points; give at least two points of the pump's curve, or choose “Only "
        "what its box says”"
    }
    assert list(understand(rows((3, "0", "1.8", "0.42"))).errors) == [f"{POINTS}.0.flow_l_per_min"]


@pytest.mark.parametrize("name", BOX)
def test_a_pump_by_its_box_needs_all_three_numbers(name: str) -> None:
    found = understand(filled(pumps__0__known="box") | BOX | {name: ""})
    assert list(found.errors) == [name]
    assert found.errors[name].endswith(
        "is empty; a pump known by its box needs all three numbers; write it, or give points of its curve instead"
    )


def test_points_left_over_do_not_count_for_a_pump_by_its_box() -> None:
    found = understand(filled(pumps__0__known="box") | BOX | {f"{POINTS}.1.head_m": "nonsense"})
    assert found.errors == {}
    assert found.texts[f"{POINTS}.1.head_m"] == "nonsense"


def test_a_row_of_the_skyline_needs_both_numbers() -> None:
    found = understand(filled() | {f"{SKYLINE}.7.azimuth_deg": "310"})
    assert list(found.errors) == [f"{SKYLINE}.7.altitude_deg"]
    assert "(skyline point 8) is missing" in found.errors[f"{SKYLINE}.7.altitude_deg"]


def test_no_skyline_is_an_open_horizon() -> None:
    design = understand({name: text for name, text in filled().items() if not name.startswith(SKYLINE)}).design
    assert design is not None
    assert design.place.skyline == ()


@pytest.mark.parametrize("count", ["", "0", "0.0", " "])
def test_no_fitting_is_none(count: str) -> None:
    design = understand(filled(fittings__elbow_90__count=count)).design
    assert design is not None
    assert "elbow_90" not in [fitting.kind for fitting in design.pipe.fittings]


def test_a_loss_coefficient_without_a_count_is_asked_about() -> None:
    found = understand(filled(fittings__gate_valve__k="0.2"))
    assert list(found.errors) == ["fittings.gate_valve.count"]
    assert "(gate valve, open) is missing" in found.errors["fittings.gate_valve.count"]


def test_a_missing_month_is_named() -> None:
    texts = filled(sky__kind="monthly") | MONTHS_OF_SUN | {"sky.ghi_kwh_per_m2_day.2": ""}
    found = understand(texts)
    assert found.errors == {
        "sky.ghi_kwh_per_m2_day.2": "Monthly sun on level ground (March) is empty; write a number between 0 and 12 kWh/m² a day"
    }
    warm = understand(texts | {"sky.ghi_kwh_per_m2_day.2": "3", "sky.air_temperature_c.0": "2"})
    assert set(warm.errors) == {f"sky.air_temperature_c.{month}" for month in range(1, 12)}
    assert all(sentence.endswith("; give all twelve or none") for sentence in warm.errors.values())


@pytest.mark.parametrize(
    ("unit", "typed", "day"),
    [
        # January has 31 days: 142.6 / 31 = 4.6; 16.56 / 3.6 = 4.6; 513.36 / 31 / 3.6 = 4.6; 4600 / 24 = 191.67
        ("kwh_per_m2_day", "4.6 kWh/m²", 4.6),
        ("kwh_per_m2_month", "142,6", 4.6),
        ("mj_per_m2_day", "16.56 MJ/m²", 4.6),
        ("mj_per_m2_month", "513.36", 4.6),
        ("w_per_m2", "191.6667 W/m2", 4.6),
        ("peak_sun_hours", "4.6 h", 4.6),
    ],
)
def test_typed_months_are_read_in_their_unit(unit: str, typed: str, day: float) -> None:
    texts = filled(sky__kind="monthly") | MONTHS_OF_SUN | {UNIT: unit, f"{MONTHLY_SUN}.0": typed}
    design = understand(texts).design
    assert isinstance(design.sky if design else None, MonthlySky)
    assert design.sky.ghi_kwh_per_m2_day[0] == pytest.approx(day, abs=1e-5)  # type: ignore[union-attr]
    label = next(cell for cell in grids(texts)["months"].cells.values())
    assert label.unit == SIGNS[unit]


def test_a_wrong_month_is_told_as_it_was_typed() -> None:
    texts = filled(sky__kind="monthly") | MONTHS_OF_SUN | {UNIT: "kwh_per_m2_month"}
    found = understand(texts | {f"{MONTHLY_SUN}.6": "1500"}).errors[f"{MONTHLY_SUN}.6"]
    assert found.endswith("(typed: 1500, as kWh/m² a month)")
    assert "it must be between 0 and 12" in found
    assert understand(texts | {f"{MONTHLY_SUN}.6": "abc"}).errors == {
        f"{MONTHLY_SUN}.6": 'Monthly sun on level ground (July) is "abc", not a number; write a number in kWh/m² a month'
    }
    other = understand(texts | {f"{MONTHLY_SUN}.6": "150 MJ/m2"}).errors[f"{MONTHLY_SUN}.6"]
    assert "has another unit than this field, which takes kWh/m²" in other


def test_a_whole_year_out_of_range_points_at_the_unit_first() -> None:
    sums = {f"{MONTHLY_SUN}.{month}": f"{30.4 * float(text):.1f}" for month, text in enumerate(MEAN_DAYS)}
    found = understand(filled(sky__kind="monthly") | sums)
    assert UNIT in found.errors
    assert "kWh/m² a month" in found.errors[UNIT]
    assert f"{MONTHLY_SUN}.6" in found.errors
    assert understand(filled(sky__kind="monthly") | sums | {UNIT: "kwh_per_m2_month"}).errors == {}
    for changes in ({"place.latitude_deg": "x"}, {"place.latitude_deg": "200"}, {f"{MONTHLY_SUN}.1": "x"}):
        assert UNIT not in understand(filled(sky__kind="monthly") | sums | changes).errors


def test_months_do_not_count_for_the_built_in_table() -> None:
    assert understand(filled() | {"sky.ghi_kwh_per_m2_day.2": "nonsense"}).errors == {}


def test_units_may_stand_in_the_boxes() -> None:
    texts = filled(pipe__length_m="1,2 m", place__latitude_deg="\N{MINUS SIGN}29.1°", panels__0__vmp_v="17.6 V")
    texts |= {f"{POINTS}.1.flow_l_per_min": "3 L/min", "sky.kind": "monthly"} | MONTHS_OF_SUN
    texts |= {"sky.ghi_kwh_per_m2_day.0": "6.1 kWh/m²"}
    design = understand(texts).design
    assert design is not None
    assert (design.pipe.length_m, design.place.latitude_deg) == (1.2, -29.1)


# Values that cannot stand together


@pytest.mark.parametrize(
    ("changes", "name", "said"),
    [
        ({"pumps.0.lowest_voltage_v": "13"}, "pumps.0.lowest_voltage_v", "the lowest must be below the rated"),
        ({"pumps.0.highest_voltage_v": "9"}, "pumps.0.highest_voltage_v", "the highest must not be below the rated"),
        (
            {"outlet.discharge_coefficient": "0.9", "outlet.velocity_coefficient": "0.8"},
            "outlet.velocity_coefficient",
            "must not be below the discharge coefficient",
        ),
        ({"panels.0.vmp_v": "22"}, "panels.0.vmp_v", ""),
        ({"panels.0.imp_a": "0.95"}, "panels.0.imp_a", ""),
        ({"place.latitude_deg": "-31", "place.longitude_deg": "-25"}, "sky.kind", "type 12 monthly values of sun."),
        ({"pipe.roughness_mm": "2", "pipe.inside_diameter_mm": "3"}, "pipe.roughness_mm", "of the inside diameter"),
        ({"pumps.0.winding_resistance_ohm": "50"}, "pumps.0.winding_resistance_ohm", "A winding of 50 ohm"),
        ({"pumps.0.no_load_current_a": "0.6"}, "pumps.0.no_load_current_a", "no-load current"),
        ({f"{POINTS}.1.head_m": "30"}, f"{POINTS}.1.head_m", "after 1.8 m"),
        ({f"{POINTS}.{row}.current_a": "0.02" for row in range(5)}, f"{POINTS}.0.flow_l_per_min", "of its electricity"),
        ({"sky.kind": "monthly", **MONTHS_OF_SUN, "sky.ghi_kwh_per_m2_day.0": "11"}, "sky.ghi_kwh_per_m2_day.0", "January is 11"),
    ],
)
def test_a_clash_stands_at_a_field_that_is_there(changes: Mapping[str, str], name: str, said: str) -> None:
    texts = filled() | dict(changes)
    found = understand(texts)
    errors = found.errors
    if found.design is not None:
        with pytest.raises(InputError) as error:
            size(found.design)
        errors = sentences_of(texts, error.value.problems)
    assert list(errors) == [name]
    assert said in errors[name]
    assert name in set(in_page_order(texts))


@pytest.mark.parametrize("pointer", ["#", "#/pipe", "#/outlet", "#/panels/0", "#/pumps/0", "#/pumps/0/points", "#/sky/path"])
@pytest.mark.parametrize("more", ["", "/unheard_of", "/99/far", "/x"])
def test_whatever_a_pointer_means_its_sentence_stands_on_the_page(pointer: str, more: str) -> None:
    from sizing.foundation.errors import Problem

    texts = filled()
    found = sentences_of(texts, (Problem(pointer + more, "odd", "something is odd; change it"),))
    assert set(found) <= set(in_page_order(texts))
    assert list(found.values()) == ["Something is odd; change it"]


# What stands open


def test_parts_with_an_error_or_with_own_values_stand_open() -> None:
    plain = filled()
    assert opened(plain, {}) == set()
    assert opened(plain, {"pipe.roughness_mm": "..."}) == {"pipe"}
    assert opened(plain, {"fittings.elbow_90.count": "..."}) == {"fittings"}
    own = filled(place__albedo="0.3", sky__kind="monthly")
    assert opened(own, {}) == {"place", "months"}


def test_a_table_has_rows_to_spare_up_to_its_most() -> None:
    assert len(grids({})[POINTS].rows) == 6
    assert len(grids({f"{POINTS}.9.head_m": "1"})[POINTS].rows) == 12
    assert len(grids({f"{POINTS}.9.head_m": " "})[POINTS].rows) == 6
    assert len(grids({f"{POINTS}.39.head_m": "1"})[POINTS].rows) == MOST_ROWS[POINTS] == 40
    assert len(grids({f"{SKYLINE}.71.azimuth_deg": "1"})["skyline"].rows) == MOST_ROWS[SKYLINE] == 72


# Anything at all


NAMES = sorted([*FIELDS, *CHOICES, *BOXES, *shown_cells(), *(name for name in CARRIED if not OF_OTHERS.match(name))])


@drawn(75)
@given(st.dictionaries(st.sampled_from(NAMES), st.text(max_size=12), max_size=6))
@example({"measurements.0.air_temperature_c": "0A"})  # what is carried along has no box of its own
def test_no_text_breaks_the_form(changes: dict[str, str]) -> None:
    texts = filled() | changes
    found = understand(texts)
    assert found.texts == texts
    assert (found.design is None) == bool(found.errors)
    assert set(found.errors) <= {*in_page_order(texts), *PRICE_FIELDS}


def test_a_crown_and_kinds_go_into_the_design_and_back() -> None:
    texts = filled(**{name.replace(".", "__"): text for name, text in FEED.items()}) | {
        "outlet.bore_mm": "3",
        "outlet.nozzle_kind": "drilled_cap",
        "pipe.kind": "ribbed_hose",
    }
    design = understand(texts).design
    assert design is not None
    assert isinstance(design.outlet, NozzleOutlet)
    assert design.outlet.feed is not None
    assert (design.outlet.feed.kind, design.outlet.feed.size_m, design.outlet.feed.inside_diameter_mm) == ("ring", 0.5, 16)
    assert (design.outlet.nozzle_kind, design.pipe.kind) == ("drilled_cap", "ribbed_hose")
    again = understand(texts_of(design)).design
    assert again == design


def test_sizes_of_a_feed_without_its_kind_are_asked_about() -> None:
    found = understand(filled() | {"outlet.feed.size_m": "0.5", "outlet.count": "6"})
    assert found.design is None
    assert set(found.errors) == {"outlet.feed.kind", "outlet.feed.inside_diameter_mm"}
    assert found.texts["outlet.feed.size_m"] == "0.5"
