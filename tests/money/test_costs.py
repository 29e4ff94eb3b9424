"""Parts, budget and ten years: every part has a reason with a number, money adds up to the cent, what is missing is no zero."""

import json
import re
from decimal import Decimal
from functools import lru_cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.design.budget_input import BudgetInput, Price
from sizing.design.reading import read_design
from sizing.hydraulic.pipes import FITTING_NAMES
from sizing.installation.building import Building, building_of
from sizing.money.costs import Costs, cents, costs_of, exact
from sizing.money.parts import Part, bought_length, parts_of, up_to
from sizing.money.ten_years import again, ten_years_of
from sizing.report.report import size
from tests.asking import ROOT
from tests.conftest import change
from tests.draws import drawn

STEMS = ("quince_court_jet", "terrace_spillway", "fern_bubbler", "orchard_choice")
EURO = {"currency": "EUR"}


def document(stem: str, changes: dict[str, Any] | None = None) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((ROOT / "examples" / f"{stem}.json").read_text(encoding="utf-8"))
    found.pop("budget", None)
    for pointer, value in (changes or {}).items():
        change(found, pointer, value)
    return found


@lru_cache(maxsize=24)
def built(text: str) -> Building:
    return building_of(size(read_design(json.loads(text))))


def building(stem: str, changes: dict[str, Any] | None = None) -> Building:
    return built(json.dumps(document(stem, changes)))


def part(key: str, quantity: str, amount: float | None, group: str = "Basin", currency: str = "EUR") -> Part:
    price = None if amount is None else Price(amount=amount, currency=currency)
    return Part(key, group, key, Decimal(quantity), "m", "for 1", price)


# Parts


AWKWARD: tuple[dict[str, Any], ...] = (
    {"/cable/length_m": 0, "/pipe/length_m": 0.1, "/panels/0/in_series": 3, "/panels/0/in_parallel": 4, "/outlet/count": 7},
    {"/cable/length_m": 97.3, "/cable/area_mm2": 0.5, "/outlet/height_above_water_m": 6.0},
)


@pytest.mark.some(2)
@pytest.mark.parametrize(("stem", "changes"), [*((stem, None) for stem in STEMS), *((STEMS[0], changes) for changes in AWKWARD)])
def test_every_part_has_one_sentence_with_a_number_of_the_design(stem: str, changes: dict[str, Any] | None) -> None:
    for each in parts_of(building(stem, changes)).parts:
        assert re.search(r"\d", each.reason), each
        assert each.reason.endswith("."), each
        assert each.quantity > 0, each
        assert not re.search(r"\bnan\b|\binf\b|None", f"{each.name} {each.reason}")


def test_keys_stand_once_and_those_without_a_price_of_their_own_take_one_from_the_list() -> None:
    for stem in STEMS:
        keys = [each.key for each in parts_of(building(stem)).parts]
        assert len(keys) == len(set(keys))
    prices = [{"part": key, "amount": 2.5, **EURO} for key in ("cable", "pipe", "strainer", "hose_barb")]
    found = {each.key: each.price for each in parts_of(building("quince_court_jet", {"/budget": {"parts": prices}})).parts}
    assert [key for key, price in found.items() if price is not None] == ["cable", "pipe", "hose_barb", "strainer"]


def test_quantities_by_hand() -> None:
    """6 m of cable and a tenth and 1 m: 7.6 m, so 8 m; 2.2 m of pipe: 3.42 m, so 3.5 m; two panels side by side: 4 pairs."""
    found = {each.key: each for each in parts_of(building("terrace_spillway")).parts}
    assert (found["cable"].quantity, found["pipe"].quantity) == (Decimal("8.0"), Decimal("3.5"))
    assert (found["panel"].quantity, found["connectors"].quantity) == (2, 4)
    assert found["controller"].name
    # 8.2 m of cable and pipe, a clip each half metre: 16.4, so 17
    assert found["fixings"].quantity == 17
    # a basin of 1.8 m by 1.2 m, 0.45 m deep: (1.8 + 0.9 + 0.6) x (1.2 + 0.9 + 0.6) = 8.91, so 9.0 m2; cover 2.16, so 2.2 m2
    assert (found["liner"].quantity, found["cover"].quantity) == (Decimal("9.0"), Decimal("2.2"))
    # pipe of 25 mm: 4.909 cm2, ten times that is 49 cm2
    assert "49\N{NO-BREAK SPACE}cm²" in found["strainer"].reason or "49 cm²" in found["strainer"].reason


