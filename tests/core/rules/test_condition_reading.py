from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.facts.declarations import Fact, Kind
from afield.core.rules import (
    Aggregate,
    Bound,
    Complaint,
    Condition,
    FactOf,
    Group,
    Leaf,
    Limit,
    VerdictOf,
    facts_asked,
    in_words,
    leaves,
    limits_asked,
    read_condition,
    to_json,
    verdicts_asked,
)
from afield.core.rules.conditions import COMPARISONS

FAR = {"fact": "place.farthest", "at_most": {"limit": "corridor"}}
COUNT = {
    "count": "contact", "where": {"verdict": "counts", "is": "passed"}, "distinct": ["contact.station"],
    "at_least": {"limit": "contacts"},
}  # fmt: skip

ROUND_TRIPS: list[dict[str, Any]] = [
    FAR,
    {"fact": "place.farthest", "between": ["1 m", "5.50 ft"]},
    {"fact": "place.farthest", "is": "3 m"},
    {"fact": "contact.count", "at_least": "3"},
    {"fact": "contact.count", "one_of": ["3", "5"]},
    {"fact": "reference.kind", "one_of": ["line", "area"]},
    {"fact": "trip.permitted", "is": True},
    {"fact": "trip.names", "exists": False},
    {"fact": "trip.begins", "below": "2026-06-27T22:30:00+00:00"},
    {"verdict": "other", "is": "cannot tell"},
    COUNT,
    {"sum": "contact", "of": "contact.power", "above": "5 W"},
    {"all": [FAR, {"any": [{"fact": "reference.kind", "is": "line"}, {"none": [COUNT]}]}]},
]


@pytest.mark.parametrize("written", ROUND_TRIPS)
def test_a_condition_is_written_as_it_was_read(read: Callable[..., Condition], written: dict[str, Any]) -> None:
    condition = read(written)
    assert to_json(condition) == written
    assert read(to_json(condition)) == condition


def test_a_condition_stays_inspectable(read: Callable[..., Condition]) -> None:
    condition = read({"all": [FAR, {"none": [{"fact": "reference.kind", "is": "area"}]}, COUNT]})
    kind = Leaf(FactOf("reference.kind"), "is", (Bound(value="area"),), ("require", "all", 1, "none", 0))
    far = Leaf(FactOf("place.farthest"), "at_most", (Bound(limit="corridor"),), ("require", "all", 0))
    counts = Leaf(VerdictOf("counts"), "is", (Bound(value="passed"),), ("require", "all", 2, "where"))
    count = Leaf(
        Aggregate("count", "contact", None, counts, (FactOf("contact.station"),)), "at_least",
        (Bound(limit="contacts"),), ("require", "all", 2),
    )  # fmt: skip
    inner = Group("none", (kind,), ("require", "all", 1))
    assert condition == Group("all", (far, inner, count), ("require",))
    assert list(leaves(condition)) == [far, kind, count]
    assert facts_asked(condition) == ["place.farthest", "reference.kind", "contact.station"]
    assert limits_asked(condition) == ["corridor", "contacts"]
    assert verdicts_asked(condition) == ["counts"]


def test_bounds_are_exact(read: Callable[..., Condition]) -> None:
    (leaf,) = leaves(read({"fact": "place.farthest", "at_most": "0.10 m"}))
    assert leaf.bounds == (Bound(value=Decimal("0.10"), unit="m"),)
    (leaf,) = leaves(read({"fact": "contact.count", "at_most": 3}))
    assert leaf.bounds == (Bound(value=Decimal(3)),)
    (leaf,) = leaves(read({"fact": "trip.begins", "above": "2026-06-27T22:30Z"}))
    assert leaf.bounds == (Bound(value=datetime(2026, 6, 27, 22, 30, tzinfo=UTC)),)


