"""The notes of SAFETY.md that apply to a design, no more and no fewer, each with a number of that design."""

import math
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sizing.design.reading import read_design
from sizing.foundation.formats import NARROW_SPACE, SPACE, figures
from sizing.installation.safety import NOTES, SafetyNote, safety_of
from sizing.installation.wires import Wires, wires_of
from sizing.report.report import Report, size

Build = Callable[..., dict[str, Any]]
Found = tuple[Report, Wires, dict[str, SafetyNote]]

ROOT = Path(__file__).resolve().parents[2]
LEADS = re.findall(r"^### ([a-z-]+)\n\*\*((?:.|\n)+?)\*\*", (ROOT / "SAFETY.md").read_text(encoding="utf-8"), flags=re.MULTILINE)
WATER_FLIES = {"slippery-paving", "jet-and-eyes", "aerosols"}
VARIES = WATER_FLIES | {"cold-voltage", "cable-protection", "mosquitoes", "frost"}
ALWAYS = {name for name, _ in LEADS} - VARIES - {"battery"}
JET = VARIES - {"cold-voltage"}
PLAIN_FACTS = {
    "A basin or a post may ask for a hole.",
    "The pump's cord lies in the water.",
    "The design has no skyline yet, and whoever measures one looks toward the sun's path.",
    "Connected the wrong way round, the panel puts up to 12 V backwards on the controller.",
}
FORBIDDEN = r"\b(safe(ly)?|allow\w*|permi\w*|approv\w*|harmless|no danger|not dangerous|may be done|complies|compliant)\b"

UNIT = r"°| (V|A|W|m|cm|mm|h|°C|L/min|m/s|strings|jets|points?|whole days?)\b"

CONTROLLER = {"kind": "controller", "efficiency_pct": 92}
SUN = [1.1, 2.0, 3.3, 4.4, 5.5, 6.0, 6.1, 5.2, 3.8, 2.3, 1.2, 0.8]


def typed(*air: float) -> dict[str, object]:
    return {"kind": "monthly", "ghi_kwh_per_m2_day": SUN, "air_temperature_c": list(air)}


COLD = typed(-14, -13, -11, -7, -1, 4, 7, 6, 2, -4, -9, -12)
TROPICAL = {"/place/latitude_deg": 9.4, "/place/longitude_deg": -0.85, "/place/skyline": [], "/place/time_zone": "Africa/Accra"}
STRONG_PUMP = [
    {"flow_l_per_min": 0, "head_m": 7.2, "current_a": 1.7},
    {"flow_l_per_min": 6, "head_m": 4.7, "current_a": 2.2},
    {"flow_l_per_min": 10, "head_m": 0, "current_a": 2.5},
]
THREE: dict[str, object] = {"/panels/0/in_parallel": 3}
STRINGS: dict[str, object] = {"/panels/0/in_series": 2, "/pumps/0/highest_voltage_v": 60}
OPEN_PIPE = {"kind": "open_pipe", "height_above_water_m": 0.15, "inside_diameter_mm": 9}
WIDE_PIPE = {**OPEN_PIPE, "inside_diameter_mm": 25}
NO_RUNS: dict[str, object] = {"/cable/length_m": 0, "/pipe/length_m": 0}

