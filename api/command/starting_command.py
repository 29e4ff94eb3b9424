"""The commands that help to start a design file: ``solar-fountain example`` and ``solar-fountain schema``."""

import argparse
import difflib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sizing.data import shipped
from sizing.foundation import input_error

OUT = Callable[[argparse.Namespace, Callable[[argparse.Namespace], bytes]], int]
LOGS = {
    "bench": "a pump on the bench",
    "directions": "turning and tilting the panel",
    "panel": "a panel beside its label",
    "filled": "a predicted day, filled in",
}
"""What the tables are of, by the part of ``solar-fountain class`` that reads them."""


def add_starting(commands: Any, put_out: OUT) -> None:
    """Put both commands among the others; see ``class_command.add_class``."""
    example = commands.add_parser(
        "example",
        help="print an example to start from",
        description="Print an example, to be saved in a file and changed; without a name, list all examples.",
        epilog="For example: solar-fountain example fern_bubbler > my_fountain.json",
    )
    example.add_argument("name", nargs="?", metavar="NAME", help="which example; leave it out to list them")
    example.set_defaults(run=lambda options: put_out(options, example_of))
    schema = commands.add_parser(
        "schema",
        help="print the JSON Schema of a design file",
        description="Print the JSON Schema of a design file: every field with its unit, limits and advice. Editors check a "
        'design against it while you write, where the file names it: "$schema": "design.schema.json".',
        epilog="For example: solar-fountain schema > design.schema.json",
    )
    schema.set_defaults(run=lambda options: put_out(options, schema_of_designs))


def examples() -> dict[str, Path]:
    """The designs and tables that ship with the program, by name: designs first, both in alphabetical order."""
    return {path.stem: path for kind in ("json", "csv") for path in sorted(shipped("examples").glob(f"*.{kind}"))}


def example_of(options: argparse.Namespace) -> bytes:
    """One example as it ships, or the list of all."""
    known = examples()
    if options.name is None:
        return listed(known).encode()
    name = options.name.lower().replace("-", "_").removesuffix(".json").removesuffix(".csv")
    if name not in known:
        near = difflib.get_close_matches(name, known, 1, 0.5)
        change = f"did you mean {near[0]}?" if near else "solar-fountain example lists all of them"
        raise input_error(options.name, "not_a_choice", f"no example has this name; {change}")
    return known[name].read_bytes()


def listed(known: dict[str, Path]) -> str:
    """The names of the examples, each with its title or with what its table is of."""
    titles = {
        name: json.loads(path.read_text(encoding="utf-8"))["title"] for name, path in known.items() if path.suffix == ".json"
    }
    tables = {name: LOGS[name.split("_")[0]] for name, path in known.items() if path.suffix == ".csv"}
    return "\n".join(
        [
            "Designs, for solar-fountain size, orient, compare and report:",
            *columns(titles),
            "",
            "Tables, for solar-fountain class (the blank ones are to fill in):",
            *columns(tables),
            "",
            "Save one to start from: solar-fountain example NAME > FILE",
            "",
        ]
    )


def columns(said: dict[str, str]) -> list[str]:
    """A line for each name with what is said of it, one below the other."""
    width = max(map(len, said))
    return [f"  {name:{width}}  {words}" for name, words in said.items()]


def schema_of_designs(options: argparse.Namespace) -> bytes:
    """The JSON Schema of the design file, laid out to be read."""
    from sizing.design import design_schema

    return f"{json.dumps(design_schema(), indent=2, ensure_ascii=False)}\n".encode()
