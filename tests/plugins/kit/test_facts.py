"""The facts and subjects, as rules meet them."""

from __future__ import annotations

from hashlib import sha256
from types import SimpleNamespace
from typing import Any

import pytest

from afield.core.api import InputError
from afield.core.documents import read_document
from afield.core.engine import judge, load, report
from afield.plugins.kit import plugin

WHOLE = (
    "kit.items", "kit.mass", "kit.price", "kit.missing_pieces", "kit.chains_complete", "kit.hand_set",
)  # fmt: skip


def test_the_kit_as_a_whole(bag: Any, low_power: str) -> None:
    found = {name: record for (_, name), record in bag.facts(low_power, *WHOLE).items()}
    assert found["kit.items"].value == 5
    assert found["kit.mass"].value == pytest.approx(1.1 + 0.45 + 0.35 + 0.82 + 0.08)
    own = [0.2 * 1.1, 0.2 * 0.45, 0.2 * 0.35, 0.05 * 0.82, 0.2 * 0.08]
    assert found["kit.mass"].uncertainty == pytest.approx(sum(part**2 for part in own) ** 0.5)
    assert (found["kit.mass"].unit, found["kit.mass"].detail) == ("kg", {"items": 5})
    assert found["kit.missing_pieces"].value == []
    assert (found["kit.chains_complete"].value, found["kit.chains_complete"].detail) == (True, {"why": "", "needs": ""})
    assert found["kit.hand_set"].value == ["tune wire; no tuner is joined to it"]


def test_what_is_lacking_is_named_with_where_it_goes(bag: Any, low_power: str) -> None:
    found = bag.facts(low_power + "  - pencil\n", "kit.mass", "kit.price", "item.class", "item.bag")
    reasons = {key: (record.reason.text, record.reason.settle) for key, record in found.items() if record.reason}
    assert reasons["trip", "kit.mass"] == ("the mass of pencil is not stated", "mass of pencil in kit.yaml")
    assert reasons["trip", "kit.price"] == ("the price of radio is not stated", "price of radio in kit.yaml")
    assert reasons["item:pencil", "item.class"] == ("the class of pencil is not stated", "class of pencil in kit.yaml")
    assert reasons["item:pencil", "item.bag"] == ("the bag of pencil is not stated", "bag of pencil in kit.yaml")


def test_an_item_that_is_only_a_name_is_a_box_to_tick(bag: Any, low_power: str) -> None:
    extra = "  - pencil\n  - {name: jacket, class: clothing}\n  - {name: patch, class: lead}\n"
    found = bag.facts(low_power + extra, "item.is_essential")
    for key in ("item:pencil", "item:jacket"):
        assert (found[key, "item.is_essential"].value, found[key, "item.is_essential"].notes) == (
            False,
            ("Items without ports, whose class stands in no chain, are boxes to tick: no chain needs them.",),
        )
    reason = found["item:patch", "item.is_essential"].reason
    assert (reason.text, reason.settle) == ("the ports of patch are not stated", "ports of patch in kit.yaml")


def test_an_item_of_unknown_ports_that_is_joined_is_no_box_to_tick(bag: Any, low_power: str) -> None:
    text = low_power + "  - thing\nconnections: [[radio.antenna, thing]]\n"
    assert bag.facts(text, "item.is_essential")["item:thing", "item.is_essential"].reason.text == (
        "the ports of thing are not stated"
    )


def test_prices_are_added(bag: Any) -> None:
    found = bag.facts('items:\n  - {name: a, price: 12.5}\n  - {name: b, price: "7"}\n', "kit.price", "item.price")
    assert [record.value for record in found.values()] == [19.5, 12.5, 7.0]


def test_a_plan_without_a_kit_cannot_be_told(bag: Any) -> None:
    path = bag.file("bare.yaml", "trip: A day out\ndate: 2026-06-27\npacks: [day]\n")
    trip = load(path, bag.engine)
    for name in WHOLE:
        reason = trip.world.value("trip", name).reason
        assert reason is not None
        assert (reason.code, reason.text, reason.settle) == ("missing input", "kit files is not stated", "kit")
    assert not [subject for subject in trip.subjects.values() if subject.kind in ("item", "connection", "chain")]


def test_a_kit_without_a_radio_has_no_chain_to_be_complete(bag: Any) -> None:
    (record,) = bag.facts("items: [pencil]\n", "kit.chains_complete").values()
    assert record.reason.text == "nothing in the kit needs a chain: no radio is described, and no chains are stated"


def test_items_with_spares_ports_and_consumables(bag: Any, low_power: str) -> None:
    text = (
        low_power
        + "  - {name: other line, is: coax-bnc-bnc-10-m, spare_of: feed line}\n  - {name: pencil, ports: []}\n"
    )
    names = ("item.has_spare", "item.spare_of", "item.ports_known", "item.is_essential", "item.consumables")
    found = bag.facts(text, *names)
    values = {key: record.value for key, record in found.items()}
    assert [key for (key, name), value in values.items() if name == "item.has_spare" and value] == ["item:feed-line"]
    assert found["item:feed-line", "item.has_spare"].detail == {"spare": "other line"}
    assert values["item:other-line", "item.spare_of"] == "feed line"
    assert found["item:radio", "item.spare_of"].reason.text == "radio is not stated to be a spare"
    essential = [key for (key, name), value in values.items() if name == "item.is_essential" and value]
    assert essential == ["item:radio", "item:feed-line", "item:wire", "item:battery", "item:power-lead"]
    assert found["item:wire", "item.is_essential"].detail == {"chains": "RF from radio to an antenna"}
    assert (values["item:pencil", "item.ports_known"], values["item:pencil", "item.is_essential"]) == (True, False)
    assert values["item:power-lead", "item.consumables"] == ["fuse 5 A"]


