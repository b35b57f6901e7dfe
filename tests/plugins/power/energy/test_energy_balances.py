"""What is left, when it ends, how large it must be: against the same balance run forward, in hand-made kits."""

from __future__ import annotations

from typing import Any

import pytest

MEAN_A = 0.65 * 0.5 + 0.35 * (0.5 + 0.4 * 2.0)
"""Of the hand-made radio in CW, on the air from 1 to 5 h after arrival."""


def test_the_reserve_is_what_is_left_of_the_usable_charge(energy: Any, answer: Any) -> None:
    found = energy.battery(usable="80 %").balance()
    left = 100 * (1 - 4 * MEAN_A / 8)
    assert answer(found, "reserve") == answer(found, "left") == pytest.approx(left)
    assert found["charge"][-1] == pytest.approx(left, abs=0.01)
    assert found["usable_wh"] == pytest.approx(96)


def test_a_battery_that_does_not_last_lacks_charge_and_ends_on_the_way(energy: Any, answer: Any) -> None:
    found = energy.battery(capacity="2 Ah").balance()
    assert answer(found, "reserve") == pytest.approx(100 * (1 - 4 * MEAN_A / 2))
    assert answer(found, "lasts") == found["ends_h"] == pytest.approx(1 + 2 / MEAN_A)
    assert answer(found, "longest_on_air") == pytest.approx(2 / MEAN_A)


def test_one_that_outlasts_the_time_on_the_air_goes_on_with_its_mean_load(energy: Any, answer: Any) -> None:
    found = energy.balance()
    assert found["ends_h"] is None
    assert answer(found, "lasts") == pytest.approx(1 + 10 / MEAN_A)
    assert answer(found, "longest_on_air") == pytest.approx(10 / MEAN_A)


def test_the_least_capacity_would_just_have_lasted(energy: Any, answer: Any) -> None:
    least = answer(energy.balance(), "least_capacity")
    assert least == pytest.approx(4 * MEAN_A)
    again = energy.battery(capacity=f"{least:.9f} Ah").balance()
    assert answer(again, "reserve") == pytest.approx(0, abs=1e-5)


def test_the_longest_time_on_the_air_planned_leaves_nothing(
    energy: Any, answer: Any, timeline_of: Any, slot_of: Any
) -> None:
    energy.battery(capacity="3 Ah")
    longest = answer(energy.balance(), "longest_on_air")
    minutes = round(longest * 60)
    line = timeline_of(slot_of(to_h=1 + minutes / 60), leave_h=12.0)
    line["on_air"] = [[1.0, 1 + minutes / 60]]
    assert answer(energy.balance(line), "reserve") == pytest.approx(0, abs=100 * MEAN_A / 60 / 3)


def test_peukerts_law_makes_it_end_sooner(energy: Any, answer: Any) -> None:
    plain = answer(energy.battery(capacity="2 Ah", chemistry="lead acid").balance(), "lasts")
    assert answer(energy.battery(capacity="2 Ah", chemistry="lead acid", peukert=1.2).balance(), "lasts") < plain


def test_in_the_cold_less_is_left_and_less_is_sure(energy: Any, answer: Any) -> None:
    warm, cold = energy.balance(air_c=22.0), energy.balance(air_c=-18.0)
    assert cold["usable_wh"] == pytest.approx(0.7 * warm["usable_wh"])
    assert "capacity of battery in the cold" in cold["answers"]["reserve"]["parts"]
    assert "capacity of battery in the cold" not in warm["answers"]["reserve"]["parts"]
    assert (
        "At -18 °C battery is taken to give 70 % ± 22 % of its capacity (one seller's page and common practice, no "
        "published source)."
    ) in cold["notes"]


def test_at_an_unknown_temperature_it_is_said_that_no_loss_is_taken(energy: Any) -> None:
    assert "The air temperature is not stated: no loss by cold is taken." in energy.balance()["notes"]


def test_a_battery_that_starts_too_empty_has_no_least_capacity(energy: Any) -> None:
    answers = energy.battery(usable="50 %", charged="40 %").balance()["answers"]
    assert answers["least_capacity"] == {"why": "no capacity is enough for battery, which starts with no usable charge"}
    assert answers["reserve"]["value"] < 0
    assert answers["lasts"]["value"] == 0


def test_the_band_holds_the_line_and_widens(energy: Any) -> None:
    found = energy.balance()
    assert all(
        low <= value <= high for low, value, high in zip(found["low"], found["charge"], found["high"], strict=True)
    )
    assert found["high"][-1] - found["low"][-1] > found["high"][0] - found["low"][0]
    assert max(found["high"]) <= 100
    assert (found["hours"][0], found["hours"][-1]) == (0, 6)


def test_origins_are_the_same_in_two_variants_so_that_they_cancel(energy: Any) -> None:
    one = energy.balance()["answers"]["used"]["parts"]
    other = energy.battery(capacity="20 Ah").balance()["answers"]["used"]["parts"]
    assert one == other
    assert {"transmit share", "duty of the mode", "draw of radio"} <= one.keys()


def test_a_supply_that_is_not_described_cannot_be_told(energy: Any) -> None:
    energy.kit.thing("battery", "supply")
    assert energy.silence() == (
        "the battery of battery is not described", "battery of battery in the kit", "item:battery"
    )  # fmt: skip


def test_a_battery_without_a_voltage_cannot_be_told(energy: Any) -> None:
    energy.kit.thing("battery", "battery", battery={"chemistry": "lead acid", "capacity": "7 Ah"})
    assert energy.silence() == (
        "the nominal voltage of the battery of battery is not stated", "battery.nominal of battery in the kit",
        "item:battery",
    )  # fmt: skip


def test_a_radio_with_a_battery_of_its_own_is_left_out_and_named(energy: Any) -> None:
    energy.kit.thing("handheld", "radio", battery={"chemistry": "lithium ion", "capacity": "2 Ah"})
    note = "handheld is fed by no battery of the kit; what it uses of a battery inside it is not counted."
    assert note in energy.balance()["notes"]
    assert list(energy.balances()) == ["battery"]


def test_what_two_batteries_feed_is_counted_for_each(energy: Any, answer: Any) -> None:
    energy.kit.thing("other", "battery", battery=energy.kit.things["battery"]["data"]["battery"])
    energy.kit.way("other.out", "radio.dc")
    found = energy.balances()
    assert answer(found["battery"], "used") == answer(found["other"], "used") > 0
    assert "radio is fed by several batteries; what it draws is counted whole for each." in found["battery"]["notes"]


def test_a_kit_in_which_nothing_is_fed_has_no_balance(energy: Any) -> None:
    energy.kit.ways.clear()
    assert energy.balances() == {}