def test_a_tub_needs_no_liner_and_a_fuse_is_listed_only_where_one_does_something() -> None:
    assert {each.key for each in parts_of(building("fern_bubbler")).parts} >= {"basin", "cover"}
    assert "liner" not in {each.key for each in parts_of(building("fern_bubbler")).parts}
    one = parts_of(building("quince_court_jet"))
    assert "fuse" not in {each.key for each in one.parts}
    assert one.left_out[0].startswith("No fuse is listed. One panel cannot blow its own fuse")
    three = parts_of(building("quince_court_jet", {"/panels/0/in_parallel": 3}))
    fuse = next(each for each in three.parts if each.key == "fuse")
    assert (fuse.quantity, three.left_out) == (3, ())


def test_each_fitting_once_with_its_count() -> None:
    twice = [{"kind": kind, "count": 2} for kind in FITTING_NAMES] + [{"kind": "elbow_90", "count": 3}]
    found = {each.key: each.quantity for each in parts_of(building("quince_court_jet", {"/pipe/fittings": twice})).parts}
    assert {key: found[key] for key in FITTING_NAMES} == dict.fromkeys(FITTING_NAMES, Decimal(2)) | {"elbow_90": Decimal(5)}


@pytest.mark.parametrize(("measured", "bought"), [(0.0, "1.0"), (7.3, "9.5"), (5.0, "6.5"), (10.0, "12.0")])
def test_lengths_are_rounded_up(measured: float, bought: str) -> None:
    """A tenth more and a metre: 1, 9.03, 6.5, 12."""
    assert bought_length(measured) == Decimal(bought)


def test_a_step_that_is_met_is_not_passed() -> None:
    assert up_to(0.3, "0.1") == Decimal("0.3")  # 0.3 / 0.1 is 2.9999999999999996 in floats
    assert up_to(0.1 + 0.2, "0.1") == Decimal("0.3")


# Budget


def test_a_budget_by_hand() -> None:
    """8.0 m x 1.85 = 14.80; 17 x 0.29 = 4.93; 1 x 64.005 = 64.005, so 64.01; sum 83.74. 7.5 % of it is 6.2805, so 6.28;
    with 9.50 of delivery 99.52; 19 % tax is 18.9088, so 18.91; total 118.43."""
    parts = (part("cable", "8.0", 1.85, "a"), part("fixings", "17", 0.29, "a"), part("pump", "1", 64.005, "b"))
    budget = BudgetInput.model_validate(
        {"contingency_pct": 7.5, "tax_pct": 19, "delivery": {"amount": 9.5, **EURO}}, strict=False
    )
    found = costs_of(parts, budget)
    assert [line.total for line in found.lines] == [Decimal("14.80"), Decimal("4.93"), Decimal("64.01")]
    assert found.groups == (("a", Decimal("19.73")), ("b", Decimal("64.01")))
    assert (found.parts, found.contingency, found.delivery) == (Decimal("83.74"), Decimal("6.28"), Decimal("9.50"))
    assert (found.tax, found.total) == (Decimal("18.91"), Decimal("118.43"))
    assert found.sentence == "It costs 118.43\N{NO-BREAK SPACE}EUR."


def test_what_is_missing_is_named_and_never_zero() -> None:
    found = costs_of((part("cable", "8", 1.0), part("pipe", "3", None), part("liner", "9", 0.0)), None)
    assert [line.total for line in found.lines] == [Decimal("8.00"), None, Decimal("0.00")]
    assert (found.missing, found.total) == (("pipe",), Decimal("8.80"))
    assert found.sentence.startswith("It costs at least 8.80\N{NO-BREAK SPACE}EUR. 1 price is missing and not counted: pipe.")
    nothing = costs_of((part("cable", "8", None),), None)
    assert (nothing.currency, nothing.total) == ("", Decimal("0.00"))
    assert nothing.sentence == "No price is given yet, so no total can be told: 1 price is missing."


def test_currencies_are_never_added() -> None:
    parts = (part("cable", "8", 1.0), part("pipe", "3", 5.0, currency="NZD"), part("liner", "1", 2.0))
    delivery = BudgetInput.model_validate({"delivery": {"amount": 4.0, "currency": "NZD"}}, strict=False)
    found = costs_of(parts, delivery)
    assert (found.currency, found.parts, found.delivery) == ("EUR", Decimal("10.00"), None)
    assert found.other == ("pipe", "delivery")
    assert found.apart == (("NZD", Decimal("19.00")),)  # 3 x 5 and 4
    assert found.sentence.replace("\N{NO-BREAK SPACE}", " ") == (
        "It costs at least 11.00 EUR. Not added, for it stands in another currency: pipe; delivery, together 19.00 NZD."
    )


