"""The facts in whole plans, with kits of the catalogue."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.engine import Engine, compare, judge, load, report

LOW_POWER = """\
items:
  - {name: radio, is: hf-radio-10-w}
  - {name: feed line, is: coax-bnc-bnc-10-m}
  - {name: wire, is: end-fed-wire-20-m}
  - {name: battery, is: lithium-iron-battery-6-ah}
  - {name: power lead, is: dc-lead-coaxial}
"""
EVENING = (
    'schedule: {arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", mode: SSB, power: 10 W}\n'
    "conditions: {temperature: 22 degC}\n"
)
OF_BATTERY = ("energy.used", "energy.reserve", "energy.lasts", "energy.least_capacity", "energy.longest_on_air")
OF_TRIP = ("energy.trip_used", "energy.least_reserve", "energy.first_end", "energy.trip_longest_on_air")


def test_a_kit_of_the_catalogue_is_balanced(station: Any) -> None:
    record = station.facts(LOW_POWER, EVENING)
    assert record("battery", "energy.feeds").detail == {"items": "radio"}
    # Receiving 0.4 A, transmitting 2.5 A at the key, SSB: about 0.7 A for five hours of a battery of 5.4 Ah.
    mean_a = 0.7 * 0.4 + 0.3 * (0.4 + 2.1 * 0.35**0.75)
    assert record("battery", "energy.used").value == pytest.approx(5 * mean_a * 12.8)
    assert record("battery", "energy.reserve").value == pytest.approx(100 * (1 - 5 * mean_a / 5.4), abs=1)
    for name in OF_BATTERY:
        found = record("battery", name)
        assert 0 < found.low < found.value < found.high, name
        assert (found.detail["items"], found.unit) == ("radio", record("battery", name).unit)


def test_the_trip_has_what_its_only_battery_has(station: Any) -> None:
    record = station.facts(LOW_POWER, EVENING)
    pairs = zip(OF_TRIP, ("energy.used", "energy.reserve", "energy.lasts", "energy.longest_on_air"), strict=True)
    for of_trip, of_battery in pairs:
        whole, one = record("trip", of_trip), record("battery", of_battery)
        assert (whole.value, whole.parts) == (one.value, one.parts)
    assert record("trip", "energy.least_reserve").detail == {"battery": "battery"}


@pytest.mark.parametrize("item", ["radio", "feed-line", "power-lead"])
def test_what_holds_no_energy_feeds_nothing(station: Any, item: str) -> None:
    record = station.facts(LOW_POWER, EVENING)
    assert record(item, "energy.feeds").value is False
    reason = record(item, "energy.reserve").reason
    assert reason.text == f"{item.replace('-', ' ')} feeds nothing, or holds no energy"


@pytest.mark.parametrize(
    ("more", "reason"),
    [
        ("", ("the time on the air is not stated", "schedule.on_air", "missing input")),
        (
            'schedule: {on_air: ["15:30", "20:30"]}',
            (
                "neither the mode nor the share of the time spent transmitting is stated", "schedule.mode",
                "missing input",
            ),
        ),
    ],
)  # fmt: skip
def test_a_plan_that_does_not_say_enough_cannot_be_told(station: Any, more: str, reason: tuple[str, ...]) -> None:
    record = station.facts(LOW_POWER, more)
    for item, name in [("battery", name) for name in OF_BATTERY] + [("trip", name) for name in OF_TRIP]:
        why = record(item, name).reason
        assert (why.text, why.settle, why.code) == reason


def test_a_kit_without_a_battery_has_no_energy(station: Any) -> None:
    reason = station.facts("items: [pencil]\n", EVENING)("trip", "energy.least_reserve").reason
    assert (reason.text, reason.settle) == ("no battery of the kit feeds anything", "kit")


def test_the_battery_that_cannot_be_told_keeps_the_trip_from_being_told(station: Any) -> None:
    undescribed = LOW_POWER.replace("is: lithium-iron-battery-6-ah", "class: battery, ports: [{name: out, connector: "
        "genderless 15-45 A housing, role: DC, direction: source, volts: [11 V, 14 V], amperes: 12 A}]")  # fmt: skip
    record = station.facts(undescribed, EVENING)
    for item, name in (("battery", "energy.reserve"), ("trip", "energy.least_reserve"), ("trip", "energy.trip_used")):
        why = record(item, name).reason
        assert why.text == "the battery of battery is not described"
    assert record("battery", "energy.feeds").value is True


def of_capacity(capacity: str) -> str:
    """The kit with another battery."""
    described = f"battery: {{chemistry: lithium iron phosphate, capacity: {capacity}, nominal: 12.8 V, usable: 90 %}}"
    return LOW_POWER.replace(
        "is: lithium-iron-battery-6-ah", f"is: lithium-iron-battery-6-ah, mass: 20 kg, {described}"
    )


def test_a_battery_that_would_last_for_weeks_has_no_end(station: Any) -> None:
    record = station.facts(of_capacity("200 Ah"), EVENING)
    assert record("battery", "energy.reserve").value > 90
    assert record("battery", "energy.lasts").reason.text == "battery does not end within 10 days"


def verdicts(tmp_path: Any, kit: str, more: str) -> dict[str, Any]:
    (tmp_path / "kit.yaml").write_text(kit, encoding="utf-8")
    plan = tmp_path / "trip.yaml"
    plan.write_text(f"trip: A\ndate: 2026-06-27\npacks: [gear]\nkit: [kit.yaml]\n{more}", encoding="utf-8")
    engine = Engine()
    made = report(judge(load(plan, engine), engine), engine)
    assert engine.failures() == []
    return {one["rule"]: one for one in made["verdicts"] if one["subject"] == "item:battery"}


def test_the_pack_judges_the_reserve_and_says_what_is_short(tmp_path: Any) -> None:
    small = of_capacity("1 Ah").replace("20 kg", "0.2 kg")
    found = verdicts(tmp_path, small, EVENING)
    assert (found["gear/battery-lasts"]["outcome"], found["gear/battery-reserve"]["outcome"]) == ("failed", "failed")
    text = found["gear/battery-lasts"]["text"]
    assert text.startswith("battery lacks ")
    assert text.endswith("of its usable charge for radio: take more capacity, less power, or less time on the air.")


def test_the_pack_leaves_what_feeds_nothing_alone(tmp_path: Any) -> None:
    found = verdicts(tmp_path, "items: [battery]\n", EVENING)
    assert {found[f"gear/{rule}"]["outcome"] for rule in ("battery-lasts", "battery-reserve")} == {"not applicable"}


VARIANTS = """
variants:
  less-power: {schedule: {power: 5 W}}
  morse: {schedule: {mode: CW}}
  larger: {kit: [kit.yaml, more.yaml]}
