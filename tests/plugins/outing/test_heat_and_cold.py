from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.outing.computations.heat_and_cold import heat_index_f, wind_chill_f

COLD = st.floats(min_value=-50, max_value=50)
WINDS = st.floats(min_value=3, max_value=110)


@given(COLD, WINDS, WINDS)
def test_more_wind_is_colder_and_none_is_warmer_than_the_air(temperature: float, one: float, other: float) -> None:
    light, strong = sorted((one, other))
    assert wind_chill_f(temperature, strong) <= wind_chill_f(temperature, light) < temperature


@given(COLD, COLD, WINDS)
def test_colder_air_is_colder(one: float, other: float, wind: float) -> None:
    low, high = sorted((one, other))
    assert wind_chill_f(low, wind) <= wind_chill_f(high, wind)


ROW_AT_15_BELOW = {5: -28, 10: -35, 15: -39, 20: -42, 25: -44, 30: -46, 40: -50, 60: -55}


@pytest.mark.parametrize(("wind", "printed"), ROW_AT_15_BELOW.items())
def test_the_row_that_one_copy_of_the_chart_labels_10_below_is_15_below(wind: float, printed: int) -> None:
    assert abs(wind_chill_f(-15, wind) - printed) < 0.6 < abs(wind_chill_f(-10, wind) - printed)


CHART = [
    (80, 40, 80), (84, 60, 88), (90, 50, 95), (96, 45, 104), (100, 55, 124), (106, 50, 137), (110, 40, 136),
    (86, 95, 108), (90, 100, 132),
]  # fmt: skip


@pytest.mark.parametrize(("temperature", "humidity", "printed"), CHART)
def test_cells_of_the_heat_index_chart(temperature: float, humidity: float, printed: float) -> None:
    # The chart leaves out the two adjustments and rounds.
    assert heat_index_f(temperature, humidity) == pytest.approx(printed, abs=1.3)


@given(st.floats(min_value=50, max_value=76), st.floats(min_value=0, max_value=100))
def test_below_80_the_simple_form_holds(temperature: float, humidity: float) -> None:
    assert heat_index_f(temperature, humidity) == pytest.approx(1.1 * temperature - 10.3 + 0.047 * humidity)


def nine_terms(t: float, rh: float) -> float:
    """The regression as it is printed."""
    return (
        -42.379 + 2.04901523 * t + 10.14333127 * rh - 0.22475541 * t * rh - 0.00683783 * t * t - 0.05481717 * rh * rh
        + 0.00122874 * t * t * rh + 0.00085282 * t * rh * rh - 0.00000199 * t * t * rh * rh
    )  # fmt: skip


@pytest.mark.parametrize(
    ("temperature", "humidity", "adjustment"),
    [
        (95, 5, -2.0),
        (95, 13, 0.0),
        (113, 5, 0.0),
        (82, 85, 0.0),
        (82, 95, 1.0),
        (87, 95, 0.0),
        (88, 95, 0.0),
        (95, 50, 0.0),
    ],
)
def test_dry_air_is_adjusted_down_and_moist_air_up(temperature: float, humidity: float, adjustment: float) -> None:
    adjusted = heat_index_f(temperature, humidity)
    assert adjusted - nine_terms(temperature, humidity) == pytest.approx(adjustment, abs=1e-6)


@pytest.mark.parametrize(
    ("computed", "message"),
    [
        (lambda: wind_chill_f(51, 10), "air temperature 51 F is outside -50 to 50"),
        (lambda: wind_chill_f(20, 2.9), "wind speed 2.9 mph is outside 3 to 110"),
        (lambda: wind_chill_f(float("nan"), 10), "air temperature nan F is not a finite number"),
        (lambda: heat_index_f(49, 50), "air temperature 49 F is outside 50 to 120"),
        (lambda: heat_index_f(90, 101), "relative humidity 101 % is outside 0 to 100"),
        (lambda: heat_index_f(98, 75), "98 F with 75 % has a heat index beyond 137 F, where its chart ends"),
    ],
)
def test_figures_out_of_range_are_refused(computed: Callable[[], float], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computed()
    assert str(refused.value) == message
