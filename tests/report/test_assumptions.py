"""What was assumed is told, each with the value taken and the field to fill; what was given is not."""

from collections.abc import Callable
from typing import Any

import pytest

from sizing.design.reading import read_design
from sizing.foundation.errors import Note
from sizing.fountain.components import fountain_of
from sizing.fountain.site_setup import place_of, sky_of
from sizing.report.assumptions import always, left_out
from sizing.report.report import size

Build = Callable[..., dict[str, Any]]

SILENT: dict[str, tuple[str, str, str]] = {
    # what is left out -> code, what the sentence says
    "/place/albedo": ("albedo_assumed", "#/place/albedo", "The ground throws back 0.2 of the light."),
    "/mounting/soiling_pct": (
        "soiling_assumed",
        "#/mounting/soiling_pct",
        "Dirt on the panel takes 3 % of the light all year.",
    ),
    "/panels/0/isc_temperature_coefficient_pct_per_c": (
        "temperature_coefficient_assumed",
        "#/panels/0/isc_temperature_coefficient_pct_per_c",
        "The panel's short-circuit current gains 0.05 % for each degree warmer, as usual for silicon.",
    ),
    "/panels/0/voc_temperature_coefficient_pct_per_c": (
        "temperature_coefficient_assumed",
        "#/panels/0/voc_temperature_coefficient_pct_per_c",
        "The panel's open-circuit voltage loses 0.33 % for each degree warmer, as usual for silicon.",
    ),
    "/cable/conductor_temperature_c": (
        "conductor_temperature_assumed",
        "#/cable/conductor_temperature_c",
        "The cable's copper is at 40 °C.",
    ),
    "/pipe/roughness_mm": (
        "roughness_assumed",
        "#/pipe/roughness_mm",
        "The pipe is as smooth as new plastic, roughness 0.0015 mm; if it has rings inside, it loses about 3 times as much head.",
    ),
    "/water_temperature_c": ("water_temperature_assumed", "#/water_temperature_c", "The water is at 15 °C all year."),
    "/connection/efficiency_pct": (
        "controller_efficiency_assumed",
        "#/connection/efficiency_pct",
        "The controller passes on 90 % of the panel's power.",
    ),
    "/outlet/discharge_coefficient": (
        "discharge_coefficient_assumed",
        "#/outlet/discharge_coefficient",
        "The nozzle passes 0.946 of the ideal flow, as a smooth cone does; a hole drilled in a cap passes 0.62 and a straight "
        "tube 0.82.",
    ),
    "/outlet/velocity_coefficient": (
        "velocity_coefficient_assumed",
        "#/outlet/velocity_coefficient",
        "The jet leaves at 0.962 of the ideal speed.",
    ),
}
GIVEN: dict[str, object] = {
    "/place/albedo": 0.2,
    "/connection": {"kind": "controller", "efficiency_pct": 90, "controller_kind": "step_down"},
    "/outlet/discharge_coefficient": 0.946,
    "/outlet/velocity_coefficient": 0.962,
    "/outlet/bore_mm": 9,
    "/pipe/fittings": [],
}


KINDS: dict[str, tuple[dict[str, object], list[str]]] = {
    "a ribbed hose": ({"/pipe/kind": "ribbed_hose"}, ["ribs_assumed"]),
    "a steel pipe": ({"/pipe/kind": "galvanised_steel", "/pipe/roughness_mm": ...}, ["roughness_assumed"]),
    "a hole in a cap": (
        {"/outlet/nozzle_kind": "drilled_cap", "/outlet/discharge_coefficient": ..., "/outlet/velocity_coefficient": ...},
        ["discharge_coefficient_assumed", "velocity_coefficient_assumed"],
    ),
}


@pytest.mark.parametrize(("changes", "codes"), KINDS.values(), ids=KINDS)
def test_kinds_tell_what_they_were_taken_as(changes: dict[str, object], codes: list[str], example: Build) -> None:
    assert [note.code for note in told(example({**GIVEN, **changes}))] == codes


def told(document: dict[str, Any]) -> list[Note]:
    design = read_design(document)
    return left_out(design, fountain_of(design))


def test_nothing_is_assumed_where_all_is_given(example: Build) -> None:
    assert told(example(GIVEN)) == []


