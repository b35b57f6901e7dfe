from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.ionosphere.computations.hops import secant_law_ratio
from afield.plugins.ionosphere.computations.muf import (
    e_layer_muf,
    e_layer_screening,
    longest_hop,
    mirror_height,
    muf_from_m3000,
)
from afield.plugins.ionosphere.computations.near_vertical import near_vertical_band, nvis_frequency

F2 = st.floats(min_value=1.5, max_value=15)
M3000 = st.floats(min_value=2.2, max_value=3.8)
E = st.floats(min_value=0.3, max_value=4.5)
GYRO = st.floats(min_value=0.6, max_value=1.7)


@given(F2, M3000, E, GYRO, st.floats(min_value=400, max_value=3000), st.floats(min_value=400, max_value=3000))
def test_the_limit_grows_with_distance(f2: float, m: float, e: float, gyro: float, one: float, other: float) -> None:
    shorter, longer = sorted((one, other))
    assert muf_from_m3000(f2, m, e, 0, shorter) <= muf_from_m3000(f2, m, e, 0, longer)


@given(F2, M3000, E, GYRO)
def test_at_no_distance_it_is_the_extraordinary_wave(f2: float, m: float, e: float, gyro: float) -> None:
    assert muf_from_m3000(f2, m, e, gyro, 0) == pytest.approx(f2 + gyro / 2)


@given(F2, M3000, E)
def test_at_3000_km_it_is_about_what_the_factor_says(f2: float, m: float, e: float) -> None:
    # B differs from M by 0.124 and by a few hundredths of M squared.
    assert muf_from_m3000(f2, m, e, 0, 3000) / f2 == pytest.approx(m, rel=0.12)


@given(F2, M3000, E, st.floats(min_value=600, max_value=1500))
def test_the_secant_law_is_near_for_a_hop_of_middle_length(f2: float, m: float, e: float, hop: float) -> None:
    thin = secant_law_ratio(hop, mirror_height(m))
    assert muf_from_m3000(f2, m, e, 0, hop) / f2 == pytest.approx(thin, rel=0.25)


@given(F2, M3000, E)
def test_the_longest_hop_is_a_hop(f2: float, m: float, e: float) -> None:
    longest = longest_hop(f2, m, e)
    assert 3000 <= longest <= 4000
    assert muf_from_m3000(f2, m, e, 1, longest) > f2


def test_without_an_e_layer_it_is_as_with_the_greatest_that_counts() -> None:
    assert muf_from_m3000(7, 3, 0, 1.2, 1000) == muf_from_m3000(7, 3, 3.5, 1.2, 1000)


def test_the_e_layer_carries_five_times_its_critical_frequency_at_2000_km() -> None:
    assert e_layer_muf(3.5, 0) == pytest.approx(3.5)
    assert 4.7 < e_layer_muf(3.5, 2000) / 3.5 < 5.4


@given(E, st.floats(min_value=0, max_value=2000), st.floats(min_value=200, max_value=500))
def test_what_the_e_layer_keeps_it_carries_itself(e: float, hop: float, height: float) -> None:
    assert e_layer_screening(e, hop, height) <= 1.05 * e_layer_muf(e, hop) + 1e-9


def test_near_vertical_work_stays_below_the_critical_frequency() -> None:
    assert near_vertical_band(6.0) == pytest.approx((4.8, 5.1, 5.4))
    assert nvis_frequency(6.0) == pytest.approx(5.1)


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (muf_from_m3000, (0.1, 3, 3, 1.2, 500), "foF2 0.1 MHz is outside 0.5 to 30"),
        (muf_from_m3000, (7, 30, 3, 1.2, 500), "M(3000)F2 30 is outside 1.5 to 5"),
        (muf_from_m3000, (7, 3, 12, 1.2, 500), "foE 12 MHz is outside 0 to 8"),
        (muf_from_m3000, (7, 3, 3, 1200, 500), "fH 1200 MHz is outside 0 to 2"),
        (muf_from_m3000, (7, 3, 3, 1.2, 4500), "hop 4500 km is outside 0 to 4000"),
        (
            muf_from_m3000,
            (7, 3, 3, 1.2, 3800, 3500),
            "hop 3800 km is beyond the longest of 3500 km; divide the path into more hops",
        ),
        (mirror_height, (0.5,), "M(3000)F2 0.5 is outside 1.5 to 5"),
        (e_layer_muf, (3, 2500), "hop 2500 km is outside 0 to 2000"),
        (nvis_frequency, (6, 1.2), "factor 1.2 is outside 0.5 to 1"),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
