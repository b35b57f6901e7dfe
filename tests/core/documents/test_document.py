import hashlib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import Document, InputError, Place, Problem, merged, patched, read_document, read_text

PLAN = """\
# a comment
trip: Cinder Wash
date: 2026-06-27
station:
  parts:
    - {name: wire, height: 6 m}
    - name: mast
empty:
kit: [a.yaml]
variants:
  more:
    kit: [a.yaml, b.yaml]
    station: {parts: null, call: first}
    date: null
"""


@pytest.fixture
def plan() -> Document:
    return read_text(PLAN, "plan.yaml")


def test_every_value_and_key_has_its_place(plan: Document) -> None:
    assert str(plan.place()) == "plan.yaml:2:1"
    assert str(plan.place(("station", "parts", 0, "height"))) == "plan.yaml:6:28"
    assert str(plan.key_place(("station", "parts", 0, "height"))) == "plan.yaml:6:20"
    assert str(plan.key_place(("station", "parts", 1))) == "plan.yaml:7:7"
    assert plan.line(plan.place(("station", "parts", 1))) == "    - name: mast"


def test_what_is_not_there_points_at_its_nearest_ancestor(plan: Document) -> None:
    assert str(plan.place(("station", "parts", 1, "height", "deep"))) == "plan.yaml:7:7"
    assert str(plan.key_place(("station", "parts", 1, "height"))) == "plan.yaml:7:7"
    assert str(plan.key_place(("absent", "parts", "height"))) == "plan.yaml:2:1"
    assert str(plan.key_place(())) == "plan.yaml:2:1"


def test_an_empty_value_points_at_its_key(plan: Document) -> None:
    assert plan.data["empty"] is None
    assert str(plan.place(("empty",))) == "plan.yaml:8:1"


def test_value_follows_a_path(plan: Document) -> None:
    assert plan.value(("station", "parts", 1, "name")) == "mast"
    assert plan.value(("station", "parts", 9, "name"), "none") == "none"
    assert plan.value(("trip", "x")) is None


def test_a_file_is_read_with_its_folder_and_hash(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_bytes(b"\xef\xbb\xbftrip: x\r\ndate: y\r\n")
    document = read_document(path)
    assert (document.name, document.folder, document.data) == (str(path), tmp_path, {"trip": "x", "date": "y"})
    assert str(document.place(("date",))) == f"{path}:2:7"
    assert document.sha256 == hashlib.sha256(b"trip: x\r\ndate: y\r\n").hexdigest()


def test_a_list_at_the_top_is_read_where_it_is_allowed() -> None:
    assert read_text("- a\n- b\n", mapping=False).data == ["a", "b"]


def test_aliases_share_their_value_and_place() -> None:
    document = read_text("a: &x {b: 1}\nc: *x\n", "p")
    assert document.data == {"a": {"b": 1}, "c": {"b": 1}}
    assert str(document.place(("c", "b"))) == "p:1:11"


def test_a_patch_replaces_merges_and_removes(plan: Document) -> None:
    variant = patched(plan, ("variants", "more"))
    assert variant.data["kit"] == ["a.yaml", "b.yaml"]
    assert variant.data["station"] == {"call": "first"}
    assert "date" not in variant.data
    assert variant.data["trip"] == "Cinder Wash"
    assert plan.data["kit"] == ["a.yaml"]


def test_a_patched_value_keeps_the_place_of_the_patch(plan: Document) -> None:
    variant = patched(plan, ("variants", "more"))
    assert str(variant.place(("kit", 1))) == "plan.yaml:12:19"
    assert str(variant.key_place(("kit",))) == "plan.yaml:12:5"
    assert str(variant.place(("station", "call"))) == "plan.yaml:13:34"
    assert str(variant.place(("station",))) == "plan.yaml:5:3"
    assert str(variant.place(("trip",))) == "plan.yaml:2:7"
    assert str(plan.place(("kit", 0))) == "plan.yaml:9:7"


def test_a_variant_that_changes_nothing_is_refused() -> None:
    document = read_text("variants: {more: }\n", "p")
    with pytest.raises(InputError) as caught:
        patched(document, ("variants", "more"))
    assert str(caught.value) == (
        'p:1:12: "more" must say what it changes\n    | variants: {more: }\n'
        '    = Write the keys that differ, for example "kit: [...]".'
    )


def test_another_file_merged_over_keeps_its_own_places() -> None:
    both = merged(read_text("a: 1\nb: {c: 2}\n", "one"), read_text("b:\n  d: 3\n", "two"))
    assert both.data == {"a": 1, "b": {"c": 2, "d": 3}}
    assert (str(both.place(("a",))), str(both.place(("b", "d")))) == ("one:1:4", "two:2:6")
    assert both.line(both.place(("b", "d"))) == "  d: 3"


NAMES = st.sampled_from("abc")
TREES = st.recursive(st.none() | st.integers(0, 3), lambda part: st.dictionaries(NAMES, part, max_size=3), max_leaves=6)


def rfc_7396(target: object, patch: object) -> object:
    """The pseudocode of RFC 7396, section 2."""
    if not isinstance(patch, dict):
        return patch
    result = dict(target) if isinstance(target, dict) else {}
    for name, value in patch.items():
        if value is None:
            result.pop(name, None)
        else:
            result[name] = rfc_7396(result.get(name), value)
    return result


@given(st.dictionaries(NAMES, TREES, max_size=3), st.dictionaries(NAMES, TREES, max_size=3))
def test_merging_is_that_of_rfc_7396(target: dict[str, object], patch: dict[str, object]) -> None:
    both = merged(read_text(flow(target), "one"), read_text(flow(patch), "two"))
    assert both.data == rfc_7396(target, patch)
    assert all(step in both.marks.keys and step in both.marks.parts for step in both.data)


def flow(tree: object) -> str:
    if isinstance(tree, dict):
        return "{" + ", ".join(f"{key}: {flow(value)}" for key, value in tree.items()) + "}"
    return "null" if tree is None else str(tree)


def test_a_problem_prints_its_place_line_and_advice() -> None:
    assert (
        Problem(Place("p", 2, 5), "wrong", "Mend it.", "\ta: b").text() == "p:2:5: wrong\n    |  a: b\n    = Mend it."
    )
    assert Problem(Place("p"), "wrong", "Mend it.").text() == "p: wrong\n    = Mend it."


def test_a_long_line_is_cut_around_the_place() -> None:
    line = "".join(f"{number:09d} " for number in range(60))
    shown = Problem(Place("p", 1, 300), "wrong", "Mend it.", line).text().splitlines()[1]
    assert shown == f"    | ... {line[230:370].strip()} ..."


def test_places_sort_by_file_line_and_column() -> None:
    places = [Place("b", 1, 1), Place("a", 10, 1), Place("a", 9, 2), Place("a", 9, 1)]
    assert list(map(str, sorted(places))) == ["a:9:1", "a:9:2", "a:10:1", "b:1:1"]
