"""Changes that cases catch, changes that survive with the case that would catch them, and those that nothing tells."""

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.authoring.mutation.mutants import mutants_of
from afield.core.authoring.mutation.telling import catches, told_apart
from afield.core.authoring.mutation.trying import Mutation, catching
from afield.core.engine import Engine
from afield.core.packs.cases import read_cases
from afield.core.packs.finding import installed_packs
from afield.core.packs.loading import load_pack

DAMP = {"fact": "wall.damp", "is": True}
GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
LIMITS = {"gap": [
    {"from": "2022-01-01", "until": "2024-01-01", "none": "Nobody cared."},
    {"from": "2024-01-01", "value": "0.5", "unit": "m"},
]}  # fmt: skip
RICH: list[Any] = [
    {**GAP, "where": {"any": [DAMP, {"fact": "trip.books", "between": [2, 5]}]}, "from": "2021-01-01"},
    {"id": "red", "for_each": "shelf", "severity": "advised", "decision": "simple", "require": {"all": [
        {"fact": "shelf.colour", "one_of": ["red", "blue"]}, {"fact": "shelf.width", "above": "30 cm"}]}},
    {"id": "shelves", "require": {"count": "shelf", "where": {"fact": "shelf.books", "above": 3}, "at_least": 2}},
    {"id": "colours", "require": {"count": "shelf", "distinct": ["shelf.colour"], "at_least": 2}},
    {"id": "widest", "require": {"greatest": "shelf", "of": "shelf.width", "at_most": "90 cm"}},
    {"id": "total", "require": {"sum": "shelf", "of": "shelf.books", "at_most": 40}},
    {"id": "both", "require": {"none": [{"verdict": "gap", "is": "failed"}, {"fact": "wall.damp", "exists": False}]}},
    {"id": "box", "confirm": "Close the box.", "when": "home", "where": DAMP},
]  # fmt: skip


def outcomes(mutation: Mutation) -> dict[str, str]:
    return {trial.mutant.title: trial.outcome for trial in mutation.trials}


def suggested(mutation: Mutation) -> str:
    """The cases that are printed, each once."""
    return "".join(trial.told.case or "" for trial in mutation.trials if trial.told and not trial.like)


def test_a_case_at_the_limit_catches_what_moves_it(changed: Any) -> None:
    given = {"subjects": [{"kind": "trip", "key": "trip", "facts": {"wall.gap": "0.5 m"}}]}
    mutation = changed.tried(GAP, limits=LIMITS, cases=[{"rule": "gap", "expect": {"outcome": "passed"}, **given}])
    found = outcomes(mutation)
    assert found["rule gap: require: at_least becomes above"] == "caught"
    assert found["limit gap: 0.5 m from 2024-01-01 becomes 0.6 m"] == "caught"
    assert found["limit gap: 0.5 m from 2024-01-01 becomes 0.4 m"] == "survived"
    assert found["rule gap: severity: required becomes advised"] == "survived"
    assert mutation.exit_status == 1


def test_with_every_case_that_is_printed_nothing_survives(changed: Any) -> None:
    before = changed.tried(*RICH, limits=LIMITS)
    assert len(before.trials) > 80
    assert {trial.outcome for trial in before.trials} == {"survived"}
    assert [trial.mutant.title for trial in before.trials if trial.told.case is None] == []
    after = changed.tried(*RICH, limits=LIMITS, cases=suggested(before))
    assert [title for title, outcome in outcomes(after).items() if outcome != "caught"] == []
    assert (after.wrong, after.exit_status) == (0, 0)


def test_no_change_of_a_rich_pack_leaves_it_as_it_is(changed: Any) -> None:
    pack = changed.pack(*RICH, limits=LIMITS)
    for mutant in mutants_of(pack, changed.registry):
        assert (mutant.pack.rules, mutant.pack.limits, mutant.pack.facts) != (pack.rules, pack.limits, pack.facts)


LEAVES = st.one_of(
    st.builds(lambda due: {"fact": "wall.damp", "is": due}, st.booleans()),
    st.builds(lambda due: {"fact": "wall.damp", "exists": due}, st.booleans()),
    st.builds(
        lambda how, most: {"fact": "trip.books", how: most},
        st.sampled_from(["at_most", "at_least", "below", "above", "is"]), st.integers(1, 9),
    ),
    st.builds(lambda least, more: {"fact": "wall.gap", "between": [f"{least} m", f"{least + more} m"]},
              st.integers(1, 4), st.integers(0, 3)),
)  # fmt: skip
CONDITIONS = st.recursive(
    LEAVES,
    lambda inner: st.builds(
        lambda operator, children: {operator: children},
        st.sampled_from(["all", "any", "none"]), st.lists(inner, min_size=1, max_size=2),
    ),
    max_leaves=3,
)  # fmt: skip


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(require=CONDITIONS)
def test_of_any_condition_every_change_differs_and_every_printed_case_catches(changed: Any, require: Any) -> None:
    pack = changed.pack({"id": "it", "require": require})
    mutants = mutants_of(pack, changed.registry)
    assert mutants
    for mutant in mutants:
        assert mutant.pack.rules != pack.rules
        told = told_apart(mutant, pack, changed.registry, [])
        if told.case is not None:
            assert catches(told.case, mutant, pack, changed.registry)
        assert told.case is not None or told.tried > 0


