from __future__ import annotations

from math import cos, radians
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.ionosphere.computations.absorption import hop_absorption, noon_factor, penetration
from afield.plugins.ionosphere.computations.absorption_data import NOON
from afield.plugins.ionosphere.computations.signals import signal_margin

FREQUENCIES = st.floats(min_value=6, max_value=30)
CW = (0.0, 10.0, "CW", "rural", 6.0)


def at(frequency: float = 7.1, hop: float = 300, zenith: float = 20, lat: float = 40, month: int = 6) -> float:
    return hop_absorption(frequency, hop, 300, lat, month, zenith, 20, 3.6, 1.1, 100)


def older_formula(frequency: float, zenith: float) -> float:
    """A widely printed one, straight up: 677.2 (1 + 0.0037 R) cos(0.881 z)^1.3 / ((f + fH)^1.98 + 10.2)."""
    return 677.2 * 1.37 * cos(radians(0.881 * zenith)) ** 1.3 / ((frequency + 1.1) ** 1.98 + 10.2)


@pytest.mark.parametrize("frequency", [7.1, 10.1, 14.1, 21.2])
def test_an_older_formula_gives_about_the_same_straight_up_in_summer(frequency: float) -> None:
    assert at(frequency, hop=0) == pytest.approx(older_formula(frequency, 20), rel=0.3)


@given(FREQUENCIES, FREQUENCIES)
def test_a_higher_frequency_loses_less_by_day(one: float, other: float) -> None:
    lower, higher = sorted((one, other))
    assert at(higher, hop=0) <= at(lower, hop=0) * 1.02


@given(st.floats(min_value=0, max_value=180), st.floats(min_value=0, max_value=180))
def test_a_lower_sun_takes_less(one: float, other: float) -> None:
    higher, lower = sorted((one, other))
    assert at(zenith=lower) <= at(zenith=higher)


def test_the_night_takes_next_to_nothing() -> None:
    assert at(zenith=120) < 0.05 * at(zenith=20)


def test_a_long_hop_loses_more_than_a_short_one() -> None:
    assert at(14.1, hop=2500) > 2 * at(14.1, hop=0)


@given(st.floats(min_value=0, max_value=85), st.integers(1, 12))
def test_the_south_is_the_north_half_a_year_away(lat: float, month: int) -> None:
    assert noon_factor(-lat - 0.001, month) == pytest.approx(noon_factor(lat + 0.001, (month + 5) % 12 + 1))


def test_the_table_is_whole_and_read_between_its_latitudes() -> None:
    assert {len(row) for row in NOON} == {29}
    assert noon_factor(40, 6) == pytest.approx(370.5)
    assert noon_factor(41.25, 6) == pytest.approx((370.5 + 365.1) / 2)


@pytest.mark.parametrize("joint", [1.0, 2.2, 10.0])
def test_the_pieces_of_the_curve_meet(joint: float) -> None:
    assert penetration(joint) == pytest.approx(penetration(joint + 1e-9), abs=0.08)
    assert penetration(50) == 1


def test_a_signal_by_hand() -> None:
    # 10 dBW + 6 - (32.45 + 17.03 + 60.83 + 9.14) - 43.62 + 204 - 27
    assert signal_margin(7.1, 1100, 1, *CW) == pytest.approx(29.94, abs=0.05)


def test_each_part_of_a_signal_counts() -> None:
    base = signal_margin(7.1, 1100, 1, *CW)
    assert signal_margin(7.1, 1100, 2, *CW) == pytest.approx(base - 2)
    assert signal_margin(7.1, 1100, 1, 5.0, 10.0, "CW", "rural", 6.0) == pytest.approx(base - 5)
    assert signal_margin(7.1, 1100, 1, 0.0, 100.0, "CW", "rural", 6.0) == pytest.approx(base + 10)
    assert signal_margin(7.1, 1100, 1, 0.0, 10.0, "SSB", "rural", 6.0) == pytest.approx(base - 13)
    assert signal_margin(7.1, 1100, 1, 0.0, 10.0, "CW", "residential", 6.0) == pytest.approx(base - 5.3)


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (hop_absorption, (50, 0, 300, 40, 6, 20, 20, 3.6, 1.1, 100), "frequency 50 MHz is outside 1.6 to 30"),
        (hop_absorption, (7, 0, 300, 40, 13, 20, 20, 3.6, 1.1, 100), "month 13 is outside 1 to 12"),
        (hop_absorption, (7, 0, 300, 40, 6, 200, 20, 3.6, 1.1, 100), "zenith distance 200 deg is outside 0 to 180"),
        (hop_absorption, (7, 0, 300, 40, 6, 20, 20, 0, 1.1, 100), "foE 0 MHz is outside 0.1 to 8"),
        (signal_margin, (7, 1100, 1, 0, 10, "AM", "rural", 6), 'mode "AM" is not known; known are CW, SSB, digital'),
        (signal_margin, (7, 1100, 1, 0, 0, "CW", "rural", 6), "power 0 W is outside 0.01 to 3000"),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
