"""Imports run one way: along the path, never back; libraries enter at named doors only."""

import ast
from functools import cache
from pathlib import Path

from sizing import FOUNDATION, PATH

ROOT = Path(__file__).resolve().parent.parent
DOORS = {
    "pvlib": {"place", "sun", "weather_file", "glass", "clear_sky", "panel"},
    "pandas": {"sun", "clear_sky", "weather_file"},
    "pygeomag": {"compass"},
    "fluids": {"friction"},
    "scipy": {"pump", "pump_curve", "panel", "load_line", "direct_solve", "instruments", "turned_fit"},
    "pydantic": {"fields", "site", "buying", "measured", "design", "pointers", "mistakes", "reading", "class_requests"},
}
FORBIDDEN = {"fastapi", "starlette", "jinja2", "uvicorn", "api", "web", "requests", "urllib", "socket", "time"}


@cache
def imported(path: Path) -> list[str]:
    """Dotted names that a file imports, "sizing.place" for both import forms."""
    names = []
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            names += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name}: write imports out in full"
            module = node.module or ""
            names += [f"{module}.{alias.name}" for alias in node.names] if module == "sizing" else [module]
    return names


MODULES = sorted(path.stem for path in (ROOT / "sizing").glob("*.py") if path.stem != "__init__")


def test_every_module_stands_in_the_path() -> None:
    assert sorted(FOUNDATION + PATH) == MODULES


def test_a_stage_looks_only_back() -> None:
    order = FOUNDATION + PATH
    for module in MODULES:
        limit = len(FOUNDATION) if module in FOUNDATION else order.index(module)
        for name in imported(ROOT / "sizing" / f"{module}.py"):
            own = name.removeprefix("sizing.")
            if own != name and own in order:
                assert order.index(own) < limit, f"sizing.{module} imports sizing.{own}, which stands later on the path"


def test_libraries_enter_at_their_doors() -> None:
    for module in MODULES:
        for name in imported(ROOT / "sizing" / f"{module}.py"):
            top = name.split(".")[0]
            assert top not in FORBIDDEN, f"sizing.{module} imports {top}"
            if top in DOORS:
                assert module in DOORS[top], f"sizing.{module} imports {top}; its doors are {sorted(DOORS[top])}"


def test_the_pages_use_the_stages_and_the_service_uses_both() -> None:
    for folder, above in (("sizing", {"api", "web"}), ("web", {"api"})):
        for path in (ROOT / folder).rglob("*.py"):
            assert not {name.split(".")[0] for name in imported(path)} & above, path
