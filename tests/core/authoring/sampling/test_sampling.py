"""What is tried of a rule: the values about its bounds, few or many combinations of them, written as cases."""

from decimal import Decimal
from math import prod
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.authoring.sampling.bounds import Figure
from afield.core.authoring.sampling.candidates import Candidate, candidates_of
from afield.core.authoring.sampling.combining import combined, is_whole
from afield.core.authoring.sampling.scenes import Scenes, made_case
from afield.core.authoring.sampling.verdicts import seen
from afield.core.authoring.sampling.writing import case_yaml, flow
from afield.core.documents import read_text
from afield.core.facts.declarations import Fact
from afield.core.packs.loading import load_pack

GAP = Fact("wall.gap", "trip", unit="m")


def written(declared: Fact, *bounds: Any) -> list[Any]:
    return [candidate.written for candidate in candidates_of(declared, bounds)]


def test_a_number_is_tried_at_its_bound_and_a_printed_unit_beside_it_sure_and_unsure() -> None:
    assert written(GAP, Figure(Decimal("0.5"), "m")) == [
        "0.5 m", "0.4 m", "0.6 m",
        {"value": "0.5 m", "low": "0.4 m", "high": "0.6 m"},
        {"value": "0.4 m", "low": "0.3 m", "high": "0.5 m"},
        {"value": "0.6 m", "low": "0.5 m", "high": "0.7 m"},
        {"unknown": "missing input"}, {"not_stated": True},
    ]  # fmt: skip


def test_a_count_is_never_below_zero_and_no_fact_below_its_least() -> None:
    counts = written(Fact("books", "trip", unit=""), Figure(Decimal(0), ""))
    assert {"value": 0, "low": 0, "high": 1} in counts
    least = written(Fact("height", "trip", unit="m", least=0.0), Figure(Decimal(0), "m"))
    assert [value for value in least if isinstance(value, str)] == ["0 m", "1 m"]


def test_words_are_those_compared_then_the_other_choices_or_one_that_is_none() -> None:
    colour = Fact("colour", "trip", "text", choices=("red", "blue"))
    assert written(colour, "blue")[:2] == ["blue", "red"]
    assert written(Fact("colour", "trip", "text"), "blue")[:2] == ["blue", "something else"]
    assert written(Fact("shape", "trip", "opaque")) == []


SLOTS = st.lists(
    st.lists(st.builds(Candidate, st.integers(), st.integers(0, 3)), min_size=1, max_size=5, unique=True),
    min_size=1, max_size=5,
)  # fmt: skip


@given(SLOTS, st.integers(5, 40))
def test_combinations_are_all_where_they_are_few_and_never_twice_or_too_many(
    slots: list[list[Candidate]], most: int
) -> None:
    rows = list(combined(slots, most))
    assert len(rows) == len({repr(row) for row in rows}) <= most
    assert all(candidate in slot for row in rows for candidate, slot in zip(row, slots, strict=True))
    if is_whole(slots, most):
        assert len(rows) == prod(len(slot) for slot in slots)
    assert rows == list(combined(slots, most))


TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=20)
VALUES = st.recursive(
    st.one_of(TEXTS, st.integers(-99, 99), st.booleans(), st.none()),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.from_regex(r"[a-z]{1,5}\.[a-z]{1,5}", fullmatch=True), inner)
    ),
    max_leaves=6,
)


WORDS_AND_SIGNS = st.text("ab1 :-#.%°,'", min_size=1, max_size=6)


@given(st.one_of(VALUES, WORDS_AND_SIGNS))
def test_what_is_written_is_read_as_it_was(value: Any) -> None:
    assert read_text(f"it: {flow(value)}\n").data == {"it": value}


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("80 ft", "80 ft"), ("-1", '"-1"'), ("1", '"1"'), ("true", '"true"'),
        ("claim:road/bridge", "claim:road/bridge"), ("a:", '"a:"'), ("a ", '"a "'),
        ("a: b", '"a: b"'), ("2026-06-27", "2026-06-27"), ("no", '"no"'), ("3 %", "3 %"), ("a, b", '"a, b"'),
    ],
)  # fmt: skip
def test_text_is_quoted_only_where_it_must_be(value: str, text: str) -> None:
    assert flow(value) == text


def test_a_case_is_written_as_an_author_would() -> None:
    case = {
        "name": "dry", "rule": "it", "date": "2026-06-27", "subjects": [{"kind": "trip", "key": "trip"}],
        "confirmed": True, "expect": {"outcome": "passed", "margin": "-1"},
    }  # fmt: skip
    assert case_yaml(case) == (
        "  - name: dry\n    rule: it\n    date: 2026-06-27\n    subjects:\n      - {kind: trip, key: trip}\n"
        '    confirmed: true\n    expect: {outcome: passed, margin: "-1"}\n'
    )


def scenes(house: Any, rule: Any, **more: Any) -> Scenes:
    pack = load_pack(house.pack({"id": "it", **rule}, **more), house.engine.registry)
    return Scenes(pack, [(pack, pack.rules[0])], house.engine.registry, [])


@pytest.mark.parametrize(
    "rule",
    [
        {"require": {"fact": "wall.gap", "between": ["1 m", "2 m"]}, "where": {"fact": "wall.damp", "is": True}},
        {"require": {"fact": "shelf.colour", "one_of": ["red"]}, "for_each": "shelf"},
        {"require": {"count": "shelf", "where": {"fact": "shelf.books", "above": 3}, "between": [1, 2]}},
        {"require": {"count": "shelf", "where": {"all": [
            {"fact": "wall.damp", "is": True}, {"fact": "shelf.books", "above": 3}]}, "below": 2}},
    ],
)  # fmt: skip
def test_what_is_tried_of_a_rule_comes_out_in_every_way(house: Any, rule: Any) -> None:
    found = scenes(house, rule)
    cases = [made_case(found.pack, found.registry, data) for data in found.tried()]
    outcomes = {seen(case, found.pack).outcome for case in cases}
    assert {"passed", "failed", "cannot tell"} <= outcomes
    assert ("not applicable" in outcomes) == ("where" in rule)


def test_only_words_and_truth_can_be_tried_to_the_end(house: Any) -> None:
    assert scenes(house, {"require": {"fact": "wall.damp", "is": True}}).is_exhaustive
    assert not scenes(house, {"require": {"fact": "trip.books", "is": 3}}, name="books").is_exhaustive
    assert not scenes(house, {"require": {"count": "shelf", "at_least": 1}}, name="count").is_exhaustive


def test_what_an_absent_plugin_would_tell_is_left_alone(house: Any) -> None:
    needs = {"needs": ["house", "attic"]}
    found = scenes(house, {"require": {"fact": "attic.size", "at_most": "3 m"}}, **needs)
    (only,) = [made_case(found.pack, found.registry, data) for data in found.tried()]
    assert (seen(only, found.pack).outcome, found.is_exhaustive) == ("cannot tell", False)
    beams = {"require": {"fact": "wall.damp", "is": True}, "for_each": "beam"}
    elsewhere = scenes(house, beams, name="beams", **needs)
    outcomes = {seen(made_case(elsewhere.pack, elsewhere.registry, data), elsewhere.pack).outcome
                for data in elsewhere.tried()}  # fmt: skip
    assert outcomes == {"cannot tell"}
