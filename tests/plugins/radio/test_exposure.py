from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.exposure import DUTY, mode_duty_factor, time_averaged_power

SHARE = st.floats(0, 1)


@given(st.floats(0, 2000), SHARE, SHARE)
def test_the_average_is_never_more_than_the_peak(pep_w: float, duty: float, share: float) -> None:
    assert 0 <= time_averaged_power(pep_w, duty, share * 360, 360) <= pep_w * (1 + 1e-12)


@pytest.mark.parametrize("mode", DUTY)
def test_every_duty_factor_is_a_share(mode: str) -> None:
    assert 0 < mode_duty_factor(mode) <= 1


def test_a_mode_that_the_table_does_not_name_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        mode_duty_factor("CW")
    assert str(refused.value).startswith('mode "CW" is not known; known are conversational SSB, no speech processing;')


@pytest.mark.parametrize(
    ("figures", "complaint"),
    [
        ((100, 0.4, 400, 360), "time on the air 400 s is outside 0 to 360"),
        ((100, 1.1, 10, 360), "duty factor 1.1 is outside 0 to 1"),
        ((-1, 0.4, 10, 360), "PEP -1 W is below 0"),
        ((100, 0.4, 10, 0), "window 0 s is not above 0"),
    ],
)
def test_figures_out_of_range_are_refused(figures: tuple[float, ...], complaint: str) -> None:
    with pytest.raises(ValueError, match=f"^{complaint}$"):
        time_averaged_power(*figures)
