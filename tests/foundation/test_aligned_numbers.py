"""Numbers that stand together end at the same decimal; a value is told as far as its uncertainty lets it be known."""

import math

import pytest

from sizing.foundation.aligned_numbers import column, give_or_take, one_decimal, with_range
from tests.foundation.test_formats import plain


def test_a_column_has_one_number_of_decimals() -> None:
    assert column((144.4, 7.3, 0)) == ("144", "7", "0")
    assert column((1.2345, 0.0191)) == ("1.23", "0.02")
    assert column((0.0123, 0.00191)) == ("0.0123", "0.0019")
    assert column(()) == ()
    assert column((0, 0)) == ("0", "0")
    assert column((-0.001, 2.5)) == ("0.00", "2.50")
    assert [plain(text) for text in column((123456, 7))] == ["123 456", "7"]


@pytest.mark.parametrize(
    ("value", "uncertainty", "code", "shown"),
    [
        # JCGM 100, 7.2.6 (from memory): 10.05762 Ω with 27 mΩ is told as 10.058 Ω, and the rest follows the same rule.
        (10.05762, 0.027, "Ohm", "10.058 ± 0.027 Ω"),
        (1.69, 0.0274, "m", "1.690 ± 0.027 m"),
        (0.98, 0.0996, "1", "0.98 ± 0.10"),
        (6.04, 1.2, "%", "6.0 ± 1.2 %"),
        (-0.01, 1.4, "K", "0.0 ± 1.4 K"),
        (1234.5, 126.0, "W/m2", "1230 ± 130 W/m²"),
        (45.0, 2.0, "deg", "45.0 ± 2.0°"),
        (4.0, 0.0, "m", "4 ± 0 m"),
    ],
)
def test_a_value_is_told_as_far_as_it_is_known(value: float, uncertainty: float, code: str, shown: str) -> None:
    assert plain(with_range(value, uncertainty, code)) == shown


@pytest.mark.parametrize(
    ("size", "uncertainty", "shown"),
    [
        (0.41, 12.0, "0.4 % less, give or take 12 %"),
        (0.0, 2.0, "0 % less, give or take 2.0 %"),
        (37.25, 4.71, "37.2 % less, give or take 4.7 %"),
        (100.0, 0.0, "100 % less, give or take 0 %"),
    ],
)
def test_what_vanishes_beside_its_uncertainty_keeps_one_figure(size: float, uncertainty: float, shown: str) -> None:
    assert plain(give_or_take(size, uncertainty, "less")) == shown


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_range_is_shown_of_what_is_no_number(value: float) -> None:
    for given in ((value, 1.0), (1.0, value)):
        with pytest.raises(ValueError, match="only finite numbers can be shown"):
            with_range(*given)


def test_nothing_below_zero_is_not_minus_nothing() -> None:
    assert [one_decimal(value) for value in (-0.04, 0.0, -0.06, 7.96)] == ["0.0", "0.0", "−0.1", "8.0"]
