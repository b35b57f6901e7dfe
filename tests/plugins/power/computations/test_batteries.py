from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.batteries import (
    average_current_and_runtime,
    lfp_charge_limit,
    lfp_pack_voltages,
    watt_hours,
)

AMPERES = st.floats(min_value=0.01, max_value=30)
SHARES = st.floats(min_value=0.01, max_value=1)


def test_a_power_banks_capacity_is_at_the_voltage_of_its_cells() -> None:
    of_cells, as_if_at_5_v = watt_hours(3.7, 20), watt_hours(5, 20)
    assert (of_cells, as_if_at_5_v) == (74, 100)
    deliverable_ah = of_cells * 0.85 / 5
    assert 0.60 <= deliverable_ah / 20 <= 0.65


def test_the_energy_has_no_rounding_of_binary_numbers() -> None:
    assert [one * 0.1 for one in (3, 6, 7)] != [0.3, 0.6, 0.7]
    assert [watt_hours(one, 0.1) for one in (3, 6, 7)] == [0.3, 0.6, 0.7]


@given(AMPERES, AMPERES, st.floats(min_value=0, max_value=1), SHARES)
def test_the_runtime_uses_up_the_usable_charge(rx: float, tx: float, fraction: float, usable: float) -> None:
    budget = average_current_and_runtime(rx, tx, fraction, 4, 12.8, 10, usable)
    assert budget.runtime_h * budget.average_a == pytest.approx(budget.usable_ah)
    assert min(rx, tx) * (1 - 1e-12) <= budget.average_a <= max(rx, tx) * (1 + 1e-12)
    assert budget.needed_wh == pytest.approx(12.8 * budget.needed_ah)


@pytest.mark.parametrize(
    ("celsius", "rate"),
    [
        (-0.1, 0.0),
        (0, 0.1),
        (5, 0.1),
        (5.1, 0.2),
        (10, 0.2),
        (20, 1.0),
        (25, 0.75),
        (50, 0.1),
        (60, 0.1),
        (60.1, 0.0),
    ],
)
def test_how_fast_cells_may_be_charged(celsius: float, rate: float) -> None:
    limit = lfp_charge_limit(celsius)
    assert (limit.charge_allowed, limit.max_c_rate) == (rate > 0, rate)


@given(st.floats(min_value=-60, max_value=100))
def test_no_cell_is_charged_below_0_degrees_nor_above_60(celsius: float) -> None:
    limit = lfp_charge_limit(celsius)
    assert limit.charge_allowed == (0 <= celsius <= 60) == (limit.max_c_rate > 0)
    assert limit.within_common_window == (0 <= celsius <= 45)


@given(st.integers(min_value=1, max_value=32))
def test_a_packs_voltages_are_in_order(series_cells: int) -> None:
    pack = lfp_pack_voltages(series_cells)
    assert pack.full_v > pack.nominal_v > pack.empty_v > 0
    assert pack.full_v == pytest.approx(3.65 * series_cells)


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (watt_hours, (0, 4.4), "nominal voltage 0 V must be a finite number above 0"),
        (watt_hours, (12.8, -1), "capacity -1 Ah must be a finite number above 0"),
        (
            average_current_and_runtime,
            (0, 5, 0, 4, 12.8, 10, 0.8),
            "the station draws nothing, so that its battery would last for ever",
        ),
        (
            average_current_and_runtime,
            (0.5, 5, 20, 4, 12.8, 10, 0.8),
            "transmit fraction 20 is outside 0 to 1",
        ),
        (
            average_current_and_runtime,
            (0.5, 5, 0.2, 4, 12.8, 10, 80),
            "usable fraction 80 is not above 0 and up to 1; write 90 % as 0.9",
        ),
        (
            average_current_and_runtime,
            (0.5, 5, 0.2, -4, 12.8, 10, 0.8),
            "operation -4 h must be a finite number, 0 or more",
        ),
        (
            average_current_and_runtime,
            (-0.5, 5, 0.2, 4, 12.8, 10, 0.8),
            "receive current -0.5 A must be a finite number, 0 or more",
        ),
        (
            average_current_and_runtime,
            (0.5, -5, 0.2, 4, 12.8, 10, 0.8),
            "transmit current -5 A must be a finite number, 0 or more",
        ),
        (lfp_charge_limit, (273.15,), "cell temperature 273.15 °C is outside -60 to 100 °C"),
        (lfp_pack_voltages, (0,), "0 cells in series: 1 to 32 are possible"),
        (lfp_pack_voltages, (4.5,), "4.5 cells in series: 1 to 32 are possible"),
    ],
)
def test_what_cannot_be_is_refused(computation: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(*arguments)
    assert str(refused.value) == message
