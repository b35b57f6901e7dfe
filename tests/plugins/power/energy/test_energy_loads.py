"""What each item draws, in hand-made kits."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

HOURS_ON_AIR = 4.0


def test_a_keyed_mode_is_the_mean_of_receiving_and_of_the_key_down(energy: Any, answer: Any) -> None:
    # CW: 35 % of the time, of which the key is down 40 %.
    mean_a = 0.65 * 0.5 + 0.35 * (0.5 + 0.4 * 2.0)
    assert answer(energy.balance(), "used") == pytest.approx(HOURS_ON_AIR * 12 * mean_a)


def test_a_planned_share_displaces_that_of_the_mode(energy: Any, answer: Any, timeline_of: Any, slot_of: Any) -> None:
    line = timeline_of(slot_of(mode="FM", transmit_share=0.5, transmit_share_around=0.05))
    found = energy.balance(line)
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * 12 * (0.5 * 0.5 + 0.5 * 2.5))
    assert "Transmitting 50 % ± 5 % of the time, as planned." in found["notes"]
    assert found["answers"]["used"]["parts"]["transmit share"] == pytest.approx(HOURS_ON_AIR * 12 * 0.05 * 2.0)


def test_the_interval_of_speech_runs_from_the_straight_law_to_the_root(
    energy: Any, answer: Any, timeline_of: Any, slot_of: Any
) -> None:
    line = timeline_of(slot_of(mode="SSB", transmit_share=1.0, transmit_share_around=0.0001))
    found = energy.balance(line)
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * 12 * (0.5 + 2.0 * 0.35**0.75))
    root, straight = 0.35**0.5, 0.35
    size = abs(found["answers"]["used"]["parts"]["current against power"]) / (HOURS_ON_AIR * 12 * 2.0)
    assert size == pytest.approx(max(root - 0.35**0.75, 0.35**0.75 - straight))


@pytest.mark.parametrize(
    ("power", "amperes"), [(10.0, 2.5), (5.0, 1.5), (None, 2.5), (50.0, 2.5), (0.0, 0.5)]
)  # fmt: skip
def test_a_stated_output_has_its_stated_current(
    energy: Any, answer: Any, timeline_of: Any, slot_of: Any, power: float | None, amperes: float
) -> None:
    line = timeline_of(slot_of(mode="FM", transmit_share=1.0, transmit_share_around=0.01, power_w=power))
    assert answer(energy.balance(line), "used") == pytest.approx(HOURS_ON_AIR * 12 * amperes)


def test_a_current_without_an_output_is_taken_for_any(energy: Any, answer: Any, timeline_of: Any, slot_of: Any) -> None:
    loads = [{"state": "receive", "amperes": "0.5 A"}, {"state": "transmit", "amperes": "2 A"}]
    energy.kit.thing("radio", "radio", loads=loads)
    found = energy.balance(timeline_of(slot_of(mode="FM", transmit_share=1.0, transmit_share_around=0.01)))
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * 12 * 2)
    assert "What radio draws in transmit is stated for no output: it is taken for any." in found["notes"]


def test_an_output_in_between_lies_between_the_laws(energy: Any, answer: Any, timeline_of: Any, slot_of: Any) -> None:
    line = timeline_of(slot_of(mode="FM", transmit_share=1.0, transmit_share_around=0.01, power_w=2.5))
    found = energy.balance(line)
    mean_a = answer(found, "used") / HOURS_ON_AIR / 12
    assert 0.5 + 1.0 * 0.5 < mean_a < 0.5 + 1.0 * 0.5**0.5
    assert "current against power" in found["answers"]["used"]["parts"]


def test_what_is_taken_for_granted_of_the_output_is_said(energy: Any, timeline_of: Any, slot_of: Any) -> None:
    full, most = (energy.balance(timeline_of(slot_of(power_w=power)))["notes"] for power in (None, 50.0))
    assert "No power is planned: radio is taken at its greatest output." in full
    assert "50 W is planned, more than radio gives: it is taken at its greatest output, 10 W." in most


def test_outside_of_the_slots_it_receives_and_off_the_air_all_is_off(
    energy: Any, answer: Any, timeline_of: Any, slot_of: Any
) -> None:
    line = timeline_of(slot_of(mode="FM", transmit_share=1.0, transmit_share_around=0.01, from_h=2.0, to_h=3.0))
    assert answer(energy.balance(line), "used") == pytest.approx(12 * (1 * 2.5 + 3 * 0.5))


def test_where_slots_overlap_the_greater_load_counts(energy: Any, answer: Any, timeline_of: Any, slot_of: Any) -> None:
    share = {"mode": "FM", "transmit_share": 1.0, "transmit_share_around": 0.01}
    line = timeline_of(slot_of(power_w=5.0, **share), slot_of(from_h=2.0, to_h=3.0, **share))
    assert answer(energy.balance(line), "used") == pytest.approx(12 * (3 * 1.5 + 1 * 2.5))


@pytest.mark.parametrize(
    ("loads", "silence"),
    [
        (None, ("what radio draws is not stated", "loads of radio in the kit", "item:radio")),
        (
            [{"state": "transmit", "at": "10 W", "amperes": "2 A"}],
            ("what radio draws in receive is not stated", "loads of radio in the kit", "item:radio"),
        ),
        (
            [{"state": "receive", "amperes": "2 A"}],
            ("what radio draws in transmit is not stated", "loads of radio in the kit", "item:radio"),
        ),
    ],
)
def test_the_first_item_without_figures_is_named(energy: Any, loads: Any, silence: tuple[str, str, str]) -> None:
    energy.kit.thing("radio", "radio", **({} if loads is None else {"loads": loads}))
    assert energy.silence() == silence


def test_without_mode_and_share_it_cannot_be_told(energy: Any, timeline_of: Any, slot_of: Any) -> None:
    why = ("neither the mode nor the share of the time spent transmitting is stated", "schedule.mode", "trip")
    assert energy.silence(timeline_of(slot_of(mode=None))) == why


def test_a_mode_that_nobody_knows_needs_a_share(energy: Any, timeline_of: Any, slot_of: Any) -> None:
    text, settle, subject = energy.silence(timeline_of(slot_of(mode="hum")))
    assert (text.split(";")[0], settle, subject) == ('mode "hum" is not known', "schedule.transmit_share", "trip")


def test_with_a_share_an_unknown_mode_is_anything_up_to_full_power(energy: Any, timeline_of: Any, slot_of: Any) -> None:
    found = energy.balance(timeline_of(slot_of(mode="hum", transmit_share=0.3, transmit_share_around=0.05)))
    assert "The mode is not known: mean power 60 % ± 40 % of the peak (common practice, no source)." in found["notes"]
    assert found["answers"]["used"]["parts"]["duty of the mode"] > 0


def test_a_battery_that_feeds_no_transmitter_needs_no_mode(
    energy: Any, answer: Any, timeline_of: Any, slot_of: Any
) -> None:
    energy.kit.thing("radio", "light", loads=[{"state": "working", "watts": "6 W"}])
    found = energy.balance(timeline_of(slot_of(mode=None)))
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * 6)
    assert not found["feeds_transmitter"]


def test_a_converter_takes_what_hangs_behind_it_with_its_loss_and_its_own_draw(energy: Any, answer: Any) -> None:
    energy.kit.thing("radio", "light", loads=[{"state": "working", "watts": "1 W"}])
    energy.kit.thing("converter", "converter", converter={"efficiency": "80 %", "idle": "0.5 W", "rating": "45 W"})
    energy.kit.thing("laptop", "computer", loads=[{"state": "working", "watts": "20 W"}])
    energy.kit.way("battery.out", "converter.in").way("converter.usb", "laptop.usb", role="USB")
    found = energy.balance()
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * (1 + 20 / 0.8 + 0.5))
    assert [load["name"] for load in found["feeds"]] == ["radio", "converter, laptop"]
    assert found["answers"]["used"]["parts"]["efficiency of converter"] < 0


def test_a_converter_gives_no_more_than_its_rating(energy: Any, answer: Any) -> None:
    energy.kit.thing("radio", "converter", converter={"efficiency": "100 %", "rating": "15 W"})
    energy.kit.thing("laptop", "computer", loads=[{"state": "working", "watts": "20 W"}])
    energy.kit.way("radio.usb", "laptop.usb", role="USB")
    found = energy.balance()
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * 15)
    assert "radio gives its rated 15 W, though more is asked of it." in found["notes"]


def test_a_laptop_draws_between_work_and_work_with_charging(energy: Any, answer: Any) -> None:
    loads = [{"state": "working", "watts": "10 W"}, {"state": "charging", "watts": "30 W"}]
    energy.kit.thing("radio", "computer", loads=loads)
    found = energy.balance()
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * 20)
    assert found["answers"]["used"]["parts"]["use of radio"] == pytest.approx(HOURS_ON_AIR * 10)


def test_a_power_bank_loses_in_its_own_converter(energy: Any, answer: Any) -> None:
    stated = {"chemistry": "lithium ion", "capacity": "20 Ah", "cells": 1, "usable": "100 %", "peukert": 1}
    converter = {"efficiency": "90 %", "idle": "0 W"}
    energy.kit.thing("bank", "supply", battery=stated, converter=converter)
    energy.kit.thing("phone", "phone", loads=[{"state": "charging", "amperes": "1 A"}])
    energy.kit.way("bank.usb", "phone.usb", role="USB")
    assert answer(energy.balance(key="bank"), "used") == pytest.approx(HOURS_ON_AIR * 5 / 0.9)


AMPLIFIER = {"drive": ["3 W", "5 W"], "gain": "13 dB", "output": "100 W"}
AMPLIFIER_LOADS = [{"state": "receive", "amperes": "0.2 A"}, {"state": "transmit", "at": "100 W", "amperes": "16 A"}]


@pytest.mark.parametrize(
    ("power", "note", "amperes"),
    [
        (100.0, "radio is taken to drive amplifier with 5.01 W.", 16.0),
        (5.0, "amplifier, driven with 5 W, is taken to give 99.8 W.", 16.0),
        (None, "radio is taken to drive amplifier with 5 W.", 16.0),
    ],
)
def test_an_amplifier_draws_for_its_own_output(
    energy: Any, answer: Any, timeline_of: Any, slot_of: Any, power: float | None, note: str, amperes: float
) -> None:
    energy.kit.thing("amplifier", "amplifier", amplifier=AMPLIFIER, loads=AMPLIFIER_LOADS)
    energy.kit.way("radio.rf", "amplifier.rf", role="RF").way("battery.out", "amplifier.dc")
    line = timeline_of(slot_of(mode="FM", transmit_share=1.0, transmit_share_around=0.01, power_w=power))
    found = energy.balance(line)
    assert note in found["notes"]
    assert answer(found, "used") == pytest.approx(HOURS_ON_AIR * 12 * (amperes + 1.5), rel=0.005)


def test_figures_of_the_catalogue_are_wider_than_ones_own(energy: Any) -> None:
    own = energy.balance()["answers"]["used"]["parts"]["draw of radio"]
    energy.kit.things["radio"]["data"]["typical"] = ["loads"]
    assert energy.balance()["answers"]["used"]["parts"]["draw of radio"] == pytest.approx(4 * own)


amperes = st.floats(0, 30).map(lambda value: f"{value:.3f} A")
watts = st.floats(0.1, 200)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=20)
@given(
    amperes, st.lists(st.tuples(watts, amperes), min_size=1, max_size=4), st.one_of(st.none(), watts),
    st.sampled_from(["SSB", "CW", "FM", "FT8", "hum"]), st.one_of(st.none(), st.floats(0, 1)),
    st.sampled_from(["lithium iron phosphate", "lead acid", "alkaline"]), st.floats(-40, 50),
)  # fmt: skip
def test_whatever_a_radio_draws_there_are_numbers_or_a_reason(
    energy: Any, timeline_of: Any, slot_of: Any, receive: str, sending: Any, power: Any, mode: str, share: Any,
    chemistry: str, air_c: float,
) -> None:  # fmt: skip
    loads = [{"state": "transmit", "at": f"{at:.3f} W", "amperes": drawn} for at, drawn in sending]
    energy.kit.thing("radio", "radio", loads=[{"state": "receive", "amperes": receive}, *loads])
    energy.kit.thing("battery", "battery", battery={"chemistry": chemistry, "capacity": "7 Ah", "nominal": "12 V"})
    line = timeline_of(slot_of(power_w=power, mode=mode, transmit_share=share))
    found = energy.balances(line, air_c=air_c)["battery"]
    if "cannot" in found:
        assert found["cannot"]["settle"]
        return
    assert all(
        low <= value <= high for low, value, high in zip(found["low"], found["charge"], found["high"], strict=True)
    )
    for answer in found["answers"].values():
        assert "why" in answer or all(math.isfinite(number) for number in (answer["value"], *answer["parts"].values()))
