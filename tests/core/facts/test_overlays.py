"""An overlay World drops measured and logged values downstream of what it changes, and says so."""

from typing import Any

from afield.core.facts.graph import fact_cycle, first_cycle, kinds_around, resting_on, rests_on


def facts(toy: Any) -> list[Any]:
    return [
        toy.finding("wall.height", lambda: 0.0),
        toy.finding("wall.gap", lambda wall_height: wall_height - 1),
        toy.finding("wall.rest", lambda wall_gap: wall_gap / 2),
        toy.finding("ladder.length", lambda: 0.0),
    ]


def test_readings_downstream_of_a_change_are_dropped_and_listed(world: Any, toy: Any) -> None:
    base = {
        ("trip", "wall.height"): [toy.number(3.0)],
        ("trip", "wall.gap"): [toy.number(9.0, rank="measured")],
        ("trip", "wall.rest"): [toy.number(8.0, rank="logged")],
        ("trip", "ladder.length"): [toy.number(7.0, rank="measured")],
    }
    made = world(facts(toy), base)
    assert made.value("trip", "wall.rest").value == 8.0
    other = made.overlay({**base, ("trip", "wall.height"): [toy.number(5.0)]}, ["wall.height"])
    assert [(dropped.fact, dropped.record.rank) for dropped in other.dropped] == [
        ("wall.gap", "measured"), ("wall.rest", "logged"),
    ]  # fmt: skip
    assert [other.value("trip", name).value for name in ("wall.gap", "wall.rest", "ladder.length")] == [4.0, 2.0, 7.0]
    assert made.value("trip", "wall.rest").value == 8.0


def test_a_reading_of_what_is_changed_itself_is_dropped_too(world: Any, toy: Any) -> None:
    base = {("trip", "wall.height"): [toy.number(3.0), toy.number(3.1, rank="measured")]}
    other = world(facts(toy), base).overlay(
        {("trip", "wall.height"): [toy.number(5.0), toy.number(3.1, rank="measured")]}, ["wall.height"]
    )
    assert [(dropped.fact, dropped.record.value) for dropped in other.dropped] == [("wall.height", 3.1)]
    assert other.value("trip", "wall.height").value == 5.0


def test_stated_and_case_values_downstream_stay(world: Any, toy: Any) -> None:
    base = {("trip", "wall.gap"): [toy.number(9.0, rank="case")], ("trip", "wall.rest"): [toy.number(8.0)]}
    other = world(facts(toy), base).overlay(base, ["wall.height"])
    assert other.dropped == []
    assert [other.value("trip", name).value for name in ("wall.gap", "wall.rest")] == [9.0, 8.0]


def test_lineage_and_cycles(toy: Any) -> None:
    declared = {fact.name: fact for fact in facts(toy)}
    assert rests_on("wall.rest", declared) == {"wall.rest", "wall.gap", "wall.height"}
    assert fact_cycle(declared) is None
    assert first_cycle({"a": ["b"], "b": ["c"], "c": ["b", "nowhere"]}) == ["b", "c", "b"]


def test_what_a_change_reaches_is_all_that_rests_on_it(toy: Any) -> None:
    declared = {fact.name: fact for fact in facts(toy)}
    for changed in [*declared, "nowhere"]:
        expected = [name for name in declared if changed in rests_on(name, declared)]
        assert list(resting_on([changed], declared)) == expected
    assert list(resting_on([], declared)) == []


def test_kinds_around_are_nearest_first_and_end_in_a_cycle() -> None:
    from afield.core.facts.declarations import Kind

    kinds = {"a": Kind("a", ("b", "c")), "b": Kind("b", ("trip",)), "c": Kind("c", ("a",)), "trip": Kind("trip", ())}
    assert kinds_around("a", kinds) == ["a", "b", "c", "trip"]
