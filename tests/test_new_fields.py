"""A new field of a pump or a panel is a line in the design's models: form, address, file and bench test carry it unasked."""

import subprocess
import sys
from pathlib import Path

import pytest
from pydantic import BaseModel

from sizing.design.design import Design, PumpInput
from sizing.design.fields import Strict, part, rows
from sizing.design.pointers import item_field, models_in
from web.forms.form import known
from web.forms.panel_and_pump import question

ROOT = Path(__file__).resolve().parent.parent
ONLY_IN_FILES = {"schema_version", "sky.path"}
"""What no form asks and no address carries: the version, and a weather file on one's own machine."""


@pytest.mark.slow
def test_new_fields_of_pump_and_panel_are_lost_on_no_way(tmp_path: Path) -> None:
    asked = [sys.executable, "-m", "tests.with_new_fields", str(tmp_path), PumpInput.__module__]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def names_below(model: type[BaseModel], base: str = "") -> set[str]:
    """Names that a form would give to all single values of a model, the first of each list."""
    found: set[str] = set()
    for name, field in model.model_fields.items():
        within = models_in(field.annotation)
        listed = item_field(field) is not None or "row" in (field.json_schema_extra or {})
        whole = f"{base}{name}" + (".0" if listed else "")
        found |= set().union(*(names_below(each, f"{whole}.") for each in within)) if within else {whole}
    return found


SPELT_OTHERWISE = {
    "pipe.fittings.0.": "fittings.entrance.",
    "budget.parts.0.": "budget.parts.cable.",
    "goal.months.0": "goal.months.may",
}
"""What the form names by a word where a design file has a place in a list."""
TOLD_BY_THE_NAME = {"fittings.entrance.kind", "budget.parts.cable.part"}


def test_whatever_the_models_hold_has_a_name_in_the_form() -> None:
    names = set()
    for name in names_below(Design):
        start = next((start for start in SPELT_OTHERWISE if name.startswith(start)), "")
        names.add(SPELT_OTHERWISE.get(start, "") + name.removeprefix(start))
    assert len(names) > 100
    assert {"pumps.0.points.0.head_m", "panels.0.isc_a", "outlet.end_contractions", "chosen.pump"} <= names
    assert {name for name in names if not known(name)} == ONLY_IN_FILES | TOLD_BY_THE_NAME


class Odd(Strict):
    several: tuple[PumpInput, ...] = rows("several", "one", 0, 3, "of a kind that no box holds", ())
    another: PumpInput | None = part("another", "with fields of its own", None)


@pytest.mark.parametrize("name", ["several", "another"])
def test_a_field_that_no_box_can_hold_is_not_passed_over_in_silence(name: str) -> None:
    with pytest.raises(TypeError, match="give it questions of its own"):
        question("pumps.0", name, Odd)
