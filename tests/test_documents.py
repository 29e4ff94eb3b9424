"""The documents run: commands of README and DEVELOPERS exist and work, links lead somewhere, modules are named right."""

import re
import shlex
from pathlib import Path

import pytest

from api.command.main import main

ROOT = Path(__file__).resolve().parent.parent
DOCUMENTS = ("README.md", "DEVELOPERS.md", "SAFETY.md", "sizing/data/README.md")


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


@pytest.mark.parametrize("line", COMMANDS)
def test_commands_of_the_documents_run(
    line: str, monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes], tmp_path: Path
) -> None:
    words = shlex.split(line)
    assert words[0] == "solar-fountain"
    assert words[1] in ("example", "schema", "size", "orient", "compare", "report", "class")
    words = [str(tmp_path / word) if word.endswith(".html") else word for word in words]
    monkeypatch.chdir(ROOT)
    assert main(words[1:]) == 0
    said, complained = capsysbinary.readouterr()
    assert len(said) > 500 or Path(words[-1]).parent == tmp_path
    assert complained == b""


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


def test_developers_name_modules_that_exist() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.split("| you look for | it is in |")[1].split("\n\n")[0]
    known = {path.stem for path in (ROOT / "sizing").rglob("*.py")} | {
        path.name for path in (ROOT / "sizing").rglob("*") if path.is_dir()
    }
    for name in re.findall(r"`(\w+\*?)`", table):
        assert name.rstrip("*") in known or any(module.startswith(name.rstrip("*")) for module in known), name


def test_commands_for_developers_are_those_of_the_project() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    for command in ("ruff check .", "ruff format", "mypy"):
        assert command in text
        assert command in script
    assert "Two commands" in script


def test_files_stay_small_enough_to_read() -> None:
    for folder in ("sizing", "api", "web"):
        for path in (ROOT / folder).rglob("*.py"):
            lines = len(path.read_text(encoding="utf-8").splitlines())
            assert lines <= 500, f"{path.relative_to(ROOT)} has {lines} lines"