def test_conditions_are_put_in_words(read: Callable[..., Condition], facts: dict[str, Fact]) -> None:
    def words(data: dict[str, Any]) -> str:
        return in_words(next(leaves(read(data))), facts)

    assert words(FAR) == "the farthest part is at most the limit corridor"
    assert words({"fact": "place.farthest", "between": ["1 m", "5 m"]}) == "the farthest part is between 1 m and 5 m"
    assert words({"fact": "reference.kind", "one_of": ["line", "area"]}) == "reference.kind is one of line, area"
    assert words({"fact": "trip.permitted", "is": True}) == "the permission is true"
    assert words({"fact": "trip.permitted", "exists": False}) == "the permission is not stated"
    assert words(COUNT) == "the count of contact is at least the limit contacts"
    assert words({"sum": "contact", "of": "contact.power", "above": "5 W"}) == (
        "the sum of the power over each contact is above 5 W"
    )
    assert words({"verdict": "other", "is": "passed"}) == "the verdict on other is passed"


REFUSED: list[tuple[Any, tuple[Any, ...], str, str]] = [
    (
        {"fact": "place.farthst", "at_most": {"limit": "corridor"}}, ("fact",),
        "no plugin declares a fact place.farthst", 'Did you mean "place.farthest"?',
    ),
    (
        {"fact": "place.outline", "exists": True}, ("fact",), "place.outline is only drawn and printed",
        "Compare another fact.",
    ),
    (
        {"fact": "reference.kind", "at_most": "line"}, ("at_most",),
        '"at_most" does not fit reference.kind, which is text', "Write one of is, one_of, exists.",
    ),
    (
        {"fact": "trip.names", "is": "x"}, ("is",), '"is" does not fit the names, which is a list',
        "Write one of exists.",
    ),
    (
        {"fact": "trip.permitted", "one_of": [True]}, ("one_of",),
        '"one_of" does not fit the permission, which is true or false', "Write one of is, exists.",
    ),
    (
        {"fact": "place.farthest", "at_most": {"limit": "coridor"}}, ("at_most", "limit"),
        "the pack has no limit coridor", 'Did you mean "corridor"?',
    ),
    (
        {"fact": "place.farthest", "at_most": {"limits": "corridor"}}, ("at_most",),
        '{"limits": "corridor"} is no bound', "Write a value, or `{limit: NAME}`.",
    ),
    (
        {"fact": "place.farthest", "at_most": 21}, ("at_most",),
        '21 is a bare number: write its unit, for example "21 m"',
        "A length is written in m, km, cm, mm, ft, in, yd, mi, nmi or fathom.",
    ),
    (
        {"fact": "place.farthest", "at_most": "21"}, ("at_most",),
        '21 is a bare number: write its unit, for example "21 m"',
        "A length is written in m, km, cm, mm, ft, in, yd, mi, nmi or fathom.",
    ),
    (
        {"fact": "place.farthest", "at_most": "3 kg"}, ("at_most",), "3 kg is a mass; a length is due",
        'Write a length, for example "5 m".',
    ),
    (
        {"fact": "place.farthest", "at_most": True}, ("at_most",), "true is no quantity",
        "Write a number and its unit.",
    ),
    (
        {"fact": "place.farthest", "between": ["5 m", "1 m"]}, ("between",), "5 m is more than 1 m",
        "Write `between: [1 m, 5 m]`.",
    ),
    (
        {"fact": "place.farthest", "between": ["4 ft", "1 m"]}, ("between",), "4 ft is more than 1 m",
        "Write `between: [1 m, 4 ft]`.",
    ),
    (
        {"fact": "place.farthest", "between": ["1 m"]}, ("between",), '"between" takes two bounds',
        "Write `between: [least, most]`.",
    ),
    (
        {"fact": "reference.kind", "is": "lime"}, ("is",), 'reference.kind is never "lime"', 'Did you mean "line"?',
    ),
    (
        {"fact": "reference.kind", "one_of": ["line", "xyz"]}, ("one_of", 1), 'reference.kind is never "xyz"',
        'The values of reference.kind are "area", "line".',
    ),
    ({"fact": "reference.kind", "one_of": []}, ("one_of",), "a list of values is due",
     "Write them in brackets: `[...]`."),
    ({"fact": "reference.kind", "is": 3}, ("is",), "reference.kind is text; 3 is not", "Write a word."),
    (
        {"fact": "reference.kind", "is": {"limit": "corridor"}}, ("is",),
        "a limit is a number; reference.kind is not", "Write the value itself.",
    ),
    (
        {"fact": "trip.permitted", "is": "yes"}, ("is",), 'the permission is true or false, not "yes"',
        "Write `is: true`.",
    ),
    (
        {"fact": "trip.begins", "below": "2026-06-27"}, ("below",), '"2026-06-27" is no instant',
        "Write date and time in UTC, for example 2026-06-27T22:30Z.",
    ),
    ({"fact": "place.farthest", "exists": "yes"}, ("exists",), '"exists" is true or false, not "yes"',
     "Write `exists: true`."),
    (
        {"fact": "place.farthest"}, (), "there is no comparison",
        "Write one of at_most, at_least, below, above, between, is, one_of, exists.",
    ),
    (
        {"at_most": "3 m"}, (), "there is nothing to compare", "Write `fact: NAME`, or `count: KIND` and the like.",
    ),
    (
        {"fact": "place.farthest", "atmost": "3 m", "at_least": "1 m"}, ("atmost",), '"atmost" is not a known key here',
        'Did you mean "at_most"?',
    ),
    (
        {"all": []}, ("all",), '"all" joins no conditions',
        "Write a list of conditions in brackets: `[...]`.",
    ),
    ("x", (), 'a condition is a mapping, not "x"', "Write `{fact: NAME, at_most: {limit: NAME}}` or the like."),
    (
        {"fact": "contact.power", "at_most": "3 W"}, ("fact",), "contact.power is a fact of a contact, not of a claim",
        "Gather it with least, greatest or sum over contact, or write the rule for each contact.",
    ),
    (
        {"fact": "place.farthest", "at_most": "3 m", "where": FAR}, ("where",), '"where" does not go with "fact"',
        "It belongs to count, sum, least, greatest; remove it, or join conditions with `all`.",
    ),
    (
        {"count": "contact", "of": "contact.power", "at_least": 3}, ("of",), 'a count takes no "of"',
        "Remove it; `where` says which subjects count.",
    ),
    ({"sum": "contact", "at_least": "3 W"}, ("sum",), '"sum" does not say of what', "Write `of: NAME`, a number fact."),
    (
        {"sum": "contact", "of": "contact.station", "at_least": "3 W"}, ("of",), "contact.station is no number",
        "Write a number fact, or `count: contact`.",
    ),
    (
        {"least": "contact", "of": "contact.power", "distinct": ["contact.station"], "at_least": "3 W"}, ("distinct",),
        '"distinct" goes with a count and names facts', "Write a list of facts: `count: KIND, distinct: [NAME]`.",
    ),
    ({"count": "contct", "at_least": 3}, ("count",), "there is no kind contct", 'Did you mean "contact"?'),
]  # fmt: skip


