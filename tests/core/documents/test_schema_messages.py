"""Every message of the schema check, whole."""

from typing import Any

import pytest

from afield.core.documents import check_schema, read_text

TEXT = {"type": "string"}
LENGTH = {"$ref": "urn:afield:schema:test-quantity:1", "x-dimension": "length"}
REGISTRY = {"urn:afield:schema:test-quantity:1": {"type": "string", "title": "the quantity"}}
POSITION = {
    "type": "object",
    "title": "the position",
    "properties": {
        "lat": {"type": "number", "minimum": -90, "maximum": 90, "title": "latitude"},
        "lon": {"type": "number", "minimum": -180, "maximum": 180, "title": "longitude"},
    },
    "required": ["lat", "lon"],
    "additionalProperties": False,
}
LOCATOR = {
    "type": "object",
    "title": "the locator",
    "properties": {"locator": TEXT},
    "required": ["locator"],
    "additionalProperties": False,
}


def mapping(**properties: Any) -> dict[str, Any]:
    return {"type": "object", "title": "the plan", "properties": properties, "additionalProperties": False}


def texts(schema: dict[str, Any], text: str) -> list[str]:
    return [problem.text() for problem in check_schema(read_text(text, "p"), schema, REGISTRY)]


CASES: list[tuple[str, dict[str, Any], str, str, str]] = [
    ("unknown key", mapping(trip=TEXT), "a: 1\n", 'p:1:1: unknown key "a" in the plan', 'Known keys: "trip".'),
    (
        "misspelt key",
        mapping(height=TEXT),
        "{x: 1, heigth: 2}",
        'p:1:8: unknown key "heigth" in the plan',
        'Did you mean "height"?',
    ),
    (
        "no key allowed",
        {"additionalProperties": False},
        "a: 1",
        'p:1:1: unknown key "a" in the document',
        "Remove it.",
    ),
    (
        "key of no pattern",
        {"patternProperties": {"^x": True}, "additionalProperties": False},
        "{x1: 1, y: 2}",
        'p:1:9: unknown key "y" in the document',
        "Remove it.",
    ),
    (
        "unevaluated key",
        {"title": "the plan", "allOf": [{"properties": {"a": TEXT}}], "unevaluatedProperties": False},
        "{a: x, b: y}",
        'p:1:8: unknown key "b" in the plan',
        'Known keys: "a".',
    ),
    (
        "missing key with example",
        {**mapping(date={**TEXT, "x-example": "2026-06-27"}), "required": ["date"]},
        "{}",
        'p:1:1: the plan has no key "date"',
        "Add it, for example: date: 2026-06-27",
    ),
    (
        "missing key, example of its dimension behind a reference",
        {**mapping(height=LENGTH), "required": ["height"]},
        "{}",
        'p:1:1: the plan has no key "height"',
        "Add it, for example: height: 5 m",
    ),
    (
        "missing key, example that is a list",
        {**mapping(kit={"type": "array", "x-example": ["a.yaml"]}), "required": ["kit"]},
        "{}",
        'p:1:1: the plan has no key "kit"',
        'Add it, for example: kit: ["a.yaml"]',
    ),
    ("missing key", {"required": ["kit"]}, "{}", 'p:1:1: the document has no key "kit"', 'Add "kit: ...".'),
    (
        "missing companion",
        {"dependentRequired": {"value": ["unit"]}},
        "value: 1",
        'p:1:1: "value" needs the key "unit" beside it',
        'Add "unit: ...".',
    ),
    (
        "bare number",
        mapping(height=LENGTH),
        "height: 21",
        'p:1:9: 21 is a bare number: write its unit, for example "21 m"',
        LENGTHS := "A length is written in m, km, cm, mm, ft, in, yd, mi, nmi or fathom.",
    ),
    (
        "bare number, no type",
        mapping(height={"x-dimension": "length"}),
        "height: 2.5",
        'p:1:9: 2.5 is a bare number: write its unit, for example "2.5 m"',
        LENGTHS,
    ),
    (
        "wrong dimension",
        mapping(height=LENGTH),
        "height: 3 kg",
        "p:1:9: 3 kg is a mass; a length is due",
        'Write a length, for example "5 m".',
    ),
    (
        "list for a quantity",
        mapping(height={**LENGTH, "title": "the antenna's height"}),
        "height: [3 m]",
        "p:1:9: the antenna's height is a list; a length is due",
        "For example: 5 m",
    ),
    (
        "true for a quantity",
        mapping(height={**LENGTH, "title": "the antenna's height", "x-example": "6 m"}),
        "height: true",
        "p:1:9: the antenna's height is true; a length is due",
        "For example: 6 m",
    ),
    (
        "number for text",
        mapping(id=TEXT),
        "id: 01",
        'p:1:5: "id" is the number 1; text is due',
        'Write it in quotes: "1".',
    ),
    ("nothing", mapping(trip=TEXT), "trip:", 'p:1:1: "trip" is empty; text is due', "Write text."),
    (
        "text for a list",
        mapping(kit={"type": "array"}),
        "kit: a",
        'p:1:6: "kit" is the text "a"; a list is due',
        'Write it in brackets: ["a"].',
    ),
    (
        "text for a mapping",
        mapping(at=POSITION),
        "at: here",
        'p:1:5: the position is the text "here"; a mapping is due',
        'Write its keys: "lat", "lon".',
    ),
    (
        "one of several types",
        mapping(n={"type": ["integer", "null"]}),
        "n: {}",
        'p:1:4: "n" is a mapping; a whole number or nothing is due',
        "Write a whole number or nothing.",
    ),
    (
        "item of a list",
        mapping(packs={"items": TEXT}),
        "packs: [a, 2]",
        'p:1:12: item 2 of "packs" is the number 2; text is due',
        'Write it in quotes: "2".',
    ),
    (
        "misspelt choice",
        mapping(role={"enum": ["antenna", "mast"], "title": "the part's role"}),
        "role: antena",
        'p:1:7: "antena" is not a choice for the part\'s role',
        'Did you mean "antenna"? Choices: "antenna", "mast".',
    ),
    (
        "no choice",
        mapping(role={"enum": ["antenna", "mast"]}),
        "role: 5",
        'p:1:7: 5 is not a choice for "role"',
        'Choices: "antenna", "mast".',
    ),
    ("constant", mapping(v={"const": 1}), "v: 2", 'p:1:4: "v" is 2; 1 is due', "Write 1."),
    (
        "no such day",
        mapping(date={"format": "date"}),
        "date: 2026-02-30",
        "p:1:7: 2026-02-30 is no date",
        "February 2026 has 28 days.",
    ),
    (
        "no such month",
        mapping(date={"format": "date"}),
        "date: 2026-13-01",
        "p:1:7: 2026-13-01 is no date",
        "Write a month from 01 to 12, for example 2026-06-27.",
    ),
    (
        "not a date",
        mapping(date={"format": "date"}),
        "date: 27/06/2026",
        "p:1:7: 27/06/2026 is no date",
        "Write year, month and day, for example 2026-06-27.",
    ),
    (
        "not a time",
        mapping(arrive={"format": "clock"}),
        "arrive: 24:00",
        "p:1:9: 24:00 is no time of day",
        'Write 00:00 to 23:59, with a Z at the end for UTC: "14:45" or "21:45Z".',
    ),
    (
        "not an instant",
        mapping(now={"format": "date-time"}),
        "now: soon",
        "p:1:6: soon is no date and time",
        INSTANT := "Write date, T, time and zone, for example 2026-06-27T21:45Z.",
    ),
    (
        "instant without zone",
        mapping(now={"format": "date-time"}),
        "now: 2026-06-27T21:45",
        "p:1:6: 2026-06-27T21:45 does not say its zone",
        INSTANT,
    ),
    (
        "pattern in words",
        mapping(ref={"pattern": "^[a-z]+$", "x-form": "a lower-case word", "x-example": "ridge"}),
        "ref: R1",
        'p:1:6: "R1" is not well formed for "ref"',
        "It is a lower-case word. For example: ridge",
    ),
    (
        "pattern",
        mapping(ref={"pattern": "^[a-z]+$"}),
        "ref: R1",
        'p:1:6: "R1" is not well formed for "ref"',
        "It must match ^[a-z]+$",
    ),
    (
        "beyond both bounds",
        mapping(at=POSITION),
        "at: {lat: 91, lon: 100}",
        "p:1:11: latitude 91 is outside -90 to 90",
        "Write a number from -90 to 90.",
    ),
    (
        "swapped",
        mapping(at=POSITION),
        "at: {lat: -117.3, lon: 39.9}",
        "p:1:11: latitude -117.3 is outside -90 to 90",
        "Are latitude and longitude swapped?",
    ),
    ("least", mapping(n={"minimum": 1}), "n: 0", 'p:1:4: "n" 0 is less than 1', "Write 1 or more."),
    ("most", mapping(n={"maximum": 1}), "n: 2", 'p:1:4: "n" 2 is more than 1', "Write 1 or less."),
    (
        "not above",
        mapping(n={"exclusiveMinimum": 0}),
        "n: 0",
        'p:1:4: "n" 0 is not more than 0',
        "Write a number more than 0.",
    ),
    (
        "not below",
        mapping(n={"exclusiveMaximum": 0}),
        "n: 0",
        'p:1:4: "n" 0 is not less than 0',
        "Write a number less than 0.",
    ),
    ("multiple", mapping(n={"multipleOf": 5}), "n: 7", 'p:1:4: "n" 7 is no multiple of 5', "Mend it or remove it."),
    ("empty text", mapping(t={"minLength": 1}), "t: ''", 'p:1:4: "t" is empty', "Write at least one character."),
    ("empty list", mapping(t={"minItems": 1}), "t: []", 'p:1:4: "t" is empty', "Write at least one entry."),
    (
        "short list",
        mapping(t={"minItems": 2}),
        "t: [1]",
        'p:1:4: "t" has 1 entry; at least 2 are due',
        "Write at least 2 entries.",
    ),
    (
        "empty where two are due",
        mapping(t={"minItems": 2}),
        "t: []",
        'p:1:4: "t" is empty; at least 2 are due',
        "Write at least 2 entries.",
    ),
    (
        "long list",
        mapping(t={"maxItems": 1}),
        "t: [1, 2]",
        'p:1:4: "t" has 2 entries; at most 1 is due',
        "Write at most 1 entry.",
    ),
    (
        "long text",
        mapping(t={"maxLength": 2}),
        "t: abc",
        'p:1:4: "t" has 3 characters; at most 2 are due',
        "Write at most 2 characters.",
    ),
    (
        "few keys",
        mapping(t={"minProperties": 2}),
        "t: {a: 1}",
        'p:1:4: "t" has 1 key; at least 2 are due',
        "Write at least 2 keys.",
    ),
    (
        "repeated item",
        mapping(t={"uniqueItems": True}),
        "t: [1, true, {a: 1}, {a: 1}]",
        'p:1:22: item 4 of "t" repeats item 3',
        "Remove one of the two.",
    ),
    (
        "key of a wrong form",
        {"propertyNames": {"pattern": "^[a-z]+$", "title": "the name", "x-form": "a lower-case word"}},
        "{ok: 1, No: 2}",
        'p:1:9: "No" is not well formed for the name',
        "It is a lower-case word.",
    ),
    ("forbidden key", {"properties": {"a": False}}, "a: 1", 'p:1:1: "a" is not allowed here', "Remove it."),
    (
        "keys that exclude each other",
        {"not": {"required": ["a", "b"]}},
        "{a: 1, b: 2}",
        'p:1:1: the document has "a" and "b", which exclude each other',
        "Keep one.",
    ),
    (
        "not like this",
        mapping(t={"not": {"const": 1}, "x-form": "any number but 1"}),
        "t: 1",
        'p:1:4: "t" is not allowed like this',
        "It is any number but 1.",
    ),
    (
        "entry that is due",
        mapping(t={"contains": {"const": 1}, "x-form": "a list with a 1"}),
        "t: [2]",
        'p:1:4: "t" lacks an entry that is due',
        "It is a list with a 1.",
    ),
    (
        "branch by its keys",
        mapping(at={"oneOf": [POSITION, LOCATOR]}),
        "at: {locater: x}",
        'p:1:6: unknown key "locater" in the locator',
        'Did you mean "locator"?',
    ),
    (
        "branch that lacks a key",
        mapping(at={"oneOf": [LOCATOR, POSITION]}),
        "at: {lat: 5}",
        'p:1:5: the position has no key "lon"',
        'Add "lon: ...".',
    ),
    (
        "no branch begun",
        mapping(at={"oneOf": [POSITION, LOCATOR, TEXT], "title": "the station's position"}),
        "at: {}",
        "p:1:5: the station's position has none of the keys that are due",
        'Add "lat" and "lon", or "locator".',
    ),
    (
        "no branch of that type",
        mapping(at={"anyOf": [POSITION, TEXT], "title": "the station's position"}),
        "at: [1]",
        "p:1:5: the station's position is a list; a mapping or text is due",
        "Write a mapping or text.",
    ),
    (
        "branch by its constant",
        {"oneOf": [{"properties": {"k": {"const": k}, k: TEXT}, "required": [k]} for k in ("a", "b")]},
        "{k: b, b: 5}",
        'p:1:11: "b" is the number 5; text is due',
        'Write it in quotes: "5".',
    ),
    (
        "two branches at once, with titles",
        {"oneOf": [{"title": "a track", "required": ["a"]}, {"title": "an area", "required": ["b"]}]},
        "{a: 1, b: 2}",
        "p:1:1: the document can be read as a track and as an area",
        "Keep the keys of one of them.",
    ),
    (
        "two branches at once, by keys",
        {"oneOf": [{"required": ["a"]}, {"required": ["b"]}]},
        "{a: 1, b: 2}",
        'p:1:1: the document has "a" and "b"; one of them is due',
        "Keep one.",
    ),
    (
        "two branches at once",
        mapping(t={"oneOf": [{"minimum": 1}, {"minimum": 2}]}),
        "t: 3",
        'p:1:4: "t" can be read in more than one way',
        "Keep the keys of one of them.",
    ),
    (
        "a keyword without words of its own",
        mapping(t={"prefixItems": [TEXT], "items": False}),
        "t: [a, b]",
        "p:1:4: \"t\" does not fit: Expected at most 1 item but found 1 extra: 'b'",
        "Mend it or remove it.",
    ),
]


@pytest.mark.parametrize(("schema", "text", "first", "advice"), [case[1:] for case in CASES], ids=[c[0] for c in CASES])
def test_says_where_what_and_what_to_do(schema: dict[str, Any], text: str, first: str, advice: str) -> None:
    found = texts({**schema, "$id": "urn:afield:schema:test:1"}, text)
    assert f"{first}\n    | {text.rstrip()}\n    = {advice}" in found
    assert len(found) == (2 if "heigth" in text else 1)
