"""Rules turned round: where a ladder's length may be chosen, as a set of lengths; every one is judged forward too."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.engine import altered, judge, solve
from afield.core.facts.measured import CannotTell
from afield.core.language import speaking
from afield.core.placing import EVERYWHERE, NOWHERE, Asked, Sought, both, either

LENGTHS = frozenset(range(60))
"""Tenths of a metre that a ladder may be long."""
WALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}
FREE = ("ladder.length",)
COMPARE = {
    "at_most": lambda value, limit: value <= limit,
    "at_least": lambda value, limit: value >= limit,
    "below": lambda value, limit: value < limit,
    "above": lambda value, limit: value > limit,
}


def lengths(subject: Any, asked: Asked, free: frozenset[int], world: Any) -> frozenset[int]:
    """The lengths at which the gap compares as asked, the value alone or with 5 cm either way."""
    wall = world.value(subject.key, "wall.height").value
    ends = (-0.05, 0.05) if asked.sure else (0.0,)
    compare = COMPARE[asked.comparison]
    fitting = (tenth for tenth in free if all(compare(round(wall - tenth / 10 + end, 9), asked.limit) for end in ends))
    return frozenset(fitting)


def turned_round(toys: Any) -> list[Any]:
    return [replace(fact, inverse=lengths) if fact.name == "wall.gap" else fact for fact in toys.FACTS]


@pytest.fixture
def invertible(toys: Any) -> Any:
    return toys.house(facts=lambda: turned_round(toys))


def region(house: Any, require: Any, where: Any = None, sure: bool = False, room: float = 0.0, **plan: Any) -> Any:
    (found,) = bounded(house, require, where, sure, room, **plan)
    return found.region


def bounded(house: Any, require: Any, where: Any = None, sure: bool = False, room: float = 0.0, **plan: Any) -> Any:
    rule = {"id": "one", "require": require, **({"where": where} if where else {})}
    house.pack(rule, limits={"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]})
    return solve(house.load(**{**WALL, **plan}), Sought(LENGTHS, FREE, room, sure))


GAP = {"fact": "wall.gap", "at_least": {"limit": "gap"}}


def test_a_comparison_is_answered_by_its_facts_inverse(invertible: Any) -> None:
    assert region(invertible, GAP) == frozenset(range(26))
    assert region(invertible, {"fact": "wall.gap", "above": "50 cm"}) == frozenset(range(25))
    assert region(invertible, {"fact": "wall.gap", "between": ["0.5 m", "1 m"]}) == frozenset(range(20, 26))
    assert region(invertible, {"none": [{"fact": "wall.gap", "between": ["0.5 m", "1 m"]}]}) == LENGTHS - set(
        range(20, 26)
    )


def test_uncertainty_and_room_narrow_what_is_left(invertible: Any) -> None:
    assert region(invertible, GAP, sure=True) == frozenset(range(25))
    assert region(invertible, GAP, room=0.3) == frozenset(range(23))
    assert region(invertible, GAP, room=-0.3) == frozenset(range(29))
    assert region(invertible, {"none": [GAP]}, room=0.3) == frozenset(range(29, 60))


def test_what_does_not_depend_on_the_choice_is_judged_as_it_is(invertible: Any) -> None:
    books = {"shelves": [{"name": "a", "books": 3}]}
    few, many = {"fact": "trip.books", "at_most": 5}, {"fact": "trip.books", "at_least": 5}
    assert region(invertible, {"all": [GAP, few]}, **books) == frozenset(range(26))
    assert region(invertible, {"any": [GAP, few]}, **books) is EVERYWHERE
    assert region(invertible, {"any": [GAP, many]}, **books) == frozenset(range(26))
    (found,) = bounded(invertible, {"all": [GAP, many]}, **books)
    assert (found.region, found.against, found.depends) == (NOWHERE, ("trip.books",), True)


def test_where_exempts_a_place_to_which_the_rule_does_not_apply(invertible: Any) -> None:
    near = {"fact": "wall.gap", "below": "2 m"}
    assert region(invertible, GAP, where=near) == frozenset(range(26))
    assert region(invertible, {"none": [GAP]}, where=near) == frozenset([*range(11), *range(26, 60)])
    assert region(invertible, GAP, where={"fact": "wall.damp", "is": True}, wall={"height": "3 m", "damp": False}) is (
        EVERYWHERE
    )


def test_a_doubt_about_where_exempts_nobody(invertible: Any) -> None:
    (found,) = bounded(invertible, GAP, where={"fact": "wall.damp", "is": True})
    assert found.region == frozenset(range(26))
    assert found.unsearched == ("wall.damp: dampness is not stated",)


@pytest.mark.parametrize("how", ["count", "sum", "least", "greatest"])
def test_a_gathered_number_that_keeps_a_rule_from_passing_is_named(invertible: Any, how: str) -> None:
    of = {} if how == "count" else {"of": "shelf.books"}
    shelves = [{"name": "a", "books": 3}, {"name": "b", "books": 4}]
    (found,) = bounded(invertible, {how: "shelf", **of, "at_least": "99"}, shelves=shelves)
    assert (found.region, found.against) == (NOWHERE, (f"{how} of shelf",))


def test_what_is_not_searched_is_said_in_the_language(invertible: Any, marks: Any) -> None:
    marks.mark("placing", "facts", words=["dampness"])
    with speaking(marks.language):
        (found,) = bounded(invertible, {"fact": "wall.fits", "is": True}, where={"fact": "wall.damp", "is": False})
    assert found.unsearched == ("wall.damp: ««dampness» is not stated»", "wall.fits: «it cannot be turned round»")


def test_what_cannot_be_turned_round_is_everywhere_and_named(invertible: Any) -> None:
    (found,) = bounded(invertible, {"all": [GAP, {"fact": "wall.fits", "is": True}]})
    assert found.region == frozenset(range(26))
    assert found.unsearched == ("wall.fits: it cannot be turned round",)


def test_an_inverse_without_an_answer_is_named_with_its_reason(toys: Any) -> None:
    def silent(*_: Any) -> Any:
        raise CannotTell("nobody measured the wall")

    facts = [replace(fact, inverse=silent) if fact.name == "wall.gap" else fact for fact in toys.FACTS]
    (found,) = bounded(toys.house(facts=lambda: facts), GAP)
    assert (found.region, found.unsearched) == (EVERYWHERE, ("wall.gap: nobody measured the wall",))


def test_an_inverse_that_fails_is_named_with_its_plugin_and_keeps_nothing_out(toys: Any) -> None:
    def broken(*_: Any) -> Any:
        raise RuntimeError("no chalk")

    facts = [replace(fact, inverse=broken) if fact.name == "wall.gap" else fact for fact in toys.FACTS]
    house = toys.house(facts=lambda: facts)
    house.pack({"id": "one", "require": GAP}, limits={"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]})
    trip = house.load(**WALL)
    (found,) = solve(trip, Sought(LENGTHS, FREE))
    (crash,) = trip.world.crashes
    assert crash.text.endswith(" failed at turning wall.gap round: RuntimeError: no chalk")
    assert (found.region, found.unsearched) == (EVERYWHERE, (f"wall.gap: {crash.text}",))


def test_only_required_rules_that_are_judged_are_searched(invertible: Any) -> None:
    confirm = {"id": "look", "confirm": "Look at it.", "when": "home"}
    invertible.pack({"id": "wish", "require": GAP, "severity": "advised"}, confirm, limits={"gap": [
        {"from": "2024-01-01", "value": "0.5", "unit": "m"}]})  # fmt: skip
    assert solve(invertible.load(**WALL), Sought(LENGTHS, FREE)) == []


def test_every_and_nowhere_need_no_plugin() -> None:
    some = frozenset({1})
    assert both([]) is EVERYWHERE
    assert either([]) is NOWHERE
    assert both([EVERYWHERE, some]) == some
    assert both([some, NOWHERE]) is NOWHERE
    assert either([NOWHERE, some]) == some
    assert either([some, EVERYWHERE]) is EVERYWHERE
    assert both([frozenset({1, 2}), EVERYWHERE, frozenset({2, 3})]) == {2}


LEAVES = st.sampled_from([
    {"fact": "wall.gap", "at_least": "0.5 m"}, {"fact": "wall.gap", "below": "1.25 m"},
    {"fact": "wall.gap", "between": ["0.1 m", "0.8 m"]}, {"fact": "trip.books", "at_most": 5},
    {"fact": "trip.books", "above": 5}, {"fact": "wall.damp", "is": True},
])  # fmt: skip
TREES = st.recursive(
    LEAVES,
    lambda inner: st.tuples(st.sampled_from(["all", "any", "none"]), st.lists(inner, min_size=1, max_size=3)).map(
        lambda pair: {pair[0]: pair[1]}
    ),
    max_leaves=6,
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(require=TREES, where=st.none() | TREES, books=st.integers(3, 8))
def test_a_choice_is_in_the_region_just_where_the_rule_passes_or_does_not_apply(
    tmp_path_factory: Any, toys: Any, require: Any, where: Any, books: int
) -> None:
    house = type(toys)(tmp_path_factory.mktemp("house"))
    house.house(facts=lambda: turned_round(toys))
    plan = {"wall": {"height": "3 m", "damp": True}, "shelves": [{"name": "a", "books": books}]}
    rule = {"id": "one", "require": require, "decision": "simple", **({"where": where} if where else {})}
    house.pack(rule)
    trip = house.load(**{**WALL, **plan})
    (found,) = solve(trip, Sought(LENGTHS, FREE, sure=False))
    assert found.unsearched == ()
    for tenth in (0, 5, 17, 18, 22, 25, 26, 29, 30, 44):
        (verdict,) = judge(altered(trip, {"ladder": {"length": f"{tenth / 10} m"}}), house.engine).verdicts
        inside = found.region is EVERYWHERE or (found.region is not NOWHERE and tenth in found.region)
        assert inside == (verdict.word in ("passed", "not applicable")), (tenth, verdict.word, found.region)