DESIGNS: dict[str, tuple[str, dict[str, object], set[str], set[str]]] = {
    # name: example, changes, the notes that apply of those that vary, those that want a licensed person beside the three
    "jet": ("quince_court_jet", {}, JET, set()),
    "bubbler": ("fern_bubbler", {}, JET - {"jet-and-eyes", "frost"}, set()),
    "spillway": (
        "terrace_spillway",
        {},
        JET - {"jet-and-eyes"} | {"cold-voltage"},
        {"wet-limits", "cold-voltage", "panel-always-live", "dc-arc", "inspection"},
    ),
    "weather file": ("weather_file_jet", {}, JET, set()),
    "choice": ("orchard_choice", {}, JET, set()),
    "controller": (
        "quince_court_jet",
        {"/connection": CONTROLLER},
        VARIES,
        {"wet-limits", "cold-voltage", "panel-always-live", "dc-arc", "inspection"},
    ),
    "controller on a few volts": (
        "quince_court_jet",
        {
            "/connection": CONTROLLER,
            "/panels/0/vmp_v": 7.9,
            "/panels/0/voc_v": 9.7,
            "/pumps/0/rated_voltage_v": 6,
            "/pumps/0/lowest_voltage_v": 3,
        },
        VARIES,
        set(),
    ),
    "tall jet": (
        "quince_court_jet",
        {"/pumps/0/points": STRONG_PUMP, "/panels/0/imp_a": 3.5, "/panels/0/isc_a": 3.7},
        JET,
        set(),
    ),
    "cold site": ("quince_court_jet", {"/sky": COLD}, VARIES - {"aerosols", "mosquitoes"}, set()),
    "cold site, warm water": ("quince_court_jet", {"/sky": COLD, "/water_temperature_c": 23}, VARIES - {"mosquitoes"}, set()),
    "cool site": ("quince_court_jet", {"/sky": typed(*[9.9] * 11, 10.1)}, JET - {"aerosols"}, set()),
    "tropical site": ("quince_court_jet", TROPICAL, JET - {"frost"}, set()),
    "surface pump": ("quince_court_jet", {"/pumps/0/position": "surface"}, JET, set()),
    "surface pump, no cable": (
        "quince_court_jet",
        {"/pumps/0/position": "surface", **NO_RUNS},
        JET - {"cable-protection"},
        set(),
    ),
    "no cable, no pipe": ("quince_court_jet", NO_RUNS, JET, set()),
    "high-voltage string": (
        "quince_court_jet",
        STRINGS,
        VARIES,
        {"wet-limits", "cold-voltage", "panel-always-live", "dc-arc", "inspection"},
    ),
    "three strings": ("quince_court_jet", THREE, JET, {"fuse"}),
    "two strings": ("quince_court_jet", {"/panels/0/in_parallel": 2}, JET, set()),
    "three strings of two": (
        "quince_court_jet",
        {**STRINGS, **THREE},
        VARIES,
        {"wet-limits", "cold-voltage", "panel-always-live", "dc-arc", "inspection", "fuse"},
    ),
    "highest voltage unknown": ("quince_court_jet", {"/pumps/0/highest_voltage_v": ...}, VARIES, set()),
    "highest voltage passed in the cold": ("quince_court_jet", {"/pumps/0/highest_voltage_v": 22}, VARIES, set()),
    "open pipe that throws": ("quince_court_jet", {"/outlet": OPEN_PIPE}, JET, set()),
    "open pipe that wells up": ("quince_court_jet", {"/outlet": WIDE_PIPE}, JET - {"jet-and-eyes"}, set()),
    "never plays": ("quince_court_jet", {"/outlet/height_above_water_m": 9}, JET - WATER_FLIES, set()),
    "no skyline": ("quince_court_jet", {"/place/skyline": []}, JET, set()),
}
"""Of those that always apply, roof, wind and licensed work want a licensed person in every design."""
EVERY_TIME = {"roof-and-ladder", "wind-load", "licensed-work"}


@pytest.fixture(scope="module")
def found(example: Build) -> Callable[[str], Found]:
    @cache
    def build(name: str) -> Found:
        base, changes, _, _ = DESIGNS[name]
        report = size(read_design(example(changes, base)), ROOT / "examples")
        wires = wires_of(report)
        return report, wires, {note.anchor: note for note in safety_of(report, wires)}

    return build


def plain(text: str) -> str:
    return text.replace(SPACE, " ").replace(NARROW_SPACE, " ")


