"""Modes, and the current that they take."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.duty import MODES, average_transmit_current, mode_of, transmit_current

laws = st.floats(0.5, 1.0)


def test_modes_are_known_whatever_their_capitals() -> None:
    assert [(mode_of(text).name, mode_of(text).duty) for text in ("ssb", "USB ", "Cw", "FM", "ft8", "RTTY")] == [
        ("SSB", 0.35), ("SSB", 0.35), ("CW", 0.4), ("FM", 1.0), ("data in fixed turns", 1.0), ("data", 1.0),
    ]  # fmt: skip


def test_shares_are_shares_with_their_uncertainty() -> None:
    for mode in MODES.values():
        assert 0 < mode.share - mode.share_around < mode.share + mode.share_around < 1
        assert 0 < mode.duty - mode.duty_around <= mode.duty + mode.duty_around <= 1


def test_an_unknown_mode_is_named_with_what_is_near() -> None:
    with pytest.raises(ValueError) as refused:
        mode_of("RTY")
    assert str(refused.value) == (
        'mode "RTY" is not known; did you mean "RTTY"? known are "SSB", "USB", "LSB", "PHONE", "VOICE", "CW", "MORSE", '
        '"FM", "NFM", "DATA", "DIGITAL", "RTTY", and 12 more'
    )


@given(st.floats(0.1, 5), st.floats(5.1, 20), laws)
def test_the_current_lies_between_those_of_the_outputs_around(low: float, high: float, law: float) -> None:
    power = (low + high) / 2
    found = transmit_current(0.4, low, 1.0, high, 2.5, power, law)
    assert 1.0 <= found <= 2.5
    assert transmit_current(0.4, low, 1.0, high, 2.5, low, law) == pytest.approx(1.0)
    assert transmit_current(0.4, low, 1.0, high, 2.5, high, law) == pytest.approx(2.5)


def test_the_root_law_takes_more_at_half_the_output_than_the_straight_one() -> None:
    assert transmit_current(0.4, 0, 0.4, 10, 2.4, 2.5, 0.5) == pytest.approx(1.4)
    assert transmit_current(0.4, 0, 0.4, 10, 2.4, 2.5, 1.0) == pytest.approx(0.9)


def test_keyed_current_is_that_of_the_duty_and_speech_at_most_its_root() -> None:
    assert average_transmit_current(0.4, 2.4, 0.4, 1.0) == pytest.approx(1.2)
    assert average_transmit_current(0.4, 2.4, 0.25, 0.5) == pytest.approx(1.4)


@given(st.lists(st.floats(0, 1), min_size=2, max_size=50), laws)
def test_the_mean_of_a_varying_current_is_at_most_that_of_the_mean_power(powers: list[float], law: float) -> None:
    mean_of_currents = float(np.mean([2.0 * power**law for power in powers]))
    assert mean_of_currents <= average_transmit_current(0, 2.0, float(np.mean(powers)), law) + 1e-9


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ((0.4, 5, 1, 10, 2, 12, 0.7), "output 12 W is outside 5 to 10 W"),
        ((0.4, 5, 1, 10, 2, 7, 0.3), "exponent 0.3 is outside 0.5 to 1"),
    ],
)
def test_what_the_law_does_not_cover_is_refused(values: tuple[float, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        transmit_current(*values)
    assert str(refused.value) == message


def test_a_duty_in_per_cent_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        average_transmit_current(0.4, 2.4, 40, 1.0)
    assert str(refused.value) == "duty 40 is outside 0 to 1"


def test_speech_takes_in_what_the_source_has_with_and_without_processing() -> None:
    """FCC OET Bulletin 65, Supplement B (97-01), table 2: 20 % without speech processing, 50 % with much of it."""
    speech = mode_of("SSB")
    ends = (speech.duty - speech.duty_around, speech.duty + speech.duty_around)
    assert ends == pytest.approx((0.2, 0.5))
