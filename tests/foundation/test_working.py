"""The sum shown is the sum done: formula texts against functions, and every leaf ends in a source or a person."""

import importlib
import inspect
import json
import math
import pkgutil
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest

import sizing
from sizing.answers.kit import plain
from sizing.answers.shared import working_of
from sizing.design.reading import parse_design
from sizing.foundation.sources import SOURCES
from sizing.foundation.working import FORMULAS, Constant, Worked, given, solved, work
from sizing.installation.building import building_of
from sizing.report.answer import sizing_answer
from sizing.report.months_worked import MONTH_IDS
from sizing.report.report import When, size
from tests.together import together
from web.forms.questions import BOXES
from web.pages.report.parts_page import built_working
from web.pages.results.pictures import monthly_table

ROOT = Path(__file__).resolve().parents[2]
for found in pkgutil.walk_packages(sizing.__path__, "sizing."):
    if not found.name.startswith("sizing.data"):
        importlib.import_module(found.name)

AWKWARD = tomllib.loads((ROOT / "tests" / "awkward_inputs.toml").read_text())
WORDS = {
    name: getattr(np, name)
    for name in (
        "sqrt",
        "exp",
        "log",
        "sin",
        "cos",
        "tan",
        "arccos",
        "arctan2",
        "minimum",
        "maximum",
        "where",
        "radians",
        "degrees",
    )
} | {"pi": math.pi}


@together("function", FORMULAS)
@together("which", [0, 1])
def test_the_formula_shown_is_the_sum_done(function, which: int) -> None:
    parameters = inspect.signature(function).parameters
    inputs = {
        name: float(parameter.default) if isinstance(parameter.default, Constant) else AWKWARD[name][which]
        for name, parameter in parameters.items()
    }
    shown = eval(FORMULAS[function].text, {"__builtins__": {}}, WORDS | inputs)
    done = function(**inputs)
    assert float(done) == pytest.approx(float(shown), rel=1e-12, abs=1e-300)


@together("function", FORMULAS)
def test_every_argument_stands_in_the_formula(function) -> None:
    text = FORMULAS[function].text
    for name in inspect.signature(function).parameters:
        assert re.search(rf"\b{name}\b", text), f"{function.__name__} does not show {name}"


def test_formulas_name_known_sources() -> None:
    for function, known in FORMULAS.items():
        assert known.source in SOURCES, function.__name__


def test_no_source_stands_under_two_subjects() -> None:
    subjects = [
        path for path in (ROOT / "sizing" / "foundation" / "sources").glob("*.py") if path.stem not in ("__init__", "publication")
    ]
    keys = [key for path in subjects for key in importlib.import_module(f"sizing.foundation.sources.{path.stem}").SOURCES]
    assert len(keys) == len(set(keys))
    assert set(keys) < set(SOURCES)


def test_every_source_is_used_and_every_used_source_is_known() -> None:
    """A key counts as used where it stands in a formula, a constant, a table, a method or a published check."""
    files = [*(ROOT / "sizing").rglob("*.py"), *(ROOT / "tests").rglob("*.py"), *(ROOT / "tests").rglob("*.toml")]
    text = "\n".join(path.read_text() for path in files if not path.name.endswith(("sources.py", "test_working.py")))
    unused = [key for key in SOURCES if f'"{key}"' not in text and f"({key})" not in text]
    assert not unused
    for key in re.findall(r'source="(\w+)"', text):
        assert key in SOURCES, key


def test_work_fills_in_constants_and_substitutes() -> None:
    from sizing.hydraulic.pipes import friction_loss

    loss = work(
        friction_loss,
        friction_factor=given("friction_factor", 0.03, "1"),
        length=given("length", 10, "m"),
        diameter=given("diameter", 0.02, "m"),
        velocity=given("velocity", 1.0, "m/s"),
    )
    # 0.03 x 10 / 0.02 x 1 / (2 x 9.80665) = 0.7648 m
    assert loss.value == pytest.approx(0.7648, abs=5e-5)
    assert loss.substituted == "0.03 * 10 / 0.02 * 1**2 / (2 * 9.807)"
    assert {part.source for _, part in loss.inputs if part.basis == "published"} == {"iso_80000_3"}


def test_solved_values_show_both_sides() -> None:
    left, right = given("pump_head", 1.83, "m"), given("system_head", 1.83, "m")
    assert solved("head", 1.83, "m", "hydrostatics", left, right).substituted == "1.83 = 1.83"


def test_names_that_mean_different_numbers_get_different_ids() -> None:
    once, again = given("lift", 0.3, "m"), given("lift", 0.4, "m")
    both = Worked("sum", 0.7, "m", "computed", "", "first + second", "", (("first", once), ("second", again)))
    assert [step.id for step in working_of([both])] == ["lift", "lift_2", "sum"]


