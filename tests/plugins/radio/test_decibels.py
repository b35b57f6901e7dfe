from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.decibels import (
    dbi_to_dbd,
    erp,
    erp_to_eirp,
    pep_from_vpp,
    percent_lost,
    power_ratio_db,
)

WATTS = st.floats(min_value=1e-15, max_value=1e6)
LOSSES = st.floats(min_value=0, max_value=200)


@given(WATTS, WATTS)
def test_a_change_and_the_change_back_cancel(first: float, second: float) -> None:
    assert power_ratio_db(first, second) == -power_ratio_db(second, first)


@given(WATTS, WATTS, WATTS)
def test_changes_one_after_the_other_add(first: float, second: float, third: float) -> None:
    added = power_ratio_db(first, second) + power_ratio_db(second, third)
    assert added == pytest.approx(power_ratio_db(first, third), abs=1e-9)


@given(WATTS, st.floats(min_value=0, max_value=100))
def test_a_loss_in_decibels_and_back_is_the_same_share(power: float, loss: float) -> None:
    left = power * (1 - percent_lost(loss) / 100)
    assert power_ratio_db(left, power) == pytest.approx(loss, abs=1e-4)


@given(WATTS, LOSSES)
def test_erp_and_back_is_the_gain(power: float, gain: float) -> None:
    assert power_ratio_db(power, erp(power, gain)) == pytest.approx(gain, abs=1e-9)


@given(WATTS, st.lists(LOSSES, max_size=5))
def test_losses_only_take(power: float, losses: list[float]) -> None:
    assert 0 <= erp(power, 0, losses) <= power


@given(WATTS, st.lists(st.floats(min_value=0, max_value=20), max_size=5))
def test_losses_add(power: float, losses: list[float]) -> None:
    assert erp(power, 0, losses) == pytest.approx(erp(power, 0, [sum(losses)]))


def test_a_single_loss_needs_no_list() -> None:
    assert erp(150, 7, 4.2) == erp(150, 7, [4.2]) == pytest.approx(erp(150, 7, [2, 2.2]))


def test_small_losses_keep_their_figures() -> None:
    assert percent_lost(1e-12) == pytest.approx(2.302585093e-11, rel=1e-9)
    assert percent_lost(0) == 0


def test_the_two_ways_to_an_isotropic_antenna_agree_as_far_as_they_are_rounded() -> None:
    by_factor = power_ratio_db(1, erp_to_eirp(1))
    by_decibels = -dbi_to_dbd(0)
    assert by_decibels == 2.15
    assert by_factor == pytest.approx(by_decibels, abs=0.002)


def test_a_sine_of_200_v_peak_to_peak_is_70_7_v_effective() -> None:
    assert pep_from_vpp(200) == pytest.approx(70.71**2 / 50, rel=1e-4)


@pytest.mark.parametrize(
    ("computed", "message"),
    [
        (lambda: power_ratio_db(0, 5), "first power 0 W is not above 0"),
        (lambda: power_ratio_db(5, -1), "second power -1 W is not above 0"),
        (lambda: power_ratio_db(inf, 5), "first power inf W is not a finite number"),
        (lambda: percent_lost(-1), "loss -1 dB is below 0"),
        (lambda: pep_from_vpp(0), "voltage 0 V is not above 0"),
        (lambda: pep_from_vpp(200, 0), "load 0 ohm is not above 0"),
        (lambda: erp(0, 7), "transmitter output 0 W is not above 0"),
        (lambda: erp(150, 201), "gain 201 dBd is outside -200 to 200"),
        (lambda: erp(150, 7, [2, -2.2]), "loss -2.2 dB is outside 0 to 200"),
        (lambda: dbi_to_dbd(nan), "gain nan dBi is not a finite number"),
        (lambda: erp_to_eirp(-9.15), "ERP -9.15 W is below 0"),
    ],
)
def test_figures_that_mean_nothing_are_refused(computed: Callable[[], float], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computed()
    assert str(refused.value) == message
