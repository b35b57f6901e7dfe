"""Room and lack in print: never more room and never less of a lack than there is, the same length in both units."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.quantities import convert_difference
from afield.core.report.amounts import amount, shortened


@pytest.mark.parametrize(
    ("size", "uncertainty", "unit", "up", "told"),
    [
        (12.126, 2.0, "in", True, "13 in (31 cm)"),
        (12.126, 2.0, "in", False, "12 in (30 cm)"),
        (42.6, 20.0, "ft", True, "43 ft (13 m)"),
        (0.1, 0.02, "m", True, "0.10 m (0.33 ft)"),
        (12.0, None, "in", True, "12 in (31 cm)"),
        (9.84251968504, None, "ft", True, "9.843 ft (3.000 m)"),
        (9.84251968504, None, "ft", False, "9.842 ft (3.000 m)"),
        (0.5, None, "m", False, "0.5 m (1.6 ft)"),
        (2.04, 0.3, "kg", True, "2.1 kg"),
        (3, None, "", True, "3"),
        (0.4, 5.0, "m", False, "0.4 m (1 ft)"),
    ],
)
def test_a_size_is_rounded_to_its_safe_side(
    size: float, uncertainty: float | None, unit: str, up: bool, told: str
) -> None:
    assert amount(size, uncertainty, unit, up) == told


@given(st.floats(0.01, 5000), st.one_of(st.none(), st.floats(0.005, 90)), st.booleans())
def test_both_units_keep_to_the_safe_side_and_tell_of_one_length(size: float, width: float | None, up: bool) -> None:
    first, second = (float(found) for found in re.findall(r"[\d.]+", amount(size, width, "ft", up)))
    in_metres = convert_difference(size, "ft", "m")
    for shown, exact in ((first, size), (second, in_metres)):
        assert shown > 0
        assert shown >= exact * (1 - 1e-9) if up else shown <= exact * (1 + 1e-9)
    step = max(width or 0.0, 0.001, size * 0.1)
    assert abs(convert_difference(first, "ft", "m") - second) <= step


def test_an_exact_value_loses_the_digits_that_a_conversion_made() -> None:
    assert [shortened(value) for value in (-9.84251968504, 0.000123456789, 12.5, 0.0)] == [-9.843, 0.0001235, 12.5, 0.0]
