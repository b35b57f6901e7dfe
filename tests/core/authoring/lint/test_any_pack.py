"""For any pack that loads: what is found fits the schema, comes in order, and does not hang on the order of rules."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from afield.core.authoring.lint.as_json import lint_json
from afield.core.authoring.lint.build import Linted, lint
from afield.core.host.composition import shipped_schema
from afield.core.packs.loading import load_pack

from .conftest import NOW

VALIDATOR = Draft202012Validator(shipped_schema("lint"))
LEAVES = st.sampled_from(
    [
        {"fact": "shelf.books", "at_most": 10},
        {"fact": "shelf.books", "at_least": {"limit": "many"}},
        {"fact": "shelf.width", "at_most": "1 m"},
        {"fact": "shelf.width", "above": "100 cm"},
        {"fact": "shelf.colour", "is": "red"},
        {"fact": "shelf.colour", "one_of": ["blue"]},
        {"fact": "shelf.width", "exists": False},
        {"count": "shelf", "where": {"fact": "shelf.books", "above": {"limit": "many"}}, "at_least": 1},
        {"least": "shelf", "of": "shelf.width", "between": ["1 m", "2 m"]},
    ]
)
TREES = st.recursive(
    LEAVES,
    lambda inner: st.tuples(st.sampled_from(["all", "any", "none"]), st.lists(inner, min_size=1, max_size=3)).map(
        lambda pair: {pair[0]: pair[1]}
    ),
    max_leaves=4,
)
RULES = st.lists(st.tuples(TREES, st.none() | TREES, st.booleans()), min_size=1, max_size=4)
FACTS = st.fixed_dictionaries(
    {},
    optional={
        "shelf.books": st.integers(0, 12), "shelf.colour": st.sampled_from(["red", "blue"]),
        "shelf.width": st.sampled_from(["0.5 m", "1 m", "3 m"]),
    },
)  # fmt: skip
CASES = st.lists(st.tuples(st.integers(0, 3), FACTS, st.sampled_from(["passed", "failed", "cannot tell"])), max_size=4)
LIMIT = {"many": [{"from": "2024-01-01", "until": "2025-01-01", "value": "3"}, {"from": "2025-03-01", "value": "4"}]}


def rule(index: int, require: Any, where: Any, is_item: bool) -> dict[str, Any]:
    asked = {"confirm": "Look.", "when": "home"} if is_item else {"require": require}
    return {"id": f"rule-{index}", "for_each": "shelf", **asked, **({"where": where} if where else {})}


def case(number: int, index: int, facts: Any, outcome: str) -> dict[str, Any]:
    subject = {"kind": "shelf", "key": "shelf:a", "facts": facts}
    return {
        "name": f"case {number}", "rule": f"rule-{index}", "date": "2026-06-27", "subjects": [subject],
        "expect": {"outcome": outcome},
    }  # fmt: skip


def linted(make: Any, rules: list[dict[str, Any]], cases: list[dict[str, Any]]) -> Linted:
    with TemporaryDirectory() as name:
        house = make(Path(name))
        folder = house.pack(*rules, limits=LIMIT)
        if cases:
            house.write(folder / "cases.yaml", {"cases": cases})
        registry = house.engine.registry
        return lint(load_pack(folder, registry), registry, NOW)


def told(found: Linted) -> list[tuple[Any, ...]]:
    return sorted((each.code, sorted(each.about.items()), each.what, each.advice) for each in found.findings)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rules=RULES, cases=CASES, turn=st.integers(1, 3))
def test_any_pack(house_maker: Any, rules: Any, cases: Any, turn: int) -> None:
    written = [rule(index, *parts) for index, parts in enumerate(rules)]
    tried = [case(number, index % len(rules), *rest) for number, (index, *rest) in enumerate(cases)]
    found = linted(house_maker, written, tried)
    VALIDATOR.validate(lint_json(found))
    places = [each.place for each in found.findings]
    assert places == sorted(places)
    moved = written[turn % len(written) :] + written[: turn % len(written)]
    assert told(linted(house_maker, moved[::-1], tried)) == told(found)
    codes = [each.code for each in found.findings]
    assert ("no-cases" in codes) == (not cases)
    assert found.exit_status == 1
