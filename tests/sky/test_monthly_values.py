"""Typed months: what is taken, what is refused, what is pointed out."""

import numpy as np
import pytest

from sizing.foundation.errors import SizingError
from sizing.place.place import Place
from sizing.sky.monthly_values import AIR_POINTER, SUN_POINTER, typed_clearness, typed_temperature
from sizing.sky.solar_position import monthly_extraterrestrial

MADISON = Place("garden", 43.13, -89.33, 262.0)
MADISON_SUN = (1.79, 2.75, 3.57, 4.46, 5.93, 6.40, 6.27, 5.65, 4.05, 2.91, 1.77, 1.59)
"""[kWh/m2 a day] Long-term means: Duffie & Beckman, Example 2.19.1 (4th ed.), divided by 3.6."""


def codes(place: Place, sun: tuple[float, ...]) -> list[str]:
    return [note.code for note in typed_clearness(place, sun)[1]]


def test_clearness_is_typed_sun_over_sun_above_the_air() -> None:
    clearness, notes = typed_clearness(MADISON, MADISON_SUN)
    by_hand = np.array(MADISON_SUN) * 1000 / 24 / monthly_extraterrestrial(43.13)
    assert np.allclose(clearness, by_hand)
    assert notes == ()
    # The same example prints a January clearness of 0.48 and gives June 0.55.
    assert clearness[0] == pytest.approx(0.48, abs=0.015)
    assert clearness[5] == pytest.approx(0.55, abs=0.01)


@pytest.mark.parametrize("values", [(), (1.0,) * 11, (1.0,) * 13, (1.0,) * 11 + (float("nan"),), (1.0,) * 11 + (float("inf"),)])
def test_twelve_numbers_or_none(values: tuple[float, ...]) -> None:
    with pytest.raises(SizingError) as caught:
        typed_clearness(MADISON, values)
    assert caught.value.problems[0].pointer == SUN_POINTER
    assert str(caught.value) == (
        f"sun on level ground has {len(values)} values; a year has 12 months; give a number for each, January first."
    )


def test_more_sun_than_physics_permits_is_refused_by_month() -> None:
    in_megajoule = (*MADISON_SUN[:6], 22.58, *MADISON_SUN[7:])
    with pytest.raises(SizingError) as caught:
        typed_clearness(MADISON, in_megajoule)
    problem = caught.value.problems[0]
    most = 0.85 * monthly_extraterrestrial(43.13)[6] * 24 / 1000
    assert problem.pointer == f"{SUN_POINTER}/6"
    assert problem.detail == (
        f"sun of July is 22.58 kWh/m2 a day; at this latitude at most {most:.2f} reaches the ground; "
        "give the mean of a day, not of a month, and not in MJ."
    )
    assert (problem.minimum, problem.maximum) == (0, round(most, 2))


def test_just_inside_and_just_outside_the_limit() -> None:
    most = 0.85 * monthly_extraterrestrial(43.13) * 24 / 1000
    assert np.allclose(typed_clearness(MADISON, tuple(most * (1 - 1e-9)))[0], 0.85)
    with pytest.raises(SizingError, match="sun of January is"):
        typed_clearness(MADISON, tuple(most * (1 + 1e-6)))


def test_less_than_nothing_is_refused() -> None:
    with pytest.raises(SizingError, match=r"sun of March is -0\.1 kWh/m2 a day; at this latitude at most"):
        typed_clearness(MADISON, (*MADISON_SUN[:2], -0.1, *MADISON_SUN[3:]))


def test_polar_night_must_be_dark() -> None:
    tromso = Place("school", 69.65, 18.96, 10.0)
    sun = (0.0, 0.5, 1.8, 3.5, 4.6, 4.9, 4.5, 3.2, 1.8, 0.7, 0.05, 0.0)
    clearness, _ = typed_clearness(tromso, sun)
    assert clearness[11] == 0
    with pytest.raises(SizingError) as caught:
        typed_clearness(tromso, (*sun[:11], 0.2))
    assert str(caught.value) == (
        "sun of December is 0.2 kWh/m2 a day; the sun does not rise in that month here; type 0, or check the latitude."
    )
    assert (caught.value.problems[0].minimum, caught.value.problems[0].maximum) == (0, 0.0)


def test_a_nearly_dark_month_is_pointed_out() -> None:
    sun = (*MADISON_SUN[:6], 0.6, *MADISON_SUN[7:])
    _, notes = typed_clearness(MADISON, sun)
    assert [(note.code, note.severity, note.pointer) for note in notes] == [("very_dark_month", "warning", f"{SUN_POINTER}/6")]
    assert notes[0].detail == (
        "sun of July is 0.6 kWh/m2 a day, only 5 % of the sun above the air; "
        "the cloudiest places have about 20 %; check the figure."
    )


def test_seasons_of_the_other_hemisphere_are_pointed_out() -> None:
    buenos_aires = Place("school", -34.6, -58.4, 25.0)
    turned = tuple(np.roll(MADISON_SUN, 6))
    assert "seasons_reversed" not in codes(buenos_aires, turned)
    with pytest.raises(SizingError, match=r"sun of May is 5\.93"):
        typed_clearness(buenos_aires, MADISON_SUN)
    assert "seasons_reversed" in codes(buenos_aires, (3.0, 3.0, 3.0, 3.0, 2.9, 2.5, 2.8, 3.9, 4.0, 3.0, 2.0, 2.0))
    assert "seasons_reversed" not in codes(Place("tropics", -12.0, -77.0, 10.0), (4.0,) * 6 + (5.5,) * 6)


def test_far_from_the_built_in_table_is_pointed_out() -> None:
    halved = tuple(value / 2 for value in MADISON_SUN)
    _, notes = typed_clearness(MADISON, halved)
    assert [note.code for note in notes] == ["far_from_table"]
    assert notes[0].detail.startswith("the typed year has 5")
    assert notes[0].detail.endswith("check the place and that the figures are kWh/m2 a day on level ground.")
    assert codes(Place("Honolulu", 21.31, -157.86, 5.0), (2.0,) * 12) == []  # no table there to compare with


def test_typed_temperature() -> None:
    assert typed_temperature([-3, 0, 4, 9, 14, 18, 20, 19, 15, 9, 3, -1]) == (-3, 0, 4, 9, 14, 18, 20, 19, 15, 9, 3, -1)
    with pytest.raises(SizingError) as caught:
        typed_temperature([68.0] * 12)
    assert caught.value.problems[0].pointer == f"{AIR_POINTER}/0"
    assert str(caught.value) == (
        "mean air temperature of January is 68 degrees C; months on Earth lie between -60 and 60; "
        "check the sign and that it is not in Fahrenheit."
    )
    with pytest.raises(SizingError, match="air temperature has 3 values; a year has 12 months"):
        typed_temperature([1, 2, 3])