def example(name: str = "quince_court_jet.json"):
    return parse_design((ROOT / "examples" / name).read_bytes())


@pytest.mark.some(8)
@pytest.mark.parametrize("when", [None, When(12, 9, "dull"), When(6, 1), When(strength=613.0), When(strength=70.0)])
@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.json")), ids=lambda path: path.stem)
def test_every_leaf_ends_in_a_source_or_a_person(path: Path, when: When | None) -> None:
    found = plain(sizing_answer(size(parse_design(path.read_bytes()), ROOT / "examples", when)))
    json.dumps(found, allow_nan=False)
    ids = {step["id"] for step in found["working"]}
    assert len(ids) == len(found["working"])
    for step in found["working"]:
        assert all(part["id"] in ids for part in step["inputs"]), step
        assert step["unit"], step["id"]
        assert step["basis"] in ("given", "assumed", "published", "measured", "computed")
        if step["basis"] != "given":
            assert step["source"] in SOURCES, step["id"]
            assert step["source"] in found["sources"]
        if step["basis"] == "computed":
            assert step["formula"] or step["method"], step["id"]
    for station in found["moment"]["stations"]:
        assert station["working_id"] in ids


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.json")), ids=lambda path: path.stem)
def test_both_sides_of_the_solved_equations_agree(path: Path) -> None:
    found = plain(sizing_answer(size(parse_design(path.read_bytes()), ROOT / "examples")))
    values = {step["id"]: step for step in found["working"]}
    solved_steps = [step for step in values.values() if re.fullmatch(r"\w+ = \w+", step["formula"])]
    assert solved_steps
    for step in solved_steps:
        left, right = (values[part["id"]]["value"] for part in step["inputs"])
        assert left == pytest.approx(right, rel=1e-6), step["id"]


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.json")), ids=lambda path: path.stem)
def test_every_shown_formula_gives_its_value(path: Path) -> None:
    """Evaluate each step's formula from the values of its inputs, as a reader with a calculator would."""
    found = plain(sizing_answer(size(parse_design(path.read_bytes()), ROOT / "examples")))
    values = {step["id"]: step["value"] for step in found["working"]}
    for step in found["working"]:
        if step["formula"] and "=" not in step["formula"]:
            inputs = {part["name"]: values[part["id"]] for part in step["inputs"]}
            result = eval(step["formula"], {"__builtins__": {}}, WORDS | inputs)
            assert float(result) == pytest.approx(step["value"], rel=1e-9, abs=1e-12), step["id"]


def test_the_months_unfold_to_the_table() -> None:
    found = plain(sizing_answer(size(example())))
    values = {step["id"]: step["value"] for step in found["working"]}
    for month, name in zip(found["months"], MONTH_IDS, strict=True):
        assert values[f"water_in_{name}"] == pytest.approx(month["water_l_per_day"], rel=1e-9)
        assert values[f"sun_in_{name}"] == pytest.approx(month["poa_kwh_per_m2_day"], rel=1e-12)
    assert values["water_of_year"] == pytest.approx(found["year"]["water_l"], rel=1e-9)


REWORDED = """
import json, sys
import sizing.foundation
from sizing.foundation import formats
sizing.foundation.MONTHS = formats.MONTHS = tuple(f"{number}. month" for number in range(1, 13))
from pathlib import Path
from sizing.answers.kit import plain
from sizing.report.answer import sizing_answer
from sizing.installation.building import building_of
from sizing.design.reading import parse_design
from sizing.report.report import size
from sizing.answers.shared import working_of
from web.pages.report.parts_page import built_working
from web.forms.questions import BOXES
from web.pages.results.pictures import monthly_table
from web.pages.frame.unfolded import month_sums
report = size(parse_design(Path(sys.argv[1]).read_bytes()))
found = plain(sizing_answer(report))
built = list(built_working(building_of(report)))
sums = month_sums(report)
built = [plain(step) for step in working_of(built)]
json.dump([found["working"], built, list(BOXES), [head for head, _ in sums.rows], monthly_table(report).rows], sys.stdout)
"""


@pytest.mark.slow
def test_other_words_for_the_months_change_no_number_no_id_and_no_address() -> None:
    path = ROOT / "examples" / "quince_court_jet.json"
    asked = [sys.executable, "-c", REWORDED, str(path)]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    working, built, boxes, heads, rows = json.loads(done.stdout)
    report = size(parse_design(path.read_bytes()))
    assert working == json.loads(json.dumps(plain(sizing_answer(report))["working"]))
    assert [step["id"] for step in built] == [step.id for step in working_of(built_working(building_of(report)))]
    assert boxes == list(BOXES)
    assert heads == [f"{number}. month" for number in range(1, 13)]
    assert [[lead for _, lead in row] for row in rows] == [[lead for _, lead in row] for row in monthly_table(report).rows]
