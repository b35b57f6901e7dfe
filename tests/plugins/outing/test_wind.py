from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.outing.computations.wind import wind_pressure_simple, wind_velocity_pressure

MPH_M_S = 0.44704
PSF_PA = 47.880259


@given(st.floats(min_value=0, max_value=150))
def test_twice_the_wind_is_four_times_the_pressure(speed: float) -> None:
    assert wind_velocity_pressure(2 * speed) == pytest.approx(4 * wind_velocity_pressure(speed))


@given(st.floats(min_value=1, max_value=300))
def test_both_forms_agree_to_a_thousandth(speed: float) -> None:
    assert wind_velocity_pressure(speed) * PSF_PA == pytest.approx(wind_pressure_simple(speed * MPH_M_S), rel=1e-3)


def test_the_simple_form_is_half_the_density_of_air() -> None:
    assert wind_pressure_simple(10) == pytest.approx(0.5 * 1.225 * 10**2, rel=1e-3)


def test_a_speed_from_a_later_edition_overstates_the_pressure_1_6_times() -> None:
    assert wind_velocity_pressure(1.26 * 90) / wind_velocity_pressure(90) == pytest.approx(1.6, abs=0.02)


@pytest.mark.parametrize(
    ("computed", "message"),
    [
        (lambda: wind_velocity_pressure(-1), "wind speed -1 mph is outside 0 to 300"),
        (lambda: wind_velocity_pressure(90, kz=0), "Kz 0 is outside 0.5 to 2"),
        (lambda: wind_velocity_pressure(90, kzt=0.5), "Kzt 0.5 is outside 1 to 3"),
        (lambda: wind_velocity_pressure(90, kd=1.1), "Kd 1.1 is outside 0.85 to 1"),
        (lambda: wind_velocity_pressure(90, importance=2), "importance 2 is outside 0.77 to 1.15"),
        (lambda: wind_pressure_simple(200), "wind speed 200 m/s is outside 0 to 135"),
        (lambda: wind_pressure_simple(float("inf")), "wind speed inf m/s is not a finite number"),
    ],
)
def test_figures_out_of_range_are_refused(computed: Callable[[], float], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computed()
    assert str(refused.value) == message
