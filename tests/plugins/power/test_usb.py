"""What source, cable and device agree on, and what that leaves for the device's battery."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.usb.agreement import Agreement, Cable, Offer, Wish, agreed
from afield.plugins.power.usb.gain import left_over

PD, PLAIN, HIGH = "power delivery", "plain 5 V", "high voltage"
KINDS = st.sampled_from([PD, PLAIN, HIGH])
WATTS = st.floats(0.5, 240)


def power(source_w: float, wanted_w: float, cable: Cable | None = None, **wish: Any) -> Agreement:
    return agreed(Offer(PD, source_w), Wish(PD, wanted_w, **wish), cable or Cable())


@pytest.mark.parametrize(
    ("source_w", "wanted_w", "cable_a", "watts", "volts", "why"),
    [
        (45, 60, 3, 45, 15, "the source gives 45 W"),
        (100, 65, 3, 60, 20, "the cable carries 3 A, 60 W"),
        (100, 65, 5, 65, 20, "the device asks for 65 W"),
        (100, 240, 5, 100, 20, "the source gives 100 W"),
        (18, 60, 3, 18, 9, "the source gives 18 W"),
        (100, 18, 3, 18, 20, "the device asks for 18 W"),
    ],
)
def test_power_delivery_is_limited_by_source_cable_or_device(
    source_w: float, wanted_w: float, cable_a: float, watts: float, volts: float, why: str
) -> None:
    found = power(source_w, wanted_w, Cable(cable_a))
    assert (found.watts, found.volts, found.why) == (pytest.approx(watts), volts, why)


def test_a_device_of_low_voltage_gets_3_a_there() -> None:
    found = power(60, 100, volts=(5.0, 9.0))
    assert (found.watts, found.volts) == (27, 9)
    assert found.why == "the device takes 9 V at most, and the source gives 3 A there"


def test_a_device_for_20_v_gets_only_5_v_of_a_source_of_45_w() -> None:
    found = power(45, 60, volts=(17.0, 23.0))
    assert (found.watts, found.volts) == (15, 5)
    assert found.why == "the source has no voltage from 17 to 20 V but 5 V"
    nothing = power(45, 60, volts=(17.0, 23.0), least_w=30.0)
    assert (nothing.watts, nothing.why.partition(";")[0]) == (0, "the device takes nothing below 30 W")


@pytest.mark.parametrize(
    ("source_w", "most_v", "volts", "watts"),
    [(140, 28, 28, 140), (180, 28, 28, 140), (180, 36, 36, 180), (240, 36, 36, 180), (240, 48, 48, 240),
     (100, 48, 20, 100), (240, 20, 20, 100), (240, 15, 15, 45)],
)  # fmt: skip
def test_a_device_of_the_extended_range_gets_no_voltage_that_it_does_not_take(
    source_w: float, most_v: float, volts: float, watts: float
) -> None:
    wish = Wish(PD, 240, volts=(5, most_v), extended=True)
    found = agreed(Offer(PD, source_w, extended=True), wish, Cable(5, extended=True))
    assert (found.volts, found.watts) == (volts, watts)


@pytest.mark.parametrize(("cable", "watts"), [(Cable(3), 60), (Cable(5), 100), (Cable(3, extended=False), 60)])
def test_a_cable_of_3_a_carries_60_w_of_any_source(cable: Cable, watts: float) -> None:
    assert agreed(Offer(PD, 140, extended=True), Wish(PD, 140, extended=True), cable).watts == watts


def test_the_extended_range_needs_all_three() -> None:
    wish, cable = Wish(PD, 240, extended=True), Cable(5, extended=True)
    assert agreed(Offer(PD, 240, extended=True), wish, cable).watts == 240
    assert agreed(Offer(PD, 240, extended=True), wish, cable).volts == 48
    assert agreed(Offer(PD, 240), wish, cable).watts == 100
    assert agreed(Offer(PD, 240, extended=True), wish, Cable(5)).watts == 100
    assert agreed(Offer(PD, 240, extended=True), Wish(PD, 240), cable).watts == 100


def test_an_older_scheme_is_not_power_delivery() -> None:
    offer = Offer(HIGH, 18, volts=12.0)
    assert agreed(offer, Wish(HIGH, 30, high_voltage_v=12.0), Cable(all_c=False)).watts == 18
    five = agreed(offer, Wish(PD, 30), Cable(all_c=False))
    assert (five.watts, five.volts) == (7.5, 5)
    assert five.notes == (
        "A port of 5 V whose amperes are not stated is taken to give 1.5 A (USB Battery Charging 1.2).",
    )


def test_a_plug_that_is_not_usb_c_ends_power_delivery() -> None:
    found = power(60, 60, Cable(3, all_c=False))
    assert (found.watts, found.volts) == (7.5, 5)
    assert found.why == "the cable has a plug that is not USB-C: 7.5 W"


def test_a_plain_port_gives_its_amperes_at_5_v() -> None:
    assert agreed(Offer(PLAIN, 12, 2.4), Wish(PLAIN, 30), Cable(all_c=False)).watts == pytest.approx(12)
    assert agreed(Offer(PLAIN, 10), Wish(PD, 30), Cable()).watts == 10


def test_a_cable_without_amperes_is_taken_for_3_a_and_says_so() -> None:
    found = power(100, 100, Cable(stated=False))
    assert (found.watts, found.notes) == (60, ("A cable whose amperes are not stated is taken to be for 3 A.",))


@given(KINDS, KINDS, WATTS, WATTS, st.sampled_from([3.0, 5.0]), st.booleans(), st.booleans(), st.floats(0, 60))
def test_no_more_than_source_cable_and_device_ever_flows(
    offered: str,
    wished: str,
    source_w: float,
    wanted_w: float,
    cable_a: float,
    extended: bool,
    all_c: bool,
    least: float,
) -> None:
    offer = Offer(offered, source_w, volts=12.0, extended=extended)
    wish = Wish(wished, wanted_w, least, extended=extended, high_voltage_v=12.0)
    found = agreed(offer, wish, Cable(cable_a, extended and cable_a == 5, all_c))
    assert found.watts <= source_w + 1e-9
    assert found.watts <= wanted_w + 1e-9
    assert found.watts <= found.volts * cable_a + 1e-9
    assert found.watts == pytest.approx(found.volts * found.amperes)
    assert found.watts == 0 or found.watts >= min(least, wanted_w) - 1e-9


@given(st.floats(0, 240), st.floats(0, 100), st.floats(0.5, 1))
def test_a_lack_is_never_made_smaller_by_the_loss_of_charging(agreed_w: float, work_w: float, share: float) -> None:
    found = left_over(agreed_w, work_w, share)
    assert found <= agreed_w - work_w + 1e-9
    assert (found < 0) == (agreed_w < work_w)


KIT = """\
items:
  - {name: battery, is: lithium-iron-battery-20-ah}
  - {name: box, is: usb-converter-45-w}
  - {name: cable, is: charging-lead-usb-c}
  - {name: laptop, is: laptop, loads: [{state: working, watts: WORK}]}
