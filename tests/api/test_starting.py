"""What helps to start a design file: examples, the JSON Schema, and a file that names its schema."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest

from api.command.main import BAD_INPUT, DONE, main
from api.command.starting_command import LOGS
from sizing.data import shipped
from sizing.design import parse_design, read_design
from sizing.foundation import InputError
from tests.asking import ask, post
from web.forms.form import texts_of

EXAMPLES = sorted(path for path in shipped("examples").iterdir() if path.suffix in (".json", ".csv"))
DESIGNS = [path for path in EXAMPLES if path.suffix == ".json"]
ADDRESS = {"$schema": "./design.schema.json"}


def outcome(capsysbinary: Any, *arguments: str) -> tuple[int, bytes, str]:
    """Exit code, output and error output of one command."""
    code = main(arguments)
    out, err = capsysbinary.readouterr()
    return code, out, err.decode()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
@pytest.mark.parametrize("written", ["{stem}", "{name}", "{hyphens}"])
def test_an_example_is_printed_as_it_ships(path: Path, written: str, capsysbinary: Any) -> None:
    name = written.format(stem=path.stem, name=path.name.upper(), hyphens=path.stem.replace("_", "-"))
    assert outcome(capsysbinary, "example", name) == (DONE, path.read_bytes(), "")


def test_all_examples_are_listed_with_what_they_are(capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "example")
    assert (code, err) == (DONE, "")
    lines = out.decode().splitlines()
    assert max(map(len, lines)) <= 80
    told = dict(line.split(maxsplit=1) for line in lines if line.startswith("  "))
    assert set(told) == {path.stem for path in EXAMPLES}
    for path in EXAMPLES:
        title = json.loads(path.read_bytes())["title"] if path.suffix == ".json" else LOGS[path.stem.split("_")[0]]
        assert told[path.stem] == title


def test_the_tables_are_those_that_a_class_fills_in(capsysbinary: Any) -> None:
    for part in ("bench", "directions", "panel"):
        printed = [
            outcome(capsysbinary, *asked)[1].decode() for asked in (("class", "blank", part), ("example", f"{part}_blank"))
        ]
        first, second = (next(csv.reader(io.StringIO(text))) for text in printed)
        assert first == second


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("fern_bubbeler", "no example has this name; did you mean fern_bubbler?"),
        ("quince", "no example has this name; did you mean quince_court_jet?"),
        ("zzz", "no example has this name; solar-fountain example lists all of them"),
        ("../examples/fern_bubbler", "no example has this name; did you mean fern_bubbler?"),
    ],
)
def test_another_name_is_told(name: str, told: str, capsysbinary: Any) -> None:
    assert outcome(capsysbinary, "example", name) == (BAD_INPUT, b"", f"{name}: {told}\n")


def test_the_schema_is_the_one_of_the_service(capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "schema")
    assert (code, err) == (DONE, "")
    assert json.loads(out) == ask("GET", "/api/v1/schemas/design").json()


def test_the_schema_that_ships_is_up_to_date(capsysbinary: Any) -> None:
    _, out, _ = outcome(capsysbinary, "schema")
    renew = "the design file has changed: solar-fountain schema > sizing/data/design.schema.json"
    assert json.loads(shipped("design.schema.json").read_bytes()) == json.loads(out), renew


def test_a_word_too_many_is_told(capsysbinary: Any) -> None:
    for asked in (("schema", "design"), ("example", "fern_bubbler", "orchard_choice")):
        code, out, err = outcome(capsysbinary, *asked)
        assert (code, out) == (BAD_INPUT, b"")
        assert f"unrecognized arguments: {asked[-1]}" in err


@pytest.mark.parametrize("command", ["example", "schema"])
def test_the_help_says_what_to_do_with_it(command: str, capsysbinary: Any) -> None:
    assert f"    {command} " in outcome(capsysbinary, "--help")[1].decode()
    told = " ".join(outcome(capsysbinary, command, "--help")[1].decode().split())
    assert f"For example: solar-fountain {command}" in told
    assert " > " in told


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_a_design_may_name_its_schema(path: Path) -> None:
    named = ADDRESS | json.loads(path.read_bytes())
    jsonschema_rs.validator_for(json.loads(shipped("design.schema.json").read_bytes())).validate(named)
    plain = parse_design(path.read_bytes())
    assert read_design(named) == plain
    assert parse_design(json.dumps(named).encode()).model_fields_set == plain.model_fields_set
    assert texts_of(read_design(named)) == texts_of(plain)


def test_the_service_answers_as_without_it() -> None:
    design = json.loads(shipped("examples/quince_court_jet.json").read_bytes())
    assert post(ADDRESS | design).content == post(design).content


@pytest.mark.parametrize("address", [7, None, ["design.schema.json"]])
def test_an_address_that_is_no_text_is_refused(address: object) -> None:
    named = json.loads(shipped("examples/quince_court_jet.json").read_bytes()) | {"$schema": address}
    assert not jsonschema_rs.is_valid(json.loads(shipped("design.schema.json").read_bytes()), named)
    with pytest.raises(InputError) as caught:
        read_design(named)
    (problem,) = caught.value.problems
    assert (problem.pointer, problem.code) == ("#/$schema", "not_text")
    assert problem.detail == "$schema is not a text; write the address of the schema in quotes, or remove it"
