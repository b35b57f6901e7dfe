from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.magnetic import (
    decimal_year,
    magnetic_declination,
    magnetic_to_true_bearing,
    true_to_magnetic_bearing,
)

ANGLES = st.floats(min_value=-720, max_value=720)


@given(ANGLES, st.floats(min_value=-180, max_value=180))
def test_a_bearing_by_compass_and_back(bearing: float, declination: float) -> None:
    magnetic = true_to_magnetic_bearing(bearing, declination)
    assert 0 <= magnetic < 360
    back = magnetic_to_true_bearing(magnetic, declination)
    assert abs((back - bearing + 180) % 360 - 180) < 1e-9


def test_east_is_least() -> None:
    assert true_to_magnetic_bearing(40, 13) == 27
    assert magnetic_to_true_bearing(27, 13) == 40
    assert true_to_magnetic_bearing(5, -355) == 0


def test_a_bearing_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        true_to_magnetic_bearing(40, float("inf"))
    assert str(refused.value) == "declination inf is not a finite number"


@pytest.mark.parametrize(
    ("date", "year"), [("2026-01-01", 2026.0), ("2026-07-02", 2026 + 182 / 365), ("2028-12-31", 2028 + 365 / 366)]
)
def test_decimal_years(date: str, year: float) -> None:
    assert decimal_year(date) == year


def test_the_error_of_the_declination_grows_where_the_field_dips() -> None:
    temperate, arctic = magnetic_declination(39.9, -117.3, 2026.5), magnetic_declination(78, 16, 2026.5)
    assert temperate.zone == arctic.zone == "normal"
    assert temperate.declination_error_95pct_deg == pytest.approx(
        1.96 * (0.26**2 + (5417 / temperate.horizontal_nt) ** 2) ** 0.5
    )
    assert arctic.declination_error_95pct_deg > temperate.declination_error_95pct_deg


def test_near_the_magnetic_pole_a_compass_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        magnetic_declination(86, 140, 2026.0)
    assert str(refused.value).startswith("a compass is of no use at 86, 140: the horizontal field is ")
    assert str(refused.value).endswith(" nT, below 2000 nT")


def test_zones_by_horizontal_field() -> None:
    assert magnetic_declination(86, 140, 2026.0, allow_blackout=True).zone == "blackout"
    caution = magnetic_declination(78, -100, 2026.0)
    assert caution.zone == "caution"
    assert 2000 <= caution.horizontal_nt < 6000


@pytest.mark.parametrize("year", [2024.99, 2030.0])
def test_the_model_ends(year: float) -> None:
    with pytest.raises(ValueError) as refused:
        magnetic_declination(40, -117, year)
    assert str(refused.value) == f"year {year:g} is outside WMM2025, which holds from 2025.0 to 2030.0"


@pytest.mark.parametrize("height_m", [-1001, 850_001])
def test_the_model_has_a_floor_and_a_ceiling(height_m: float) -> None:
    with pytest.raises(ValueError) as refused:
        magnetic_declination(40, -117, 2026, height_m)
    assert str(refused.value) == f"height {height_m} m is outside WMM2025, which holds from -1 km to 850 km"


def test_a_date_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        decimal_year("2026-02-30")
    assert str(refused.value) == '"2026-02-30" is no date; write it as 2026-06-27'
