"""What became stricter or looser is decided by judging; what that demands of the version follows from it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.authoring.difference.replaying import effect_of
from afield.core.authoring.difference.versions import BUMPS, fits, least_version, written_bump
from afield.core.authoring.sampling.verdicts import Seen

DAMP = {"fact": "wall.damp", "is": True}
NOT_DAMP = {"fact": "wall.damp", "is": False}


def gap(value: str = "0.5", unit: str = "m", **version: Any) -> Any:
    return {"gap": [{"from": "2024-01-01", "value": value, "unit": unit, **version}]}


def rule(require: Any = None, **more: Any) -> Any:
    return {"id": "it", "require": require or {"fact": "wall.gap", "at_least": {"limit": "gap"}}, **more}


@pytest.mark.parametrize(
    ("old", "new", "effects", "demands"),
    [
        (gap("0.5"), gap("0.4"), ("looser",), "major"),
        (gap("0.5"), gap("0.6"), ("stricter",), "minor"),
        (gap("0.5"), gap("50", "cm"), ("told otherwise",), "patch"),
        (gap("0.5"), gap("0.50"), (), "none"),
        (gap("0.5"), gap("0.5", **{"from": "2025-01-01"}), ("looser", "stricter"), "major"),
    ],
)
def test_a_limit_that_moves(pair: Any, old: Any, new: Any, effects: tuple[str, ...], demands: str) -> None:
    found = pair.compared({"rules": [rule()], "limits": old}, {"rules": [rule()], "limits": new})
    assert [difference.effects for difference in found.rules] == [effects]
    assert found.demanded == demands


@pytest.mark.parametrize(
    ("old", "new", "effects"),
    [
        ({"all": [DAMP, {"fact": "trip.books", "is": 1}]}, DAMP, ("looser",)),
        (DAMP, {"all": [DAMP, {"fact": "trip.books", "is": 1}]}, ("stricter",)),
        (DAMP, NOT_DAMP, ("looser", "stricter")),
        (DAMP, {"none": [NOT_DAMP]}, ()),
        (DAMP, {"any": [DAMP, {"all": [DAMP, NOT_DAMP]}]}, ()),
    ],
)
def test_a_condition_that_changes(pair: Any, old: Any, new: Any, effects: tuple[str, ...]) -> None:
    assert pair.effects(rule(old), rule(new)) == {"it": effects}


def test_where_and_decision_are_judged_too(pair: Any) -> None:
    books = {"fact": "trip.books", "at_most": 3}
    assert pair.effects(rule(books), rule(books, where=DAMP)) == {"it": ("looser", "stricter")}
    # Stricter: where dampness is not known, it cannot be told whether the rule applies.


def test_a_decision_by_the_value_alone_is_both(pair: Any) -> None:
    books = {"fact": "trip.books", "at_most": 3}
    assert pair.effects(rule(books), rule(books, decision="simple")) == {"it": ("looser", "stricter")}


@pytest.mark.parametrize(
    ("before", "after", "effects", "demands"),
    [
        ("required", "advised", ("looser",), "major"),
        ("advised", "note", ("looser",), "minor"),
        ("note", "required", ("stricter",), "minor"),
    ],
)
def test_a_severity(pair: Any, before: str, after: str, effects: tuple[str, ...], demands: str) -> None:
    old, new = rule(DAMP, severity=before), rule(DAMP, severity=after)
    (found,) = pair.compared({"rules": [old]}, {"rules": [new]}).rules
    assert (found.effects, found.demands) == (effects, demands)


@pytest.mark.parametrize(("severity", "demands"), [("required", "major"), ("advised", "minor")])
def test_a_rule_that_is_gone(pair: Any, severity: str, demands: str) -> None:
    also = {"id": "also", "require": DAMP}
    found = pair.compared({"rules": [rule(DAMP, severity=severity), also]}, {"rules": [also]})
    assert [(each.rule.id, each.change, each.demands) for each in found.rules if each.change] == [
        ("it", "removed", demands)
    ]
    assert found.is_looser_unclaimed == (severity == "required")


def test_a_new_rule(pair: Any) -> None:
    also = {"id": "also", "require": DAMP}
    found = pair.compared({"rules": [also]}, {"rules": [rule(DAMP), also]})
    assert [(each.rule.id, each.change, each.demands) for each in found.rules if each.change] == [
        ("it", "added", "minor")
    ]


def test_words_and_sources_demand_a_patch_and_nothing_is_judged_anew(pair: Any) -> None:
    source = {**pair.house.SOURCE, "last_checked": "2026-06-01"}
    new = rule(DAMP, title="Mind the damp", assumes=["It rains."], if_failed="Dry it.", source=source)
    found = pair.compared({"rules": [rule(DAMP)]}, {"rules": [new], "version": "1.0.1"})
    (only,) = found.rules
    assert (only.reworded, only.resourced) == (("title", "assumes", "if_failed"), ("the rule",))
    assert (only.effects, only.rewritten, only.replay.combinations) == ((), False, 0)
    assert (found.demanded, found.written, found.fits) == ("patch", "patch", True)


def test_a_source_of_a_limit(pair: Any) -> None:
    source = {**pair.house.SOURCE, "section": "2"}
    (only,) = pair.compared(
        {"rules": [rule()], "limits": gap()}, {"rules": [rule()], "limits": gap(source=source)}
    ).rules
    assert (only.resourced, only.effects, only.demands) == (("limit gap",), (), "patch")


def test_cases_of_both_versions_are_replayed(pair: Any) -> None:
    def case(name: str, value: str, outcome: str) -> Any:
        subjects = [{"kind": "trip", "key": "trip", "facts": {"wall.gap": value}}]
        return {"name": name, "rule": "it", "date": "2026-06-27", "subjects": subjects, "expect": {"outcome": outcome}}

    old = {
        "rules": [rule()],
        "limits": gap("0.5"),
        "cases": [case("a", "0.45 m", "failed"), case("b", "9 m", "passed")],
    }
    new = {"rules": [rule()], "limits": gap("0.4"), "cases": [case("c", "0.45 m", "passed")]}
    (only,) = pair.compared(old, new).rules
    assert only.replay.cases == 2  # the facts of the first and the last are the same
    assert only.replay.combinations > 10
    assert only.replay.examples["looser"].before.outcome == "failed"


def test_what_the_program_says_demands_a_minor_version(pair: Any) -> None:
    boxed = {"id": "it", "for_each": "claim", "require": {"fact": "claim.boxed", "at_most": 3}}
    shared = {"rules": [boxed], "judges": "program"}
    found = pair.compared(
        {**shared, "facts": {"program.colour": "red", "program.most_books": 3}},
        {**shared, "facts": {"program.colour": "blue"}},
    )
    assert [(change.kind, change.name, change.change) for change in found.changes] == [
        ("fact", "program.colour", "changed"), ("fact", "program.most_books", "removed"),
    ]  # fmt: skip
    assert found.demanded == "minor"


def test_references_and_files(pair: Any) -> None:
    def entry(name: str, **more: Any) -> Any:
        source = pair.house.SOURCE
        return {"id": name, "title": name, "from": "2024-01-01", "floor": 1, "source": source, **more}

    boxed = {"id": "it", "for_each": "claim", "require": {"fact": "claim.boxed", "at_most": 3}}
    shared = {"rules": [boxed], "judges": "program"}
    old = [entry("attic"), entry("cellar"), entry("hall")]
    new = [entry("attic", floor=2), entry("hall", title="The hall"), entry("yard")]
    found = pair.compared({**shared, "references": old}, {**shared, "references": new})
    assert [(change.name, change.change, change.demands) for change in found.changes] == [
        ("attic", "changed", "minor"), ("hall", "reworded", "patch"), ("yard", "added", "minor"),
        ("cellar", "removed", "minor"),
    ]  # fmt: skip


def test_the_header(pair: Any) -> None:
    found = pair.compared({"rules": [rule(DAMP)]}, {"rules": [rule(DAMP)], "date_basis": "utc", "notice": "Invented."})
    assert [(change.name, change.change, change.demands) for change in found.changes] == [
        ("date_basis", "changed", "minor"), ("notice", "reworded", "patch"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "written"),
    [
        ("1.2.3", "1.2.3", "none"), ("1.2.3", "1.2.4", "patch"), ("1.2.3", "1.3.0", "minor"),
        ("1.2.3", "2.0.0", "major"), ("1.2.3", "1.2.2", None), ("1.2.3", "0.9.9", None), ("1.0.0-a", "1.0.0", "patch"),
    ],
)  # fmt: skip
def test_what_a_version_says(old: str, new: str, written: str | None) -> None:
    assert written_bump(old, new) == written


@given(st.tuples(*[st.integers(0, 30)] * 3), st.sampled_from(BUMPS))
def test_the_least_version_fits_and_says_just_what_is_demanded(numbers: tuple[int, int, int], demanded: str) -> None:
    old = ".".join(map(str, numbers))
    written = written_bump(old, least_version(old, demanded))
    assert written == demanded
    assert fits(written, demanded)


WORDS = st.sampled_from(["passed", "failed", "cannot tell", "not applicable"])


@given(WORDS, WORDS)
def test_what_is_looser_one_way_is_stricter_the_other(before: str, after: str) -> None:
    opposite = {"looser": "stricter", "stricter": "looser"}
    effect = effect_of(Seen(before), Seen(after))
    assert effect_of(Seen(after), Seen(before)) == opposite.get(effect or "", effect)
    assert (effect is None) == (before == after)
