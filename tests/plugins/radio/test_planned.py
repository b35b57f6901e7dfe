"""What the schedule says, as this plugin reads it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.api import CannotTell
from afield.plugins.radio.bands import BANDS, band_of
from afield.plugins.radio.planned import merged, planned_uses


@given(st.sampled_from(sorted(BANDS)), st.floats(0, 1))
def test_a_frequency_lies_in_the_band_that_it_was_taken_from(band: str, share: float) -> None:
    low, high = BANDS[band]
    assert band_of(min(high, low + share * (high - low))) == band


def test_no_two_bands_overlap() -> None:
    edges = [edge for pair in BANDS.values() for edge in pair]
    assert edges == sorted(edges)
    assert band_of(27.0) is None


def test_a_band_stands_for_its_centre_and_all_its_width() -> None:
    (use,) = planned_uses([{"band": "20m"}])
    assert (use.label, use.known_band()) == ("20m", "20m")
    frequency = use.frequency()
    assert (frequency.value - frequency.around, frequency.value + frequency.around) == pytest.approx((14.0, 14.35))


def test_a_frequency_knows_its_band() -> None:
    (use,) = planned_uses([{"frequency_mhz": 14.2, "band": "20m"}])
    assert (use.label, use.known_band(), use.frequency().around) == ("14.2 MHz", "20m", 0)


@pytest.mark.parametrize(
    ("use", "why", "settle"),
    [
        ({}, "no band and no frequency is planned", "schedule.band"),
        ({"frequency_mhz": 27.2}, "27.2 MHz lies in no amateur band", "schedule.frequency"),
        (
            {"frequency_mhz": 14.2, "band": "40m"},
            "14.2 MHz is planned on 40m, where it does not lie",
            "schedule.frequency",
        ),
    ],
)
def test_what_is_not_planned_is_asked_for(use: dict[str, object], why: str, settle: str) -> None:
    with pytest.raises(CannotTell) as silence:
        planned_uses([use])[0].known_band()
    assert (silence.value.reason.text, silence.value.reason.settle) == (why, settle)


def test_a_band_that_nobody_knows() -> None:
    with pytest.raises(CannotTell, match=r'^the band 11m is not one of "2190m", "630m", "560m", "160m", ') as silence:
        planned_uses([{"band": "11m"}])[0].frequency()
    assert silence.value.reason.settle == "schedule.band"


def test_equal_uses_are_one() -> None:
    assert len(planned_uses([{"band": "20m"}, {"band": "20m"}, {"band": "20m", "power_w": 5.0}])) == 2
    assert planned_uses([]) == planned_uses([{}])


def test_a_slot_with_a_band_of_its_own_does_not_take_the_schedule_s_frequency() -> None:
    common = {"mode": "CW", "band": None, "frequency_mhz": 14.05, "power_w": 5.0}
    assert merged(common, [{"band": "40m"}, {"power_w": 10.0}]) == [
        {"mode": "CW", "band": "40m", "frequency_mhz": None, "power_w": 5.0},
        {"mode": "CW", "band": None, "frequency_mhz": 14.05, "power_w": 10.0},
    ]
    assert merged(common, []) == [common]
