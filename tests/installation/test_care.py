"""What is looked at and who does what: every sentence carries a number of the design, and none gives permission."""

import re
from functools import lru_cache

import pytest

from api.http.examples import EXAMPLE
from sizing.basin.basin import basin_of
from sizing.basin.frost import frost_of
from sizing.basin.water_balance import water_balance_of
from sizing.design.reading import parse_design, read_design
from sizing.installation.care import AUTUMN, FIRST, MONTHLY, SPRING, WEEKLY, YEARLY, Care, care_of
from sizing.installation.safety import safety_of
from sizing.installation.wires import wires_of
from sizing.report.report import Report, size
from tests.asking import ROOT, changed

STEMS = ("quince_court_jet", "terrace_spillway", "fern_bubbler", "orchard_choice")
DRY = "never plays"


@lru_cache(maxsize=8)
def sized(stem: str) -> Report:
    if stem == DRY:
        return size(read_design(changed(EXAMPLE, "outlet/height_above_water_m", 6.0)))
    return size(parse_design((ROOT / "examples" / f"{stem}.json").read_bytes()))


@lru_cache(maxsize=8)
def care(stem: str) -> Care:
    report = sized(stem)
    wires, basin = wires_of(report), basin_of(report)
    notes = safety_of(report, wires)
    return care_of(report, wires, basin, water_balance_of(report, basin), frost_of(report), notes)


@pytest.mark.some(2)
@pytest.mark.parametrize("stem", [*STEMS, DRY])
def test_every_sentence_has_a_number_and_none_permits_anything(stem: str) -> None:
    found = care(stem)
    for said in (*(look.sentence for look in found.looks), *found.club):
        assert re.search(r"\d", said), said
        assert said.endswith("."), said
        assert not re.search(r"\bnan\b|\binf\b", said)
    text = " ".join([*(look.sentence for look in found.looks), *found.club, *found.licensed]).lower()
    assert not re.search(r"\b(safe to|allowed|permitted|no need|harmless)\b", text)


@pytest.mark.parametrize("stem", [*STEMS, DRY])
def test_looks_come_in_the_order_of_the_year(stem: str) -> None:
    order = [FIRST, WEEKLY, MONTHLY, AUTUMN, SPRING, YEARLY]
    places = [order.index(look.when) for look in care(stem).looks]
    assert places == sorted(places)
    frost = frost_of(sized(stem))
    assert (order.index(AUTUMN) in places) == bool(frost.months or frost.single_nights or frost.ten_years <= 0)


@pytest.mark.parametrize("stem", [*STEMS, DRY])
def test_whatever_a_note_gives_to_a_licensed_person_stands_there_with_its_reason(stem: str) -> None:
    report = sized(stem)
    wires = wires_of(report)
    licensed = [note for note in safety_of(report, wires) if note.licensed]
    assert licensed
    found = care(stem).licensed
    assert len(found) == len(wires.licensed) + len(licensed)
    for note in licensed:
        assert any(note.reason in said for said in found)


def test_a_basin_that_is_too_small_is_never_said_to_catch_the_water() -> None:
    """The jet stands over 50 cm high: 40 cm of basin cannot catch it by the rule of twice its height."""
    document = changed(EXAMPLE, "basin", {"diameter_m": 0.4, "depth_m": 0.3})
    report = size(read_design(document))
    wires, basin = wires_of(report), basin_of(report)
    assert report.operation.jet.max() > 0.5
    assert basin.falls_inside is False
    looks = care_of(report, wires, basin, water_balance_of(report, basin), frost_of(report), ()).looks
    assert any(look.sentence == f"This basin is not expected to catch it all: {basin.jet_check}" for look in looks)
    assert not any("not expected" in look.sentence for look in care("quince_court_jet").looks)


def test_a_fountain_that_never_plays_asks_for_no_strainer() -> None:
    assert not any("strainer" in look.sentence for look in care(DRY).looks)
    assert any("strainer" in look.sentence for look in care("quince_court_jet").looks)
