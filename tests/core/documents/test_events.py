"""What the fast parser is trusted with comes out as from the parser whose YAML is 1.2."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from afield.core.documents import InputError, read_text
from afield.core.documents import events as module
from afield.core.documents.marks import Marks

PIECES = (
    "a", "b: ", "c:\n", "- ", "  ", "\n", "\n  ", "\n    ", ": ", ":", ", ", ",", "{", "}", "[", "]", "#", " # note\n",
    "'", '"', "'it''s'", '"\\x41"', '"\\/"', '"\\U0001F600"', "{a: 1}", "[1, 2]", "{a: , b}", "a: b\n", "x:80/y", "é",
    "\U0001f600", "0x1F", "1e5", "-x", "%", "@", "`", "~", "=", "\\", "<<: a\n", "- - ", "- a: b\n  c:\n",
)  # fmt: skip
TEXTS = st.lists(st.sampled_from(PIECES), max_size=14).map("".join)


def places(marks: Marks) -> Any:
    """Every place in a document."""
    return marks.place, dict(marks.keys), {key: places(inner) for key, inner in marks.parts.items()}


def read(text: str) -> Any:
    """The data and places of a text, or all that is wrong with it."""
    try:
        document = read_text(text)
    except InputError as error:
        return error.problems
    return document.data, places(document.marks)


def slow_events(text: str) -> Iterator[Any]:
    """The events of the parser whose YAML is 1.2."""
    yield from YAML(typ="safe", pure=True).parse(text)


@given(TEXTS)
def test_both_parsers_make_the_same_document_or_complaint(text: str) -> None:
    with pytest.MonkeyPatch.context() as patched:
        found = read(text)
        patched.setattr("afield.core.documents.reading.yaml_events", slow_events)
        assert found == read(text)


@pytest.mark.parametrize(
    "text", ["a:\tb", "a: |\n  b", "a: >\n  b", "a: &x 1", "a: *x", "? a", "a: !x 1", "%YAML 1.2", "---\na: 1"]
)
def test_anything_unusual_is_left_to_the_parser_of_yaml_1_2(text: str) -> None:
    assert module._usual_events(text) is None


def test_an_ordinary_plan_is_not() -> None:
    assert module._usual_events("trip: Cinder Wash  # 68 %\nstation: {at: [0 m, 0 m]}\n")


def test_more_events_than_the_largest_document_has_are_not_gathered(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_MOST_EVENTS", 20)
    assert module._usual_events("a: [1, 2]") is not None
    assert module._usual_events(f"a: [{', '.join('1' * 20)}]") is None
    assert read_text(f"a: [{', '.join('1' * 20)}]").data == {"a": [1] * 20}


def test_without_libyaml_the_parser_of_yaml_1_2_reads_all(monkeypatch: pytest.MonkeyPatch) -> None:
    found = read("trip: Cinder Wash\nstation: {at: [0 m, 0 m]}\n")
    monkeypatch.setattr("ruamel.yaml.cyaml", None)
    assert module._usual_events("trip: Cinder Wash\n") is None
    assert read("trip: Cinder Wash\nstation: {at: [0 m, 0 m]}\n") == found
