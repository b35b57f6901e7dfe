"""The wiring of a kit as JSON, for the report and the briefing."""

from __future__ import annotations

from typing import Any

from afield.core.api import marked, slug
from afield.plugins.kit.joints import Joint
from afield.plugins.kit.missing import gap_between
from afield.plugins.kit.model import End, Port
from afield.plugins.kit.wiring import ChainState, Wiring
from afield.plugins.kit.words import end_words

Json = dict[str, Any]
WHICH, NOWHERE = marked("which one cannot be told"), marked("not in the kit")
"""What stands where the class of an item does; both are said where they are drawn."""


def encoded_wiring(wiring: Wiring) -> Json:
    """Joints with their ends, chains with where the broken ones have their gap, and what makes noise."""
    return {
        "joints": [_joint(joint, wiring) for joint in wiring.joints],
        "chains": [_chain(state, wiring) for state in wiring.chains],
        "noisy": noisy_items(wiring),
    }


def _joint(joint: Joint, wiring: Wiring) -> Json:
    fit = wiring.fits[joint.key]
    return {
        "connection": f"connection:{joint.key}", "from": joint.one.written, "to": joint.other.written,
        "inferred": joint.inferred, "fits": fit.fits, "why": fit.why, "needs": fit.needs,
        "ends": [_end(joint.one), _end(joint.other)],
    }  # fmt: skip


def _end(end: End) -> Json:
    """An end: its item, and what is known of its port."""
    port = end.port
    known = {"kind": port.kind, "role": port.role, "direction": port.direction} if port else {}
    return {
        "item": end.item.key, "name": end.item.name, "class": end.item.class_,
        "kind": None, "role": None, "direction": None, **known,
    }  # fmt: skip


def _chain(state: ChainState, wiring: Wiring) -> Json:
    return {
        "chain": f"chain:{state.chain.key}", "title": state.chain.title, "role": state.chain.role,
        "complete": state.complete, "connections": [f"connection:{key}" for key in state.joints],
        "why": state.why, "needs": state.needs,
        "gap": None if state.joints else _gap(state, wiring),
    }  # fmt: skip


def _gap(state: ChainState, wiring: Wiring) -> list[Json]:
    """Between what a chain without a way is broken, or not known."""
    chain = state.chain
    if state.complete is False and chain.starts and chain.ends:
        pair = gap_between(chain, wiring.kit, wiring.net)
        if pair is not None:
            return [_named(wiring, port.item, "", "") for port in pair]
    return [_side(wiring, chain.start, chain.starts), _side(wiring, chain.end, chain.ends)]


def _side(wiring: Wiring, name: str, ports: tuple[Port, ...]) -> Json:
    """The one item at an end of a chain, else in words what the kit has none of, or several."""
    items = {port.item for port in ports}
    note = WHICH if len(items) > 1 else NOWHERE
    return _named(wiring, items.pop() if len(items) == 1 else slug(name), end_words(name), note)


def _named(wiring: Wiring, key: str, words: str, note: str) -> Json:
    item = wiring.kit.items.get(key)
    found = (item.key, item.name, item.class_) if item else (None, words, note)
    return dict(zip(("item", "name", "class"), found, strict=True))


def noisy_items(wiring: Wiring) -> list[str]:
    """Names of the items that make RF noise and that a complete chain goes through, in the order of the kit."""
    used = {key for state in wiring.chains if state.complete for key in state.joints}
    running = {port.item for joint in wiring.joints if joint.key in used for port in joint.ports}
    return [
        item.name
        for item in wiring.kit.items.values()
        if item.key in running and "makes RF noise" in (item.features or ())
    ]
