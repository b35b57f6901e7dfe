"""Whether two ports fit: every way in which they may not."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.kit.connectors import Connectors
from afield.plugins.kit.model import Port

RF = "connector: BNC, role: RF"
DC = "connector: two-pole DC, role: DC"
KEY = "connector: RCA, role: keying"
DATA = "connector: DE-9, role: data"


def fit(bag: Any, one: str, other: str) -> Any:
    """The fit of a source, male, joined to a sink, female."""
    text = f"""\
items:
  - {{name: one, class: radio, ports: [{{name: a, gender: male, direction: source, {one}}}]}}
  - {{name: other, class: antenna, ports: [{{name: b, gender: female, direction: sink, {other}}}]}}
connections: [[one.a, other.b]]
chains: [{{role: RF, from: one, to: other}}]
"""
    role = one.partition("role: ")[2].partition(",")[0]
    (fit,) = bag.wiring(text.replace("role: RF, from", f"role: {role}, from")).fits.values()
    return fit


FITTING = [
    (f"{RF}, watts_peak: 100 W", f"{RF}, watts_peak: 100 W"),
    (f"{RF}, watts_peak: 20 W", f"{RF}, watts_peak: 100 W, watts_average: 30 W"),
    (
        f"{RF}, watts_peak: 100 W, watts_average: 20 W",
        f"{RF}, watts_peak: 100 W, watts_average: 30 W, averaging: 6 min",
    ),
    (f"{DC}, volts: 13.8 V, amperes: 20 A", f"{DC}, volts: 13.8 V, amperes: 20 A"),
    (f"{DC}, volts: [12 V, 14.4 V], amperes: 20 A", f"{DC}, volts: 13.8 V, amperes: 20 A"),
    (f"{DC}, volts: 12 V, amperes: 2 A", f"{DC}, volts: [9 V, 15 V], amperes: 1.5 A, polarity: centre positive"),
    (
        f"{KEY}, volts: 16 V, amperes: 1 A, polarity: active low",
        f"{KEY}, volts: 12 V, amperes: 20 mA, polarity: active low",
    ),
    (f"{DATA}, logic_level: RS-232", f"{DATA}, logic_level: RS-232"),
    (DATA, f"{DATA}, logic_level: RS-232"),
]


@pytest.mark.parametrize(("one", "other"), FITTING)
def test_what_fits(one: str, other: str, bag: Any) -> None:
    found = fit(bag, one, other)
    assert (found.fits, found.why, found.needs) == (True, "", "")


WRONG = [
    (
        f"{RF}, watts_peak: 100 W",
        f"{RF}, watts_peak: 50 W",
        "one.a gives 100 W peak, other.b bears 50 W peak",
        "an item that bears 100 W peak in place of other",
    ),
    (
        f"{RF}, watts_peak: 100 W, watts_average: 40 W",
        f"{RF}, watts_peak: 100 W, watts_average: 30 W",
        "one.a gives 40 W average, other.b bears 30 W average",
        "an item that bears 40 W average in place of other",
    ),
    (
        f"{RF}, watts_peak: 1 W",
        "connector: PL-259, role: RF, watts_peak: 1 W".replace("PL-259", "UHF"),
        "a BNC male does not fit a UHF female",
        "a lead from one.a to other.b (BNC female to UHF male)",
    ),
    (
        f"{DC}, volts: [11 V, 14.4 V], amperes: 20 A",
        f"{DC}, volts: [11.7 V, 15.9 V], amperes: 20 A",
        "one.a gives 11 to 14.4 V, other.b takes 11.7 to 15.9 V",
        "a source of 11.7 to 15.9 V for other.b",
    ),
    (
        f"{DC}, volts: 24 V, amperes: 20 A",
        f"{DC}, volts: 12 V, amperes: 20 A",
        "one.a gives 24 V, other.b takes 10.2 to 13.8 V",
        "a source of 10.2 to 13.8 V for other.b",
    ),
    (
        f"{DC}, volts: 12 V, amperes: 5 A",
        f"{DC}, volts: 12 V, amperes: 20 A",
        "other.b draws 20 A, one.a bears 5 A",
        "an item that bears 20 A in place of one",
    ),
    (
        f"{KEY}, volts: 16 V, amperes: 10 mA",
        f"{KEY}, volts: 24 V, amperes: 20 mA",
        "other.b has 24 V to be switched, one.a switches 16 V; "
        "other.b has 0.02 A to be switched, one.a switches 0.01 A",
        "a relay or buffer between one.a and other.b",
    ),
    (
        f"{KEY}, volts: 16 V, amperes: 1 A, polarity: active low",
        f"{KEY}, volts: 12 V, amperes: 20 mA, polarity: active high",
        "one.a is active low, other.b active high",
        "a lead that turns active low into active high",
    ),
    (
        f"{DATA}, logic_level: 3.3 V",
        f"{DATA}, logic_level: RS-232",
        "one.a has the level 3.3 V, other.b RS-232",
        "a converter of levels from 3.3 V to RS-232",
    ),
]


@pytest.mark.parametrize(("one", "other", "why", "needs"), WRONG)
def test_what_does_not_fit(one: str, other: str, why: str, needs: str, bag: Any) -> None:
    found = fit(bag, one, other)
    assert (found.fits, found.why, found.needs) == (False, why, needs)


UNKNOWN = [
    (RF, f"{RF}, watts_peak: 50 W", "the watts peak of one.a are not stated", "watts_peak of one.a in kit.yaml"),
    (f"{RF}, watts_peak: 50 W", RF, "the watts peak of other.b are not stated", "watts_peak of other.b in kit.yaml"),
    (
        f"{RF}, watts_peak: 100 W",
        f"{RF}, watts_peak: 100 W, watts_average: 30 W",
        "the average watts of one.a over the time of other.b are not stated",
        "watts_average of one.a in kit.yaml",
    ),
    (
        f"{RF}, watts_peak: 100 W, watts_average: 40 W, averaging: 1 min",
        f"{RF}, watts_peak: 100 W, watts_average: 30 W, averaging: 6 min",
        "the average watts of one.a over the time of other.b are not stated",
        "watts_average of one.a in kit.yaml",
    ),
    (
        f"{DC}, volts: 12 V, amperes: 5 A",
        f"{DC}, volts: 12 V",
        "the amperes of other.b are not stated",
        "amperes of other.b in kit.yaml",
    ),
    (
        f"{KEY}, volts: 16 V, amperes: 1 A",
        f"{KEY}, volts: 12 V",
        "the amperes of other.b are not stated",
        "amperes of other.b in kit.yaml",
    ),
]


@pytest.mark.parametrize(("one", "other", "why", "settle"), UNKNOWN)
def test_a_figure_that_must_be_compared_and_is_not_stated_is_named(
    one: str, other: str, why: str, settle: str, bag: Any
) -> None:
    found = fit(bag, one, other)
    assert (found.fits, found.why, found.settle) == (None, why, settle)


def test_a_cable_passes_on_what_the_radio_gives(bag: Any, low_power: str) -> None:
    strong = low_power.replace("{name: radio,", "{name: radio, ports: [{name: antenna, watts_peak: 90 W}],")
    fits = bag.wiring(strong).fits
    assert fits["radio.antenna/feed-line.plug-a"].fits is True
    assert fits["feed-line.plug-b/wire.feed"].why == "radio.antenna gives 90 W peak, wire.feed bears 50 W peak"


def test_a_branch_carries_its_own_draw_and_the_trunk_the_sum(bag: Any) -> None:
    text = """\
