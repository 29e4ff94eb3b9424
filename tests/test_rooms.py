"""Rooms: imports run one way, libraries enter at named doors, web and api use only what a room exports."""

import ast
from functools import cache
from pathlib import Path

from tests.together import together

ROOT = Path(__file__).resolve().parent.parent
ROOMS = (
    "sizing.foundation.sources",
    "sizing.foundation",
    "sizing.place",
    "sizing.sky",
    "sizing.light",
    "sizing.electric",
    "sizing.hydraulic",
    "sizing.operation",
    "sizing.design",
    "sizing.fountain",
    "sizing.answers",
    "sizing.uncertainty",
    "sizing.report",
    "sizing.orientation",
    "sizing.comparison",
    "sizing.reach",
    "sizing.basin",
    "sizing.installation",
    "sizing.money",
    "sizing.measured.logs",
    "sizing.measured.bench",
    "sizing.measured.day",
    "sizing.measured.trials",
    "sizing.measured.panel_check",
    "sizing.measured",
    "sizing.notebook",
    "web.charts.kit",
    "web.charts.drawing",
    "web.charts",
    "web.charts.sky",
    "web.exports",
    "web.forms",
    "web.pages.frame",
    "web.pages.garden",
    "web.pages.results",
    "web.pages.compare",
    "web.pages.reach",
    "web.pages.orientation",
    "web.pages.report",
    "web.pages.measured",
    "web.routes",
    "api.edge",
    "api.answers",
    "api.http",
    "api.command",
)
"""Every room, in the order in which they may look at each other: only at those above."""
DOORS = {
    "pvlib": {"sizing.place", "sizing.sky", "sizing.light", "sizing.electric"},
    "pandas": {"sizing.sky", "sizing.light", "sizing.notebook"},
    "pygeomag": {"sizing.place"},
    "fluids": {"sizing.hydraulic"},
    "scipy": {
        "sizing.electric",
        "sizing.hydraulic",
        "sizing.operation",
        "sizing.measured.logs",
        "sizing.measured.trials",
    },
    "pydantic": {
        "sizing.design",
        "sizing.answers",
        "sizing.report",
        "sizing.orientation",
        "sizing.comparison",
        "sizing.reach",
        "sizing.measured",
        "sizing.measured.bench",
        "sizing.measured.day",
        "sizing.measured.trials",
        "sizing.measured.panel_check",
        "sizing.notebook",
    },
}
"""The rooms of ``sizing`` into which a library may come."""
FORBIDDEN = {"fastapi", "starlette", "jinja2", "uvicorn", "api", "web", "requests", "urllib", "socket", "time"}
MOST_MODULES = 16


def dotted(path: Path) -> str:
    """A file as a module's name, a folder's ``__init__`` as the folder's."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


FILES = {
    dotted(path): path
    for top in ("sizing", "web", "api")
    for path in sorted((ROOT / top).rglob("*.py"))
    if not dotted(path).startswith("sizing.data")
}


def room_of(name: str) -> str:
    """The room of a module, a room, or a name inside either; empty for what stands outside all rooms."""
    return max((room for room in ROOMS if name == room or name.startswith(f"{room}.")), key=len, default="")


@cache
def imported(module: str) -> tuple[str, ...]:
    """Dotted names of what a module imports, down to the single name where a whole room is named."""
    names = []
    for node in ast.walk(ast.parse(FILES[module].read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module}: write imports out in full"
            names += [f"{node.module}.{alias.name}" for alias in node.names]
    return tuple(names)


def module_of(name: str) -> str:
    """The module that an imported name comes from."""
    while name and name not in FILES:
        name = name.rpartition(".")[0]
    return name


@together("module", FILES)
def test_a_room_looks_only_back(module: str) -> None:
    room = room_of(module)
    if not room:
        assert module in ("sizing", "web", "api", "web.pages"), f"{module} stands in no room"
        return
    for name in imported(module):
        other = room_of(name)
        if other:
            assert ROOMS.index(other) <= ROOMS.index(room), f"{module} imports {name}, whose room stands later"


def test_no_circle_among_modules() -> None:
    graph = {module: {module_of(name) for name in imported(module)} - {"", module} for module in FILES}
    doors = {module for module, path in FILES.items() if path.name == "__init__.py"}
    done: set[str] = set()

    def visit(module: str, way: tuple[str, ...]) -> None:
        assert module not in way, " -> ".join((*way[way.index(module) :], module))
        if module not in done:
            for other in graph[module]:
                visit(other, (*way, module))
            done.add(module)

    for module in FILES:
        if module not in doors or module in ROOMS:
            visit(module, ())


def test_web_and_api_use_only_what_a_room_exports() -> None:
    for module in FILES:
        top = module.split(".")[0]
        for name in imported(module):
            other = room_of(name)
            if not other or other.split(".")[0] == top or top == "sizing" or other == "web.routes":
                continue
            assert module_of(name) == other or name.rpartition(".")[0] == other, f"{module} reaches past the door: {name}"


def test_libraries_enter_at_their_doors() -> None:
    for module in FILES:
        if not module.startswith("sizing"):
            continue
        for name in imported(module):
            top = name.split(".")[0]
            assert top not in FORBIDDEN, f"{module} imports {top}"
            assert top not in DOORS or room_of(module) in DOORS[top], f"{module} imports {top}; its doors are {DOORS[top]}"


def test_the_pages_use_the_rooms_and_the_service_uses_both() -> None:
    for module in FILES:
        above = {"sizing": {"api", "web"}, "web": {"api"}, "api": set()}[module.split(".")[0]]
        assert not {name.split(".")[0] for name in imported(module)} & above, module


def test_no_folder_is_crowded() -> None:
    for folder in {path.parent for path in FILES.values()}:
        modules = list(folder.glob("*.py"))
        assert len(modules) <= MOST_MODULES, f"{folder.relative_to(ROOT)} holds {len(modules)} modules"


def test_each_house_lists_its_rooms_in_order() -> None:
    for top in ("sizing", "web", "api"):
        listed = [
            line.split()[0] for line in (ast.get_docstring(ast.parse(FILES[top].read_text())) or "").splitlines() if "  " in line
        ]
        rooms = [room.removeprefix(f"{top}.") for room in ROOMS if room.startswith(f"{top}.")]
        assert listed == [room for room in rooms if room in listed]
        assert {room.split(".")[0] for room in rooms} == {name.split(".")[0] for name in listed}
