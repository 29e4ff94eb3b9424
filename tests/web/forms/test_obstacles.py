"""Obstacles in the form: words and degrees, a sentence beside the box that is wrong, and the way to a design file and back."""

from urllib.parse import urlencode

import pytest

from tests.asking import ask
from tests.markup import read
from web.forms.form import texts_of, understand
from web.pages.garden.form_page import example_texts

ROW = {"direction": "south-west", "height_m": "8", "distance_m": "10", "width_m": "6"}


def typed(**changes: str) -> dict[str, str]:
    """The worked example with an obstacle in the second row of the table, the first one left empty."""
    return dict(example_texts()) | {f"place.obstacles.1.{name}": text for name, text in (ROW | changes).items()}


def test_there_and_back() -> None:
    design = understand(typed(name="lime")).design
    assert design is not None
    (tree,) = design.place.obstacles
    assert (tree.name, tree.direction, tree.height_m, tree.distance_m, tree.width_m) == ("lime", "south-west", 8, 10, 6)
    again = {name: text for name, text in texts_of(design).items() if "obstacles" in name and text}
    assert again == {f"place.obstacles.0.{name}": text for name, text in ({"name": "lime"} | ROW).items()}
    assert understand(texts_of(design)).design == design


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"distance_m": "0"}, "distance_m", "obstacle 2"),
        ({"distance_m": "ten"}, "distance_m", "not a number"),
        ({"width_m": ""}, "width_m", "obstacle 2"),
        ({"direction": ""}, "direction", "south-west"),
        ({"compass_deg": "220"}, "compass_deg", "keep one"),
        ({"height_m": "9001"}, "height_m", "9000"),
    ],
)
def test_a_wrong_box_has_its_sentence(changes: dict[str, str], field: str, words: str) -> None:
    answer = understand(typed(**changes))
    assert answer.design is None
    assert list(answer.errors) == [f"place.obstacles.1.{field}"]
    assert words in answer.errors[f"place.obstacles.1.{field}"]
    assert answer.texts["place.obstacles.1.direction"] == changes.get("direction", "south-west")


def test_a_word_that_is_no_direction_comes_back_beside_its_box() -> None:
    response = ask("GET", f"/results?{urlencode(typed(direction='uphill'))}")
    assert response.status_code == 422
    found = read(response.text)
    assert [each["href"] for each in found.one(id="error-summary").all("a")] == ["#place.obstacles.1.direction"]
    assert found.one(id="place.obstacles.1.direction")["value"] == "uphill"


def test_the_pages_say_what_it_costs() -> None:
    texts = urlencode(typed(name="lime"))
    for path in ("results", "report", "sky"):
        assert "lime" in ask("GET", f"/{path}?{texts}").text
    lines = ask("GET", f"/obstacles.csv?{texts}").text.splitlines()
    assert [line.split(",")[1] for line in lines] == ["without", "lime"]
