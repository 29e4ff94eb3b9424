"""SAFETY.md keeps its promises: unique names, a standard or an honest "no source", and somebody who decides."""

import re
from pathlib import Path

from tests.together import together

TEXT = (Path(__file__).resolve().parents[2] / "SAFETY.md").read_text(encoding="utf-8")
NOTES = dict(re.findall(r"^### (.+)\n((?:(?!^##).*\n)+)", TEXT, flags=re.MULTILINE))
STANDARD = re.compile(r"\b(IEC|ISO|EN|ANSI|ASCE|UL|NFPA|AS|HSE) ?[\w/]*\d|NFPA 70|common practice, no source")
ORDER = ["open-water", "mains-near-water", "battery", "wet-limits", "dc-arc", "wind-load", "slippery-paving", "frost"]


def test_names_are_unique_and_fit_an_address() -> None:
    names = re.findall(r"^### (.+)$", TEXT, flags=re.MULTILINE)
    assert len(names) == len(set(names)) == len(NOTES) > 20
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", name) for name in names)


@together("name", NOTES)
def test_each_note_names_its_ground_and_defers(name: str) -> None:
    (ground,) = re.findall(r"^- Rests on: ((?:.+\n  )?.+)\.$", NOTES[name], flags=re.MULTILINE)
    (who,) = re.findall(r"^- Decides: (.+)\.$", NOTES[name], flags=re.MULTILINE)
    assert STANDARD.search(ground), ground
    assert len(who) > 10
    assert NOTES[name].startswith("**")


def test_names_in_the_text_exist() -> None:
    for name in re.findall(r"`([a-z-]+)`", TEXT):
        assert name in NOTES


def test_what_hurts_most_stands_first() -> None:
    places = [list(NOTES).index(name) for name in ORDER]
    assert places == sorted(places)


def test_nothing_is_permission() -> None:
    assert "Nothing here is permission." in TEXT.split("## Life")[0]
    for word in ("is allowed", "is permitted", "is safe.", "you may"):
        assert word not in TEXT.split("## Life")[1].lower(), word
