"""Designs whose fields are each in order and which still cannot be sized: one sentence, at the value to look at."""

from pathlib import Path

import pytest

from sizing.design.reading import read_design
from sizing.report.report import size
from tests.wrong import BOX, MONTHLY, Build, problems_of

SPILLWAY = {"kind": "spillway", "width_m": 0.3, "height_above_water_m": 0.4}

SIZED: list[tuple[dict[str, object], str, str, str]] = [
    ({"/chosen/pump": "other"}, "#/chosen/pump", "not_in_design", "chosen pump is other, and the design has pump-12v-10l"),
    ({"/chosen/panel": "other"}, "#/chosen/panel", "not_in_design", "chosen panel is other, and the design has panel-15w"),
    ({"/panels/0/vmp_v": 21.7}, "#/panels/0/vmp_v", "vmp_not_below_voc", "panel vmp is 21.7 V; it must be below voc, 21.7 V"),
    ({"/panels/0/imp_a": 1.5}, "#/panels/0/imp_a", "imp_not_below_isc", "panel imp is 1.5 A; it must be below isc, 0.92 A"),
    ({"/pumps/0/points/2/head_m": 1.9}, "#/pumps/0/points/2/head_m", "curve_rises", "head of 1.9 m after 1.6 m"),
    (
        {"/pumps/0/points/2/flow_l_per_min": 3},
        "#/pumps/0/points/2/flow_l_per_min",
        "flow_not_rising",
        "3 L/min after 3 L/min; the flow must rise",
    ),
    (
        # The parabola's best point: 60/sqrt(3) = 34.6 L/min at 2.1 m x 2/3 = 1.4 m, 7.9 W of 13.2 W at most.
        {"/pumps/0/points": ..., **{f"/pumps/0/{name}": value for name, value in {**BOX, "max_flow_l_per_min": 60}.items()}},
        "#/pumps/0/max_flow_l_per_min",
        "too_efficient",
        "60 % is the limit here",
    ),
    ({"/pumps/0/no_load_current_a": 0.42}, "#/pumps/0/no_load_current_a", "no_load_too_high", "0.42 A is not above the no-load"),
    (
        {"/pumps/0/winding_resistance_ohm": 16},
        "#/pumps/0/winding_resistance_ohm",
        "winding_too_large",
        "measure it again with the meter's leads subtracted",
    ),
    ({"/place/latitude_deg": 90}, "#/sky/kind", "no_climate_here", "type 12 monthly values of sun"),
    ({"/place/latitude_deg": -90}, "#/sky/kind", "no_climate_here", "type 12 monthly values of sun"),
    (
        {"/place/latitude_deg": -30, "/place/longitude_deg": -120},
        "#/sky/kind",
        "no_climate_here",
        "the built-in climate has no data at 30.00 S, 120.00 W",
    ),
    (
        {"/sky": {**MONTHLY, "ghi_kwh_per_m2_day": [11] * 12}},
        "#/sky/ghi_kwh_per_m2_day/0",
        "out_of_range",
        "sun of January is 11 kWh/m2 a day",
    ),
    (
        {"/sky": {"kind": "weather_file", "path": "pvlib/data/723170TYA.CSV"}},
        "#/sky/kind",
        "weather_file_not_here",
        "kind of sky is weather_file, which is read by the command line on your own machine only; "
        "give twelve monthly values (kind monthly) or take the built-in sky (kind built_in)",
    ),
    (
        {"/outlet": {**SPILLWAY, "width_m": 0.02, "height_above_water_m": 0.02, "end_contractions": 2}, "/pumps/0/points": ...}
        | {f"/pumps/0/{name}": value for name, value in {**BOX, "max_flow_l_per_min": 40, "rated_current_a": 3}.items()},
        "#/outlet/width_m",
        "out_of_range",
        "make the lip wider",
    ),
]


@pytest.mark.parametrize(("changes", "pointer", "code", "words"), SIZED, ids=[f"{row[2]}-{row[1]}" for row in SIZED])
def test_values_that_only_the_sizing_can_judge(
    changes: dict[str, object], pointer: str, code: str, words: str, example: Build
) -> None:
    (found,) = problems_of(lambda: size(read_design(example(changes))))
    assert (found.pointer, found.code) == (pointer, code)
    assert words in found.detail


PATHS = {
    "../../../../etc/passwd": ("outside_folder", 'weather file is "../../../../etc/passwd", outside the folder of the design'),
    "/etc/passwd": ("outside_folder", "put the file beside the design and write its name"),
    "sub/../../other.epw": ("outside_folder", "only files in that folder are read"),
    "link.epw": ("outside_folder", "outside the folder"),
    "loop": ("outside_folder", "outside the folder"),
    "http://example.org/year.epw": ("not_a_file", "nothing is fetched from the web"),
    "file:///etc/passwd": ("not_a_file", "nothing is fetched from the web"),
    ".": ("not_a_file", "is a folder"),
    "pvlib/data/": ("not_found", "is not there"),
    "pvlib/data/..": ("not_a_file", "is a folder"),
    "pvlib/data/../../../../../etc/passwd": ("not_found", "is not there"),
    "missing.epw": ("not_found", "is not there"),
    "notes.txt": ("unknown_format", "neither EPW"),
    "x" * 300: ("not_readable", "cannot be read"),
}


@pytest.mark.parametrize("path", PATHS)
def test_paths_that_lead_astray(path: str, example: Build, tmp_path: Path) -> None:
    folder = tmp_path / "garden"
    folder.mkdir()
    (folder / "notes.txt").write_text("sunny\n")
    (tmp_path / "other.epw").write_text("LOCATION,elsewhere\n")
    (folder / "link.epw").symlink_to(tmp_path / "other.epw")
    (folder / "loop").symlink_to(folder / "loop")
    code, words = PATHS[path]
    design = read_design(example({"/sky": {"kind": "weather_file", "path": path}}))
    (found,) = problems_of(lambda: size(design, folder))
    assert (found.pointer, found.code) == ("#/sky/path", code)
    assert words in found.detail


def test_an_empty_path(example: Build) -> None:
    (found,) = problems_of(lambda: read_design(example({"/sky": {"kind": "weather_file", "path": ""}})))
    assert found.detail == "weather file is empty; it must have 1 to 400 characters; write something"
