"""Parts of answers: what fits is taken as it is, what does not fit is a mistake of ours and raises."""

import math

import pytest
from pydantic import ValidationError

from sizing.answers.kit import Partial, amount, plain
from sizing.answers.shared import NoteAnswer, PlaceAnswer, sources_of, working_of
from sizing.foundation.errors import Note
from sizing.foundation.sources import SOURCES
from sizing.foundation.working import given, work
from sizing.hydraulic.pipes import velocity


def test_a_note_keeps_its_fields_in_order() -> None:
    assert plain(NoteAnswer.of(Note("dry_spell", "warning", "It is dry.", "#/basin"))) == {
        "code": "dry_spell",
        "severity": "warning",
        "detail": "It is dry.",
        "pointer": "#/basin",
    }


@pytest.mark.parametrize("wrong", [{"elevation_m": math.nan}, {"elevation_m": "12"}, {"height": 3.0}])
def test_an_answer_takes_neither_nan_nor_texts_nor_unknown_fields(wrong: dict[str, object]) -> None:
    right = {"name": "Here", "latitude_deg": 1.0, "longitude_deg": -2.5, "elevation_m": 7.3}
    assert plain(PlaceAnswer.model_validate(right)) == right
    with pytest.raises(ValidationError):
        PlaceAnswer.model_validate(right | wrong)


def test_working_stands_inputs_first_and_names_its_sources() -> None:
    speed = work(velocity, flow=given("flow", 3.1e-4, "m3/s"), diameter=given("diameter", 0.0213, "m"))
    steps = working_of([speed])
    assert [step.id for step in steps] == ["flow", "diameter", "velocity"]
    assert steps[-1].value == pytest.approx(4 * 3.1e-4 / (math.pi * 0.0213**2), rel=1e-12)
    keys = {step.source for step in steps if step.source} | {min(SOURCES)}
    assert set(sources_of(steps, keys)) == keys


def test_what_there_is_none_of_is_left_out() -> None:
    class Fountain(Partial):
        jet_m: float | None = amount("Height of the jet", "m")
        flow_l: float | None = amount("Flow", "L")

    assert plain(Fountain(jet_m=None, flow_l=0.0)) == {"flow_l": 0.0}