items:
  - {name: battery, is: lithium-iron-battery-6-ah}
  - {name: splitter, is: dc-splitter}
  - {name: one, is: hf-amplifier-100-w, ports: [{name: dc, amperes: 7 A}]}
  - {name: other, is: hf-amplifier-100-w, ports: [{name: dc, amperes: 7 A}]}
connections:
  - [battery, splitter.battery-end]
  - [splitter.output-one, one.dc]
  - [splitter.output-two, other.dc]
chains: [{role: DC, from: battery, to: one}]
"""
    fits = list(bag.wiring(text).fits.values())
    assert [found.fits for found in fits] == [False, True, True]
    assert fits[0].why == "one.dc, other.dc draws 14 A, battery.terminals bears 12 A"


def test_a_limit_that_a_cable_does_not_state_is_said_not_to_be_compared(bag: Any) -> None:
    text = """\
items:
  - {name: key, is: paddle}
  - name: lead
    ports:
      - {name: socket, connector: 3.5 mm jack, gender: female, role: keying, direction: both}
      - {name: plug, connector: 3.5 mm jack, gender: male, role: keying, direction: both}
  - {name: whip, class: antenna, ports: [{name: feed, connector: BNC, gender: male, role: RF, direction: sink}]}
  - {name: coupler, class: adapter, ports: [{name: a, connector: BNC, gender: female, role: RF, direction: both}]}
connections: [[key.plug, lead.socket], [whip.feed, coupler.a]]
chains: [{role: keying, from: key, to: lead}]
"""
    found = bag.wiring(text).fits
    assert found["whip.feed/coupler.a"].fits is True
    assert found["whip.feed/coupler.a"].not_compared == ("the watts peak of whip.feed", "the watts peak of coupler.a")


def port(connector: str, gender: str | None, item: str = "x") -> Port:
    return Port(item, "p", connector, gender, "DC", "both")


MATES = [
    (("BNC", "male"), ("BNC", "female"), True),
    (("BNC", "male"), ("BNC", "male"), False),
    (("BNC", "male"), ("TNC", "female"), False),
    (("genderless 15-45 A housing", None), ("genderless 15-45 A housing", None), True),
    (("binding post", None), ("4 mm banana", "male"), True),
    (("binding post", None), ("4 mm banana", "female"), False),
    (("stud terminal", None), ("ring terminal", None), True),
]


@pytest.mark.parametrize(("one", "other", "fits"), MATES)
def test_which_connectors_fit(one: tuple[str, str], other: tuple[str, str], fits: bool) -> None:
    connectors = Connectors()
    assert connectors.fit(port(*one), port(*other)) is connectors.fit(port(*other), port(*one)) is fits


def test_a_kit_may_bring_its_own_connectors(bag: Any) -> None:
    text = """\
items:
  - {name: box, class: battery, ports: [{name: a, connector: club plug, role: DC, direction: source}]}
connectors:
  club connector: {gendered: false, mates: [ring terminal]}
  club plug: {is: club connector}
"""
    kit = bag.kit(text)
    assert kit.ports["box.a"].connector == "club connector"
    assert kit.mates.fit(kit.ports["box.a"], port("ring terminal", None))
