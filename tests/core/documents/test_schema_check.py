import subprocess
import sys
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import check_schema, merged, read_text

SCHEMA: dict[str, Any] = {
    "$id": "urn:afield:schema:test-plan:1",
    "type": "object",
    "title": "the plan",
    "required": ["trip", "date"],
    "additionalProperties": False,
    "properties": {
        "trip": {"type": "string"},
        "date": {"type": "string", "format": "date"},
        "height": {"$ref": "urn:afield:schema:test-quantity:2#/$defs/length", "title": "the height"},
    },
}
REGISTRY = {"urn:afield:schema:test-quantity:2": {"$defs": {"length": {"type": "string", "x-dimension": "length"}}}}


def first_lines(text: str, schema: dict[str, Any] = SCHEMA) -> list[str]:
    return [str(problem.place) + " " + problem.what for problem in check_schema(read_text(text, "p"), schema, REGISTRY)]


def test_a_good_document_has_no_problem() -> None:
    assert first_lines("trip: x\ndate: 2026-06-27\nheight: 6 m\n") == []


def test_problems_come_in_the_order_of_places() -> None:
    assert first_lines("date: 2026-02-30\nheight: 5 V\nzz: 1\ntrip: 1\n") == [
        "p:1:7 2026-02-30 is no date",
        "p:2:9 5 V is a voltage; a length is due",
        'p:3:1 unknown key "zz" in the plan',
        'p:4:7 "trip" is the number 1; text is due',
    ]


def test_a_misspelt_key_is_not_also_missing() -> None:
    assert first_lines("tirp: x\n") == [
        'p:1:1 unknown key "tirp" in the plan',
        'p:1:1 the plan has no key "date"',
    ]


def test_the_words_beside_a_reference_win() -> None:
    assert first_lines("trip: x\ndate: 2026-06-27\nheight: [1]\n") == ["p:3:9 the height is a list; a length is due"]


def test_a_changed_schema_of_the_same_name_is_not_taken_from_the_cache() -> None:
    assert first_lines("trip: x\n") == ['p:1:1 the plan has no key "date"']
    assert first_lines("trip: x\n", {**SCHEMA, "required": []}) == []
    assert first_lines("trip: x\n") == ['p:1:1 the plan has no key "date"']


def test_a_registry_that_grew_is_not_taken_from_the_cache() -> None:
    schema = {"$id": "urn:afield:schema:test-grown:1", "$ref": "urn:afield:schema:test-part:1"}
    document = read_text("a: 1", "p")
    assert check_schema(document, schema, {"urn:afield:schema:test-part:1": {"type": "object"}}) == []
    assert len(check_schema(document, schema, {"urn:afield:schema:test-part:1": {"type": "array"}})) == 1


def test_a_problem_in_what_was_merged_shows_the_line_of_its_own_file() -> None:
    both = merged(read_text("trip: x\ndate: 2026-06-27\n", "one"), read_text("height: 3 kg\n", "two"))
    assert [problem.text() for problem in check_schema(both, SCHEMA, REGISTRY)] == [
        'two:1:9: 3 kg is a mass; a length is due\n    | height: 3 kg\n    = Write a length, for example "5 m".'
    ]


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-200, 200) | st.sampled_from(["5 m", "x", "2026-06-27"]),
    lambda part: st.lists(part, max_size=3) | st.dictionaries(st.sampled_from(["trip", "date", "height"]), part),
    max_leaves=6,
)


@given(st.dictionaries(st.sampled_from(["trip", "date", "height", "hieght"]), VALUES))
def test_our_verdict_is_that_of_plain_json_schema(data: dict[str, Any]) -> None:
    import json

    from jsonschema import Draft202012Validator
    from referencing import Registry, Resource
    from referencing.jsonschema import DRAFT202012

    contents = {name: Resource.from_contents(schema, DRAFT202012) for name, schema in REGISTRY.items()}
    plain = Draft202012Validator(SCHEMA, registry=Registry().with_resources(contents.items()))
    problems = check_schema(read_text(json.dumps(data), "p"), SCHEMA, REGISTRY)
    if not plain.is_valid(data):
        assert problems
    elif problems:  # only our own keyword and the format say more than plain JSON Schema
        assert all(" is no date" in problem.what or "number" in problem.what for problem in problems)


def test_reading_and_naming_import_neither_jsonschema_nor_pint() -> None:
    code = "import sys; from afield.core.documents import read_text; read_text('a: 5 m');"
    code += "print([name for name in ('jsonschema', 'pint', 'referencing') if name in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout == "[]\n"