def test_a_price_of_water_alone_is_no_budget() -> None:
    """Nothing of the list is priced: neither a total of zero nor ten years of water alone are told."""
    found = building("quince_court_jet", {"/budget": {"water_per_m3": {"amount": 2.1, **EURO}}})
    costs = costs_of(parts_of(found).parts, found.report.design.budget)
    assert (costs.currency, costs.sentence.partition(":")[0]) == ("", "No price is given yet, so no total can be told")
    ten = ten_years_of(found, costs)
    cost = cents(Decimal("2.1") * exact(10 * found.balance.year_top_up))
    assert ten.sentences[1].endswith(f"in 10 years, {cost}\N{NO-BREAK SPACE}EUR.")
    assert ten.sentences[2] == "Without prices no cost of ten years can be told."
    assert (ten.water_cost, ten.per_hour_low, ten.complete) == (None, None, False)


def test_a_price_for_what_is_not_on_the_list_is_told() -> None:
    budget = BudgetInput.model_validate({"parts": [{"part": "check_valve", "amount": 4.0, **EURO}]}, strict=False)
    found = costs_of((part("cable", "8", 1.0),), budget)
    assert (found.unused, found.total) == (("check_valve",), Decimal("8.80"))
    assert found.sentence.endswith(" Not counted, for the list has no such part: check valve.")


@drawn(40)
@given(
    st.lists(st.tuples(st.integers(0, 999), st.floats(0, 1e5), st.sampled_from(["EUR", "NZD", None])), min_size=1, max_size=9),
    st.floats(0, 50),
    st.floats(0, 50),
)
def test_any_budget_balances_and_loses_no_price(rows: list[tuple[int, float, str | None]], more: float, tax: float) -> None:
    parts = tuple(
        part("cable", f"{many / 10}", None if currency is None else amount, "ab"[many % 2], currency or "EUR")
        for many, amount, currency in rows
    )
    found = costs_of(parts, BudgetInput(contingency_pct=more, tax_pct=tax))
    assert balances(found)
    counted = sum(line.total is not None for line in found.lines)
    assert counted + len(found.missing) + len(found.other) == len(parts)
    apart = {currency: Decimal(0) for _, _, currency in rows if currency not in (None, found.currency)}
    for many, amount, currency in rows:
        if currency in apart:
            apart[currency] += cents(Decimal(many) / 10 * Decimal(repr(amount)))
    assert dict(found.apart) == apart


def balances(found: Costs) -> bool:
    """Whether groups and what is added make the total, to the cent."""
    return sum(amount for _, amount in found.groups) + found.contingency + (found.delivery or 0) + found.tax == found.total


@pytest.mark.some(2)
@pytest.mark.parametrize("stem", STEMS)
def test_every_budget_balances(stem: str) -> None:
    keys = [each.key for each in parts_of(building(stem)).parts if each.key not in ("panel", "pump", "controller")]
    prices = [{"part": key, "amount": 0.37 + 1.013 * place, **EURO} for place, key in enumerate(keys)]
    budget = {"parts": prices, "contingency_pct": 7.3, "tax_pct": 8.1, "delivery": {"amount": 3.33, **EURO}}
    found = building(stem, {"/budget": budget})
    costs = costs_of(parts_of(found).parts, found.report.design.budget)
    assert balances(costs)
    assert costs.total == cents(costs.total)


def test_decimals_are_those_that_were_typed() -> None:
    assert exact(0.1) * 3 == Decimal("0.3")
    assert cents(Decimal("1.005")) == Decimal("1.01")  # as a float it is 1.00499999999999989


# Ten years


@pytest.mark.parametrize(
    ("life", "times"), [(25.0, 0), (10.0, 0), (9.99, 1), (5.0, 1), (4.0, 2), (1.0, 9), (0.8, 12), (float("inf"), 0)]
)
def test_how_often_something_is_bought_again(life: float, times: int) -> None:
    """A life of 4 years: in the fifth and the ninth year."""
    assert again(life) == times


