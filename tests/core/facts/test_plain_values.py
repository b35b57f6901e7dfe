"""What a function changed is found, by the bytes of the plain values that it was given."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.measured import Estimate, Measured
from afield.core.facts.plain_values import DEEPEST, print_of, prints, refuse_changed, refuse_endless
from afield.core.facts.subjects import Subject

PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


@given(PLAIN)
def test_a_value_and_its_copy_have_one_print(value: Any) -> None:
    assert print_of(value) == print_of(copy.deepcopy(value))


@given(PLAIN, PLAIN)
def test_values_that_print_alike_are_alike(one: Any, other: Any) -> None:
    if print_of(one) == print_of(other):
        assert one == other


def test_numbers_and_texts_are_not_looked_at_and_structures_are() -> None:
    arguments = {
        "height": Measured(3.0), "names": Measured(["a"]), "books": [(Subject("shelf:a", "shelf", "a"), Measured([1]))],
        "subject": Subject("trip", "trip", "trip", data={"wall": 3}),
    }  # fmt: skip
    assert set(prints(arguments)) == {"names", "books", "subject"}


def test_a_change_deep_inside_is_named_by_its_argument() -> None:
    marks = {"wall": [{"at": [1, 2]}]}
    arguments = {"marks": Measured(marks), "others": Measured([1])}
    before = prints(arguments)
    refuse_changed(before, arguments)
    marks["wall"][0]["at"].append(3)
    with pytest.raises(TypeError, match="it changed its input marks; what it is given belongs to others too"):
        refuse_changed(before, arguments)


def test_structures_of_other_objects_are_left_out() -> None:
    assert print_of([object()]) is None
    assert prints({"things": Measured([object()])}) == {}


def nested(levels: int) -> Any:
    value: Any = "end"
    for _ in range(levels):
        value = [value]
    return value


def test_a_value_may_be_deep_and_not_endless() -> None:
    refuse_endless(Estimate(nested(DEEPEST - 1)))
    refuse_endless(Estimate([object()]))
    endless: list[Any] = []
    endless.append(endless)
    with pytest.raises(ValueError, match="the value that it returned holds itself"):
        refuse_endless(Estimate(endless))
    with pytest.raises(ValueError, match="the detail that it returned holds itself"):
        refuse_endless(Estimate(1.0, detail={"end": endless}))
