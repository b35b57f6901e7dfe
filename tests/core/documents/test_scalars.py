import copy
import json
import pickle
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import InputError, WrittenFloat, read_text


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("12:30", "12:30"),
        ("no", "no"),
        ("on", "on"),
        ("Yes", "Yes"),
        ("2026-06-27", "2026-06-27"),
        ("2026-06-27T14:45Z", "2026-06-27T14:45Z"),
        ("01", 1),
        ("0o17", 15),
        ("0x1F", 31),
        ("-5", -5),
        ("+5", 5),
        ("1_000", "1_000"),
        ("5.", 5.0),
        (".5", 0.5),
        ("1e3", 1000.0),
        ("1.5e-3", 0.0015),
        ("true", True),
        ("FALSE", False),
        ("tRue", "tRue"),
        ("null", None),
        ("~", None),
        ("", None),
        ('"5"', "5"),
        ("'true'", "true"),
        ("! 5", "5"),
        ("!!str 5", "5"),
        ("!!float 5", 5.0),
        ("!!int 5", 5),
        ("!!null ~", None),
        ("5 m", "5 m"),
        ("|\n  two\n  lines\n", "two\nlines\n"),
        ('"\\ud83d\\ude00"', "😀"),
    ],
)
def test_reads_by_the_core_schema_of_yaml_1_2(written: str, value: Any) -> None:
    found = read_text(f"key: {written}").data["key"]
    assert (found, float if isinstance(found, float) else type(found)) == (value, type(value))


@pytest.mark.parametrize("written", ["39.9040", "5.", ".5", "+5.0", "1e3", "!!float 39.9040"])
def test_a_number_remembers_how_it_was_written(written: str) -> None:
    found = read_text(f"key: {written}").data["key"]
    text = written.removeprefix("!!float ")
    assert (found, found.written, json.dumps(found)) == (float(text), text, repr(float(text)))
    assert [other.written for other in (copy.deepcopy(found), pickle.loads(pickle.dumps(found)))] == [text, text]
    assert type(found + 1) is float


def test_a_number_written_as_python_writes_it_is_a_plain_float() -> None:
    assert type(read_text("key: 39.904").data["key"]) is float
    assert issubclass(WrittenFloat, float)


TEXT = st.text(st.characters(min_codepoint=32, exclude_categories=("Cs", "Cc", "Cf", "Cn", "Co")), max_size=12)
JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.floats(allow_nan=False, allow_infinity=False)
    | TEXT,
    lambda part: st.lists(part, max_size=3) | st.dictionaries(TEXT, part, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(TEXT.filter(lambda key: key != "<<"), JSON, max_size=4), st.booleans())
def test_json_reads_as_yaml(data: dict[str, Any], escaped: bool) -> None:
    if "<<" not in json.dumps(data):
        assert read_text(json.dumps(data, ensure_ascii=escaped)).data == data


PIECES = [*"ab:-? \n\t[]{},&*!|>'\"%@`#~01.é\\x<", "\\U11111111", "---\n", "!!int ", "a: "]


@given(st.lists(st.sampled_from(PIECES), max_size=30).map("".join))
def test_any_text_is_a_document_or_an_error_with_a_place(text: str) -> None:
    try:
        assert isinstance(read_text(text, "a.yaml").data, dict)
    except InputError as error:
        assert all(problem.what and problem.advice and problem.place.file == "a.yaml" for problem in error.problems)
