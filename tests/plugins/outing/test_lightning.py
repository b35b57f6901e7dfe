from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.outing.computations.lightning import lightning_30_30


@given(st.floats(min_value=0, max_value=75))
def test_any_thunder_that_is_heard_means_shelter(time_s: float) -> None:
    found = lightning_30_30(time_s)
    assert found.shelter is True
    assert found.within_30_s is (time_s <= 30)
    assert found.resume_after_min == 30


def test_miles_and_kilometres_are_two_rules_of_thumb() -> None:
    found = lightning_30_30(15)
    assert (found.distance_mi, found.distance_km) == (3, 5)


@pytest.mark.parametrize(
    ("time_s", "message"),
    [
        (-1, "flash to thunder -1 s is outside 0 to 75"),
        (80, "thunder after 80 s belongs to a later, nearer flash: none carries 75 s"),
        (float("nan"), "flash to thunder nan s is not a finite number"),
    ],
)
def test_times_that_are_none_are_refused(time_s: float, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        lightning_30_30(time_s)
    assert str(refused.value) == message
