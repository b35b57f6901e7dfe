"""What is kept of a schema changes no error."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import check_schema, read_text
from afield.core.documents import schema_memory as memory

SCHEMA = {
    "$id": "urn:toys:shelf",
    "type": "object",
    "properties": {"books": {"type": "array", "items": {"$ref": "#/$defs/book"}}, "next": {"$ref": "urn:toys:wall"}},
    "required": ["books"],
    "additionalProperties": False,
    "$defs": {
        "book": {
            "oneOf": [
                {"type": "object", "properties": {"title": {"type": "string"}}, "required": ["title"]},
                {"type": "string", "pattern": "^[a-z]+$"},
            ]
        }
    },
}
WALL = {"type": "object", "properties": {"shelf": {"$ref": "urn:toys:shelf#/$defs/book"}}, "minProperties": 1}


def texts(written: str, schema: dict[str, Any], wall: dict[str, Any]) -> list[str]:
    return [
        problem.text()
        for problem in check_schema(read_text(written), schema, {"urn:toys:wall": wall, schema["$id"]: schema})
    ]


def forget() -> None:
    memory._parts.clear()
    memory._meant.clear()


pieces = st.sampled_from(["{title: a}", "{title: 3}", "abc", "ABC", "5", "{}", "[]", "{titel: a}"])


@given(st.lists(pieces, max_size=4), pieces)
def test_a_second_time_gives_the_same_errors(books: list[str], beside: str) -> None:
    written = f"books: [{', '.join(books)}]\nnext: {{shelf: {beside}}}\n"
    schema = {**SCHEMA, "$id": "urn:toys:shelf"}
    forget()
    first = texts(written, schema, WALL)
    assert texts(written, schema, WALL) == first
    forget()
    assert texts(written, schema, WALL) == first


def test_what_is_kept_is_found_again() -> None:
    forget()
    texts("books: [abc, 5]\n", SCHEMA, WALL)
    parts, meant = dict(memory._parts), dict(memory._meant)
    assert parts
    assert meant
    texts("books: [abc, 5]\n", SCHEMA, WALL)
    assert (memory._parts, memory._meant) == (parts, meant)


def test_two_schemas_of_one_name_are_kept_apart() -> None:
    book = {"type": "array", "items": {"type": "integer"}}
    properties = {"books": {"$ref": "#/$defs/book"}}
    other = {"$id": SCHEMA["$id"], "type": "object", "properties": properties, "$defs": {"book": book}}
    for _ in range(2):
        assert texts("books: [abc]\n", SCHEMA, WALL) == []
        assert len(texts("books: [abc]\n", other, WALL)) == 1
        assert texts("books: [5]\n", other, WALL) == []


def test_it_does_not_grow_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    forget()
    monkeypatch.setattr(memory, "MOST", 3)
    first = texts("books: [{title: 3}, abc, 5]\n", SCHEMA, WALL)
    assert len(first) == 2
    assert 0 < len(memory._parts) <= 3
    assert texts("books: [{title: 3}, abc, 5]\n", SCHEMA, WALL) == first
