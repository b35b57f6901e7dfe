import subprocess
import sys
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.quantities import (
    DIMENSIONS,
    QuantityError,
    convert,
    convert_difference,
    convert_exact,
    dimension_of,
    factor,
    same_dimension,
    to_12_digits,
)
from afield.core.quantities.pint_units import pint_unit
from afield.core.quantities.units import UNITS


@pytest.mark.parametrize(
    ("digits", "source", "target", "expected"),
    [
        ("100", "ft", "m", "30.48"),
        ("1", "mi", "m", "1609.344"),
        ("1", "yd", "m", "0.9144"),
        ("12", "in", "ft", "1"),
        ("1", "nmi", "m", "1852"),
        ("6", "ft", "fathom", "1"),
        ("16", "oz", "lb", "1"),
        ("90", "min", "h", "1.5"),
        ("77", "degF", "degC", "25"),
        ("0", "degC", "K", "273.15"),
        ("1", "Ah", "C", "3600"),
        ("36", "km/h", "m/s", "10"),
    ],
)
def test_units_that_are_exactly_related_convert_exactly(digits: str, source: str, target: str, expected: str) -> None:
    assert convert_exact(Decimal(digits), source, target) == Decimal(expected)
    assert convert(float(digits), source, target) == float(expected)


def test_a_difference_of_temperatures_leaves_out_the_zero() -> None:
    assert convert_difference(9, "degF", "degC") == 5
    assert convert_difference(2, "m", "m") == 2


def test_values_that_are_not_finite_stay_so() -> None:
    assert convert(float("inf"), "m", "ft") == float("inf")


def test_factor_is_exact_and_refuses_scales_that_do_not_share_their_zero() -> None:
    assert factor("ft", "m") == Fraction("0.3048")
    with pytest.raises(QuantityError) as caught:
        factor("degF", "degC")
    assert str(caught.value) == (
        "degF and degC do not share their zero. Convert the value itself, or a difference of two."
    )


def test_units_of_two_dimensions_do_not_convert() -> None:
    with pytest.raises(QuantityError) as caught:
        convert(1, "m", "V")
    assert str(caught.value) == (
        '"m" is the unit of a length, "V" of a voltage. Only values of one dimension can be converted.'
    )


@pytest.mark.parametrize(
    ("word", "advice"),
    [("metrs", 'Did you mean "metres"?'), ("qqqq", 'Units are written as "m", "V", "min".')],
)
def test_an_unknown_unit_is_named(word: str, advice: str) -> None:
    with pytest.raises(QuantityError) as caught:
        dimension_of(word)
    assert str(caught.value) == f'"{word}" is not a known unit. {advice}'


def test_dimensions_are_told_apart_though_they_have_none_in_physics() -> None:
    assert same_dimension("ft", "furlong")
    assert not same_dimension("deg", "%")
    assert not same_dimension("dB", "")
    assert dimension_of("") == "count"


def test_every_reference_unit_is_the_first_of_its_dimension() -> None:
    for dimension, symbol in DIMENSIONS.items():
        if symbol:
            unit = UNITS[symbol]
            assert (unit.dimension, unit.scale, unit.offset) == (dimension, Fraction(1), Fraction(0))


OTHERWISE_TO_PINT = {"in": "inch", "mm2": "mm**2", "cm2": "cm**2", "m2": "m**2"}
NOT_COMPARED = {"deg", "rad", "arcmin", "arcsec", "%", "ppm", "dB", "degC", "degF", "K", "kn", "fathom"}
"""Without a dimension to pint, with another zero or name there, or (fathom) of the older US survey foot there."""


@pytest.mark.parametrize("word", sorted({unit.symbol for unit in UNITS.values()} - NOT_COMPARED))
def test_the_table_agrees_with_pint(word: str) -> None:
    listed, by_pint = (
        UNITS[word],
        pint_unit(OTHERWISE_TO_PINT.get(word, word)),
    )
    assert by_pint is not None
    assert by_pint.dimension == listed.dimension
    assert float(by_pint.scale) == pytest.approx(float(listed.scale), rel=1e-12)


@pytest.mark.parametrize("word", ["__import__('os')", "m**999999", "", "1/0", "turn", "m" * 40])
def test_pint_is_not_asked_for_what_is_no_unit_of_ours(word: str) -> None:
    assert pint_unit(word) is None


@given(st.floats(-1e9, 1e9), st.sampled_from(["ft", "mi", "in", "nmi", "yd", "km"]))
def test_there_and_back_is_the_same(value: float, unit: str) -> None:
    assert convert(convert(value, "m", unit), unit, "m") == pytest.approx(value, rel=1e-12)


def test_12_digits_drop_the_noise_of_binary_arithmetic() -> None:
    assert to_12_digits(0.1 + 0.2) == 0.3
    assert to_12_digits(123456789012345) == 123456789012000


def test_converting_listed_units_does_not_import_pint() -> None:
    code = "import sys; from afield.core.quantities import convert, parse_quantity, printed; convert(1, 'ft', 'm');"
    code += "parse_quantity('5 m', 'length'); printed(1.0, 0.1, 'm', True); print('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout == "False\n"
