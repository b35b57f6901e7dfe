"""A strip's scale holds every value, has round ends, and begins at 0 unless that crowds the intervals together."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.comparing.scales import Scale, scale_of

VALUES = st.lists(st.floats(-1e9, 1e9).map(lambda number: round(number, 3)), min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("values", "start", "end"),
    [
        ([3.6, 8.9], 0.0, 10.0),
        ([883.0, 1491.0], 0.0, 1500.0),
        ([12.1, 12.4], 12.0, 12.5),
        ([-12.4, -12.1], -12.5, -12.0),
        ([-3.0, 4.0], -4.0, 4.0),
        ([-8.9, -3.6], -10.0, 0.0),
        ([5.0, 5.0], 0.0, 6.0),
        ([0.0, 0.0], 0.0, 1.0),
        ([0.002, 0.003], 0.0, 0.003),
    ],
)
def test_its_ends(values: list[float], start: float, end: float) -> None:
    found = scale_of(values)
    assert (found.start, found.end) == (pytest.approx(start), pytest.approx(end))


def test_a_scale_of_exact_values_has_0_on_it() -> None:
    assert scale_of([6.0, 7.0], exact=True) == Scale(0.0, 8.0)
    assert scale_of([6.0, 7.0]) == Scale(5.5, 7.5)


@given(VALUES, st.booleans())
def test_every_value_stands_on_it(values: list[float], exact: bool) -> None:
    found = scale_of(values, exact)
    assert found.start < found.end
    assert all(-1e-9 <= found.at(value) <= 1 + 1e-9 for value in values)
    assert found.holds_zero or not exact


@given(VALUES)
def test_its_ends_are_round(values: list[float]) -> None:
    found = scale_of(values)
    digits = [Decimal(f"{end:.9g}").normalize().as_tuple().digits for end in (found.start, found.end)]
    spread = max(values) - min(values)
    if spread > 1e-3 * max(abs(value) for value in values):
        assert all(len(shown) <= 5 for shown in digits)
