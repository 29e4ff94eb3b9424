"""A weather file sent with the form: sized by its own hours, carried on by its months, each fault with its sentence."""

import re
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import httpx
import pytest

from sizing.design.reading import parse_design
from sizing.fountain.site_setup import place_of
from sizing.report.report import size
from sizing.sky.weather import sky_of_bytes
from sizing.sky.weather_file import LARGEST_FILE
from tests.asking import ask
from tests.markup import Element, read
from tests.sky.test_weather_file import DHI, GHI, GREENSBORO_AIR, GREENSBORO_SUN, SAND_POINT, epw, tmy3_text
from tests.web.pages.test_pages import address, boxes
from web.forms.form import Texts
from web.forms.grids import MONTHLY_AIR, MONTHLY_SUN
from web.pages.garden.form_page import example_texts
from web.pages.garden.weather_upload import CHOOSE_AGAIN

ROOT = Path(__file__).resolve().parents[3]
GREENSBORO_PLACE = {
    "place.latitude_deg": "36.1",
    "place.longitude_deg": "-79.95",
    "place.elevation_m": "273",
    "place.time_zone": "America/New_York",
}


def answers(**changes: str) -> Texts:
    """The worked example, moved to Greensboro, with changes."""
    return dict(example_texts()) | GREENSBORO_PLACE | {name.replace("__", "."): text for name, text in changes.items()}


def send(content: bytes, texts: Texts | None = None, name: str = "garden.epw") -> httpx.Response:
    """Send a file with the answers, as the form does."""
    return ask("POST", "/weather", data=answers() if texts is None else texts, files={"weather": (name, content)})


@lru_cache(maxsize=1)
def large_epw() -> bytes:
    """The Greensboro year, each row as wide as flags of uncertainty make it in files of the trade."""
    heading, rows = epw().split(b"\n")[:8], [row.split(b",") for row in epw().split(b"\n")[8:]]
    return b"\n".join([*heading, *(b",".join([*row[:5], b"?9" * 43, *row[6:]]) for row in rows)])


@lru_cache(maxsize=1)
def sized() -> Element:
    """The results by that file."""
    assert 1_550_000 < len(large_epw()) < 1_700_000  # as large as the files of most places
    found = send(large_epw())
    assert found.status_code == 200
    return read(found.text)


def carried(found: Element) -> Texts:
    """The answers that the links of a page carry."""
    links = [each["href"] for each in found.all("a") if each.text == "Change answers"]
    assert len(set(links)) == 1
    return dict(parse_qsl(urlsplit(links[0]).query))


def sentence(found: httpx.Response) -> str:
    """The sentence beside the file's box, which leads the summary to it."""
    assert found.status_code == 422
    form = read(found.text)
    assert form.one("head").one("title").text.startswith("Error: ")
    link = next(each for each in form.one(id="error-summary").all("a") if each["href"] == "#weather-file")
    assert form.one(id="weather-file-error").text == f"Error: {link.text}"
    assert form.one(id="weather-file")["aria-describedby"].split() == ["weather-file-hint", "weather-file-error"]
    assert form.one(id="weather-file")["aria-invalid"] == "true"
    return link.text


def test_a_file_is_sized_by_its_own_hours_and_the_page_says_so() -> None:
    design = parse_design(ask("GET", address("/design.json", answers())).content)
    report = size(design, sky=sky_of_bytes(epw(), "x", place_of(design)[0])[0])
    assert sized().one("h1").text == report.verdict.headline
    note = sized().all(role="note")[0].text
    assert note.startswith("Sized with the hours of Greensboro Piedmont Triad Int, EPW file. The file was read for this page")
    assert "Wind over the panel comes from the weather file." in sized().one("main").text
    assert "clock time of America/New_York" in sized().one("main").text
    assert "built-in table is good to" not in sized().one("main").text


@pytest.mark.slow
def test_both_forms_of_one_year_give_the_same_page() -> None:
    tmy3 = read(send(tmy3_text().encode(), name="723170TYA.CSV").text)
    first, second = (" ".join(each.one("main").text.split()) for each in (sized(), tmy3))
    assert first.replace("EPW", "TMY3") == second


def test_links_carry_the_months_of_the_file_and_where_they_come_from() -> None:
    texts = carried(sized())
    assert texts["sky.kind"] == "monthly"
    assert texts["sky.origin"] == "Monthly means of the weather file Greensboro Piedmont Triad Int, EPW file"
    for month in range(12):
        assert float(texts[f"{MONTHLY_SUN}.{month}"]) == pytest.approx(GREENSBORO_SUN[month], abs=0.007)
        assert float(texts[f"{MONTHLY_AIR}.{month}"]) == pytest.approx(GREENSBORO_AIR[month], abs=0.11)
    same = {name: text for name, text in texts.items() if not name.startswith("sky.")}
    assert same == {name: text for name, text in answers().items() if not name.startswith("sky.")}
    for path in ("/results.csv", "/design.json"):
        assert sized().one("button", formaction=path)["form"] == "moment-form"
    hidden = {each["name"]: each["value"] for each in sized().one(id="moment-form").all("input", type="hidden")}
    assert hidden == texts


def test_the_page_says_how_far_off_its_own_design_file_is() -> None:
    """The litres of the sentence against a sizing of the file that the page saves."""
    note = re.sub("\N{NARROW NO-BREAK SPACE}", "", sized().all(role="note")[0].text).replace("\N{NO-BREAK SPACE}", " ")
    match = re.search(r"it gives (\d+) L a year instead of (\d+) L: (\d+) L \(([\d.]+) %\) (more|less)\.", note)
    assert match
    by_months, by_hours, off, share = (float(part) for part in match.groups()[:4])
    saved = ask("GET", address("/design.json", carried(sized()))).content
    assert size(parse_design(saved)).year.water * 1000 == pytest.approx(by_months, rel=0.005)
    assert off == pytest.approx(abs(by_months - by_hours), abs=1000)
    assert share == pytest.approx(100 * off / by_hours, rel=0.03)
    assert share < 5