def test_ten_years_by_hand() -> None:
    water = {"budget": {"water_per_m3": {"amount": 2.1, **EURO}}}
    changes = {
        "/budget": water["budget"],
        "/pumps/0/price": {"amount": 30.0, **EURO},
        "/panels/0/price": {"amount": 40.0, **EURO},
    }
    found = building("quince_court_jet", changes)
    costs = costs_of(parts_of(found).parts, found.report.design.budget)
    ten = ten_years_of(found, costs)
    hours = found.report.year.running_hours
    pump = next(each for each in ten.replacements if each.name == found.report.fountain.pump_input.name)
    assert (pump.least, pump.most) == (again(20000 / hours), again(2000 / hours))
    assert pump.most_cost == pump.most * Decimal("30.00")
    assert ten.water_cost == cents(Decimal("2.1") * exact(10 * found.balance.year_top_up))
    assert ten.low == costs.total + pump.least * Decimal(30) + ten.water_cost
    assert ten.high == costs.total + pump.most * Decimal(30) + ten.water_cost
    assert ten.per_hour_low is not None
    assert float(ten.per_hour_low) == pytest.approx(float(ten.low) / (10 * hours), abs=0.0006)
    assert not ten.complete
    assert ten.sentences[0].startswith("No electricity bill")
    euro = "\N{NO-BREAK SPACE}EUR"
    assert ten.sentences[2] == f"Over 10 years it costs at least {ten.low} to {ten.high}{euro} as far as prices are given."
    assert ten.sentences[4].startswith(f"An hour of play costs at least {ten.per_hour_low} to {ten.per_hour_high}{euro}, over ")
    changes["/pumps/0/price"] = None  # nothing that wears out is priced: one figure, not a span
    one = building("quince_court_jet", changes)
    alike = ten_years_of(one, costs_of(parts_of(one).parts, one.report.design.budget))
    assert alike.sentences[2] == f"Over 10 years it costs at least {alike.low}{euro} as far as prices are given."
    assert f"costs at least {alike.per_hour_low}{euro}, over " in alike.sentences[4]


@pytest.mark.parametrize(
    ("kind", "lives"), [("brushed", (5000, 2000)), ("brushless", (20000, 20000)), ("not_known", (20000, 2000))]
)
def test_how_often_a_pump_is_bought_again_follows_its_kind_of_motor_and_not_its_name(kind: str, lives: tuple[int, int]) -> None:
    """Lives from makers' pages, from memory: brushes 2000 to 5000 h, no brushes about 20,000 h."""
    named = {"/pumps/0/name": "A brushless pump", "/pumps/0/motor_kind": kind, "/pumps/0/price": {"amount": 30.0, **EURO}}
    found = building("quince_court_jet", named)
    ten, hours = ten_years_of(found, costs_of(parts_of(found).parts, None)), found.report.year.running_hours
    often = {each.name: (each.least, each.most) for each in ten.replacements}.get("A brushless pump", (0, 0))
    assert often == (again(lives[0] / hours), again(lives[1] / hours))
    assert ("motor_kind" in [each.code for each in found.report.questions]) == (kind == "not_known")


def test_what_is_bought_again_bears_the_tax_and_water_of_another_currency_is_not_added() -> None:
    """A pump of 30.00 with 8.1 % is 32.43 each time; water priced in francs stays beside the euros."""
    changes = {"/pumps/0/price": {"amount": 30.0, **EURO}}
    budget = {"/budget": {"tax_pct": 8.1, "water_per_m3": {"amount": 2.1, "currency": "CHF"}}}
    found = building("quince_court_jet", changes | budget)
    ten = ten_years_of(found, costs_of(parts_of(found).parts, found.report.design.budget))
    pump = next(each for each in ten.replacements if each.name == found.report.fountain.pump_input.name)
    assert pump.least_cost == pump.least * Decimal("32.43")
    assert pump.most_cost == pump.most * Decimal("32.43")
    assert ten.water_cost is None
    assert ten.sentences[1].endswith("CHF, which stands in another currency and is not added.")


def test_a_fountain_that_never_plays_has_no_price_of_an_hour() -> None:
    found = building("quince_court_jet", {"/outlet/height_above_water_m": 6.0, "/pumps/0/price": {"amount": 30.0, **EURO}})
    ten = ten_years_of(found, costs_of(parts_of(found).parts, None))
    assert (ten.hours, ten.per_hour_low, ten.per_hour_high) == (0, None, None)
    assert all(each.name != found.report.fountain.pump_input.name for each in ten.replacements)


def test_a_crown_and_a_ribbed_hose_are_listed_as_what_is_bought() -> None:
    ring = {"kind": "ring", "size_m": 0.6, "inside_diameter_mm": 16}
    changes = {"/outlet/count": 9, "/outlet/bore_mm": 3, "/outlet/feed": ring, "/pipe/kind": "ribbed_hose"}
    found = {part.key: part for part in parts_of(building("quince_court_jet", changes)).parts}
    assert found["outlet"].quantity == 1
    assert "ring of pipe" in found["outlet"].name
    assert "9 holes of 3 mm" in found["outlet"].name
    assert found["tee_branch"].quantity == 1
    assert found["pipe"].name.startswith("ribbed pond hose")