connections: [[battery.terminals, box.dc], [box.usb-c, cable.plug-a], [cable.plug-b, laptop.usb-c]]
"""


def test_a_port_of_45_w_leaves_a_working_laptop_about_35_w(station: Any) -> None:
    """Common practice, no source: 45 W less a light load of 10 W, before and after what charging loses."""
    facts = station.facts(KIT.replace("WORK", "10 W"))
    gain = facts("laptop", "usb.gain")
    assert facts("laptop", "usb.agreed_power").value - facts("laptop", "usb.working_power").value == 35
    assert gain.low < 35 < gain.high
    assert facts("trip", "power.computer_gain").value == gain.value
    assert facts("trip", "power.computer_gain").uncertainty == pytest.approx(gain.uncertainty)
    assert facts("laptop", "usb.hours_to_full").value == pytest.approx(4.5 * 11.1 / gain.value)


def test_a_hungry_laptop_loses_and_is_never_full(station: Any) -> None:
    facts = station.facts(KIT.replace("WORK", "55 W"))
    assert facts("laptop", "usb.gain").value == -10
    reason = facts("laptop", "usb.hours_to_full").reason
    assert reason.text == "laptop draws as much while working as it gets, so it is never full"


def test_the_station_pays_for_the_converter_and_more_for_an_inverter(station: Any) -> None:
    drawn = station.facts(KIT.replace("WORK", "10 W"))("laptop", "usb.from_battery")
    assert drawn.value == pytest.approx(45 / 0.88 + 0.3)
    assert drawn.detail["battery"] == "battery"
    assert drawn.detail["inverter"] == (
        "about 58 W through an inverter (88 %) and a mains charger (88 %; common practice, no source)"
    )


def test_a_converter_that_nothing_feeds_gives_nothing(station: Any) -> None:
    kit = (
        KIT.replace("WORK", "10 W")
        .replace("[battery.terminals, box.dc], ", "")
        .replace("battery, is: lithium-iron-battery-20-ah", "chair")
    )
    reason = station.facts(kit)("laptop", "usb.gain").reason
    assert reason.text == "no battery or supply feeds box"


def test_a_port_that_says_nothing_of_usb_is_named(station: Any) -> None:
    kit = """\
    items:
      - {name: bank, class: supply, ports: [{name: out, connector: USB-C, gender: female, role: USB, direction: source, volts: [5 V, 20 V]}]}
      - {name: cable, is: charging-lead-usb-c}
      - {name: laptop, is: laptop}
    connections: [[bank.out, cable.plug-a], [cable.plug-b, laptop.usb-c]]
    """  # noqa: E501
    reason = station.facts(kit)("laptop", "usb.agreed_power").reason
    assert (reason.text, reason.settle) == (
        "the USB power at out of bank is not stated", "usb of the port out of bank in kit.yaml",
    )  # fmt: skip