@pytest.mark.slow
def test_what_was_typed_of_the_sun_does_not_count_and_is_not_judged() -> None:
    texts = answers(sky__kind="monthly") | {f"{MONTHLY_SUN}.0": "nonsense"}
    assert send(epw(), texts).status_code == 200
    assert send(epw(), answers(sky__kind="weather_file")).status_code == 200


def test_a_file_of_another_place_is_warned_about() -> None:
    found = read(send(epw(), dict(example_texts())).text)
    notes = " ".join(each.text for each in found.all(role="note"))
    assert "km from the place of the design" in notes
    polar = answers(place__latitude_deg="78.2", place__longitude_deg="15.6", place__time_zone="")
    assert "cannot be sized again" in read(send(epw(), polar).text).all(role="note")[0].text


@pytest.mark.slow
def test_a_file_far_north_has_dark_months_that_a_design_file_takes() -> None:
    content = (files("pvlib") / "data" / Path(SAND_POINT).name).read_bytes()
    texts = answers(place__latitude_deg="55.32", place__longitude_deg="-160.52", place__time_zone="", place__elevation_m="7")
    found = read(send(content, texts, "703165TY.csv").text)
    assert "it gives " in found.all(role="note")[0].text
    assert ask("GET", address("/results", carried(found))).status_code == 200


def with_rows(count: int) -> bytes:
    return b"\n".join(epw().split(b"\n")[: 8 + count])


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "Choose a weather file (EPW or TMY3)"),
        (b"hello", "is neither EPW (first line begins with LOCATION) nor TMY3"),
        (b"\x89PNG\r\n\x1a\n" + bytes(500), "is neither EPW"),
        (b"LOCATION,", "cannot be read as EPW"),
        (b"LOCATION,\n" * 9, "cannot be read as EPW"),
        (epw()[:400_000], "Weather file 'garden.epw'"),
        (with_rows(100), "100"),
        (epw((7, GHI, "x")), "global sun"),
        (epw((7, GHI, "9999")), "global sun"),
        (epw((7, DHI, "")), "diffuse sun"),
        (epw((7, 6, "99.9")), "air temperature"),
        (epw((7, 1, "13")), "damaged"),
        (epw().replace(b"36.100", b"136.10"), "latitude"),
        (epw().replace(b",-5.0,", b",east,"), "cannot be read as EPW"),
        (b"x" * (LARGEST_FILE + 1), "is over 5 MB"),
    ],
    ids=[
        *("empty", "text", "a picture", "a heading", "headings", "cut off", "few rows", "a letter", "not measured", "a gap"),
        *("too warm", "month 13", "off the Earth", "zone in words", "too large"),
    ],
)
def test_a_malformed_file_comes_back_with_its_sentence_and_all_texts(content: bytes, said: str) -> None:
    texts = answers(title='Ours & "theirs"', pipe__length_m="7,3 m", sky__kind="monthly") | {f"{MONTHLY_SUN}.3": "4.4"}
    found = send(content, texts)
    assert said in sentence(found)
    assert "Traceback" not in found.text
    form = read(found.text)
    assert len(form.one(id="error-summary").all("a")) == 1
    assert {name: text for name, text in boxes(form).items() if text} == texts


def test_wrong_answers_and_the_file_are_told_together() -> None:
    found = send(epw(), answers(pipe__length_m="abc"))
    assert sentence(found) == CHOOSE_AGAIN
    assert [each["href"] for each in read(found.text).one(id="error-summary").all("a")] == ["#pipe.length_m", "#weather-file"]
    late = send(epw(), answers(panels__0__vmp_v="22"))
    assert "#panels.0.vmp_v" in [each["href"] for each in read(late.text).one(id="error-summary").all("a")]


def test_a_file_that_was_chosen_and_not_sent_is_asked_for() -> None:
    found = ask("GET", address("/results", answers() | {"weather": "garden.epw"}))
    assert sentence(found).startswith("The weather file was not sent")
    assert boxes(read(found.text))["place.latitude_deg"] == "36.1"
    assert ask("GET", address("/results", answers() | {"weather": ""})).status_code == 200


def test_the_address_of_the_upload_without_a_file_leads_to_the_form() -> None:
    assert ask("GET", "/weather").headers["location"] == "/"
    assert ask("GET", address("/weather", {"title": "Ours"})).headers["location"] == "/?title=Ours"
    assert sentence(ask("POST", "/weather", data=answers())).startswith("Choose a weather file")
    assert sentence(ask("POST", "/weather", files={"other": ("x.epw", epw())})).startswith("Choose a weather file")
    assert ask("POST", "/weather", content=b"x", headers={"content-type": "multipart/form-data"}).status_code == 400


def test_only_this_address_takes_so_much() -> None:
    big = b"x" * 1_600_000
    assert ask("POST", "/open", files={"design": ("x.json", big)}).status_code == 413
    assert ask("POST", "/weather/", files={"weather": ("x.epw", big)}).status_code == 413
    assert ask("POST", "/weather", content=big, headers={"content-type": "application/json"}).status_code == 413
    beyond = ask("POST", "/weather", data=answers(), files={"weather": ("x.epw", b"x" * 6_000_000)})
    assert beyond.status_code == 413
    assert "A weather file has at most 5 MB" in read(beyond.text).one("main").text


def test_nothing_of_a_file_is_kept() -> None:
    assert send(epw()).headers["cache-control"] == "private, no-cache"
    found = ask("GET", address("/results", answers()))
    assert "Greensboro" not in found.text
