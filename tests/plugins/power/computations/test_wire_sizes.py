from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.wire_sizes import (
    SAE_CIRCULAR_MILS,
    awg_area,
    awg_circular_mils,
    awg_diameter,
    gauge_name,
)

GAUGES = st.integers(min_value=-3, max_value=55)


@given(GAUGES)
def test_a_higher_gauge_is_a_thinner_wire(awg: int) -> None:
    assert awg_diameter(awg + 1).diameter_mil < awg_diameter(awg).diameter_mil
    assert awg_circular_mils(awg + 1) < awg_circular_mils(awg)
    assert awg_area(awg + 1) < awg_area(awg)


@given(st.integers(min_value=-3, max_value=17))
def test_39_gauges_are_a_factor_of_92_by_definition(awg: int) -> None:
    assert awg_diameter(awg).diameter_mil / awg_diameter(awg + 39).diameter_mil == pytest.approx(92)


@given(GAUGES)
def test_both_areas_are_of_the_same_wire(awg: int) -> None:
    square_mm_per_circular_mil = pi / 4 * 0.0254**2
    assert awg_area(awg) == pytest.approx(awg_circular_mils(awg) * square_mm_per_circular_mil)


@pytest.mark.parametrize(("awg", "mils"), [(-3, 460.0), (-2, 409.6), (-1, 364.8), (0, 324.9), (36, 5.0)])
def test_the_ends_of_the_series_and_the_aughts(awg: int, mils: float) -> None:
    assert awg_diameter(awg).diameter_mil == pytest.approx(mils, abs=0.05)
    assert awg_diameter(awg).diameter_mm == pytest.approx(mils * 0.0254, abs=0.0013)


@pytest.mark.parametrize("awg", [-4, 57, 12.5])
def test_a_gauge_that_does_not_exist_is_refused(awg: int) -> None:
    for computation in (awg_diameter, awg_circular_mils, awg_area):
        with pytest.raises(ValueError) as refused:
            computation(awg)
        assert str(refused.value) == (
            f"AWG {awg} does not exist; gauges are -3 (4/0), -2 (3/0), -1 (2/0), 0 (1/0) and 1 to 56"
        )


def test_sae_wire_is_smaller_than_awg_of_the_same_number() -> None:
    shares = [area / awg_circular_mils(awg) for awg, area in SAE_CIRCULAR_MILS.items()]
    assert all(0.88 < share < 0.98 for share in shares)


@pytest.mark.parametrize(("awg", "name"), [(12, "12 AWG"), (1, "1 AWG"), (0, "1/0 AWG"), (-3, "4/0 AWG")])
def test_gauges_are_printed_as_the_trade_does(awg: int, name: str) -> None:
    assert gauge_name(awg) == name
