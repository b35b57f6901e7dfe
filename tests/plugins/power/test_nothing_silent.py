"""Kits that leave something open: no required rule of the gear pack is not applicable where it may apply."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine, judge, load, report

PLAN = """\
trip: A
date: 2026-06-27
packs: [gear]
kit: [kit.yaml]
schedule: {arrive: "10:00", on_air: ["10:30", "14:30"], leave: "15:00", mode: SSB, band: 40m, power: 10 W, transmit_share: 25 %}
conditions: {temperature: 20 degC}
travel: {by: car}
"""  # noqa: E501
ITEMS = {
    "radio": "is: hf-radio-10-w", "wire": "is: end-fed-wire-20-m", "line": "is: coax-bnc-bnc-10-m",
    "battery": "is: lithium-iron-battery-6-ah", "lead": "is: dc-lead-coaxial", "mike": "is: hand-microphone",
}  # fmt: skip
OF_POWER = ("dc-fused", "battery-current", "battery-lasts")
OF_LEADS = ("fuse-protects-conductor", "fuse-carries-load")
OF_LOADS = ("dc-voltage-enough", "dc-drop")
BLANK_LEAD = (
    "class: lead, ports: [{name: a, connector: genderless 15-45 A housing, role: DC, direction: both}, "
    "{name: b, connector: genderless 15-45 A housing, role: DC, direction: both}]"
)


def kit(more: str = "", **changed: str) -> str:
    """The bag with some items changed; an empty text takes one out. More items, connections and chains follow."""
    items = {name: words for name, words in {**ITEMS, **changed}.items() if words}
    return "items:\n" + "".join(f"  - {{name: {name}, {words}}}\n" for name, words in items.items()) + more


@pytest.fixture
def judged(tmp_path: Path) -> Any:
    """Kit, and what to replace in the plan -> (outcomes by rule and item, exit status, reasons by rule and item)."""

    def of(text: str, old: str = "", new: str = "") -> tuple[dict[tuple[str, str], str], int, dict[Any, Any]]:
        (tmp_path / "kit.yaml").write_text(textwrap.dedent(text), encoding="utf-8")
        plan = tmp_path / "trip.yaml"
        plan.write_text(PLAN.replace(old, new) if old else PLAN, encoding="utf-8")
        engine = Engine()
        made = report(judge(load(plan, engine), engine), engine)
        assert engine.failures() == []
        keyed = {(one["rule"].removeprefix("gear/"), one["subject"].partition(":")[2]): one for one in made["verdicts"]}
        outcomes = {key: one["outcome"] for key, one in keyed.items()}
        return outcomes, made["exit_status"], {key: one["reason"] for key, one in keyed.items()}

    return of


def test_the_bag_as_it_is_passes(judged: Any) -> None:
    outcomes, status, _ = judged(kit())
    judged_of = {(rule, "battery") for rule in OF_POWER} | {(rule, "lead") for rule in OF_LEADS}
    assert {outcomes[key] for key in judged_of | {(rule, "radio") for rule in OF_LOADS}} == {"passed"}
    assert status == 0


def cannot_tell(outcomes: dict[tuple[str, str], str], rules: tuple[str, ...], item: str) -> bool:
    return {outcomes[rule, item] for rule in rules} == {"cannot tell"}


def test_a_battery_without_ports_may_feed_the_radio(judged: Any) -> None:
    outcomes, status, reasons = judged(kit(battery="class: battery"))
    assert cannot_tell(outcomes, OF_POWER, "battery")
    assert cannot_tell(outcomes, OF_LEADS, "lead")
    assert cannot_tell(outcomes, OF_LOADS, "radio")
    assert reasons["dc-fused", "battery"]["settle"] == "ports of battery in kit.yaml"
    assert status == 3


def test_a_radio_without_ports_may_be_fed(judged: Any) -> None:
    outcomes, status, _ = judged(kit(radio="class: radio"))
    assert cannot_tell(outcomes, OF_LOADS, "radio")
    assert cannot_tell(outcomes, OF_POWER, "battery")
    assert cannot_tell(outcomes, OF_LEADS, "lead")
    assert status == 3


def test_a_second_radio_without_ports_may_hang_on_the_battery_and_a_spare_one_does_not(judged: Any) -> None:
    outcomes, status, _ = judged(kit(second="class: radio"))
    assert cannot_tell(outcomes, OF_LOADS, "second")
    assert (outcomes["battery-lasts", "battery"], status) == ("cannot tell", 3)
    outcomes, status, _ = judged(kit(second="class: radio, spare_of: radio"))
    assert outcomes["dc-voltage-enough", "second"] == "not applicable"
    assert (outcomes["battery-lasts", "battery"], status) == ("passed", 0)


def test_a_second_battery_without_ports_may_feed_something_and_a_spare_one_does_not(judged: Any) -> None:
    outcomes, status, reasons = judged(kit(second="class: battery"))
    assert cannot_tell(outcomes, OF_POWER, "second")
    assert outcomes["battery-lasts", "battery"] == "passed"
    assert (reasons["battery-lasts", "second"]["settle"], status) == ("ports of second in kit.yaml", 3)
    outcomes, status, _ = judged(kit(second="class: battery, spare_of: battery"))
    assert ({outcomes[rule, "second"] for rule in OF_POWER}, status) == ({"not applicable"}, 0)


def test_a_chain_that_is_left_out_of_the_stated_ones_leaves_the_power_open_until_it_is_joined(judged: Any) -> None:
    chain = "chains: [{role: RF, from: radio, to: wire}]\n"
    outcomes, status, reasons = judged(kit(chain))
    assert cannot_tell(outcomes, OF_LOADS, "radio")
    assert cannot_tell(outcomes, OF_POWER, "battery")
    assert cannot_tell(outcomes, OF_LEADS, "lead")
    assert status == 3
    found = reasons["battery-lasts", "battery"]
    assert (found["text"], found["settle"]) == (
        "whether it applies cannot be told: DC from a battery or a supply to radio is neither joined nor among the "
        "stated chains",
        "connections",
    )
    joined = "connections: [[battery.terminals, lead.battery-end], [lead.plug, radio.dc]]\n"
    outcomes, status, _ = judged(kit(joined + chain))
    assert (outcomes["battery-lasts", "battery"], outcomes["dc-voltage-enough", "radio"], status) == (
        "passed", "passed", 0,
    )  # fmt: skip


def test_a_balance_without_the_radio_that_is_not_fed_does_not_pass(judged: Any) -> None:
    laptop = (
        "  - {name: converter, is: usb-converter-45-w}\n  - {name: laptop, is: laptop}\n"
        "  - {name: cord, is: charging-lead-usb-c}\n"
    )
    outcomes, status, reasons = judged(kit(laptop, lead=""))
    assert outcomes["battery-lasts", "battery"] == "cannot tell"
    assert reasons["battery-lasts", "battery"]["text"] == (
        "nothing that is joined feeds radio, and a balance without it would be too good"
    )
    assert status == 1


def test_a_laptop_of_unknown_ports_beside_a_usb_source_is_asked_for(judged: Any) -> None:
    bank = "  - {name: bank, is: power-bank-20-ah}\n"
    outcomes, status, reasons = judged(kit(bank, laptop="class: computer"))
    assert outcomes["laptop-gains", "laptop"] == "cannot tell"
    assert outcomes["battery-lasts", "battery"] == "cannot tell"
    assert reasons["laptop-gains", "laptop"]["settle"] == "ports of laptop in kit.yaml"
    assert status == 3
    outcomes, _, _ = judged(kit(laptop="class: computer"))
    assert outcomes["laptop-gains", "laptop"] == "not applicable"


def test_a_lead_that_nobody_describes_may_have_a_fuse(judged: Any) -> None:
    joined = "connections: [[battery.terminals, bare.a], [bare.b, lead.battery-end]]\n"
    outcomes, status, reasons = judged(kit(joined, bare=BLANK_LEAD))
    assert outcomes["dc-fused", "battery"] == "passed"
    assert cannot_tell(outcomes, OF_LEADS, "bare")
    assert reasons["fuse-protects-conductor", "bare"]["settle"] == "fuse of bare in kit.yaml"
    assert status == 3


@pytest.mark.parametrize(("air", "outcome"), [("-8 degC", "failed"), ("8 degC", "passed")])
def test_a_panel_that_names_no_battery_charges_the_only_one(judged: Any, air: str, outcome: str) -> None:
    panel = "  - {name: panel, class: solar panel, solar: {harvest: 20 W}}\n"
    outcomes, status, _ = judged(kit(panel), "20 degC", air)
    assert outcomes["charge-temperature", "battery"] == outcome
    assert (status == 1) is (outcome == "failed")


def test_which_of_two_batteries_a_panel_charges_is_asked_for(judged: Any) -> None:
    two = (
        "  - {name: panel, class: solar panel}\n  - {name: bank, is: power-bank-20-ah}\n"
        "  - {name: third, is: lithium-iron-battery-6-ah, spare_of: battery}\n"
    )
    outcomes, status, reasons = judged(kit(two))
    assert {outcomes["charge-temperature", item] for item in ("battery", "bank")} == {"cannot tell"}
    assert outcomes["charge-temperature", "third"] == "not applicable"
    assert reasons["charge-temperature", "bank"]["settle"] == "solar.charges of panel in kit.yaml"
    assert status == 3
    told = two.replace("class: solar panel", "class: solar panel, solar: {charges: bank, harvest: 10 W}")
    outcomes, _, _ = judged(kit(told))
    assert [outcomes["charge-temperature", item] for item in ("battery", "bank")] == ["not applicable", "passed"]


def test_by_air_the_battery_inside_a_device_is_asked_for_until_its_label_is_stated(judged: Any) -> None:
    flight = ("{by: car}", "{by: plane}")
    marked = "is: lithium-iron-battery-6-ah, battery: {label_energy: 76.8 Wh}"
    outcomes, status, reasons = judged(kit(laptop="class: computer", battery=marked), *flight)
    assert (outcomes["air-transport", "laptop"], status) == ("cannot tell", 3)
    assert reasons["air-transport", "laptop"]["settle"] == "battery of laptop in kit.yaml"
    inside = "class: computer, battery: {chemistry: lithium ion, capacity: 4.5 Ah, nominal: 11.1 V}"
    outcomes, status, reasons = judged(kit(laptop=inside, battery=marked), *flight)
    assert reasons["air-transport", "laptop"]["settle"] == "battery.label_energy of laptop in kit.yaml"
    labelled = inside.replace("4.5 Ah", "4.5 Ah, label_energy: 49.95 Wh")
    outcomes, _, _ = judged(kit(laptop=labelled, battery=marked), *flight)
    assert outcomes["air-transport", "laptop"] == "passed"


def test_a_journey_in_words_that_nobody_knows_is_asked_about(judged: Any) -> None:
    outcomes, status, reasons = judged(kit(), "travel: {by: car}\n", "travel: {by: with Ann}\n")
    assert (outcomes["air-transport", "battery"], status) == ("cannot tell", 3)
    assert reasons["air-transport", "battery"]["settle"] == "travel.by"
    assert outcomes["air-transport", "wire"] == "not applicable"


def test_a_supply_on_mains_is_no_battery_that_ends(judged: Any) -> None:
    ports = (
        "ports: [{name: plug, connector: mains, gender: male, role: mains, direction: sink}, {name: out, connector: "
        "genderless 15-45 A housing, role: DC, direction: source, volts: [13.5 V, 14 V], amperes: 20 A}]"
    )
    outcomes, _, _ = judged(kit(battery=f"class: supply, {ports}"))
    assert outcomes["battery-lasts", "battery"] == "not applicable"
    assert outcomes["dc-voltage-enough", "radio"] == "passed"


def test_without_the_battery_the_kit_is_broken_and_nothing_passes_for_it(judged: Any) -> None:
    outcomes, status, _ = judged(kit(battery=""))
    assert outcomes["chain-complete", "dc/any.a-battery-or-a-supply/radio"] == "failed"
    assert "passed" not in {outcomes[rule, "radio"] for rule in OF_LOADS}
    assert status == 1
