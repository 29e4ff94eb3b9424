"""What the code must keep to so that every Python it is made for runs it."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.together import together

ROOT = Path(__file__).resolve().parent.parent
FILES = sorted(path for folder in ("sizing", "api", "web") for path in (ROOT / folder).rglob("*.py"))
FUNCTION = (ast.FunctionDef, ast.AsyncFunctionDef)


def shadowing(source: str) -> Iterator[str]:
    """Comprehension variables with the name of a function of the same module that is called beside them.

    Python 3.12.0 and 3.12.1 work comprehensions out in line (PEP 709) and then take the function's name in a comprehension
    inside a comprehension for the variable, which has no value yet: UnboundLocalError.
    """
    module = ast.parse(source)
    named = {node.name for node in module.body if isinstance(node, FUNCTION)}
    named |= {each.asname or each.name for node in module.body if isinstance(node, ast.ImportFrom) for each in node.names}
    for function in (node for node in ast.walk(module) if isinstance(node, FUNCTION)):
        inside = list(ast.walk(function))
        called = {node.func.id for node in inside if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
        for target in (part for node in inside if isinstance(node, ast.comprehension) for part in ast.walk(node.target)):
            if isinstance(target, ast.Name) and target.id in named & called:
                yield f"line {target.lineno}: {target.id}"


def test_the_pattern_is_seen() -> None:
    source = (
        "def month(): ...\n"
        "def year(given):\n"
        "    [month for month in given]\n"
        "    return [[month() for _ in each] for each in given]\n"
    )
    assert list(shadowing(source)) == ["line 3: month"]
    assert list(shadowing(source.replace("month for month", "each for each"))) == []


@pytest.mark.slow
@together("path", FILES)
def test_no_comprehension_variable_has_the_name_of_a_function_called_beside_it(path: Path) -> None:
    assert list(shadowing(path.read_text(encoding="utf-8"))) == []
