"""A value as text: the same whatever the process, another for another value."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.subjects import Subject
from afield.core.testing.canonical import canonical, holds_nan

TEXTS = st.sets(st.text(max_size=3), max_size=6)


class Pair(NamedTuple):
    one: float
    other: float


@dataclass
class Box:
    books: set[str]
    _memo: dict[str, int] = field(default_factory=dict)

    @cached_property
    def weight(self) -> int:
        return len(self.books)


class Plain:
    def __init__(self, size: float) -> None:
        self.size = size


@given(TEXTS)
def test_a_set_is_written_in_one_order(texts: set[str]) -> None:
    backwards = sorted(texts, reverse=True)
    assert canonical(Box(texts)) == canonical(Box(set(backwards)))


@given(TEXTS, TEXTS)
def test_other_sets_are_written_otherwise(one: set[str], other: set[str]) -> None:
    assert (canonical(one) == canonical(other)) == (one == other)


def test_a_memo_is_no_part_of_a_value() -> None:
    box = Box({"a"})
    before = canonical(box)
    box._memo["a"] = 1
    assert box.weight == 1
    assert canonical(box) == before


def test_the_order_of_a_mapping_counts() -> None:
    assert canonical({"a": 1, "b": 2}) != canonical({"b": 2, "a": 1})


def test_addresses_are_left_out_and_what_is_inside_counts() -> None:
    assert canonical(Plain(1.0)) == canonical(Plain(1.0)) != canonical(Plain(2.0))
    assert "0x" not in canonical([lambda: None])


def test_a_value_that_holds_itself_ends() -> None:
    endless: list[Any] = [object()]
    endless.append(endless)
    assert canonical(endless).count("...") >= 1
    assert not holds_nan(endless)


def test_a_subject_is_its_key_and_its_data() -> None:
    assert canonical(Subject("trip", "trip", "trip", data={"a": 1})) == 'Subject(trip, {"a": 1})'


@pytest.mark.parametrize(
    ("value", "holds"),
    [
        (float("nan"), True), ([1.0, [float("nan")]], True), ({"a": float("nan")}, True),
        (Pair(1.0, float("nan")), True),
        (Plain(float("nan")), True), (float("inf"), False), ("nan", False), ([1.0, None], False),
    ],
)  # fmt: skip
def test_a_nan_is_found_wherever_it_hides(value: Any, holds: bool) -> None:
    assert holds_nan(value) == holds
