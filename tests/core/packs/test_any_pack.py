"""For any pack and plan, whatever fails: one verdict for each rule and subject, with a reason where none is told."""

from dataclasses import replace
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.facts.declarations import Fact

TALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}
OUTCOMES = {"passed", "failed", "cannot tell", "not applicable"}
CONDITIONS = st.sampled_from(
    [
        {"fact": "shelf.books", "at_most": 10},
        {"fact": "shelf.colour", "is": "red"},
        {"fact": "shelf.spare", "at_least": "1 m"},
        {"fact": "wall.fits", "is": True},
        {"fact": "trip.books", "above": 5},
        {"count": "shelf", "where": {"fact": "shelf.colour", "is": "red"}, "at_least": 1},
        {"least": "shelf", "of": "shelf.width", "below": "1 m"},
        {"fact": "shelf.width", "exists": False},
    ]
)
TREES = st.recursive(
    CONDITIONS,
    lambda inner: st.tuples(st.sampled_from(["all", "any", "none"]), st.lists(inner, min_size=1, max_size=3)).map(
        lambda pair: {pair[0]: pair[1]}
    ),
    max_leaves=5,
)
SHELF = st.fixed_dictionaries(
    {},
    optional={
        "books": st.integers(0, 20), "width": st.sampled_from(["0.5 m", "1 m", "3 ft"]),
        "colour": st.sampled_from(["red", "blue"]),
    },
)  # fmt: skip


def boom(*_: Any, **__: Any) -> Any:
    raise RuntimeError("the shelf fell")


def crashing(toys: Any, name: str) -> list[Fact]:
    return [replace(fact, function=boom) if fact.name == name else fact for fact in toys.FACTS]


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    rules=st.lists(st.tuples(TREES, st.none() | CONDITIONS), min_size=1, max_size=3),
    shelves=st.lists(SHELF, max_size=3),
    wall=st.sampled_from([{}, {"wall": {"height": "3 m"}}, TALL]),
    failing=st.sampled_from([None, "shelf.spare", "wall.fits", "trip.books"]),
)
def test_for_any_pack_and_plan_there_is_one_verdict_for_each_pair(
    tmp_path_factory: Any, toys: Any, rules: Any, shelves: Any, wall: Any, failing: str | None
) -> None:
    fresh = type(toys)(tmp_path_factory.mktemp("house")).house(facts=lambda: crashing(toys, failing or ""))
    fresh.pack(*[
        {"id": f"rule-{index}", "for_each": "shelf", "require": require, **({"where": where} if where else {})}
        for index, (require, where) in enumerate(rules)
    ])  # fmt: skip
    named = [{"name": f"s{index}", **shelf} for index, shelf in enumerate(shelves)]
    report = fresh.report(shelves=named, **wall)
    due = [f"shelf:s{index}" for index in range(len(shelves))] or ["trip"]
    assert [(v["rule"], v["subject"]) for v in report["verdicts"]] == [
        (f"tidy/rule-{index}", key) for index in range(len(rules)) for key in due
    ]
    assert {verdict["outcome"] for verdict in report["verdicts"]} <= OUTCOMES
    for verdict in report["verdicts"]:
        assert (verdict["reason"] is not None) == (verdict["outcome"] in ("cannot tell", "not applicable"))
    assert sum(report["summary"]["outcomes"].values()) == len(report["verdicts"])
