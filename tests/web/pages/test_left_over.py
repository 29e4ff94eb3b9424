"""An example's garden does not come along to another place: what is its own is cleared, and said; all else stays."""

from collections.abc import Mapping
from urllib.parse import urlencode

import pytest

from sizing.design.reading import parse_design
from tests.asking import ROOT, ask
from web.forms.form import texts_of, understand
from web.forms.position import LATITUDE, LONGITUDE
from web.pages.garden.form_page import example_texts
from web.pages.garden.left_over import OF_A_GARDEN, cleared, left_over, moved_away, told

EXAMPLES = sorted((ROOT / "examples").glob("*.json"))
OWN_TOWN = {LATITUDE: "45.8", LONGITUDE: "15.17"}


def example(name: str) -> dict[str, str]:
    return dict(texts_of(parse_design((ROOT / "examples" / f"{name}.json").read_bytes())))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_nothing_of_the_examples_garden_is_kept(path: object) -> None:
    texts = example(path.stem)  # type: ignore[attr-defined]
    kept, gone = cleared(texts)
    for name in kept:
        assert not name.startswith(("place.skyline", "place.obstacles", "sky.ghi_", "sky.air_"))
    of_the_garden = {"title", "note", "mounting.azimuth_deg", "mounting.compass_deg"}
    assert not (of_the_garden | {"place.name", "place.elevation_m", "place.coldest_air_c"}) & set(kept)
    assert "the name of the design" in gone
    rest = {name for name in texts if name.startswith(("panels", "pumps", "pipe", "outlet", "cable", "goal", "mounting.tilt"))}
    assert rest
    assert all(kept[name] == texts[name] for name in rest)


def test_what_somebody_typed_stays() -> None:
    own = {"note": "Ask the caretaker", "mounting.azimuth_deg": "171", "place.skyline.0.altitude_deg": "31"}
    kept, gone = cleared(dict(example_texts()) | own)
    assert {name: kept[name] for name in own} == own
    assert "the note" not in gone
    assert "the direction of the panel" not in gone


def test_a_design_of_ones_own_is_left_alone() -> None:
    """A garden that shares its direction with an example, and nothing that names it."""
    own = dict(example_texts()) | OWN_TOWN | {"title": "Our pond", "note": ""}
    assert left_over(own) == {}
    assert cleared(own) == (own, ())
    assert moved_away(own) == ()


def test_without_its_direction_the_form_asks() -> None:
    kept, _ = cleared(dict(example_texts()) | OWN_TOWN)
    assert list(understand(kept | {"place.name": "Our town"}).errors) == ["mounting.azimuth_deg"]


def test_the_page_of_places_clears_and_says_so() -> None:
    found = ask("GET", f"/places?{urlencode(dict(example_texts()) | {'find': 'novo mesto', 'take': '0'})}")
    assert found.status_code == 303
    form = ask("GET", found.headers["location"].partition("#")[0])
    for text in ("the name of the design", "the note", "the direction of the panel", "the line of hills and trees"):
        assert text in form.text
    note = example_texts()["note"]
    assert note[:40] not in form.text


def test_coordinates_typed_by_hand_are_told_on_the_results() -> None:
    texts = dict(example_texts()) | OWN_TOWN | {"place.time_zone": ""}
    assert "the note" in moved_away(texts)
    shown = ask("GET", f"/results?{urlencode(texts)}")
    assert shown.status_code == 200
    assert "these answers are still the worked example" in shown.text
    as_it_is: Mapping[str, str] = example_texts()
    assert moved_away(as_it_is) == ()


def test_only_known_words_are_told() -> None:
    assert told("the note; <script>; press here") == ("the note",)
    assert told("; ".join(OF_A_GARDEN.values())) == tuple(dict.fromkeys(OF_A_GARDEN.values()))
