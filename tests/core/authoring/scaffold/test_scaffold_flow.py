"""Values as YAML: whatever is written is read back as the same."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.authoring.scaffold.flow import block, flow
from afield.core.documents import read_text

TEXT = st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" "), max_size=30)
VALUES = st.recursive(
    TEXT | st.booleans() | st.integers(-9999, 9999) | st.none(),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.from_regex("[a-z]{2,8}", fullmatch=True), inner, max_size=3)
    ),
    max_leaves=8,
)


@given(VALUES)
def test_what_is_written_is_read_back(value: Any) -> None:
    assert read_text(f"key: {flow(value)}\n").data == {"key": value}


@given(TEXT)
def test_a_text_on_a_line_of_its_own_is_read_back(text: str) -> None:
    assert read_text(f"key: {flow(text, False)}   # a note\n").data == {"key": text}


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ("the club's rules", "the club's rules"),
        ("80 ft", "80 ft"),
        ("2024-01-01", "2024-01-01"),
        ("2024", '"2024"'),
        ("true", '"true"'),
        ("one, two", '"one, two"'),
        ("a: b", '"a: b"'),
        ({"from": "2024-01-01", "is": ["a", True]}, "{from: 2024-01-01, is: [a, true]}"),
    ],
)
def test_quotes_stand_only_where_they_are_needed(value: Any, written: str) -> None:
    assert flow(value) == written


def test_a_mapping_in_lines_is_read_back() -> None:
    data = {"id": "place", "geometry": {"file": "a.geojson", "id": "a", "level": "95 %"}, "source": {"document": "D"}}
    assert read_text("\n".join(block(data, "")) + "\n").data == data
