"""The documents run: commands of README and DEVELOPERS exist and work, links lead somewhere, rooms say what they are for."""

import ast
import re
import shlex
from functools import cache
from pathlib import Path

import pytest

from api.command.main import main
from tests.test_rooms import FILES, ROOMS
from tests.together import together

ROOT = Path(__file__).resolve().parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
DOORS = {
    path.relative_to(ROOT).as_posix(): ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    for path in (FILES[room] for room in ROOMS)
    if path.name == "__init__.py"
}
"""What the ``__init__`` of each room says of it."""
DOCUMENTS = ("README.md", "DEVELOPERS.md", "SAFETY.md", "sizing/data/README.md")


@cache
def known_words() -> set[str]:
    """Every word of the code, and the name of every module and folder."""
    words: set[str] = set()
    for module, path in FILES.items():
        words |= set(module.split("."))
        if path.name != "__init__.py":
            words |= set(re.findall(r"\w+", path.read_text(encoding="utf-8")))
    return words


def blocks(name: str) -> list[str]:
    """Shell blocks of a document."""
    return re.findall(r"^```sh\n(.*?)^```", (ROOT / name).read_text(encoding="utf-8"), re.M | re.S)


COMMANDS = [
    line
    for name in ("README.md", "DEVELOPERS.md")
    for block in blocks(name)
    for line in block.splitlines()
    if line.startswith("solar-")
]


@pytest.mark.some(4)
@pytest.mark.parametrize("line", COMMANDS)
def test_commands_of_the_documents_run(
    line: str, monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes], tmp_path: Path
) -> None:
    words = shlex.split(line)
    assert words[0] == "solar-fountain"
    assert words[1] in ("example", "schema", "size", "orient", "compare", "reach", "report", "class")
    words = [str(tmp_path / word) if word.endswith(".html") else word for word in words]
    monkeypatch.chdir(ROOT)
    assert main(words[1:]) == 0
    said, complained = capsysbinary.readouterr()
    assert len(said) > 500 or Path(words[-1]).parent == tmp_path
    assert complained == b""


def test_lines_of_python_in_readme_run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    (block,) = re.findall(r"^```python\n(.*?)^```", (ROOT / "README.md").read_text(encoding="utf-8"), re.M | re.S)
    assert len([line for line in block.splitlines() if line]) <= 5
    monkeypatch.chdir(ROOT)
    exec(compile(block, "README.md", "exec"), {})
    said = capsys.readouterr().out
    assert "water_l_per_day" in said
    assert "flow_l_per_min" in said


def test_readme_opens_with_the_job_in_one_paragraph() -> None:
    title, paragraph = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[:2]
    assert title.startswith("# ")
    assert len(paragraph.splitlines()) == 1
    assert 300 < len(paragraph) < 1200


def test_two_commands_stand_alone_and_are_whole() -> None:
    section = (ROOT / "README.md").read_text(encoding="utf-8").split("## Two commands")[1].split("\n## ")[0]
    first, second = re.findall(r"^```sh\n(.*?)\n```", section, re.M | re.S)
    assert "\n" not in first
    assert "\n" not in second
    assert first.startswith("python3 -m venv .venv && ")
    assert first.endswith("solar-fountain serve --open")
    assert second.endswith("-m pytest")
    assert "[test]" in second


@pytest.mark.parametrize("name", DOCUMENTS)
def test_links_lead_somewhere(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)#]+?)(?:#[^)]*)?\)", text):
        if not target.startswith("http"):
            assert (ROOT / name).parent.joinpath(target).exists(), f"{name} links to {target}"


@together("spot", re.findall(r"`(\w[\w./-]*/[\w./-]*(?:::\w+)?)`", DEVELOPERS))
def test_developers_name_files_and_names_that_exist(spot: str) -> None:
    name, _, inside = spot.partition("::")
    assert (ROOT / name).exists(), name
    assert not inside or re.search(rf"\b{inside}\b", (ROOT / name).read_text(encoding="utf-8")), spot


def test_the_map_holds_every_room_in_order() -> None:
    section = DEVELOPERS.split("## The rooms")[1].split("\n## ")[0]
    mapped = [(words, target) for words, target in re.findall(r"^\| \[(.+?)\]\((.+?)\)", section, re.M)]
    assert [target.replace("/", ".") for _, target in mapped] == [room for room in ROOMS if FILES[room].name == "__init__.py"]
    assert all(target.endswith(f"/{words}") for words, target in mapped)


def test_each_door_with_a_decision_is_linked() -> None:
    linked = re.findall(r"^- \[.+?\]\((.+?)\): ", DEVELOPERS.split("\n## Decisions")[1], re.M)
    assert linked == [path for path, text in DOORS.items() if re.search(r"^20\d\d-\d\d-\d\d, ", text, re.M)]


@together("door", DOORS)
def test_a_door_says_in_few_lines_what_its_room_is_for(door: str) -> None:
    assert 3 <= len(DOORS[door].splitlines()) <= 25


@together("door", DOORS)
def test_a_door_names_the_modules_of_its_room_in_an_order_to_read(door: str) -> None:
    reading = re.search(r"^Read: (.+?)(?:\n\n|\Z)", DOORS[door], re.M | re.S)
    named = re.findall(r"``(\w+)``", reading[1]) if reading else []
    here = {path.stem for path in (ROOT / door).parent.glob("*.py")} - {"__init__", "__main__"}
    missing, gone = here - set(named), {word for word in re.findall(r"``(\w+)``", DOORS[door]) if word not in known_words()}
    assert not missing, f"{door} does not say where to read {missing}"
    assert not gone, f"{door} names {gone}, which nothing is called any more"


def test_commands_for_developers_are_those_of_the_project() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    for command in ("ruff check .", "ruff format", "mypy"):
        assert command in DEVELOPERS
        assert command in script
    assert "Two commands" in script


def test_commands_for_developers_exist() -> None:
    table = "".join(re.findall(r"^\| .+\n", DEVELOPERS.split("## Run, test, measure")[1].split("\n## ")[0], re.M))
    for command in re.findall(r"`([^`\n]+)`", table):
        words = shlex.split(command)
        if "-m" in words and "tests." in (module := words[words.index("-m") + 1]):
            folder = ROOT / module.replace(".", "/")
            assert (folder / "__main__.py").exists() or folder.with_suffix(".py").exists(), module
        for word in words:
            assert not word.startswith((".ci/", "tests/", "examples/", "sizing/")) or (ROOT / word).exists(), command
    for command in re.findall(r"solar-fountain (\w+)", DEVELOPERS):
        assert main([command, "--help"]) == 0, command


def test_files_stay_small_enough_to_read() -> None:
    for folder in ("sizing", "api", "web"):
        for path in (ROOT / folder).rglob("*.py"):
            lines = len(path.read_text(encoding="utf-8").splitlines())
            assert lines <= 500, f"{path.relative_to(ROOT)} has {lines} lines"