def test_names_titles_and_order_are_those_of_the_page() -> None:
    assert [(anchor, title) for anchor, title, _ in NOTES] == [(name, " ".join(lead.split())) for name, lead in LEADS]
    assert all(lead.endswith(".") for _, lead in LEADS)


@pytest.mark.some(6)
@pytest.mark.parametrize("name", DESIGNS)
def test_every_note_that_applies_and_none_that_does_not(name: str, found: Callable[[str], Found]) -> None:
    _, _, varies, licensed = DESIGNS[name]
    notes = found(name)[2]
    assert set(notes) == ALWAYS | varies
    assert list(notes) == [anchor for anchor, _ in LEADS if anchor in notes]
    assert {anchor for anchor, note in notes.items() if note.licensed} == EVERY_TIME | licensed


@pytest.mark.some(6)
@pytest.mark.parametrize("name", DESIGNS)
def test_reasons_are_sentences_with_a_number_and_no_permission(name: str, found: Callable[[str], Found]) -> None:
    for note in found(name)[2].values():
        assert re.fullmatch(r"[A-Z0-9][^\n]+[a-zA-Z0-9°%)]\.", note.reason), note
        assert not re.search(r"\. [A-Z]|  |nan|inf\b", note.reason), note
        assert re.search(r"\d", note.reason) or note.reason in PLAIN_FACTS, note
        assert not re.search(FORBIDDEN, f"{note.reason} {note.title}", flags=re.IGNORECASE), note
        # A number has its unit behind it, or counts something.
        for after in re.findall(r"\d+(?:\.\d+)?(?![\d.]*\d)(.*)", plain(note.reason)):
            assert re.match(UNIT, after), (after, note)


def test_the_limit_is_told_on_both_sides_of_it(found: Callable[[str], Found]) -> None:
    report, wires, low = found("jet")
    # 21.7 V loses 0.33 % for each degree above 25 °C.
    cold = 21.7 * (1 + 0.0033 * (25 - wires.cold.air_temperature))
    assert 22 < cold < 26
    assert f"The panel reaches {cold:.1f} V on a cold dawn" in plain(low["wet-limits"].reason)
    assert "name 30 V for direct current, and local code decides." in plain(low["wet-limits"].reason)
    high = found("high-voltage string")[2]["wet-limits"]
    assert f"The panel reaches {2 * cold:.1f} V on a cold dawn" in plain(high.reason)
    assert "above the 30 V that rules name" in plain(high.reason)
    assert "a licensed person must look" in high.reason
    chopped = found("controller")[2]["wet-limits"]
    assert "above the 12.4 V (chopped by a controller)" in plain(chopped.reason)
    assert report.fountain.pump.highest_voltage == 26


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("controller on a few volts", "the design does not say what the controller bears"),
        ("highest voltage unknown", "the design does not say what the pump bears"),
        ("highest voltage passed in the cold", "its highest voltage is 22 V"),
        ("three strings of two", "against 43.4 V on its label: that is above the 30 V"),
    ],
)
def test_why_the_cold_counts(name: str, words: str, found: Callable[[str], Found]) -> None:
    assert words in plain(found(name)[2]["cold-voltage"].reason)


def test_speed_of_the_jet_by_torricelli(found: Callable[[str], Found]) -> None:
    report, _, notes = found("jet")
    # Flow over bore area and discharge coefficient 0.946 is the speed without loss; 0.962 of it is left.
    speed = 0.962 * report.operation.flow.max() / (0.946 * math.pi / 4 * 0.006**2)
    top = 0.15 + report.operation.jet.max()
    assert f"leaves at up to {speed:.1f} m/s and rises to {figures(top)} m above the water" in plain(notes["jet-and-eyes"].reason)
    # No jet rises higher than its speed would take it without air, and a small one loses little.
    assert 0.9 < report.operation.jet.max() / (speed**2 / (2 * 9.80665)) < 1


