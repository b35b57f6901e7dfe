"""Which fact rests on which: cycles, lineage, and what a change reaches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from afield.core.facts.declarations import Each, Fact, Kind


def inputs_of(fact: Fact) -> list[str]:
    """Names of the facts that the function asks for, as YAML or Python names."""
    needs = [need.fact if isinstance(need, Each) else need for need in fact.parameters.values()]
    return [need for need in needs if need != "subject"]


def fact_cycle(facts: Mapping[str, Fact]) -> list[str] | None:
    """One cycle among the facts as a closed list of names, or None."""
    edges = {name: inputs_of(fact) for name, fact in facts.items()}
    return first_cycle(edges)


def first_cycle(edges: Mapping[str, list[str]]) -> list[str] | None:
    """One cycle of a directed graph as a closed list of nodes, or None; edges to unknown nodes are passed over."""
    done: set[str] = set()
    for start in edges:
        found = _cycle_from(start, edges, done, [])
        if found:
            return found
    return None


def _cycle_from(node: str, edges: Mapping[str, list[str]], done: set[str], trail: list[str]) -> list[str] | None:
    if node in trail:
        return [*trail[trail.index(node) :], node]
    if node in done:
        return None
    for following in edges.get(node, []):
        found = _cycle_from(following, edges, done, [*trail, node])
        if found:
            return found
    done.add(node)
    return None


def kinds_around(kind: str, kinds: Mapping[str, Kind]) -> list[str]:
    """The kind itself and every kind that encloses it, nearest first."""
    found: list[str] = []
    waiting = [kind]
    while waiting:
        current = waiting.pop(0)
        if current not in found:
            found.append(current)
            waiting.extend(kinds[current].within if current in kinds else ())
    return found


def rests_on(name: str, facts: Mapping[str, Fact]) -> set[str]:
    """Every fact that a fact rests on, itself included."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        current = waiting.pop()
        if current not in found:
            found.add(current)
            waiting.extend(inputs_of(facts[current]) if current in facts else ())
    return found


def resting_on(changed: Iterable[str], facts: Mapping[str, Fact]) -> Iterator[str]:
    """Every fact that rests on one of the changed ones."""
    users: dict[str, list[str]] = {}
    for name, fact in facts.items():
        for need in inputs_of(fact):
            users.setdefault(need, []).append(name)
    touched: set[str] = set()
    waiting = list(changed)
    while waiting:
        current = waiting.pop()
        if current not in touched:
            touched.add(current)
            waiting.extend(users.get(current, ()))
    return (name for name in facts if name in touched)
