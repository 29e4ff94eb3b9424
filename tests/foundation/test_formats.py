"""Words: numbers, units, hours, months and sums as a reader expects them."""

import math

import pytest

from sizing.foundation import formats
from sizing.foundation.aligned_numbers import column
from web.pages.frame import sums


def plain(text: str) -> str:
    """Ordinary spaces for the spaces that do not break."""
    return text.replace(formats.SPACE, " ").replace(formats.NARROW_SPACE, " ")


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (0, "0"),
        (-0.0, "0"),
        (7.3, "7.3"),
        (0.0191, "0.0191"),
        (1.579, "1.58"),
        (99.95, "100"),  # 99.95 rounds half up to 100 (three figures: 100.)
        (9.996, "10"),
        (1234.5, "1230"),
        (12345, "12 300"),
        (1234567, "1 230 000"),
        (9999999, "1 × 10⁷"),
        (12345678, "1.23 × 10⁷"),
        (0.00012345, "0.000123"),
        (0.0000987654, "9.88 × 10⁻⁵"),
        (-0.5, "−0.5"),
        (-12345, "−12 300"),
        (-1.5e-9, "−1.5 × 10⁻⁹"),
    ],
)
def test_three_figures(value: float, shown: str) -> None:
    assert plain(formats.figures(value)) == shown


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_nothing_but_finite_numbers_is_shown(value: float) -> None:
    for show in (formats.figures, formats.length, formats.litres, formats.clock, formats.duration, formats.compass):
        with pytest.raises(ValueError, match=r"^only finite numbers can be shown, not -?(nan|inf)$"):
            show(value)
    with pytest.raises(ValueError, match="only finite"):
        column((1.0, value))


@pytest.mark.parametrize(
    ("code", "shown"),
    [
        ("m3/s", "m³/s"),
        ("m3/h", "m³/h"),
        ("W/m2", "W/m²"),
        ("Cel", "°C"),
        ("l/min", "L/min"),
        ("l/d", "L/day"),
        ("l", "L"),
        ("1", ""),
        ("%", "%"),
        ("deg", "°"),
        ("Ohm", "Ω"),
        ("Ohm.m", "Ω·m"),
        ("m/s2", "m/s²"),
        ("kg/m3", "kg/m³"),
        ("Pa.s", "Pa·s"),
        ("kW.h/m2", "kWh/m²"),
        ("W.h", "Wh"),
        ("J/K", "J/K"),
        ("A/K", "A/K"),
        ("K-1", "K⁻¹"),
        ("1/K", "1/K"),
        ("mm2", "mm²"),
        ("min", "min"),
        ("m", "m"),
        ("N.m/A", "N·m/A"),
    ],
)
def test_units_as_people_write_them(code: str, shown: str) -> None:
    assert formats.unit(code) == shown


def test_quantities() -> None:
    assert plain(formats.quantity(0.20849, "m")) == "0.208 m"
    assert formats.quantity(1.579, "m") == f"1.58{formats.SPACE}m"
    assert formats.quantity(30, "deg") == "30°"
    assert plain(formats.quantity(-4.25, "Cel")) == "−4.25 °C"
    assert formats.quantity(0.0302, "1") == "0.0302"
    assert plain(formats.percent(0.937)) == "94 %"


@pytest.mark.parametrize(
    ("metres", "shown"),
    [
        (0, "0 cm"),
        (0.0000191, "0 cm"),
        (0.0001, "0.1 mm"),
        (0.0048, "4.8 mm"),
        (0.0191, "1.9 cm"),
        (0.0999, "10 cm"),
        (0.618, "62 cm"),
        (0.994, "99 cm"),
        (0.996, "1 m"),
        (1.579, "1.58 m"),
        (9.876, "9.88 m"),
        (73.24, "73.2 m"),
        (-0.3, "−30 cm"),
    ],
)
def test_lengths_as_on_a_tape_measure(metres: float, shown: str) -> None:
    assert plain(formats.length(metres)) == shown


def test_length_unit_goes_with_the_largest() -> None:
    assert formats.length_unit(0) == ("cm", 100.0)
    assert formats.length_unit(1.99) == ("cm", 100.0)
    assert formats.length_unit(2.0) == ("m", 1.0)


def test_hours() -> None:
    assert formats.clock(0) == "0:00"
    assert formats.clock(9 + 40 / 60) == "9:40"
    assert formats.clock(9.999) == "10:00"
    assert formats.clock(11.9999, step=10) == "12:00"
    assert formats.clock(24) == "24:00"
    assert formats.hour_span(9.7, 15.29) == "9:40 to 15:20"
    assert plain(formats.duration(5.6667)) == "5 h 40 min"
    assert plain(formats.duration(0.999)) == "1 h"


@pytest.mark.parametrize(("hours", "shown"), [(-0.1, "−0.1"), (24.01, "24")])
def test_an_hour_outside_the_day_is_refused(hours: float, shown: str) -> None:
    with pytest.raises(ValueError, match=rf"^an hour of the day lies between 0 and 24, not at {shown}$"):
        formats.clock(hours)


