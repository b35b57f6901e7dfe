"""New packs: every starter makes one whose cases pass, whatever the figure, and whose files editors accept."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from afield.core.authoring.scaffold import Answers, Chosen, Starter, new_pack, offered_starters, prove
from afield.core.authoring.scaffold.answers import Item, chosen_of
from afield.core.authoring.scaffold.editor_schemas import editor_schema
from afield.core.authoring.scaffold.folder import Unproved
from afield.core.documents import InputError, read_text
from afield.core.engine import Engine
from afield.core.host.registry import Registry
from afield.core.packs.finding import installed_packs
from afield.core.quantities import Quantity

ITEM = Item("look-up", "home", "Look up")


@cache
def registry() -> Registry:
    return Engine().registry


@cache
def starters() -> dict[str, Starter]:
    return {starter.id: starter for starter in offered_starters(registry())}


def answers(*chosen: Chosen, judges: str = "program", items: tuple[Item, ...] = ()) -> Answers:
    return Answers(
        "club-award", "Club: Award", "the club", judges, "Rules, printed", "2024", "4.2", date(2024, 1, 1),
        date(2026, 5, 2), "local", chosen, items,
    )  # fmt: skip


def example(starter: Starter) -> Chosen:
    chosen = chosen_of(starter, registry().facts[starter.fact], starter.example)
    assert chosen is not None
    return chosen


def test_lines_areas_points_and_a_minimum_are_offered() -> None:
    assert list(starters()) == ["line", "area", "point", "contacts", "operators", "daylight", "mass"]


@pytest.mark.parametrize(("name", "judges"), [(each.id, kind) for each in starters().values() for kind in each.judges])
def test_every_starter_alone_makes_a_pack_whose_cases_pass(name: str, judges: str) -> None:
    made = answers(example(starters()[name]), judges=judges)
    assert prove(made.id, new_pack(made, registry()), registry()) >= 7


def test_all_starters_together_make_one_pack() -> None:
    chosen = [example(starter) for starter in starters().values() if "program" in starter.judges]
    made = answers(*chosen, items=(ITEM,))
    assert prove(made.id, new_pack(made, registry()), registry()) > 40


def test_a_checklist_may_be_all_that_there_is() -> None:
    made = answers(judges="trip", items=(ITEM,))
    files = new_pack(made, registry())
    assert prove(made.id, files, registry()) == 2
    assert "limits:" not in files["rules.yaml"] and "references.yaml" not in files


FIGURES = st.decimals(Decimal("0.001"), Decimal(99999), places=3).map(lambda value: value.normalize() + 0)


@settings(max_examples=12)
@given(FIGURES, st.sampled_from(["m", "ft", "km", "yd"]), st.sampled_from(["line", "area", "point"]))
def test_any_distance_makes_a_pack_whose_cases_pass(figure: Decimal, unit: str, name: str) -> None:
    made = answers(Chosen(starters()[name], Quantity(Decimal(f"{figure:f}"), unit)))
    assert prove(made.id, new_pack(made, registry()), registry()) >= 9


def test_nothing_is_below_the_least_that_there_can_be() -> None:
    made = answers(Chosen(starters()["line"], Quantity(Decimal(0), "m")))
    cases = read_text(new_pack(made, registry())["cases.yaml"]).data["cases"]
    given = [case["subjects"][0]["facts"]["place.farthest_part_from_line"] for case in cases]
    assert not any(str(value.get("value", "")).startswith("-") for value in given)
    assert prove(made.id, new_pack(made, registry()), registry()) == len(cases)


def test_a_wrong_case_is_never_written() -> None:
    made = answers(example(starters()["line"]))
    files = new_pack(made, registry())
    spoilt = {**files, "cases.yaml": files["cases.yaml"].replace("outcome: failed", "outcome: passed", 1)}
    with pytest.raises(Unproved, match="expected passed, but it is failed"):
        prove(made.id, spoilt, registry())
    with pytest.raises(Unproved, match="the pack has no cases"):
        prove(made.id, {name: text for name, text in files.items() if name != "cases.yaml"}, registry())
    with pytest.raises(InputError):
        prove(made.id, {**files, "rules.yaml": "rules: 3\n"}, registry())


def validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(editor_schema(name, registry()))


def parts(schema: Any) -> list[dict[str, Any]]:
    inner = schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ()
    return [*([schema] if isinstance(schema, dict) else []), *(part for each in inner for part in parts(each))]


@pytest.mark.parametrize("name", ["pack", "rules", "cases", "references"])
def test_schemas_for_editors_refer_to_their_own_paths_only(name: str) -> None:
    schema = editor_schema(name, registry())
    Draft202012Validator.check_schema(schema)
    references = {part["$ref"] for part in parts(schema) if isinstance(part.get("$ref"), str)}
    assert references and all(reference.startswith("#/$defs/") for reference in references)
    assert {reference.removeprefix("#/$defs/") for reference in references} <= set(schema["$defs"])
    assert [part["$id"] for part in parts(schema) if isinstance(part.get("$id"), str)] == [
        f"urn:afield:schema:{name}:1"
    ]


@pytest.mark.parametrize("pack", sorted(installed_packs()))
@pytest.mark.parametrize("name", ["pack", "rules", "cases", "references"])
def test_schemas_for_editors_accept_the_shipped_packs(pack: str, name: str) -> None:
    path = installed_packs()[pack] / f"{name}.yaml"
    data = read_text(path.read_text(encoding="utf-8")).data if path.is_file() else None
    assert data is None or list(validator(name).iter_errors(data)) == []


def test_schemas_for_editors_know_every_fact_and_kind() -> None:
    rules = read_text(new_pack(answers(example(starters()["line"])), registry())["rules.yaml"]).data
    assert list(validator("rules").iter_errors(rules)) == []
    text = json.dumps(rules)
    for old, new in (("place.farthest_part_from_line", "place.farhest_part"), ('"claim"', '"clam"')):
        assert list(validator("rules").iter_errors(json.loads(text.replace(old, new, 1))))
    names = editor_schema("rules", registry())["$defs"]["common-fact"]
    assert len(names["enum"]) == len(names["enumDescriptions"]) > 100
    assert "station.plane" not in names["enum"]


def test_every_file_names_the_schema_that_is_beside_it() -> None:
    files = new_pack(answers(example(starters()["line"])), registry())
    for name, text in files.items():
        if name.endswith(".yaml"):
            schema = text.splitlines()[0].removeprefix("# yaml-language-server: $schema=")
            assert schema == f"schemas/{Path(name).stem}.json" and schema in files


def test_a_strangers_starter_is_offered_where_its_facts_are_known(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shipped = (installed_packs()["gear"].parent / "starters" / "mass.yaml").read_text(encoding="utf-8")
    monkeypatch.setattr("afield.core.authoring.scaffold.starters.roots", lambda: [tmp_path])
    (tmp_path / "starters").mkdir()
    path = tmp_path / "starters" / "price.yaml"
    path.write_text(shipped.replace("kit.mass", "kit.price").replace("id: mass", "id: price"), encoding="utf-8")
    assert [starter.id for starter in offered_starters(registry())] == ["price"]
    path.write_text(shipped.replace("kit.mass", "kit.colour"), encoding="utf-8")
    assert offered_starters(registry()) == []
    path.write_text(shipped.replace("comparison: at_most", "comparison: equals"), encoding="utf-8")
    with pytest.raises(InputError, match=r"starters/price\.yaml:\d+:\d+: "):
        offered_starters(registry())