@pytest.mark.parametrize(("data", "path", "what", "advice"), REFUSED)
def test_what_does_not_fit_is_refused(
    complain: Callable[..., Complaint], data: Any, path: tuple[Any, ...], what: str, advice: str
) -> None:
    assert complain(data) == Complaint(("require", *path), what, advice)


def test_two_comparisons_are_refused_at_the_second(complain: Callable[..., Complaint]) -> None:
    assert complain({"fact": "place.farthest", "at_most": "3 m", "at_least": "1 m"}) == Complaint(
        ("require", "at_least"),
        '"at_most" and "at_least" are two comparisons of one value',
        "Write one comparison; join two conditions with `all`, or write `between: [least, most]`.",
        ("require", "at_most"),
    )


def test_two_measures_are_refused_at_the_second(complain: Callable[..., Complaint]) -> None:
    assert complain({"fact": "place.farthest", "count": "contact", "at_most": "3 m"}) == Complaint(
        ("require", "count"),
        '"fact" and "count" are two things to compare',
        "Write one; join two conditions with `all`.",
        ("require", "fact"),
    )


def test_a_comparison_beside_a_group_is_refused(complain: Callable[..., Complaint]) -> None:
    assert complain({"any": [FAR], "fact": "reference.kind", "is": "line"}) == Complaint(
        ("require", "fact"), '"fact" stands beside "any"', "Write it inside the list of `any`.", ("require", "any")
    )


def test_a_limit_of_another_dimension_is_refused(complain: Callable[..., Complaint]) -> None:
    assert complain({"fact": "place.farthest", "at_most": {"limit": "contacts"}}) == Complaint(
        ("require", "at_most", "limit"),
        "the limit contacts is a plain number; the farthest part is a length",
        "Compare with another limit, or correct the limit's unit.",
        ("limits", "contacts", 0, "unit"),
    )