def test_a_change_that_nothing_can_tell_is_proved_by_all_combinations(changed: Any) -> None:
    twice = {"id": "it", "require": {"any": [DAMP, DAMP]}}
    trials = {trial.mutant.change: trial for trial in changed.tried(twice).trials}
    dropped = trials["require any 1: it is dropped"]
    assert dropped.outcome == "equivalent"
    assert dropped.told.proved == "all 4 combinations of what its comparisons can tell apart give the same verdict"


def test_a_limit_that_nothing_asks_for_needs_no_case(changed: Any) -> None:
    trials = changed.tried({"id": "it", "require": DAMP}, limits=LIMITS).trials
    proofs = {trial.told.proved for trial in trials if trial.mutant.kind == "limit"}
    assert proofs == {"no rule and no fact of the program asks for it"}


def test_numbers_that_tell_nothing_apart_prove_nothing(changed: Any) -> None:
    few = {"fact": "trip.books", "at_most": 9}
    trials = {
        trial.mutant.change: trial for trial in changed.tried({"id": "it", "require": {"any": [few, few]}}).trials
    }
    dropped = trials["require any 1: it is dropped"]
    assert (dropped.outcome, dropped.told.case, dropped.told.proved) == ("survived", None, None)
    assert dropped.told.tried > 5
    assert dropped.is_open


def test_a_written_reason_lets_a_change_survive_and_no_other(changed: Any) -> None:
    few = {"fact": "trip.books", "at_most": 9}
    rule = {"id": "it", "require": {"any": [few, few]}}
    change = "require any 1: it is dropped"
    mutation = changed.tried(rule, reasons=[{"rule": "it", "change": change, "reason": "Said twice."}])
    trials = {trial.mutant.change: trial for trial in mutation.trials}
    assert not trials[change].is_open
    assert trials["require any 2: it is dropped"].is_open


def test_a_reason_for_what_is_caught_is_needless(changed: Any) -> None:
    given = {"subjects": [{"kind": "trip", "key": "trip", "facts": {"wall.damp": True}}]}
    cases = [{"rule": "it", "expect": {"outcome": "passed", "severity": "required"}, **given}]
    rule = {"id": "it", "require": DAMP}
    assert changed.tried(rule, cases=cases).exit_status == 0
    reasons = [{"rule": "it", "change": "require: is true becomes false", "reason": "Never mind."}]
    mutation = changed.tried(rule, cases=cases, reasons=reasons)
    assert [key for key, _ in mutation.needless] == [("rule", "it", "require: is true becomes false")]
    assert mutation.exit_status == 1


def test_nothing_is_tried_by_cases_that_come_out_wrong(changed: Any) -> None:
    given = {"subjects": [{"kind": "trip", "key": "trip", "facts": {"wall.damp": True}}]}
    mutation = changed.tried(
        {"id": "it", "require": DAMP}, cases=[{"rule": "it", "expect": {"outcome": "failed"}, **given}]
    )
    assert (mutation.wrong, mutation.trials, mutation.exit_status) == (1, (), 1)


def test_a_pack_that_writes_nothing_is_not_green(changed: Any) -> None:
    changed.house.pack({"id": "it", "require": DAMP}, name="base")
    folder = changed.house.pack(name="club", extends="base", needs=[])
    changed.house.write(folder / "rules.yaml", {"limits": {}})
    from afield.core.authoring.mutation.trying import mutation_of

    mutation = mutation_of(load_pack(folder, changed.registry), changed.registry)
    assert (mutation.trials, mutation.exit_status) == ((), 1)


@pytest.mark.parametrize("name", ["basin-preserves", "freight-road", "gear"])
def test_the_cases_of_the_shipped_packs_catch_every_change(name: str) -> None:
    registry = Engine().registry
    pack = load_pack(installed_packs()[name], registry)
    cases = read_cases(pack, registry)
    mutants = mutants_of(pack, registry)
    assert len(mutants) > 50
    assert [mutant.title for mutant in mutants if catching(mutant, cases) is None] == []