def test_runs_of_months() -> None:
    assert formats.month_span([]) == ""
    assert formats.month_span([6]) == "June"
    assert formats.month_span([4, 5]) == "April and May"
    assert formats.month_span([4, 5, 6, 7, 8]) == "April to August"
    assert formats.month_span([3, 5, 6, 7]) == "March, May to July"
    assert formats.month_span([12, 1, 2]) == "December to February"
    assert formats.month_span([12, 1]) == "December and January"
    assert formats.month_span(range(1, 13)) == "the whole year"
    with pytest.raises(ValueError, match=r"^months are numbered from 1 to 12$"):
        formats.month_span([0, 1])


def test_months_have_one_and_three_letters() -> None:
    assert "".join(formats.MONTH_LETTERS) == "JFMAMJJASOND"
    assert formats.SHORT_MONTHS[8] == "Sep"


def test_directions() -> None:
    assert [formats.compass(azimuth) for azimuth in (0, 90, 180, 270, 360)] == ["north", "east", "south", "west", "north"]
    assert formats.compass(157) == "south-east"
    assert formats.compass(158) == "south"


@pytest.mark.parametrize(
    ("code", "shown"),
    [
        (
            "friction_factor * length / diameter * velocity**2 / (2 * g)",
            "friction factor × length ÷ diameter × velocity² ÷ (2 × g)",
        ),
        ("sqrt(2 * gravity * head)", "√(2 × gravity × head)"),
        ("sqrt(head)", "√head"),
        ("sqrt(nozzle_head)", "√(nozzle head)"),
        ("nozzle_head**0.5", "√(nozzle head)"),
        ("pi / 4 * diameter**2", "π ÷ 4 × diameter²"),
        ("wind_speed**2", "(wind speed)²"),
        ("a - (b - c)", "a − (b − c)"),
        ("a - b - c", "a − b − c"),
        ("a / (b * c)", "a ÷ (b × c)"),
        ("a * (b + c)", "a × (b + c)"),
        ("a / b * c", "a ÷ b × c"),
        ("-a**2", "−a²"),
        ("(-a)**2", "(−a)²"),
        ("a * -b", "a × (−b)"),
        ("a - -b", "a − (−b)"),
        ("a**-1", "a⁻¹"),
        ("a**1.5", "a^1.5"),
        ("a**(1 / 3)", "a^(1 ÷ 3)"),
        ("a**n_s", "a^(n s)"),
        ("(a + b)**2", "(a + b)²"),
        ("a**2**3", "a^(2³)"),
        ("1e-5 * a", "1 × 10⁻⁵ × a"),
        ("a / 1e-5", "a ÷ (1 × 10⁻⁵)"),
        ("exp(-a / b)", "exp(−a ÷ b)"),
        ("arccos(cos(tilt))", "arc cos(cos(tilt))"),
        ("maximum(0, head - lift)", "the larger of (0 and head − lift)"),
        ("where(re < 2000, 64 / re, b)", "(64 ÷ re where re < 2000, otherwise b)"),
        ("(a > 0) & (b <= 2)", "a > 0 and b ≤ 2"),
        ("pump_head = system_head", "pump head = system head"),
        ("0.0302 * 3.2 / 0.013 * 0.741**2", "0.0302 × 3.2 ÷ 0.013 × 0.741²"),
        ("4 * (-0.5)", "4 × (−0.5)"),
        ("found by a solver_of ours", "found by a solver of ours"),
        ("points[0] * a", "points[0] × a"),
    ],
)
def test_sums_as_a_reader_writes_them(code: str, shown: str) -> None:
    assert plain(sums.formula(code)) == shown


def test_numbers_put_in_carry_their_units() -> None:
    inputs = {"friction_factor": (0.03021, "1"), "length": (3.2, "m"), "velocity": (0.7412, "m/s"), "g": (9.80665, "m/s2")}
    assert plain(sums.put_in("friction_factor * length * velocity**2 / (2 * g)", inputs)) == (
        "0.03021 × 3.2 m × (0.7412 m/s)² ÷ (2 × 9.807 m/s²)"
    )
    assert plain(sums.put_in("a / b", {"a": (2, "1"), "b": (1.93e-5, "m3/s")})) == "2 ÷ (1.93 × 10⁻⁵ m³/s)"
    assert plain(sums.put_in("a * b", {"a": (2, "1"), "b": (-1.93e-5, "1")})) == "2 × (−1.93 × 10⁻⁵)"
    assert plain(sums.put_in("a * b", {"a": (2, "1"), "b": (-30, "deg")})) == "2 × (−30°)"
    assert plain(sums.put_in("a**2", {"a": (3, "1")})) == "3²"


def test_what_was_written_computes_the_same() -> None:
    values = {"a": 7.3, "b": 0.0191, "c": -2.7}
    for code in ("a - (b - c)", "a / (b / c)", "a * (b + c) / (a - b)", "-a**2 * c", "(a - c)**2 / -b", "a - b * (c - a)"):
        back = sums.formula(code).replace("×", "*").replace("÷", "/").replace("−", "-").replace("²", "**2")
        assert eval(back, {}, values) == pytest.approx(eval(code, {}, values))