"""


def test_errors_that_two_variants_share_cancel_in_their_difference(tmp_path: Any) -> None:
    (tmp_path / "kit.yaml").write_text(LOW_POWER, encoding="utf-8")
    (tmp_path / "more.yaml").write_text("items: [{name: chair, mass: 2 kg}]\n", encoding="utf-8")
    plan = tmp_path / "trip.yaml"
    plan.write_text(f"trip: A\ndate: 2026-06-27\npacks: [gear]\nkit: [kit.yaml]\n{EVENING}{VARIANTS}", encoding="utf-8")
    found = compare(plan, Engine())
    (row,) = [row for row in found["rows"] if row["fact"] == "energy.trip_used"]
    (reserve,) = [row for row in found["rows"] if row["fact"] == "energy.least_reserve"]
    assert reserve["values"][0]["lines"] == ["battery"]
    less, morse, larger = row["differences"]
    alone = row["values"][0]["uncertainty"]
    assert (less["finding"], less["value"] < 0, less["uncertainty"] < alone / 3) == ("differs", True, True)
    # Another mode is another way of working: its share and duty are errors of their own.
    assert morse["uncertainty"] > alone / 2
    assert larger["finding"] == "the same"


def test_every_origin_comes_in_with_an_item_a_way_of_working_or_the_law(station: Any) -> None:
    more = """\
  - {name: converter, is: usb-converter-45-w}
  - {name: panel, is: solar-panel-60-w, solar: {harvest: 5 W, charges: battery}}
"""
    record = station.facts(LOW_POWER + more, EVENING)
    entered = set(record("trip", "energy.balances").parts)
    for name in OF_BATTERY:
        assert record("battery", name).parts.keys() <= entered
    of_items = [record(item, "energy.figures").parts for item in ("radio", "battery", "converter", "panel", "wire")]
    assert [len(parts) > 0 for parts in of_items] == [True, True, True, True, False]
    shared = record("trip", "energy.way_of_working").parts.keys() | record("trip", "energy.current_law").parts.keys()
    assert entered == shared | {origin for parts in of_items for origin in parts}
