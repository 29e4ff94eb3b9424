"""One shape for every refusal; each kind explained; nothing of the machine told."""

import json

import pytest

from api.edge.problems import CODES, KINDS, ProblemDocument, document, error_items, explanation, json_bytes, refusal, slug_of
from sizing.design.mistakes import SENTENCES
from sizing.foundation.errors import Problem, SizingError
from tests.asking import ask


def test_each_status_has_one_kind() -> None:
    statuses = [kind.status for kind in KINDS.values()]
    assert len(statuses) == len(set(statuses))


@pytest.mark.parametrize("slug", KINDS)
def test_each_kind_has_a_page_that_explains_it(slug: str) -> None:
    page = ask("GET", f"/problems/{slug}")
    assert page.status_code == 200
    assert KINDS[slug].title in page.text
    assert KINDS[slug].remedy in page.text
    assert str(KINDS[slug].status) in page.text


def test_an_unknown_kind_has_no_page() -> None:
    assert ask("GET", "/problems/none-such").status_code == 404


def test_the_codes_are_explained_where_inputs_are() -> None:
    assert all(f"{code}: {meaning}" in explanation("invalid-input") for code, meaning in CODES.items())
    assert "Codes" not in explanation("busy")


def test_every_code_for_a_wrong_field_is_explained() -> None:
    assert {code for code, _ in SENTENCES.values()} <= set(CODES)


@pytest.mark.parametrize("slug", KINDS)
def test_a_problem_document_has_its_five_members(slug: str) -> None:
    made = document(slug, KINDS[slug].status, "a sentence", "6f0e", [Problem("#/a", "missing", "a is missing; add it")])
    assert made["type"] == f"/problems/{slug}"
    assert made["instance"] == "/requests/6f0e"
    ProblemDocument.model_validate(made)


def test_a_status_without_a_kind_is_about_blank() -> None:
    made = document("", 418, "no", "1")
    assert (made["type"], made["title"]) == ("about:blank", "I'm a Teapot")


def test_limits_stand_beside_the_sentence_only_where_there_are_some() -> None:
    first, second = error_items([Problem("#/a", "out_of_range", "a is 7.3; ...", 0, 5), Problem("?hour", "out_of_range", "hour")])
    assert first == {"pointer": "#/a", "code": "out_of_range", "detail": "a is 7.3; ...", "min": 0, "max": 5}
    assert second == {"parameter": "hour", "code": "out_of_range", "detail": "hour"}


@pytest.mark.parametrize(
    ("codes", "slug"),
    [
        (["not_json"], "not-json"),
        (["not_text"], "not-json"),
        (["too_large"], "too-large"),
        (["missing", "less_than_equal"], "invalid-input"),
        (["no_climate_here"], "invalid-input"),
        ([], "invalid-input"),
    ],
)
def test_an_error_of_the_sizing_finds_its_kind(codes: list[str], slug: str) -> None:
    assert slug_of(SizingError(*(Problem("#", code, "a sentence") for code in codes))) == slug


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_what_is_not_a_number_is_never_written(value: float) -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        json_bytes({"jet_height_m": value})


def test_half_a_character_becomes_a_question_mark() -> None:
    assert json_bytes({"name": "\ud800"}) == b'{"name":"?"}'


def test_one_problem_speaks_for_itself_and_several_are_counted() -> None:
    scope = {"path": "/api/v1/sizings", "request_id": "x"}
    one = json.loads(refusal(scope, "invalid-input", problems=[Problem("#", "missing", "a is missing; add it")]).body)
    two = json.loads(refusal(scope, "invalid-input", problems=[Problem("#", "missing", "a")] * 2).body)
    assert one["detail"] == "a is missing; add it"
    assert two["detail"] == "2 values need changing; each is named under errors"


def test_a_page_shows_marks_of_its_language_as_text() -> None:
    page = refusal({"path": "/results"}, "invalid-input", problems=[Problem("#", "missing", "<script> is missing")])
    assert b"<script> is missing" not in bytes(page.body)
    assert b"&lt;script&gt; is missing" in bytes(page.body)
    assert page.status_code == 422