def test_nothing_is_said_of_what_is_not_essential_while_a_chain_is_broken(bag: Any) -> None:
    text = "items:\n  - {name: radio, is: hf-radio-10-w}\n  - {name: battery, is: lithium-ion-battery-3-ah}\n"
    found = bag.facts(text + "  - {name: key, is: paddle}\n", "item.is_essential")
    assert found["item:battery", "item.is_essential"].value is True
    assert found["item:key", "item.is_essential"].reason.text == (
        "RF from radio to an antenna is not complete: nothing joins radio to an antenna; it needs an antenna"
    )


def test_connections_and_chains_are_subjects(bag: Any, low_power: str) -> None:
    text = low_power + "connections: [[radio.antenna, feed line.plug-a]]\n"
    found = bag.facts(text, "connection.fits", "chain.complete", "chain.role")
    fits = {key: record for (key, name), record in found.items() if name == "connection.fits"}
    assert list(fits) == [
        "connection:radio.antenna/feed-line.plug-a",
        "connection:feed-line.plug-b/wire.feed",
        "connection:battery.terminals/power-lead.battery-end",
        "connection:power-lead.plug/radio.dc",
    ]
    assert [record.detail["inferred"] for record in fits.values()] == ["no", "yes", "yes", "yes"]
    assert [record.method for record in fits.values()][:2] == ["stated", "inferred: exactly one way fits"]
    chain = found["chain:rf/radio/any.an-antenna", "chain.complete"]
    assert (chain.value, chain.detail["way"]) == (
        True,
        "radio.antenna to feed line.plug-a, feed line.plug-b to wire.feed",
    )
    assert found["chain:rf/radio/any.an-antenna", "chain.role"].value == "RF"


def test_a_connection_of_an_item_without_ports_cannot_be_told(bag: Any, low_power: str) -> None:
    text = low_power + "  - coax\nconnections: [[radio.antenna, coax.one]]\n"
    reason = bag.facts(text, "connection.fits")["connection:radio.antenna/coax.one", "connection.fits"].reason
    assert (reason.code, reason.text, reason.settle) == (
        "missing input",
        "the ports of coax are not stated",
        "ports of coax in kit.yaml",
    )


def test_a_broken_chain_decides_whatever_else_cannot_be_told(bag: Any) -> None:
    text = "items:\n  - {name: radio, is: hf-radio-10-w}\n  - {name: wire, class: antenna}\n"
    found = bag.facts(text, "kit.chains_complete", "kit.missing_pieces", "chain.complete")
    assert found["trip", "kit.chains_complete"].value is False
    assert found["trip", "kit.chains_complete"].detail["needs"] == "a battery or a supply"
    assert found["trip", "kit.missing_pieces"].reason.text == (
        "RF from radio to an antenna: the ports of wire are not stated"
    )
    assert found["chain:rf/radio/any.an-antenna", "chain.complete"].reason.subject == "chain:rf/radio/any.an-antenna"


def test_a_variant_has_its_own_kit(bag: Any, low_power: str) -> None:
    bag.file("kit.yaml", low_power)
    bag.file("light.yaml", "items: [pencil]\n")
    plan = bag.plan("variants: {light: {kit: [light.yaml]}}\n")
    assert load(plan, bag.engine).world.value("trip", "kit.items").value == 5
    assert load(plan, bag.engine, "light").world.value("trip", "kit.items").value == 1


def test_connections_that_a_variant_changes_change_the_wiring(bag: Any, low_power: str) -> None:
    bag.file("kit.yaml", low_power)
    plan = bag.plan("variants: {off: {chains: [{role: RF, from: radio, to: wire}]}}\n")
    assert len(load(plan, bag.engine).world.value("trip", "kit.wiring").value.chains) == 2
    assert len(load(plan, bag.engine, "off").world.value("trip", "kit.wiring").value.chains) == 1


def test_a_kit_is_read_again_when_its_file_changes(bag: Any) -> None:
    assert len(bag.kit("items: [pencil]\n").items) == 1
    assert len(bag.kit("items: [pencil, paper]\n").items) == 2


def test_the_hook_lets_what_the_user_wrote_wrongly_through(bag: Any) -> None:
    plan = read_document(bag.plan(kit="[absent.yaml]"), "trip.yaml")
    with pytest.raises(InputError) as refused:
        plugin.afield_subjects(plan)
    assert str(refused.value.problems[0].place) == "trip.yaml:4:7"


def test_the_hooks_are_marked() -> None:
    hooks = ("afield_kinds", "afield_fragments", "afield_subjects", "afield_facts", "afield_sections")
    found = SimpleNamespace(**{name: getattr(plugin, name) for name in hooks})
    assert all(getattr(getattr(found, name), "afield_impl", None) is not None for name in hooks)
    assert [kind.name for kind in plugin.afield_kinds()] == ["item", "connection", "chain"]


def test_the_run_lists_the_kit_s_files_with_their_hashes(bag: Any, low_power: str) -> None:
    bag.file("more/extra.csv", "name\npencil\n")
    bag.file("kit.yaml", low_power)
    trip = load(bag.plan(kit="[kit.yaml, more/extra.csv]"), bag.engine)
    found = report(judge(trip, bag.engine), bag.engine, False)["run"]["files"]
    beside = {entry["file"]: entry["sha256"] for entry in found if not entry["file"].startswith("pack:")}
    assert beside == {
        name: sha256((bag.folder / name).read_bytes()).hexdigest() for name in ("kit.yaml", "more/extra.csv")
    }
