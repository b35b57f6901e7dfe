from __future__ import annotations

from math import inf, nan

import pytest

from afield.plugins.power.computations.amounts import not_negative, positive, share, within


@pytest.mark.parametrize(
    ("value", "message"),
    [
        (0, "current 0 A must be a finite number above 0"),
        (-1.5, "current -1.5 A must be a finite number above 0"),
        (inf, "current inf A must be a finite number above 0"),
        (nan, "current nan A must be a finite number above 0"),
    ],
)
def test_an_amount_that_must_be_above_zero(value: float, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        positive(value, "current", "A")
    assert str(refused.value) == message


@pytest.mark.parametrize("value", [-0.1, inf, nan])
def test_an_amount_that_must_not_be_negative(value: float) -> None:
    with pytest.raises(ValueError) as refused:
        not_negative(value, "length", "m")
    assert str(refused.value) == f"length {value:g} m must be a finite number, 0 or more"
    assert not_negative(0, "length", "m") == 0


def test_an_amount_that_must_be_in_a_range() -> None:
    with pytest.raises(ValueError) as refused:
        within(nan, 5, 100, "temperature", "°C")
    assert str(refused.value) == "temperature nan °C is outside 5 to 100 °C"
    with pytest.raises(ValueError) as bare:
        within(2.5, 1, 2, "exponent", "")
    assert str(bare.value) == "exponent 2.5 is outside 1 to 2"
    assert within(5, 5, 100, "temperature", "°C") == 5


@pytest.mark.parametrize("value", [0, -0.2, 90, nan])
def test_a_share_in_per_cent_is_refused(value: float) -> None:
    with pytest.raises(ValueError) as refused:
        share(value, "efficiency")
    assert str(refused.value) == f"efficiency {value:g} is not above 0 and up to 1; write 90 % as 0.9"
    assert share(1, "efficiency") == 1
