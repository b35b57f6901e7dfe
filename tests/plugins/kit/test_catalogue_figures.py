"""The catalogue's figures agree with each other: what an item does, its ports bear and offer."""

from __future__ import annotations

from math import log10
from typing import Any

import pytest

from afield.core.quantities import amount_in
from afield.plugins.kit import catalogue
from afield.plugins.radio.computations.lines import PUBLISHED

ITEMS = {name: catalogue.catalogue_item(name) for name in catalogue.item_names()}
ABOUT = 1.02
"""Figures are rounded."""


def having(*keys: str) -> list[str]:
    return [name for name, item in ITEMS.items() if all(key in item for key in keys)]


def ports(item: dict[str, Any], role: str, direction: str = "sink") -> list[dict[str, Any]]:
    return [port for port in item["ports"] if (port["role"], port["direction"]) == (role, direction)]


def most_volts(port: dict[str, Any]) -> float:
    written = port["volts"]
    return amount_in(written[-1] if isinstance(written, list) else written, "V")


def least_volts(port: dict[str, Any]) -> float:
    written = port["volts"]
    return amount_in(written[0] if isinstance(written, list) else written, "V")


DESCRIBED = {
    "radio": ("transmitter", "loads"), "amplifier": ("amplifier", "loads"), "battery": ("battery",),
    "feed line": ("line",), "computer": ("battery", "loads"), "phone": ("battery", "loads"),
    "converter": ("converter", "features"), "charger": ("converter", "features"), "solar panel": ("solar",),
    "tuner": ("insertion_loss",), "switch": ("insertion_loss",), "meter": ("insertion_loss",),
}  # fmt: skip


@pytest.mark.parametrize("class_", DESCRIBED)
def test_every_item_of_a_class_brings_its_figures(class_: str) -> None:
    found = [name for name, item in ITEMS.items() if item["class"] == class_]
    assert found
    assert [name for name in found for key in DESCRIBED[class_] if key not in ITEMS[name]] == []


def test_every_lead_and_adapter_brings_what_it_takes_from_what_goes_through() -> None:
    cables = {name: item for name, item in ITEMS.items() if item["class"] in ("lead", "adapter", "feed line")}
    for name, item in cables.items():
        roles = {port["role"] for port in item["ports"]}
        assert roles != {"DC"} or "conductor" in item, name
        assert roles != {"RF"} or {"line", "insertion_loss"} & item.keys(), name


@pytest.mark.parametrize("name", having("transmitter"))
def test_a_transmitter_s_greatest_power_is_that_of_its_port(name: str) -> None:
    item = ITEMS[name]
    least, most = (amount_in(text, "W") for text in item["transmitter"]["power"])
    (port,) = ports(item, "RF", "source")
    assert (most, least < most) == (amount_in(port["watts_peak"], "W"), True)
    told = {amount_in(load["at"], "W") for load in item["loads"] if load["state"] == "transmit"}
    assert most in told
    assert all(least <= at <= most for at in told)


@pytest.mark.parametrize("name", having("loads"))
def test_loads_rise_with_the_output_and_stay_below_the_port_s_amperes(name: str) -> None:
    item = ITEMS[name]
    sent = sorted(
        (amount_in(load["at"], "W"), amount_in(load["amperes"], "A"))
        for load in item["loads"]
        if load["state"] == "transmit"
    )
    assert sent == sorted(sent, key=lambda pair: pair[1])
    rest = [amount_in(load["amperes"], "A") for load in item["loads"] if "at" not in load and "amperes" in load]
    assert rest == sorted(rest)
    assert not sent or rest[-1] < sent[0][1]
    for port in ports(item, "DC"):
        assert max([*rest, *(amperes for _, amperes in sent)]) <= amount_in(port["amperes"], "A")


@pytest.mark.parametrize("name", having("loads"))
def test_what_works_and_charges_at_once_is_what_the_usb_port_asks_for(name: str) -> None:
    item = ITEMS[name]
    drawn = sum(amount_in(load["watts"], "W") for load in item["loads"] if "watts" in load)
    for port in ports(item, "USB"):
        asked = amount_in(port["usb"]["watts"], "W")
        assert drawn <= asked * ABOUT
        assert amount_in(port["usb"]["least_watts"], "W") < asked
        assert asked <= most_volts(port) * amount_in(port["amperes"], "A") * ABOUT


