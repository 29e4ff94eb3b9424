"""Numbers that cannot stand on a panel's label are refused, each with a sentence and a place."""

import math

import pytest

from sizing.electric.panel_label import label_problems

GOOD = {"vmp": 17.5, "imp": 4.58, "voc": 21.8, "isc": 4.97, "isc_coefficient": 0.0005, "voc_coefficient": -0.0034}
ISC_FIELD, VOC_FIELD = "isc_temperature_coefficient_pct_per_c", "voc_temperature_coefficient_pct_per_c"


def problems(**changed: float) -> tuple:
    return label_problems(**(GOOD | changed), pointer="#/panels/3")


def test_an_ordinary_label_passes() -> None:
    assert problems() == ()


@pytest.mark.parametrize(
    ("changed", "field", "code", "words"),
    [
        ({"vmp": 0.0}, "vmp_v", "out_of_range", "panel vmp is 0 V; it must be a number above 0"),
        ({"imp": -1.0}, "imp_a", "out_of_range", "panel imp is -1 A; it must be a number above 0"),
        ({"voc": math.nan}, "voc_v", "out_of_range", "panel voc is nan V; it must be a number above 0"),
        ({"isc": math.inf}, "isc_a", "out_of_range", "panel isc is inf A; it must be a number above 0"),
        ({"vmp": 21.8}, "vmp_v", "vmp_not_below_voc", "panel vmp is 21.8 V; it must be below voc, 21.8 V; look whether"),
        ({"vmp": 22.4}, "vmp_v", "vmp_not_below_voc", "panel vmp is 22.4 V; it must be below voc, 21.8 V; look whether"),
        ({"imp": 5.2}, "imp_a", "imp_not_below_isc", "panel imp is 5.2 A; it must be below isc, 4.97 A; look whether"),
        (
            {"vmp": 21.3, "imp": 4.9},
            "vmp_v",
            "fill_factor_implausible",
            "over voc isc) is 0.96; a silicon panel lies between 0.40",
        ),
        ({"vmp": 9.0}, "vmp_v", "fill_factor_implausible", "over voc isc) is 0.38; a silicon panel lies between 0.40 and 0.90"),
        (
            {"isc_coefficient": 0.0053},
            ISC_FIELD,
            "coefficient_implausible",
            "coefficient is 0.53 %/°C; it lies between -0.1 and 0.2",
        ),
        ({"isc_coefficient": -0.0034}, ISC_FIELD, "coefficient_implausible", "coefficient is -0.34 %/°C; it lies between"),
        ({"voc_coefficient": 0.0034}, VOC_FIELD, "coefficient_implausible", "coefficient is 0.34 %/°C; it lies between -0.6 and"),
        (
            {"voc_coefficient": -0.34},
            VOC_FIELD,
            "coefficient_implausible",
            "coefficient is -34 %/°C; it lies between -0.6 and -0.1",
        ),
        ({"voc_coefficient": -0.000034}, VOC_FIELD, "coefficient_implausible", "coefficient is -0.0034 %/°C; it lies between"),
        ({"voc_coefficient": math.nan}, VOC_FIELD, "coefficient_implausible", "coefficient is nan %/°C; it lies between"),
    ],
)
def test_one_sentence_for_one_wrong_number(changed: dict, field: str, code: str, words: str) -> None:
    (problem,) = problems(**changed)
    assert problem.pointer == f"#/panels/3/{field}"
    assert problem.code == code
    assert words in problem.detail
    assert problem.detail.count("; ") >= 2


def test_every_wrong_number_is_told_at_once() -> None:
    found = problems(vmp=30.0, imp=9.0, isc_coefficient=0.01, voc_coefficient=0.01)
    assert [problem.pointer.rsplit("/", 1)[1] for problem in found] == ["vmp_v", "imp_a", ISC_FIELD, VOC_FIELD]


def test_limits_are_inclusive() -> None:
    assert problems(isc_coefficient=-0.001) == problems(isc_coefficient=0.002) == ()
    assert problems(voc_coefficient=-0.006) == problems(voc_coefficient=-0.001) == ()


@pytest.mark.parametrize("percent", [-0.34, -0.30])
def test_nameplate_and_measured_coefficient_of_small_panels_pass(percent: float) -> None:
    # 50 W, 12 V panels: -0.34 %/°C by nameplate, -0.30 measured (EPJ Photovoltaics 2018, pv180007, Table 2).
    assert problems(voc_coefficient=percent / 100) == ()


def test_the_spread_of_real_modules_passes() -> None:
    # Medians and 5..95 % of 20,946 crystalline modules of the 2019 California list, in % per Cel.
    for percent in (-0.40, -0.337, -0.28):
        assert problems(voc_coefficient=percent / 100) == ()
    for percent in (0.024, 0.051, 0.095):
        assert problems(isc_coefficient=percent / 100) == ()
