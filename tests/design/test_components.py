"""From the design file to SI: every unit changed once, defaults kept possible, the right pair taken."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sizing.design.design import Design
from sizing.design.reading import read_design
from sizing.foundation.errors import InputError
from sizing.fountain.components import Fountain, fitting_sum, fountain_of, pipe_of
from sizing.fountain.site_setup import place_of, sky_of
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Spillway, outlet_head

Build = Callable[..., dict[str, Any]]

MONTHLY = {"kind": "monthly", "ghi_kwh_per_m2_day": [1.1, 1.9, 3.2, 4.4, 5.4, 5.9, 6.0, 5.2, 3.8, 2.3, 1.2, 0.9]}


@pytest.fixture
def design(example: Build) -> Callable[..., Design]:
    return lambda changes=None, **other: read_design(example(changes, **other))


@pytest.fixture
def fountain(design: Callable[..., Design]) -> Callable[..., Fountain]:
    return lambda changes=None, **other: fountain_of(design(changes, **other))


def test_millimetres_and_litres_become_si(fountain: Callable[..., Fountain]) -> None:
    found = fountain(
        {"/pipe/inside_diameter_mm": 19.1, "/pipe/roughness_mm": 0.007, "/pipe/length_m": 7.3, "/outlet/bore_mm": 7.3}
    )
    pipe, outlet = found.waterway.pipe, found.waterway.outlet
    assert (pipe.length, pipe.diameter, pipe.roughness) == pytest.approx((7.3, 0.0191, 7e-6), rel=1e-12)
    assert isinstance(outlet, Nozzle)
    assert (outlet.bore, outlet.count, outlet.height) == pytest.approx((0.0073, 1, 0.15), rel=1e-12)


def test_water_temperature_gives_density_and_viscosity(fountain: Callable[..., Fountain]) -> None:
    # Chaplin's table at 20 °C (published/water.toml): 998.2 kg/m3 and 1.002 mPa s, so 1.004 mm2/s;
    # at 16 °C, from memory, the water is a tenth more viscous (1.109 mm2/s).
    assert fountain({"/water_temperature_c": 20}).water_density == pytest.approx(998.2, abs=0.05)
    assert fountain({"/water_temperature_c": 20}).waterway.pipe.kinematic_viscosity == pytest.approx(1.004e-6, rel=2e-3)
    assert fountain().waterway.pipe.kinematic_viscosity == pytest.approx(1.109e-6, rel=5e-3)


def test_pump_points_become_si_and_are_met_at_rated_voltage(fountain: Callable[..., Fountain]) -> None:
    pump = fountain({"/pumps/0/winding_resistance_ohm": 2.0, "/pumps/0/no_load_current_a": 0.05}).pump
    # Last point 10 L/min at 0 m, 0.63 A: speed ratio 1, so the last node is the point itself.
    assert pump.flow[-1] == pytest.approx(10 / 60 / 1000)
    assert pump.load_current[-1] == pytest.approx(0.63 - 0.05)
    # Back-EMF 12 - 2 x 0.63 = 10.74 V; the first point (0.42 A) ran at (12 - 0.84)/10.74 = 1.03911, so 1.8/1.03911² = 1.6671 m.
    assert pump.motor.back_emf == pytest.approx(10.74)
    assert pump.shut_off_head == pytest.approx(1.8 / (11.16 / 10.74) ** 2)
    assert pump.shut_off_head == pytest.approx(1.6671, abs=5e-5)


def test_voltages_and_currents_of_the_label_pass_unchanged(fountain: Callable[..., Fountain]) -> None:
    pump = fountain({"/pumps/0/starting_current_a": 0.21, "/pumps/0/lowest_voltage_v": 5.3}).pump
    assert (pump.rated_voltage, pump.lowest_voltage, pump.highest_voltage) == (12, 5.3, 26)
    assert pump.motor.starting_current == 0.21


def test_a_box_label_becomes_si(fountain: Callable[..., Fountain]) -> None:
    pump = fountain(name="fern_bubbler").pump
    assert pump.largest_flow == pytest.approx(30 / 60_000)
    assert pump.motor.rated_current == 2.2
    assert [note.code for note in pump.notes][-1] == "box_label_curve"


def test_cable_resistance_there_and_back(fountain: Callable[..., Fountain]) -> None:
    # 7.5 m of 1.5 mm2: 2 x 7.5 x 0.0133 x (1 + 0.00393 x 20) = 0.21518 ohm.
    assert fountain().supply.cable_resistance == pytest.approx(0.21518, abs=1e-5)
    assert fountain({"/cable/length_m": 0}).supply.cable_resistance == 0


def test_controller_efficiency_is_a_share_and_direct_has_none(fountain: Callable[..., Fountain]) -> None:
    assert fountain().supply.controller_efficiency is None
    assert fountain({"/connection": {"kind": "controller", "efficiency_pct": 87.5}}).supply.controller_efficiency == 0.875
    assert fountain({"/connection": {"kind": "controller"}}).supply.controller_efficiency == 0.9


def test_temperature_coefficients_are_per_degree_of_the_whole_array(fountain: Callable[..., Fountain]) -> None:
    panel = fountain({"/panels/0/in_series": 2, "/panels/0/in_parallel": 3}).supply.panel
    # 0.05 % of 0.92 A in three strings; -0.33 % of 21.7 V in strings of two.
    assert panel.isc_temperature_coefficient == pytest.approx(0.0005 * 0.92 * 3)
    assert panel.voc_temperature_coefficient == pytest.approx(-0.0033 * 21.7 * 2)


def test_the_chosen_pair_or_the_first(design: Callable[..., Design], example: Build) -> None:
    two = example()
    two["panels"].append({**two["panels"][0], "id": "large", "imp_a": 1.7, "isc_a": 1.8})
    two["pumps"].append({**two["pumps"][0], "id": "spare", "name": "spare (invented)"})
    assert fountain_of(read_design(two)).panel_input.id == "panel-15w"
    two["chosen"] = {"panel": "large", "pump": "spare"}
    found = fountain_of(read_design(two))
    assert (found.panel_pointer, found.pump_pointer) == ("#/panels/1", "#/pumps/1")
    assert (found.panel_input.imp_a, found.pump.name) == (1.7, "spare (invented)")
    del two["chosen"]
    assert fountain_of(read_design(two)).panel_pointer == "#/panels/0"
    named = fountain_of(read_design(two), "large", "spare")
    assert (named.panel_pointer, named.pump_pointer) == ("#/panels/1", "#/pumps/1")
    with pytest.raises(InputError, match="chosen pump is other, and the design has pump-12v-10l, spare; choose one of these"):
        fountain_of(read_design(two), None, "other")


def test_errors_point_at_the_panel_and_pump_they_stand_in(example: Build) -> None:
    two = example()
    two["panels"].append({**two["panels"][0], "id": "odd", "vmp_v": 22.5})
    two["pumps"].append(
        {**two["pumps"][0], "id": "odd", "points": [{"flow_l_per_min": q, "head_m": 1, "current_a": 1} for q in (0, 5)]}
    )
    with pytest.raises(InputError) as caught:
        fountain_of(read_design(two), "odd", None)
    assert caught.value.problems[0].pointer == "#/panels/1/vmp_v"
    with pytest.raises(InputError) as caught:
        fountain_of(read_design(two), None, "odd")
    assert caught.value.problems[0].pointer == "#/pumps/1/points/1/head_m"


COEFFICIENTS = {
    # given discharge, given velocity -> taken. The table's pair is 0.946 and 0.962 (Castel's cone, in Unwin 1911).
    "table": (None, None, 0.946, 0.962),
    "good nozzle": (0.98, None, 0.98, 0.98),
    "poor nozzle": (0.62, None, 0.62, 0.962),
    "slow jet": (None, 0.9, 0.9, 0.9),
    "fast jet": (None, 0.99, 0.946, 0.99),
    "both": (0.7, 0.8, 0.7, 0.8),
}


@pytest.mark.parametrize("name", COEFFICIENTS)
def test_coefficients_left_out_stay_possible(name: str, fountain: Callable[..., Fountain]) -> None:
    discharge, velocity, taken_discharge, taken_velocity = COEFFICIENTS[name]
    outlet = fountain({"/outlet/discharge_coefficient": discharge, "/outlet/velocity_coefficient": velocity}).waterway.outlet
    assert isinstance(outlet, Nozzle)
    assert (outlet.discharge_coefficient, outlet.velocity_coefficient) == (taken_discharge, taken_velocity)
    assert outlet.discharge_coefficient <= outlet.velocity_coefficient


def test_fittings_sum_low_typical_and_high(design: Callable[..., Design]) -> None:
    # Entrance 0.08/0.5/1.0, two barbs 0.75/1.6/3.64, one elbow 0.2/0.9/1.5.
    expected = (0.08 + 2 * 0.75 + 0.2, 0.5 + 2 * 1.6 + 0.9, 1.0 + 2 * 3.64 + 1.5)
    assert fitting_sum(design()) == pytest.approx(expected)
    assert pipe_of(design()).fitting_k == pytest.approx(4.6)


def test_a_given_k_replaces_the_table(design: Callable[..., Design]) -> None:
    own = design({"/pipe/fittings": [{"kind": "check_valve", "count": 3, "k": 7.3}, {"kind": "gate_valve", "count": 1}]})
    assert fitting_sum(own) == pytest.approx((3 * 7.3 + 0.15, 3 * 7.3 + 0.2, 3 * 7.3 + 0.2))
    none = design({"/pipe/fittings": [{"kind": "check_valve", "count": 3, "k": 0}]})
    assert fitting_sum(none) == (0, 0, 0)


def test_a_pipe_into_still_water_loses_one_velocity_head_more(design: Callable[..., Design]) -> None:
    spillway = {"kind": "spillway", "width_m": 0.3, "height_above_water_m": 0.4}
    open_pipe = {"kind": "open_pipe", "height_above_water_m": 0.4}
    bare = {"/pipe/fittings": []}
    assert fitting_sum(design(bare)) == (0, 0, 0)
    assert fitting_sum(design({**bare, "/outlet": open_pipe})) == (0, 0, 0)
    assert fitting_sum(design({**bare, "/outlet": spillway})) == (1, 1, 1)


def test_an_open_pipe_takes_the_bore_of_the_pipe_unless_its_own_is_given(fountain: Callable[..., Fountain]) -> None:
    outlet = fountain({"/outlet": {"kind": "open_pipe", "height_above_water_m": 0.23}}).waterway.outlet
    assert isinstance(outlet, OpenPipe)
    assert (outlet.diameter, outlet.height) == pytest.approx((0.013, 0.23))
    outlet = fountain({"/outlet": {"kind": "open_pipe", "height_above_water_m": 0.23, "inside_diameter_mm": 25}}).waterway.outlet
    assert isinstance(outlet, OpenPipe)
    assert (outlet.diameter, outlet.height) == pytest.approx((0.025, 0.23))


def test_a_spillway_keeps_its_lip(fountain: Callable[..., Fountain]) -> None:
    outlet = {"kind": "spillway", "width_m": 0.37, "height_above_water_m": 0.41, "end_contractions": 2}
    assert fountain({"/outlet": outlet}).waterway.outlet == Spillway(0.37, 0.41, 2)


def test_place_keeps_what_was_given_and_sorts_the_skyline(design: Callable[..., Design]) -> None:
    points = [
        {"azimuth_deg": 360, "altitude_deg": 3},
        {"azimuth_deg": 200, "altitude_deg": 9},
        {"azimuth_deg": 90, "altitude_deg": 5},
    ]
    place, notes = place_of(design({"/place/skyline": points, "/place/albedo": 0.35}))
    assert (place.latitude, place.longitude, place.elevation, place.albedo) == (46.05, 14.51, 298, 0.35)
    assert place.skyline == ((0, 3), (90, 5), (200, 9))
    assert notes == ()


def test_an_elevation_left_out_is_looked_up_and_told(design: Callable[..., Design]) -> None:
    place, (note,) = place_of(design({"/place/elevation_m": ...}))
    assert place.elevation == pytest.approx(298, abs=100)  # the town lies at 298 m
    assert (note.code, note.severity, note.pointer) == ("elevation_looked_up", "info", "#/place/elevation_m")
    assert note.detail == f"Elevation looked up: {place.elevation:.0f} m (good to about 90 m); type your own if you know it."
    assert place_of(design({"/place/elevation_m": None}))[0] == place
    assert place_of(design({"/place/elevation_m": 0}))[1] == ()


def test_each_kind_of_sky(design: Callable[..., Design], tmp_path: Path) -> None:
    for changes, kind in (({}, "built_in"), ({"/sky": MONTHLY}, "monthly")):
        one = design(changes)
        place, _ = place_of(one)
        sky, same = sky_of(one, place, None)
        assert (sky.kind, same) == (kind, place)
    one = design(name="weather_file_jet")
    place, _ = place_of(one)
    sky, same = sky_of(one, place, tmp_path)
    assert (sky.kind, sky.steps_per_day, same) == ("weather_file", 24, place)


def test_a_weather_file_is_read_beside_the_design_or_below(example: Build, tmp_path: Path) -> None:
    import pvlib

    content = (Path(pvlib.__file__).parent / "data" / "723170TYA.CSV").read_bytes()
    (tmp_path / "weather").mkdir()
    (tmp_path / "weather" / "year.csv").write_bytes(content)
    one = read_design(example({"/sky/path": "weather/year.csv"}, name="weather_file_jet"))
    place, _ = place_of(one)
    sky, _ = sky_of(one, place, tmp_path)
    assert sky.title == "Greensboro Piedmont Triad Int, TMY3 file"


@pytest.mark.parametrize(
    ("pipe", "roughness", "ribs"),
    [
        ({}, 1.5e-6, 1.0),
        ({"/pipe/kind": "not_known"}, 1.5e-6, 1.0),
        ({"/pipe/kind": "galvanised_steel"}, 0.15e-3, 1.0),
        ({"/pipe/kind": "ribbed_hose"}, 1.5e-6, 3.0),
        ({"/pipe/kind": "ribbed_hose", "/pipe/roughness_mm": 0.01}, 0.01e-3, 3.0),
        ({"/pipe/roughness_mm": 0.01}, 0.01e-3, 1.0),
    ],
)
def test_a_kind_of_pipe_brings_its_wall_and_a_typed_roughness_counts_first(
    pipe: dict[str, object], roughness: float, ribs: float, fountain: Callable[..., Fountain]
) -> None:
    built = fountain({"/pipe/roughness_mm": ..., **pipe}).waterway.pipe
    assert (built.roughness, built.ribs) == (pytest.approx(roughness), ribs)


@pytest.mark.parametrize(("kind", "taken"), [("drilled_cap", (0.62, 0.97)), ("short_tube", (0.82, 0.82)), (None, (0.946, 0.962))])
def test_a_kind_of_nozzle_brings_its_coefficients(
    kind: str | None, taken: tuple[float, float], fountain: Callable[..., Fountain]
) -> None:
    outlet = fountain({} if kind is None else {"/outlet/nozzle_kind": kind}).waterway.outlet
    assert isinstance(outlet, Nozzle)
    assert (outlet.discharge_coefficient, outlet.velocity_coefficient) == taken


RING = {"kind": "ring", "size_m": 0.6, "inside_diameter_mm": 13}


def test_a_ring_is_fed_through_a_tee_and_is_as_smooth_as_the_pipe(design: Callable[..., Design]) -> None:
    plain = design({"/outlet/count": 12, "/outlet/bore_mm": 3})
    fed = design({"/outlet/count": 12, "/outlet/bore_mm": 3, "/outlet/feed": RING})
    more = [after - before for before, after in zip(fitting_sum(plain), fitting_sum(fed), strict=True)]
    assert more == pytest.approx([1.0, 1.8, 2.0])  # a tee, water turning off (EPANET 1.8, handbooks 1 to 2)
    outlet = fountain_of(fed).waterway.outlet
    assert isinstance(outlet, Nozzle)
    assert outlet.manifold is not None
    assert (outlet.manifold.diameter, outlet.manifold.roughness) == pytest.approx((0.013, 1.5e-6))
    # Twelve holes on 0.6 pi m.
    assert outlet.manifold.spacing == pytest.approx(0.15708, abs=1e-5)
    row = design({"/outlet/count": 4, "/outlet/feed": RING | {"kind": "row"}})
    assert fitting_sum(row) == pytest.approx(fitting_sum(design({"/outlet/count": 4})))


def test_a_wide_ring_gives_what_jets_on_one_body_give(design: Callable[..., Design]) -> None:
    jets = {"/outlet/count": 6, "/outlet/bore_mm": 3}
    heads = []
    for feed in ({}, {"/outlet/feed": RING | {"kind": "row", "inside_diameter_mm": 150}}):
        heads.append(float(outlet_head(fountain_of(design(jets | feed)).waterway.outlet, 1e-4)))
    assert heads[0] == pytest.approx(heads[1], rel=1e-4)