@pytest.mark.parametrize("name", having("amplifier"))
def test_an_amplifier_s_gain_brings_its_drive_to_its_output(name: str) -> None:
    item = ITEMS[name]
    told = {key: value for key, value in item["amplifier"].items() if isinstance(value, str)}
    low, high = (amount_in(text, "W") for text in item["amplifier"]["drive"])
    output, most = amount_in(told["output"], "W"), amount_in(told["most"], "W")
    assert low < high < most
    assert 10 * log10(output / high) == pytest.approx(amount_in(told["gain"], "dB"), abs=0.1)
    assert amount_in(told["average"], "W") <= output
    (out,), (into,) = ports(item, "RF", "source"), ports(item, "RF")
    assert (amount_in(out["watts_peak"], "W"), amount_in(into["watts_peak"], "W")) == (output, most)
    at = {amount_in(load["at"], "W") for load in item["loads"] if load["state"] == "transmit"}
    assert at == {output}


@pytest.mark.parametrize("name", having("battery"))
def test_a_battery_s_voltages_and_amperes_are_those_of_its_port(name: str) -> None:
    item = ITEMS[name]
    battery = item["battery"]
    assert "label_energy" not in battery
    for port in ports(item, "DC", "source") if item["class"] == "battery" else ():
        assert amount_in(battery["amperes"], "A") == amount_in(port["amperes"], "A")
        assert amount_in(battery["end_voltage"], "V") == least_volts(port)
        assert least_volts(port) < amount_in(battery["nominal"], "V") < most_volts(port)


@pytest.mark.parametrize("name", having("fuse"))
def test_a_lead_s_fuse_is_what_its_ports_bear_at_most_and_is_packed_again(name: str) -> None:
    item = ITEMS[name]
    fuse = amount_in(item["fuse"], "A")
    assert all(fuse <= amount_in(port["amperes"], "A") for port in item["ports"])
    assert item["consumables"] == [f"fuse {fuse:g} A"]


@pytest.mark.parametrize("name", having("converter"))
def test_a_converter_s_rating_is_what_it_offers_and_its_input_feeds_it(name: str) -> None:
    item = ITEMS[name]
    rating = amount_in(item["converter"]["rating"], "W")
    efficiency = amount_in(item["converter"]["efficiency"], "%") / 100
    offered = [amount_in(port["usb"]["watts"], "W") for port in ports(item, "USB", "source")]
    assert not offered or max(offered) == rating
    for port in (*ports(item, "DC"), *ports(item, "mains")):
        assert rating / efficiency <= least_volts(port) * amount_in(port["amperes"], "A") * ABOUT
    for port in ports(item, "mains", "source"):
        assert rating <= least_volts(port) * amount_in(port["amperes"], "A")
    assert (item["converter"]["output"] == "mains") == bool(ports(item, "mains", "source"))


@pytest.mark.parametrize("name", [name for name in ITEMS if ports(ITEMS[name], "USB", "source")])
def test_a_usb_source_can_give_its_watts_and_makes_noise(name: str) -> None:
    for port in ports(ITEMS[name], "USB", "source"):
        assert amount_in(port["usb"]["watts"], "W") <= most_volts(port) * amount_in(port["amperes"], "A") * ABOUT
    assert "makes RF noise" in ITEMS[name]["features"]


def test_a_usb_lead_carries_its_volts_times_its_amperes_or_less() -> None:
    leads = [port for item in ITEMS.values() for port in ports(item, "USB", "both") if "usb" in port]
    assert {amount_in(port["usb"]["watts"], "W") for port in leads} == {60.0, 100.0, 240.0}
    for port in leads:
        assert amount_in(port["usb"]["watts"], "W") <= most_volts(port) * amount_in(port["amperes"], "A")
        assert port["usb"].get("extended", False) == (most_volts(port) > 20)


@pytest.mark.parametrize("name", having("line"))
def test_the_losses_of_every_line_s_type_are_known(name: str) -> None:
    assert ITEMS[name]["line"]["type"] in PUBLISHED
    length = f"{amount_in(ITEMS[name]['line']['length'], 'm'):g} m"
    assert length in ITEMS[name]["title"]


@pytest.mark.parametrize("name", having("antenna"))
def test_an_antenna_s_ratios_are_those_of_its_bands(name: str) -> None:
    antenna = ITEMS[name]["antenna"]
    assert [row["band"] for row in antenna["swr"]] == antenna["bands"]
    assert all(row["ratio"] < 5 for row in antenna["swr"])
    assert "covers all bands" in ITEMS[name]["features"] or len(antenna["bands"]) > 1
