"""The designs in ``examples/``: invented and marked so, plausible, and playing."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from sizing.design.design import Chosen, Design, SpillwayOutlet
from sizing.design.reading import parse_design, read_design
from sizing.fountain.components import pipe_of
from sizing.hydraulic.pipes import velocity
from sizing.report.report import Report, size

FOLDER = Path(__file__).resolve().parents[2] / "examples"
FILES = sorted(path.name for path in FOLDER.glob("*.json"))


@pytest.fixture(scope="module")
def designs() -> dict[str, Design]:
    return {name: parse_design((FOLDER / name).read_bytes()) for name in FILES}


@pytest.fixture(scope="module")
def sized(designs: dict[str, Design]) -> Callable[[str], Report]:
    done: dict[str, Report] = {}

    def report(name: str) -> Report:
        if name not in done:
            done[name] = size(designs[name], FOLDER)
        return done[name]

    return report


def test_the_kinds_of_sky_connection_outlet_and_pump_are_all_shown(designs: dict[str, Design]) -> None:
    assert {design.sky.kind for design in designs.values()} == {"built_in", "monthly", "weather_file"}
    assert {design.connection.kind for design in designs.values()} == {"direct", "controller"}
    assert {design.outlet.kind for design in designs.values()} == {"nozzle", "open_pipe", "spillway"}
    assert {design.pumps[0].position for design in designs.values()} == {"submersible", "surface"}
    assert {design.pumps[0].points is None for design in designs.values()} == {True, False}
    assert any(design.place.latitude_deg < -23.5 for design in designs.values())
    assert any(abs(design.place.latitude_deg) < 23.5 for design in designs.values())
    assert len({design.title for design in designs.values()}) == len(FILES)


@pytest.mark.parametrize("name", FILES)
def test_everything_invented_says_so(name: str, designs: dict[str, Design]) -> None:
    design = designs[name]
    assert re.search(r"\(invented\b[^)]*\)$", design.title)
    assert "nvented" in design.note
    assert "nvented" in design.place.name
    for part in (*design.panels, *design.pumps):
        assert part.name.endswith("(invented)")
    if design.sky.kind == "monthly":
        assert "invented" in design.note.split("monthly values")[1]


def test_a_choice_has_prices_that_are_marked_invented_pumps_that_can_be_and_a_goal(designs: dict[str, Design]) -> None:
    design = designs["orchard_choice.json"]
    assert (len(design.panels), len(design.pumps)) == (3, 4)
    for part in (*design.panels, *design.pumps):
        assert part.price is not None
        assert (part.price.currency, part.price.source) == ("NZD", "invented price")
    for pump in design.pumps:
        sized = size(design.model_copy(update={"chosen": Chosen(panel="panel-50w", pump=pump.id), "goal": None}))
        # Common practice, no source: small pumps turn 5 to 35 % of their electricity into water.
        assert 0.05 <= sized.fountain.pump.best_efficiency <= 0.35, pump.id
    assert design.goal is not None


@pytest.mark.parametrize("name", FILES)
def test_there_and_back(name: str, designs: dict[str, Design]) -> None:
    design = designs[name]
    for text in (design.model_dump_json(), design.model_dump_json(exclude_unset=True)):
        assert read_design(json.loads(text)) == design
        assert parse_design(text.encode()) == design


@pytest.mark.parametrize("name", FILES)
def test_it_plays_in_every_month_and_nothing_needs_a_warning(name: str, sized: Callable[[str], Report]) -> None:
    report = sized(name)
    assert report.warnings == ()
    for month in report.year.months:
        assert month.first_hour is not None, month.month
        assert month.dry_days < month.days / 2
    assert report.verdict.headline.startswith("Plays from about ")
    assert report.first_sun is not None
    assert report.first_sun < 300


@pytest.mark.parametrize("name", FILES)
def test_an_installer_would_nod(name: str, sized: Callable[[str], Report]) -> None:
    report = sized(name)
    design, fountain = report.design, report.fountain
    # Common practice, no source: small pumps 5 to 35 %, water slower than 2 m/s, panel 1.3 to 1.7 times the pump's volts when
    # joined directly, up to twice its watts, no jet higher than a metre over a school basin on a usual day.
    assert 0.05 <= fountain.pump.best_efficiency <= 0.35
    fastest = float(velocity(float(report.points.flow[-1]), pipe_of(design).diameter))
    assert 0.3 < fastest < 2
    assert 1.3 < fountain.panel_input.vmp_v / fountain.pump.rated_voltage < 1.7
    panel_watts = fountain.panel_input.vmp_v * fountain.panel_input.imp_a * fountain.panel_input.in_parallel
    assert 1 < panel_watts / (fountain.pump.rated_voltage * fountain.pump.motor.rated_current) < 2.2
    assert max(month.jet for month in report.year.months) < 1
    if isinstance(design.outlet, SpillwayOutlet):
        # A sheet holds together from about one litre a second for each metre of lip.
        assert 1 < 1000 * float(report.points.flow[-1]) / design.outlet.width_m < 4