def test_strings_side_by_side(found: Callable[[str], Found]) -> None:
    # 0.92 A a string: two push 1.84 A into the third; one alone asks 1.5625 x 0.92 = 1.4375 A of its cable.
    assert "the others push up to 1.84 A into one that fails" in plain(found("three strings")[2]["fuse"].reason)
    assert "about 0.92 A, so no fuse would ever blow, and the cable must carry 1.44 A" in plain(found("jet")[2]["fuse"].reason)
    assert "the cable must carry 2.88 A" in plain(found("two strings")[2]["fuse"].reason)
    assert "the fuses of 3 strings" in plain(found("three strings")[2]["licensed-work"].reason)


@pytest.mark.some(7)
@pytest.mark.parametrize(
    ("name", "anchor", "words"),
    [
        ("jet", "open-water", "below an outlet that is 15 cm above it"),
        ("spillway", "open-water", "below a lip that is 50 cm above it"),
        ("jet", "wind-load", "The panel of 15 W stands tilted by 35°; its area is not in the design"),  # 17.6 V x 0.86 A
        ("spillway", "wind-load", "The panel of 100 W"),  # 2 x 18.2 V x 2.75 A
        ("spillway", "slippery-paving", "A sheet 30 cm wide falls 50 cm"),
        ("spillway", "polarity", "22.2 V backwards on the controller"),
        ("never plays", "roof-and-ladder", "the outlet is 9 m above the water, out of reach"),
        ("never plays", "suction", "draws up to 10 L/min"),
        ("never plays", "inspection", "It does not play"),
        ("never plays", "mains-near-water", "stands still for 8760 h"),
        ("surface pump", "suction", "through its suction pipe from the basin"),
        ("no skyline", "looking-at-the-sun", "no skyline yet"),
        ("no cable, no pipe", "digging", "A basin or a post may ask for a hole."),
        ("no cable, no pipe", "cable-protection", "The pump's cord lies in the water."),
        ("jet", "digging", "7.5 m of cable and 1.2 m of pipe"),
        ("cold site", "frost", "in the whole year: the coldest month is January, with a mean of −14 °C"),
        ("cold site", "standing-water", "the air of July has a mean of 7 °C"),
        ("cold site, warm water", "aerosols", "has 23 °C in this design, not below 20 °C"),
        ("cool site", "mosquitoes", "10 °C or more in December"),
        ("tropical site", "aerosols", "20 °C on a usual day in the whole year"),
    ],
)
def test_the_number_that_asks_for_it(name: str, anchor: str, words: str, found: Callable[[str], Found]) -> None:
    assert words in plain(found(name)[2][anchor].reason)


def test_hours_and_days_are_those_of_the_year(found: Callable[[str], Found]) -> None:
    report, _, notes = found("jet")
    plays = round(float(np.count_nonzero(report.operation.flow > 0)) / 4)
    assert f"stands still for {8760 - plays} h of the year" in plain(notes["mains-near-water"].reason)
    assert f"plays for about {plays} h a year" in plain(notes["inspection"].reason)
    by_day = report.operation.flow.reshape(365, -1).sum(axis=1)
    warm = (report.sky.month.reshape(365, -1)[:, 0] >= 4) & (report.sky.month.reshape(365, -1)[:, 0] <= 10)
    days = int(np.count_nonzero(by_day[warm] <= 0))
    assert f"in April to October, and the fountain stands still on {days} whole days" in plain(notes["mosquitoes"].reason)


def test_a_stuck_motor_takes_more_than_a_turning_one(found: Callable[[str], Found]) -> None:
    for name in ("jet", "bubbler", "tall jet", "three strings"):
        stuck, usual = re.findall(r"([\d.]+) A", plain(found(name)[2]["hot-surfaces"].reason))
        assert float(stuck) >= float(usual), name
    assert "A in the strongest sun" not in plain(found("controller")[2]["hot-surfaces"].reason)
