"""Every page and way in for a pump known by its power, or that holds its speed."""

from urllib.parse import urlencode

import pytest

from sizing.design.reading import read_design
from tests.asking import COMPARISONS, MEASURED, ORIENTATIONS, REPORTS, ROOT, SIZINGS, ask, post
from tests.power_pumps import PUMPS, with_pump
from web.forms.form import texts_of, understand

POWER = "pumps.0.power_points"
every_shape = pytest.mark.parametrize("shape", PUMPS)


@every_shape
def test_the_form_carries_it_both_ways(shape: str) -> None:
    design = read_design(with_pump(shape))
    answer = understand(texts_of(design))
    assert answer.errors == {}
    assert answer.design is not None
    one, other = (found.pumps[0].model_dump(exclude_none=True) for found in (answer.design, design))
    assert one == other


@every_shape
@pytest.mark.parametrize(
    "page", ["/", "/results", "/results.csv", "/orientation", "/report", "/parts", "/compare", "/class/bench"]
)
def test_every_page_shows_it(shape: str, page: str) -> None:
    answer = ask("GET", f"{page}?{urlencode(texts_of(read_design(with_pump(shape))))}")
    assert answer.status_code == 200
    assert "NaN" not in answer.text
    if page == "/results" and shape.startswith("power"):
        assert "of rated speed" not in answer.text


@every_shape
@pytest.mark.parametrize("address", [SIZINGS, ORIENTATIONS, COMPARISONS, REPORTS])
def test_every_answer_for_programs_has_it(shape: str, address: str) -> None:
    answer = post(with_pump(shape), address=address)
    assert answer.status_code == 200, answer.text
    assert "NaN" not in answer.text


EMPTY = {f"{POWER}.{row}.{key}": "" for row in range(9) for key in ("head_m", "power_w", "flow_l_per_min")}
WRONG = {
    "one voltage is missing": ("power_points_volts", {f"{POWER}.1.voltage_v": ""}, f"{POWER}.1.voltage_v"),
    "a power is not a number": ("power_points", {f"{POWER}.2.power_w": "x"}, f"{POWER}.2.power_w"),
    "all rows are empty": ("power_points", EMPTY, f"{POWER}.0.head_m"),
    "a DC motor without voltages": ("power_points", {"pumps.0.drive": "dc_motor"}, "pumps.0.drive"),
    "a curve with electronics that track": ("constant_speed_points", {"pumps.0.drive": "tracks_power"}, "pumps.0.drive"),
    "a winding that nothing needs": ("power_points", {"pumps.0.winding_resistance_ohm": "1.3"}, "pumps.0.winding_resistance_ohm"),
}  # fmt: skip


@pytest.mark.parametrize(("shape", "typed", "field"), WRONG.values(), ids=WRONG)
def test_a_mistake_stands_beside_its_field_with_all_that_was_typed(shape: str, typed: dict[str, str], field: str) -> None:
    texts = texts_of(read_design(with_pump(shape))) | typed
    answer = understand(texts)
    assert answer.design is None
    assert set(answer.errors) == {field}
    assert "_" not in answer.errors[field]
    assert {name: answer.texts[name] for name in typed} == typed


@pytest.mark.parametrize(("typed", "key"), [({"flow_l_per_min": "0.05"}, "flow_l_per_min"), ({"power_w": "8"}, "power_w")])
def test_a_table_that_cannot_be_is_told_beside_its_row(typed: dict[str, str], key: str) -> None:
    """Against 1 m: 16 W with less flow than 8 W, or 8 W twice; only the sizing finds it."""
    texts = texts_of(read_design(with_pump("power_points"))) | {f"{POWER}.5.{name}": text for name, text in typed.items()}
    page = ask("GET", f"/results?{urlencode(texts)}")
    assert page.status_code == 422
    assert f"#{POWER}.5.{key}" in page.text


@every_shape
def test_a_bench_test_takes_its_place_and_is_compared_only_with_a_curve(shape: str) -> None:
    """Readings of another pump: it is known by points of its own then, and no longer by its power."""
    log = (ROOT / "examples" / "bench_heron_pump.csv").read_text(encoding="utf-8")
    asked = {"log": log, "name": "heron", "rated_voltage_v": 12.0, "design": with_pump(shape)}
    found = post(asked, address=f"{MEASURED}/pump-curves").json()
    assert (found["label"] is None) == shape.startswith("power")
    assert {"points", "measured"} <= set(found["pump"])
    assert {"power_points", "drive", "max_head_m"}.isdisjoint(found["pump"])


@every_shape
def test_a_predicted_day_and_a_first_day_know_it(shape: str) -> None:
    days = {"sheets": {"day": "2026-05-26", "from_hour": 9.5, "to_hour": 15}, "first-days": {"day": "2027-05-12"}}
    for question, body in days.items():
        answer = post(body | {"design": with_pump(shape)}, address=f"{MEASURED}/{question}")
        assert answer.status_code == 200
        assert "NaN" not in answer.text
