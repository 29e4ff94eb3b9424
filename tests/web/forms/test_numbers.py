"""Numbers as people type them: what is read, what is asked about, what is left as it was typed."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from web.forms.numbers import UnclearError, number, with_point


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("7.3", 7.3),
        (" 7.3 ", 7.3),
        ("0", 0.0),
        ("-0", 0.0),
        ("+7.3", 7.3),
        ("-79.95", -79.95),
        ("\N{MINUS SIGN}79.95", -79.95),
        ("\N{EN DASH}79.95", -79.95),
        ("- 5", -5.0),
        ("7,3", 7.3),
        ("-0,33", -0.33),
        ("0,123", 0.123),
        (",5", 0.5),
        (".5", 0.5),
        ("5.", 5.0),
        ("1 200", 1200.0),
        ("1\N{NO-BREAK SPACE}200", 1200.0),
        ("1\N{NARROW NO-BREAK SPACE}200", 1200.0),
        ("1\N{THIN SPACE}200,5", 1200.5),
        ("1'200", 1200.0),
        ("1\N{RIGHT SINGLE QUOTATION MARK}200.5", 1200.5),
        ("\t7.3\r\n", 7.3),
        ("1,234.5", 1234.5),
        ("1.234,5", 1234.5),
        ("1,234,567", 1234567.0),
        ("1.234.567", 1234567.0),
        ("-1,234,567.25", -1234567.25),
        ("1234,5", 1234.5),
        ("1,2345", 1.2345),
        ("1.234", 1.234),
        ("1.5e-3", 0.0015),
        ("1,5E-3", 0.0015),
        ("2e3", 2000.0),
        ("١٢", 12.0),
        ("１２．５".replace("．", "."), 12.5),
    ],
)
def test_a_number_is_read(text: str, expected: float) -> None:
    assert number(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "",
        "abc",
        "12 1",
        "1 20",
        "nan",
        "inf",
        "-inf",
        "infinity",
        "0x10",
        "1_000",
        "1.2.3",
        "1,2,3",
        "1,23,456",
        "1.234.56",
        "1.23,456,7",
        "12.34,567.8",
        ".",
        ",",
        "-",
        "--5",
        "5-6",
        "5 - 6",
        "1/2",
        "46°03'",
        "½",
        "2 x 1.5",
        "1e5000",
        "7.3; DROP TABLE",
        "<b>7</b>",
        "7\N{SUPERSCRIPT TWO}\N{PILE OF POO}",
        "m" * 600,
    ],
)
def test_what_is_no_number_comes_back_as_it_was_typed(text: str) -> None:
    assert number(text) is text


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1,234", "1,234 can be read in two ways; write 1.234 or 1234"),
        ("12,500", "12,500 can be read in two ways; write 12.500 or 12500"),
        ("-123,456", "-123,456 can be read in two ways; write -123.456 or -123456"),
        (" 1,234 m", "1,234 can be read in two ways; write 1.234 or 1234"),
        ("١,٢٣٤", "1,234 can be read in two ways; write 1.234 or 1234"),
    ],
)
def test_a_comma_before_three_digits_is_asked_about(text: str, said: str) -> None:
    with pytest.raises(UnclearError) as error:
        number(text, "m")
    assert str(error.value) == said


@pytest.mark.parametrize(
    ("text", "unit", "expected"),
    [
        ("1.2 m", "m", 1.2),
        ("1,2m", "m", 1.2),
        ("3 metres", "m", 3.0),
        ("13 mm", "mm", 13.0),
        ("1.5 mm²", "mm²", 1.5),
        ("1.5 mm2", "mm²", 1.5),
        ("35°", "°", 35.0),
        ("35 deg", "°", 35.0),
        ("20 °C", "°C", 20.0),
        ("-20c", "°C", -20.0),
        ("3 %", "%", 3.0),
        ("-0.33 %/K", "%/K", -0.33),
        ("-0.33 %/°C", "%/K", -0.33),
        ("17.6V", "V", 17.6),
        ("12 volts", "V", 12.0),
        ("0.86 A", "A", 0.86),
        ("2.2 Ω", "Ω", 2.2),
        ("2.2 \N{OHM SIGN}", "Ω", 2.2),
        ("2.2 ohm", "Ω", 2.2),
        ("6 L/min", "L/min", 6.0),
        ("6 l/min", "L/min", 6.0),
        ("4.2 kWh/m²", "kWh/m²", 4.2),
    ],
)
def test_the_fields_own_unit_may_stand_behind_the_number(text: str, unit: str, expected: float) -> None:
    assert number(text, unit) == expected


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("45 cm", "m"),
        ("13 mm", "m"),
        ("20 ft", "m"),
        ("500 l/h", "L/min"),
        ("1.5 m", "mm²"),
        ("120 mA", "A"),
        ("68 °F", "°C"),
        ("0.5 in", "mm"),
        ("3.6 MJ/m²", "kWh/m²"),
        ("46.05 N", "°"),
    ],
)
def test_another_unit_is_asked_about(text: str, unit: str) -> None:
    with pytest.raises(UnclearError) as error:
        number(text, unit)
    expected = f"{text} has another unit than this field, which takes {unit}; work it out and write the number alone"
    assert str(error.value) == expected


def test_a_field_without_a_unit_says_so() -> None:
    with pytest.raises(UnclearError, match=r"^0\.2 kg has another unit than this field, which has no unit; "):
        number("0.2 kg")


def test_what_a_message_repeats_is_short() -> None:
    with pytest.raises(UnclearError) as error:
        number(" " * 40 + "7" + " " * 200 + "kg", "m")
    assert len(str(error.value)) < 150


def test_whole_numbers_become_integers_where_they_are_asked_for() -> None:
    assert [number(text, whole=True) for text in ("3", "3.0", "3,0", "1e2", "2.5")] == [3, 3, 3, 100, 2.5]
    assert [type(number(text, whole=True)) for text in ("3", "3.0", "2.5")] == [int, int, float]
    assert type(number("3")) is float


@pytest.mark.parametrize("text", ["1e999", "-1e999", "9" * 400])
@pytest.mark.parametrize("whole", [False, True])
def test_what_is_too_large_is_infinite_for_the_model_to_refuse(text: str, whole: bool) -> None:
    found = number(text, whole=whole)
    assert isinstance(found, float)
    assert math.isinf(found)


def test_marks_between_thousands_go_and_the_last_mark_parts_decimals() -> None:
    assert with_point("1,234,567.25") == "1234567.25"
    assert with_point("1.234.567,25") == "1234567.25"
    assert with_point("12,34.5") == ""


@given(st.floats(-1e12, 1e12).filter(lambda value: value == 0 or abs(value) > 1e-9))
def test_every_number_comes_back_as_it_was_written(value: float) -> None:
    assert number(f"{value:.17g}") == value
    grouped = f"{value:,.6f}".replace(",", "\N{NARROW NO-BREAK SPACE}")
    assert number(grouped) == round(value, 6)


@given(st.text(max_size=40), st.sampled_from(["", "m", "°C", "L/min"]), st.booleans())
def test_no_text_breaks_it(text: str, unit: str, whole: bool) -> None:
    try:
        found = number(text, unit, whole)
    except UnclearError:
        return
    assert found is text if isinstance(found, str) else not math.isnan(found)
