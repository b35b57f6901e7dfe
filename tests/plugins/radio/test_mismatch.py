from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.lines import line_total_loss
from afield.plugins.radio.computations.mismatch import (
    forward_power_for_delivered,
    quarter_wave_transformer,
    swr_from_powers,
    swr_quantities,
)

RATIOS = st.floats(min_value=1, max_value=1e4)
WATTS = st.floats(min_value=1e-6, max_value=1e5)
OHMS = st.floats(min_value=1e-3, max_value=1e5)


@given(RATIOS, WATTS)
def test_the_powers_of_a_ratio_read_back_as_the_ratio(swr: float, delivered: float) -> None:
    powers = forward_power_for_delivered(swr, delivered)
    assert swr_from_powers(*powers) == pytest.approx(swr, rel=1e-6)
    assert powers.forward_w - powers.reflected_w == pytest.approx(delivered, rel=1e-6)


@given(RATIOS)
def test_the_four_figures_of_a_ratio_agree(swr: float) -> None:
    found = swr_quantities(swr)
    assert found.reflected_percent == pytest.approx(100 * found.gamma**2)
    assert 10 ** (-found.return_loss_db / 20) == pytest.approx(found.gamma)
    assert 10 ** (-found.mismatch_loss_db / 10) == pytest.approx(4 * swr / (swr + 1) ** 2, rel=1e-6)


def test_the_ends_of_the_scale() -> None:
    assert swr_quantities(1) == (0, inf, 0, 0)
    assert swr_quantities(inf) == (1, 0, inf, 100)


def test_four_to_one_reflects_60_percent_of_the_voltage_not_56() -> None:
    assert swr_quantities(4).gamma == pytest.approx(0.60)


def test_mismatch_loss_is_no_loss_of_a_system_with_a_tuner() -> None:
    assert swr_quantities(4).mismatch_loss_db == pytest.approx(1.94, abs=0.005)
    assert line_total_loss(0, 4, power_in_w=100) == (0, 0, 100)


@given(OHMS, OHMS)
def test_a_quarter_wave_matches_both_ways(load: float, line: float) -> None:
    section = quarter_wave_transformer(load, line)
    assert section**2 / load == pytest.approx(line)
    assert section == quarter_wave_transformer(line, load)


@pytest.mark.parametrize(
    ("computed", "message"),
    [
        (lambda: swr_quantities(0.5), "SWR 0.5 is below 1"),
        (lambda: swr_quantities(nan), "SWR nan is not a finite number"),
        (lambda: swr_from_powers(0, 0), "forward power 0 W is not above 0"),
        (lambda: swr_from_powers(10, -1), "reflected power -1 W is below 0"),
        (lambda: swr_from_powers(10, 10), "reflected power 10 W is not below the forward 10 W"),
        (lambda: forward_power_for_delivered(inf, 100), "SWR inf is not a finite number"),
        (lambda: forward_power_for_delivered(2, 0), "delivered power 0 W is not above 0"),
        (lambda: quarter_wave_transformer(0, 50), "load 0 ohm is not above 0"),
        (lambda: quarter_wave_transformer(100, -50), "line -50 ohm is not above 0"),
    ],
)
def test_figures_that_mean_nothing_are_refused(computed: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computed()
    assert str(refused.value) == message
