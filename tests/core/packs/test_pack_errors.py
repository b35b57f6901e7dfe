"""What keeps a pack from loading is told at its place, with what to do; nothing wrong in a pack is passed over."""

from typing import Any

import pytest

from afield.core.documents import InputError

DATED = {"id": "dated", "require": {"fact": "trip.date", "exists": True}}
GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
LIMIT = {"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]}


def problems(house: Any, *rules: Any, **pack: Any) -> list[Any]:
    house.pack(*rules, **pack)
    with pytest.raises(InputError) as caught:
        house.load()
    return list(caught.value.problems)


def only(house: Any, *rules: Any, **pack: Any) -> Any:
    (problem,) = problems(house, *rules, **pack)
    return problem


def named(problem: Any) -> str:
    """The file and the words on the line that the problem points at."""
    return f"{problem.place.file.split('/')[-1]}: {problem.source.strip().rstrip(',{').rstrip()}"


def test_verdicts_that_wait_for_each_other(house: Any) -> None:
    first = {"id": "a", "require": {"verdict": "b", "is": "passed"}}
    second = {"id": "b", "where": {"verdict": "a", "is": "passed"}, "require": {"fact": "trip.date", "exists": True}}
    problem = only(house, first, second)
    assert problem.text().splitlines()[0].startswith("pack:tidy/rules.yaml:3:3: ")
    assert "a waits for b waits for a" in problem.what


def test_a_verdict_that_waits_for_itself_through_a_count(house: Any) -> None:
    rule = {"id": "a", "require": {"count": "trip", "where": {"verdict": "a", "is": "passed"}, "at_least": 1}}
    assert "a waits for a" in only(house, rule).what


def test_a_rule_twice(house: Any) -> None:
    problem = only(house, DATED, DATED)
    assert "dated" in problem.what
    assert named(problem) == 'rules.yaml: "id": "dated"'


def test_a_kind_that_nothing_declares(house: Any) -> None:
    problem = only(house, {**DATED, "for_each": "shelv"})
    assert (named(problem), "shelf" in problem.advice) == ('rules.yaml: "for_each": "shelv"', True)


def test_a_fact_that_nothing_declares(house: Any) -> None:
    problem = only(house, {"id": "gap", "require": {"fact": "wall.gab", "below": "1 m"}})
    assert (named(problem), "wall.gap" in problem.advice) == ('rules.yaml: "fact": "wall.gab"', True)


@pytest.mark.parametrize("where", [{}, {"where": {"fact": "wall.damp", "is": True}}])
def test_a_cited_limit_is_source_enough_for_a_rule(house: Any, where: Any) -> None:
    house.pack({**GAP, **where, "source": None}, limits=LIMIT)
    path = house.folder / "tidy" / "rules.yaml"
    path.write_text(path.read_text().replace('"source": null,', "").replace(',\n   "source": null', ""))
    assert house.told()[0][0] == "tidy/gap"


@pytest.mark.parametrize(
    "require",
    [
        {"fact": "wall.gap", "at_least": "0.5 m"},
        {"fact": "trip.date", "exists": True},
        {"all": [GAP["require"], {"fact": "wall.damp", "is": False}]},
    ],
)
def test_a_value_that_no_source_is_given_for(house: Any, require: Any) -> None:
    house.pack({"id": "gap", "require": require, "source": None}, limits=LIMIT)
    path = house.folder / "tidy" / "rules.yaml"
    path.write_text(path.read_text().replace('"source": null,', "").replace(',\n   "source": null', ""))
    with pytest.raises(InputError) as caught:
        house.load()
    assert [problem.what for problem in caught.value.problems] == ["the rule gap has no source"]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("Lower the {{ detail.ends }}.", "the text names the field detail.ends, which is not there"),
        ("Lower it by {{ shortby }}.", "the text names the field shortby, which is not there"),
        ("{{ 7 * 7 }}", "{{ 7 * 7 }} is more than a field's name"),
        ("{{ subject.__class__ }}", "{{ subject.__class__ }} is more than a field's name"),
        ("{% for x in y %}", "a text with a jinja statement"),
        ("Lower it by {{ short_by", "a field of the text does not begin or end"),
        ('{{ "}" }}', "a field of the text does not begin or end"),
    ],
)
def test_a_text_that_could_not_be_filled_in(house: Any, text: str, what: str) -> None:
    problem = only(house, {**GAP, "if_failed": text}, limits=LIMIT)
    assert problem.what == what
    assert '"if_failed"' in problem.source


@pytest.mark.parametrize("field", ["value", "limit", "margin", "short_by"])
def test_a_figure_in_a_text_of_a_rule_that_compares_no_number(house: Any, field: str) -> None:
    problem = only(house, {**DATED, "if_failed": f"Lacking {{{{ {field} }}}}."})
    assert problem.what == f"the text uses {field}, but the rule compares no number"


@pytest.mark.parametrize("key", ["title", "why"])
def test_a_field_in_a_text_where_none_is_filled_in(house: Any, key: str) -> None:
    problem = only(house, {**DATED, key: "Of {{ subject }}"})
    assert f'"{key}"' in problem.source
    assert "if_failed, if_cannot_tell" in problem.advice


@pytest.mark.parametrize(
    ("facts", "what"),
    [
        ({"program.colour": "bleu"}, "bleu"),
        ({"program.colour": 5}, "5"),
        ({"program.most_books": True}, "true"),
        ({"program.most_books": "3 m"}, "3 m"),
        ({"program.most_books": {"limit": "gap"}}, "limit gap"),
        ({"program.most_books": {"limit": "bookz"}}, "bookz"),
        ({"program.bookz": 5}, "program.bookz"),
        ({"wall.height": "3 m"}, "wall.height"),
    ],
)
def test_a_program_fact_that_does_not_fit(house: Any, facts: Any, what: str) -> None:
    problem = only(house, GAP, limits=LIMIT, facts=facts)
    assert problem.place.file == "pack:tidy/pack.yaml"
    assert what in problem.what


def test_one_pack_under_two_names_is_not_judged_twice(house: Any) -> None:
    house.pack(DATED)
    with pytest.raises(InputError) as caught:
        house.load(packs=["tidy", "./tidy"])
    assert "tidy" in caught.value.problems[0].what
    assert str(caught.value.problems[0].place).startswith("plan.yaml:6:")


def test_a_plan_that_calls_for_no_pack_is_not_green(house: Any) -> None:
    with pytest.raises(InputError) as caught:
        house.load(packs=[])
    assert caught.value.problems[0].what == "the plan claims nothing and names no packs"


@pytest.mark.parametrize(
    ("broken", "count"), [({"severty": "required"}, 1), ({"require": {"fact": "trip.date", "exits": True}}, 1)]
)
def test_a_misspelt_key_is_never_ignored(house: Any, broken: Any, count: int) -> None:
    found = problems(house, {**DATED, **broken})
    assert len(found) >= count
    assert any("did you mean" in problem.advice.lower() for problem in found)
