"""Rules of several packs that wait for each other's verdicts, so that none of them can be judged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from afield.core.documents import Problem
from afield.core.facts.graph import first_cycle
from afield.core.packs.asking import asked_by_rule
from afield.core.packs.model import Pack, Rule
from afield.core.packs.outlines import Outlines, RuleElsewhere


def ring_words(ring: Sequence[str], places: Mapping[str, str]) -> tuple[str, str]:
    """What is wrong with rules that wait for each other, and what to do about it."""
    told = "; ".join(f"`{key}` is at {places[key]}" for key in ring[1:-1])
    advice = "One of them must not use the next one's verdict."
    return f"the rules form a cycle: {' waits for '.join(ring)}", f"{advice} {told}." if told else advice


def problems_of_rings(pack: Pack, outlines: Outlines) -> list[Problem]:
    """A rule of the pack that waits for itself by way of rules of other packs; none for a pack that asks no other."""
    rules = {rule.key: _outlined(rule, pack) for rule in pack.rules}
    edges = _edges(rules, pack, outlines)
    written = {rule.key: rule for rule in pack.rules if pack.writes(rule)}
    ring = _ring_through(written, {key: [one.key for one in asked] for key, asked in edges.items()})
    if ring is None:
        return []  # what others wait for among themselves is told where they are read
    places = {one.key: str(one.place) for one in [*rules.values(), *(one for asked in edges.values() for one in asked)]}
    return [pack.documents["rules"].problem(written[ring[0]].path, *ring_words(ring, places))]


def _ring_through(written: Mapping[str, Rule], edges: dict[str, list[str]]) -> list[str] | None:
    """A ring that one of the rules is in, closed, told from that one on."""
    while ring := first_cycle(edges):
        mine = next((key for key in written if key in ring), None)
        if mine is not None:
            return _from(mine, ring)
        edges = {key: asked for key, asked in edges.items() if key not in ring}
    return None


def _from(key: str, ring: list[str]) -> list[str]:
    """The ring, closed, told from one of its members on."""
    at = ring.index(key)
    return [*ring[at:-1], *ring[:at], key]


def _outlined(rule: Rule, pack: Pack) -> RuleElsewhere:
    return RuleElsewhere(
        pack.id, rule.id, rule.title, rule.for_each, pack.judges, rule.place, tuple(asked_by_rule(rule))
    )


def _edges(rules: Mapping[str, RuleElsewhere], pack: Pack, outlines: Outlines) -> dict[str, list[RuleElsewhere]]:
    """Every rule that can be reached from the pack's, and those that it waits for."""
    ids = [each.id for each in pack.lineage()]

    def _found(name: str, asking: RuleElsewhere) -> RuleElsewhere | None:
        named, _, rule = name.partition("/")
        return rules.get(f"{pack.id}/{rule}") if named in ids else outlines.asked_by(asking, name, pack.folder)

    edges: dict[str, list[RuleElsewhere]] = {}
    waiting = list(rules.values())
    while waiting:
        one = waiting.pop()
        if one.key in edges:
            continue
        names = [name if "/" in name else f"{one.pack}/{name}" for name in one.asks]
        found = [_found(name, one) for name in names]
        edges[one.key] = [other for other in found if other is not None]
        waiting += edges[one.key]
    return edges