def test_a_fact_that_gathers_all_claims_is_not_for_programs(complain: Callable[..., Complaint]) -> None:
    data = {"fact": "trip.all_claims", "at_most": 3}
    assert complain(data, kind="trip", program=True) == Complaint(
        ("require", "fact"),
        "trip.all_claims gathers claims of all programs",
        "A program's rules judge its own claims; move the rule to a pack that judges the trip.",
    )


def test_a_verdict_is_of_a_rule_that_can_be_asked(complain: Callable[..., Complaint]) -> None:
    rules = {"counts": "contact", "whole": "claim"}
    assert complain({"verdict": "hole", "is": "passed"}, rules=rules) == Complaint(
        ("require", "verdict"), "the pack has no rule hole", 'Did you mean "whole"?'
    )
    assert complain({"verdict": "counts", "is": "passed"}, rules=rules) == Complaint(
        ("require", "verdict"),
        "counts is judged for each contact, not for a claim",
        "Count it: `count: contact, where: {verdict: counts, is: passed}`.",
    )
    assert complain({"verdict": "whole", "is": "pased"}, rules=rules) == Complaint(
        ("require", "is"), 'the verdict on whole is never "pased"', 'Did you mean "passed"?'
    )


def test_every_complaint_is_made_at_once(facts: dict[str, Fact], limits: dict[str, Limit]) -> None:
    data = {"all": [{"fact": "nothing.like", "is": 1}, FAR, {"fact": "place.farthest", "below": "3 kg"}]}
    condition, complaints = read_condition(data, (), facts, limits)
    assert condition is None
    assert [complaint.path for complaint in complaints] == [("all", 0, "fact"), ("all", 2, "below")]


def test_a_fact_of_an_absent_plugin_is_kept_and_marked(facts: dict[str, Fact], limits: dict[str, Limit]) -> None:
    data = {"all": [{"fact": "bus.voltage", "at_least": "11 V"}, {"sum": "port", "of": "port.load", "below": "3 A"}]}
    condition, complaints = read_condition(data, (), facts, limits, absent=("power",))
    assert complaints == []
    assert condition is not None
    voltage, load = (leaf.measure for leaf in leaves(condition))
    assert voltage == FactOf("bus.voltage", ("power",))
    assert load == Aggregate("sum", "port", FactOf("port.load", ("power",)))


def test_a_misspelt_bound_of_an_absent_fact_is_still_refused(facts: dict[str, Fact], limits: dict[str, Limit]) -> None:
    data = {"fact": "bus.voltage", "at_least": {"limit": "warmht"}}
    _, complaints = read_condition(data, (), facts, limits, absent=("power",))
    assert complaints == [Complaint(("at_least", "limit"), "the pack has no limit warmht", 'Did you mean "warmth"?')]


def test_a_limit_for_an_absent_fact_is_kept(facts: dict[str, Fact], limits: dict[str, Limit]) -> None:
    data = {"fact": "bus.temperature", "at_most": {"limit": "warmth"}}
    condition, complaints = read_condition(data, (), facts, limits, absent=("power",))
    assert complaints == []
    assert condition is not None
    assert to_json(condition) == data


SCALARS = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.sampled_from(
    ["place.farthest", "reference.kind", "trip.begins", "contact", "contact.power", "corridor", "3 m", "line", "x", ""]
)  # fmt: skip
KEYS = st.sampled_from(
    ["all", "any", "none", "fact", "verdict", "count", "sum", "of", "where", "distinct", "limit", "x", *COMPARISONS]
)
DATA = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3), max_leaves=8
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(DATA, st.sampled_from([(), ("power",)]))
def test_whatever_is_written_there_is_a_condition_or_a_complaint(
    facts: dict[str, Fact], limits: dict[str, Limit], kinds: dict[str, Kind], data: Any, absent: tuple[str, ...]
) -> None:
    condition, complaints = read_condition(
        data, (), facts, limits, kind="claim", kinds=kinds, rules={"counts": "contact"}, absent=absent
    )
    assert (condition is None) == bool(complaints)
    if condition is not None:
        again, _ = read_condition(to_json(condition), (), facts, limits, kind="claim", kinds=kinds, absent=absent)
        assert again is not None
        assert to_json(again) == to_json(condition)
