from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.fuses import (
    SMALL_CONDUCTOR_FUSES_A,
    copper_ampacity_60c,
    fuse_for_continuous_load,
    small_conductor_max_fuse,
)

AMPERES = st.floats(min_value=0, max_value=100)


def test_the_table_of_fuses() -> None:
    found = {awg: small_conductor_max_fuse(awg) for awg in SMALL_CONDUCTOR_FUSES_A}
    assert found == {18: 7, 16: 10, 14: 15, 12: 20, 10: 30}


def test_a_fuse_ceiling_is_below_what_the_wire_may_carry() -> None:
    ampacity_of_10_awg_at_75_c = 35
    assert small_conductor_max_fuse(10) < ampacity_of_10_awg_at_75_c


@pytest.mark.parametrize(
    ("awg", "material", "message"),
    [
        (8, "copper", "NEC 240.4(D) has no fuse for 8 AWG; it has 18, 16, 14, 12 and 10 AWG"),
        (13, "copper", "NEC 240.4(D) has no fuse for 13 AWG; it has 18, 16, 14, 12 and 10 AWG"),
        (12, "aluminium", 'the fuses of wires of "aluminium" are not known; known are those of copper'),
        (60, "copper", "AWG 60 does not exist; gauges are -3 (4/0), -2 (3/0), -1 (2/0), 0 (1/0) and 1 to 56"),
    ],
)
def test_a_wire_that_the_table_lacks_is_refused(awg: int, material: str, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        small_conductor_max_fuse(awg, material)
    assert str(refused.value) == message


@given(AMPERES, AMPERES)
def test_a_lasting_load_takes_a_quarter_more(continuous_a: float, other_a: float) -> None:
    needed = fuse_for_continuous_load(continuous_a, other_a)
    assert needed >= continuous_a + other_a
    assert needed - other_a == pytest.approx(1.25 * continuous_a)


@pytest.mark.parametrize(("loads", "name"), [((-1, 0), "continuous load"), ((1, -1), "other load")])
def test_a_negative_load_is_refused(loads: tuple[float, float], name: str) -> None:
    with pytest.raises(ValueError) as refused:
        fuse_for_continuous_load(*loads)
    assert str(refused.value) == f"{name} -1 A must be a finite number, 0 or more"


def test_the_ampacity_of_thick_wires_is_that_of_the_column_of_60_degrees() -> None:
    assert [copper_ampacity_60c(gauge) for gauge in (8, 6, 4, 2, 0, -3)] == [40, 55, 70, 95, 125, 195]


@pytest.mark.parametrize("awg", [5, 7, 9, 10, 18])
def test_a_wire_without_an_ampacity_in_the_table_is_refused(awg: int) -> None:
    said = f"no ampacity of {awg} AWG is kept; there are 8, 6, 4, 3, 2, 1 and 1/0 to 4/0 AWG"
    with pytest.raises(ValueError, match=f"^{re.escape(said)}$"):
        copper_ampacity_60c(awg)
