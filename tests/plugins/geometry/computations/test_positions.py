from __future__ import annotations

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.positions import checked_number, checked_position, wrapped_360


def test_a_position_comes_back_as_floats() -> None:
    assert checked_position(-90, 180) == (-90.0, 180.0)
    assert all(isinstance(value, float) for value in checked_position(-90, 180))


@pytest.mark.parametrize(
    ("lat", "lon", "message"),
    [
        (91, 100, "latitude 91 is outside -90 to 90"),
        (-117.30288, 39.90412, "latitude -117.303 is outside -90 to 90. Are latitude and longitude swapped?"),
        (39, 181, "longitude 181 is outside -180 to 180"),
        (nan, 0, "latitude nan is outside -90 to 90"),
        (0, nan, "longitude nan is outside -180 to 180"),
        (inf, 0, "latitude inf is outside -90 to 90"),
    ],
)
def test_a_position_off_the_earth_is_refused(lat: float, lon: float, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        checked_position(lat, lon)
    assert str(refused.value) == message


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_a_figure_that_is_not_finite_is_refused(value: float) -> None:
    with pytest.raises(ValueError) as refused:
        checked_number(value, "bearing")
    assert str(refused.value) == f"bearing {value} is not a finite number"


@given(st.floats(min_value=-1e6, max_value=1e6))
def test_an_angle_is_wrapped_into_the_half_open_circle(angle: float) -> None:
    wrapped = wrapped_360(angle)
    assert 0 <= wrapped < 360
    assert (wrapped - angle) % 360 == pytest.approx(0, abs=1e-6) or (wrapped - angle) % 360 == pytest.approx(360)


def test_a_tiny_negative_angle_is_north() -> None:
    assert wrapped_360(-1e-20) == 0.0