@pytest.mark.parametrize("field", SILENT)
def test_each_silent_field_is_told_once(field: str, example: Build) -> None:
    (note,) = told(example({**GIVEN, field: ...}))
    assert (note.code, note.pointer, note.detail) == SILENT[field]
    assert note.severity == "info"


def test_a_given_value_equal_to_the_default_is_still_given(example: Build) -> None:
    assert "soiling_assumed" not in {note.code for note in told(example({"/mounting/soiling_pct": 3.0}))}


def test_pointers_follow_the_chosen_panel(example: Build) -> None:
    document = example(GIVEN)
    bare = {key: value for key, value in document["panels"][0].items() if "coefficient" not in key}
    document["panels"].append({**bare, "id": "second"})
    document["chosen"]["panel"] = "second"
    assert {note.pointer.rsplit("/", 1)[0] for note in told(document)} == {"#/panels/1"}


def test_small_bores_are_an_extrapolation(example: Build) -> None:
    (note,) = told(example({**GIVEN, "/outlet/bore_mm": 8.9}))
    assert note.code == "jet_extrapolated"
    assert "for 8.9 mm they are an extrapolation" in note.detail


def test_spread_of_the_handbooks_is_told(example: Build) -> None:
    (note,) = told(
        example({**GIVEN, "/pipe/fittings": [{"kind": "elbow_90", "count": 2}, {"kind": "entrance", "count": 1, "k": 0.5}]})
    )
    # Elbows 0.2/0.9/1.5 twice and the given 0.5.
    assert note.detail == "Fittings together lose 2.3 velocity heads; handbooks range from 0.9 to 3.5."
    assert told(example({**GIVEN, "/pipe/fittings": [{"kind": "elbow_90", "count": 2, "k": 0.9}]})) == []


@pytest.mark.parametrize(
    ("outlet", "code"),
    [
        ({"kind": "open_pipe", "height_above_water_m": 0.1}, "open_pipe_extrapolated"),
        ({"kind": "spillway", "width_m": 0.3, "height_above_water_m": 0.1}, "sharp_lip"),
    ],
)
def test_outlets_without_a_nozzle(outlet: dict[str, object], code: str, example: Build) -> None:
    changes = {key: value for key, value in GIVEN.items() if not key.startswith("/outlet/")}
    assert [note.code for note in told(example({**changes, "/outlet": outlet}))] == [code]


def test_what_every_sizing_assumes_fits_the_sky_and_the_outlet(example: Build) -> None:
    jet = read_design(example())
    sky = sky_of(jet, place_of(jet)[0], None)[0]
    words = {note.code: note.detail for note in always(sky, jet)}
    assert words["hours"] == "Hours are true solar time: at 12:00 the sun is at its highest."
    assert words["wind"] == "Wind over the panel is 1 m/s all year."
    assert words["still_air"].startswith("Jets rise in still air")
    sheet = read_design(example(name="terrace_spillway"))
    assert {note.code: note.detail for note in always(sky, sheet)}["still_air"] == "No wind blows the falling sheet aside."


def test_a_weather_file_brings_its_own_clock_and_wind(example: Build, tmp_path: Any) -> None:
    design = read_design(example(name="weather_file_jet"))
    sky = sky_of(design, place_of(design)[0], tmp_path)[0]
    words = {note.code: note.detail for note in always(sky, design)}
    assert words["hours"] == "Hours are standard time of the weather file, UTC-5."
    assert words["wind"] == "Wind over the panel comes from the weather file."


@pytest.mark.parametrize("name", ["quince_court_jet", "terrace_spillway", "fern_bubbler"])
def test_every_note_of_a_report_is_a_whole_sentence(name: str, example: Build) -> None:
    report = size(read_design(example({"/place/elevation_m": ...}, name=name)))
    for note in (*report.assumptions, *report.warnings):
        assert note.detail[0].isupper(), note
        assert note.detail.endswith("."), note
        assert note.pointer.startswith("#/"), note
    assert all(note.severity == "info" for note in report.assumptions)
    assert all(note.severity == "warning" for note in report.warnings)
    assert len({note.detail for note in report.assumptions}) == len(report.assumptions)
