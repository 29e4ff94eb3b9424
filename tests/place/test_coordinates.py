"""Coordinates: every usual form, round trips, and sentences for what is unclear."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.foundation.errors import InputError, Problem
from sizing.place.coordinates import angle_in_degrees, read_angle, read_coordinates
from tests.draws import drawn

# 46 degrees 3 minutes = 46.05; 14 degrees 30 minutes 36 seconds = 14 + 30.6/60 = 14.51; 79 degrees 57 minutes = 79.95
LJUBLJANA = (46.05, 14.51)
SYDNEY = (-33.9, 151.2)
GREENSBORO = (36.1, -79.95)


@pytest.mark.parametrize(
    "text",
    [
        "46.05, 14.51",
        "46.05,14.51",
        "46.05 14.51",
        "46.05; 14.51",
        "46.05 / 14.51",
        "46.05\t14.51\n",
        " (46.05, 14.51) ",
        '"46.05, 14.51"',
        "46,05 14,51",
        "46,05; 14,51",
        "46,05, 14,51",
        "46,05 N 14,51 E",
        "46.05 N, 14.51 E",
        "46.05N 14.51E",
        "46.05N14.51E",
        "N46.05 E14.51",
        "N46.05,E14.51",
        "N 46 3 E 14 30.6",
        "14.51 E, 46.05 N",
        "E 14.51 N 46.05",
        "46°03'00\" N 14°30'36\" E",
        "46°03′00″N, 14°30′36″E",
        "46° 3' 0'' N 14° 30' 36'' E",
        "46º03’00” N, 14º30’36” E",
        "46°3',14°30,6'",
        "46°3' 14°30.6'",
        "46° 3.0' N 14° 30.6' E",
        "46 3 0 14 30 36",
        "46:03:00 14:30:36",
        "46 03 N; 14 30 36 E",
        "lat 46.05 lon 14.51",
        "Lat: 46.05, Long: 14.51",
        "latitude=46.05 longitude=14.51",
        "lon 14.51 lat 46.05",
        "46.05 lat. 14.51 lon.",
        "lat 46.05 N lon 14.51 E",
        "46 degrees 3 minutes north, 14 degrees 30 minutes 36 seconds east",
        "46.05 nord 14.51 est",
        "46.05\N{NO-BREAK SPACE}N,\N{NARROW NO-BREAK SPACE}14.51\N{NO-BREAK SPACE}E",
        "+46.05 +14.51",
        "+46.05+14.51/",
        "４６．０５ １４．５１",
        "٤٦٫٠٥، ١٤٫٥١",
    ],
)
def test_one_place_in_many_forms(text: str) -> None:
    assert read_coordinates(text) == pytest.approx(LJUBLJANA, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("36.1 N, 79 57 W", GREENSBORO),
        ("W 79 57 N 36.1", GREENSBORO),
        ("36.1, -79 57", GREENSBORO),
        ("36 06 -79 57", GREENSBORO),
        ("-33.9 151.2", SYDNEY),
        ("−33.9, 151.2", SYDNEY),
        ("–33.9 +151.2", SYDNEY),
        ("33.9S 151.2E", SYDNEY),
        ("33° 54' S, 151° 12' E", SYDNEY),
        ("-33° 54' 151° 12'", SYDNEY),
        ("- 33.9 151.2", SYDNEY),
        ("-33.9-151.2", (-33.9, -151.2)),
        ("N 46 3.5 E 14 30.6", (46 + 3.5 / 60, 14.51)),
        ("0, 0", (0, 0)),
        ("-0 -0", (0, 0)),
        ("90 -180", (90, -180)),
        ("90 S 180 W", (-90, -180)),
        (".5 .25", (0.5, 0.25)),
        ("N.5 E.25", (0.5, 0.25)),
        ("46 14", (46, 14)),
        ("46, 05", (46, 5)),
        ("-0°30' 0°0'36\"", (-0.5, 0.01)),
    ],
)
def test_signs_and_halves(text: str, place: tuple[float, float]) -> None:
    assert read_coordinates(text) == pytest.approx(place, abs=1e-9)


def test_zero_has_no_sign() -> None:
    assert [str(value) for value in read_coordinates("0 S, 0 W")] == ["0.0", "0.0"]


NO_SUCH_LATITUDE = "; latitudes run from -90 (south pole) to 90 (north pole); check the sign and the decimal point."
EXAMPLE = "such as 46.05 N, 14.51 E."


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("46,05,14,51", f'"46,05,14,51" can be read in more than one way; write decimals with points, {EXAMPLE}'),
        ("46.05.14.51", f'"46.05.14.51" can be read in more than one way; write decimals with points, {EXAMPLE}'),
        ("46,14", 'the comma in "46,14" can be a decimal comma or stand between two numbers; write 46.05 N, 14.51 E.'),
        ("46,05 14.51", f"points and commas both stand for decimals; write all decimals alike, {EXAMPLE}"),
        ("46, 05, 14, 51", f"more than one comma parts the text; put one comma between latitude and longitude, {EXAMPLE}"),
        (
            "46.05-14.51",
            "the dash may be a minus or stand between the two numbers; write 46.05 N, 14.51 E, or S and W for a minus.",
        ),
        ("46 - 14", "the dash may be a minus or stand between the two numbers; write 46.05 N, 14.51 E, or S and W for a minus."),
        (
            "46°3'-14°30'",
            "the dash may be a minus or stand between the two numbers; write 46.05 N, 14.51 E, or S and W for a minus.",
        ),
        ("", f"there is no number in the text; write coordinates {EXAMPLE}"),
        (" , ", f"there is no number in the text; write coordinates {EXAMPLE}"),
        ("N E", f"there is no number in the text; write coordinates {EXAMPLE}"),
        ("46.05", f"only one number stands in the text; write latitude and longitude, {EXAMPLE}"),
        ("46.05 N, E", f"one of the two numbers is missing; write latitude and longitude, {EXAMPLE}"),
        ("46 3 14", f"3 numbers stand in the text; write latitude and longitude, {EXAMPLE}"),
        ("46 N 14", f"only one letter (N, S, E or W) stands in the text; give one to each number, {EXAMPLE}"),
        ("N 46 N 3 E 14", f"3 letters (N, S, E or W) stand in the text; give one to each number, {EXAMPLE}"),
        ("46 N 12 S", f"both numbers are a latitude; write one latitude and one longitude, {EXAMPLE}"),
        ("46 E, 12 W", f"both numbers are a longitude; write one latitude and one longitude, {EXAMPLE}"),
        ("lat 46 E, lon 14", "the letter E and the word latitude contradict each other; correct one of them."),
        ("-33.9 S, 151.2 E", "a number has both a sign and the letter S; use one of the two."),
        ("+33.9 N, 151.2 E", "a number has both a sign and the letter N; use one of the two."),
        ("46.5 30 N 14 E", "only the last of degrees, minutes and seconds can have decimals; write 46.05 or 46 3.0 or 46 3 0.0."),
        ("46 3 0 5, 14", "4 numbers stand in one angle; write degrees, or degrees, minutes and seconds."),
        ("46' 3°, 14", "the signs of degrees, minutes and seconds do not follow their numbers; write them as in 46° 3' 0\" N."),
        ("46°° 3', 14", "the signs of degrees, minutes and seconds do not follow their numbers; write them as in 46° 3' 0\" N."),
        ("46 -3, 14 30", "a sign stands inside a number; put it before the degrees."),
        ("46.05 N 14.51 O", 'the letter "O" is east in one language and west in another; write E or W.'),
        ("forty six", f'the word "forty" is not understood; write coordinates {EXAMPLE}'),
        ("nan nan", f'the word "nan" is not understood; write coordinates {EXAMPLE}'),
        ("46.05 14.51 278 m", f'the word "m" is not understood; write coordinates {EXAMPLE}'),
        ("46 .5, 14", "a decimal point stands apart from its number; leave no space before it."),
        ("46. 05 14. 51", f'the sign "." is not understood; write coordinates {EXAMPLE}'),
        ("N .5 E. 14", f'the sign "." is not understood; write coordinates {EXAMPLE}'),
        (",5 14", f"one of the two numbers is missing; write latitude and longitude, {EXAMPLE}"),
        ("46_05 14_51", f'the sign "_" is not understood; write coordinates {EXAMPLE}'),
        ("@46.05,14.51", f'the sign "@" is not understood; write coordinates {EXAMPLE}'),
        ("1" * 201, f"the text has 201 letters; coordinates need 200 at most, {EXAMPLE}"),
    ],
)
def test_what_is_unclear_is_asked_about(text: str, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        read_coordinates(text)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code, problem.detail) == ("#/place", "unclear_coordinates", sentence)


@pytest.mark.parametrize(
    ("text", "limits", "sentence"),
    [
        (
            "151.2 -33.9",
            (-90, 90),
            "latitude is 151.2 degrees; latitudes run from -90 (south pole) to 90 (north pole); "
            "latitude comes first; if this is a longitude, put it second or add E or W.",
        ),
        (
            "90.001 N, 3 E",
            (-90, 90),
            "latitude is 90.001 degrees" + NO_SUCH_LATITUDE,
        ),
        (
            "3, 181",
            (-180, 180),
            "longitude is 181 degrees; longitudes run from -180 (west) to 180 (east); "
            "a longitude counted on from 180 is written -179.",
        ),
        (
            "3, -180.5",
            (-180, 180),
            "longitude is -180.5 degrees; longitudes run from -180 (west) to 180 (east); check the sign and the decimal point.",
        ),
        (
            "4605, 1451",
            (-90, 90),
            "latitude is 4605 degrees" + NO_SUCH_LATITUDE,
        ),
        (
            "46 60 N 14 E",
            (0, 60),
            "minutes are 60; minutes of arc run from 0 to below 60; check the number or write degrees with decimals.",
        ),
        (
            "46 3 75.5 N 14 E",
            (0, 60),
            "seconds are 75.5; seconds of arc run from 0 to below 60; check the number or write degrees with decimals.",
        ),
    ],
)
def test_what_is_not_on_earth_is_refused_with_limits(text: str, limits: tuple[float, float], sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        read_coordinates(text)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code, problem.detail) == ("#/place", "out_of_range", sentence)
    assert (problem.minimum, problem.maximum) == limits


@pytest.mark.parametrize(
    ("text", "axis", "value"),
    [
        ("46,05", "latitude", 46.05),
        ("46.05 N", "latitude", 46.05),
        ("46°3'", "latitude", 46.05),
        ("33 54 0 S", "latitude", -33.9),
        ("lat -33.9", "latitude", -33.9),
        ("79 57 W", "longitude", -79.95),
        ("w79.95", "longitude", -79.95),
        ("-179.999", "longitude", -179.999),
    ],
)
def test_one_field(text: str, axis: str, value: float) -> None:
    assert read_angle(text, axis) == pytest.approx(value, abs=1e-9)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "axis", "code", "sentence"),
    [
        ("14.51 E", "latitude", "wrong_axis", "this is a longitude; the field asks for the latitude; exchange the two fields."),
        ("46 N", "longitude", "wrong_axis", "this is a latitude; the field asks for the longitude; exchange the two fields."),
        ("", "longitude", "unclear_coordinates", "there is no number in the text; write coordinates such as 14.51 E."),
        ("about 46", "latitude", "unclear_coordinates", 'the word "about" is not understood; write coordinates such as 46.05 N.'),
        (
            "46.05, 14.51",
            "latitude",
            "unclear_coordinates",
            "this is not one angle; write degrees, or degrees, minutes and seconds, such as 46 3 0 N.",
        ),
        (
            "4e5",
            "latitude",
            "unclear_coordinates",
            "this is not one angle; write degrees, or degrees, minutes and seconds, such as 46 3 0 N.",
        ),
        (
            "N 46 N",
            "latitude",
            "unclear_coordinates",
            "one number has more than one letter N, S, E or W; write coordinates such as 46.05 N.",
        ),
        ("--46", "latitude", "unclear_coordinates", "one number has more than one sign; write coordinates such as 46.05 N."),
        (
            "lat lat 46",
            "latitude",
            "unclear_coordinates",
            "one number has more than one word; write coordinates such as 46.05 N.",
        ),
        (
            "151.2",
            "latitude",
            "out_of_range",
            "latitude is 151.2 degrees" + NO_SUCH_LATITUDE,
        ),
    ],
)
def test_one_field_refuses_with_its_own_pointer(text: str, axis: str, code: str, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        read_angle(text, axis)  # type: ignore[arg-type]
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code, problem.detail) == (f"#/place/{axis}_deg", code, sentence)


def test_angle_by_hand() -> None:
    # 7 degrees 7.3 minutes 19.1 seconds = 7 + 0.1216667 + 0.0053056
    assert angle_in_degrees(7, 7.3, 19.1) == pytest.approx(7.1269722, abs=1e-7)


def sides(value: float, positive: str, negative: str) -> str:
    return negative if value < 0 else positive


def in_minutes(value: float) -> str:
    """Degrees and minutes with four decimals, without a sign; sums in whole ten-thousandths, so that none reads 60."""
    whole, rest = divmod(round(abs(value) * 600_000), 600_000)
    return f"{whole}° {rest / 10_000:.4f}'"


def in_seconds(value: float) -> str:
    """Degrees, minutes and seconds with two decimals, without a sign."""
    minutes, rest = divmod(round(abs(value) * 360_000), 6_000)
    return f"{minutes // 60}° {minutes % 60}' {rest / 100:.2f}\""


def forms(latitude: float, longitude: float) -> list[str]:
    """A place in every form."""
    north, east = sides(latitude, "N", "S"), sides(longitude, "E", "W")
    plain = [(f"{latitude:.6f}", f"{longitude:.6f}")]
    bare = [(f"{abs(latitude):.6f}", f"{abs(longitude):.6f}")]
    marked = [(write(latitude), write(longitude)) for write in (in_minutes, in_seconds)]
    spaced = [tuple(text.translate(str.maketrans("", "", "°'\"")) for text in pair) for pair in marked]
    made = [f"{a}, {b}" for a, b in plain] + [f"{a} {b}" for a, b in plain] + [f"{a},{b}" for a, b in plain]
    made += [f"lat {a} lon {b}" for a, b in plain] + [f"lon: {b}; lat: {a}" for a, b in plain]
    for a, b in bare + marked + spaced:
        made += [f"{a} {north}, {b} {east}", f"{a}{north} {b}{east}", f"{north} {a} {east} {b}", f"{b} {east} {a} {north}"]
    made += [f"{'-' * (latitude < 0)}{a}, {'-' * (longitude < 0)}{b}" for a, b in marked + spaced]
    made += [text.replace(".", ",").replace(", ", "; ") for text in made if "," not in text.replace(", ", "")]
    made += [text.replace("-", "−").replace("'", "′").replace('"', "″").replace(" ", "\N{NO-BREAK SPACE}") for text in made]
    return made


@drawn(60)
@given(st.floats(-90, 90), st.floats(-180, 180))
def test_any_place_reads_back_from_every_form(latitude: float, longitude: float) -> None:
    for text in forms(latitude, longitude):
        assert read_coordinates(text) == pytest.approx((latitude, longitude), abs=1e-4), text


def outcome(read: Callable[[], Any]) -> tuple[Any, Problem | None]:
    """What was read, or the problem."""
    try:
        return read(), None
    except InputError as error:
        return None, error.problems[0]


@drawn(150)
@given(st.text(max_size=40) | st.text("0123456789.,;°'\"NSEWnsew+-− /:latonged", max_size=24))
def test_any_text_is_read_or_refused(text: str) -> None:
    found, problem = outcome(lambda: read_coordinates(text))
    if problem:
        assert problem.pointer == "#/place"
        assert problem.detail.endswith(".")
    else:
        assert -90 <= found[0] <= 90
        assert -180 <= found[1] <= 180
    for axis, limit in (("latitude", 90), ("longitude", 180)):
        found, problem = outcome(lambda axis=axis: read_angle(text, axis))
        assert problem.pointer == f"#/place/{axis}_deg" if problem else abs(found) <= limit
