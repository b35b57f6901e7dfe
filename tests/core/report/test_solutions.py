"""What is solved for a section that is asked for: kept in the report, named where it fails, never solved unasked."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from types import ModuleType
from typing import Any

import jsonschema
import pytest

from afield.core.api import InputError, Section, Solution, Solver, UsageError
from afield.core.documents import Place, Problem
from afield.core.engine import report
from afield.core.host.composition import shipped_schema
from afield.core.report.solved import drawn_from, found_by_name

DATED = {"id": "dated", "require": {"fact": "trip.date", "exists": True}}
SCHEMA = {"type": "object", "properties": {"steps": {"type": "integer"}}, "required": ["steps"]}
OWNER = "plugin ways (toys 1.0)"
Solve = Callable[[Any, Any, Mapping[str, str]], Any]


def section(name: str, order: int = 1, **more: Any) -> Section:
    """A section that is drawn from what `toy_ways` solves."""
    given = {
        "wants": ("trip.date",), "schema": {}, "template": "none.html", "package": "nowhere",
        "data": lambda given: {"half": given["solution"]["steps"] // 2, "day": given["trip.date"]["trip"]["value"]},
        "solver": Solver("toy_ways:solve", f"{name}-command", SCHEMA, ("pace",)), **more,
    }  # fmt: skip
    return Section(name=name, title=name.title(), order=order, **given)


@pytest.fixture
def solving(toys: Any, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Any]:
    """Reports a trip with the sections asked for, solved by the function."""

    def reported(solve: Solve, *sections: Section, asked: Any = None, briefing: bool = True) -> Any:
        module = ModuleType("toy_ways")
        module.solve = solve  # type: ignore[attr-defined]
        monkeypatch.setitem(sys.modules, "toy_ways", module)
        toys.house().add("ways", sections=lambda: sections).pack(DATED)
        return report(toys.judged(), toys.engine, briefing, asked=asked)

    return reported


def seven(trip: Any, engine: Any, settings: Mapping[str, str]) -> Solution:
    return Solution({"steps": 7, "pace": settings.get("pace"), "trip": trip.document.data["trip"]})


def test_an_answer_is_kept_with_who_found_it_and_its_section_is_made_from_it(solving: Any) -> None:
    found = solving(seven, section("walk"), asked={"walk": {"pace": "slow"}})
    assert found["solutions"] == [{
        "name": "walk", "plugin": {"name": "ways", "distribution": "toys", "version": "1.0"},
        "command": "walk-command", "settings": {"pace": "slow"},
        "found": {"steps": 7, "pace": "slow", "trip": "Moving day"}, "crashes": [],
    }]  # fmt: skip
    assert found["sections"] == [{"name": "walk", "title": "Walk", "data": {"half": 3, "day": "2026-06-27"}}]
    assert (found["warnings"], found["exit_status"]) == ([], 0)
    assert drawn_from(found["sections"][0], found) == {
        "half": 3, "day": "2026-06-27", "solution": {"steps": 7, "pace": "slow", "trip": "Moving day"},
    }  # fmt: skip
    jsonschema.Draft202012Validator(shipped_schema("report")).validate(found)


def test_what_is_not_asked_for_is_not_solved(solving: Any) -> None:
    def never(*_: Any) -> Any:
        raise AssertionError("it was not asked for")

    found = solving(never, section("walk"), section("plain", solver=None, data=lambda given: dict(given)))
    assert found["solutions"] == []
    assert [(made["name"], sorted(made["data"])) for made in found["sections"]] == [("plain", ["trip.date"])]


def test_answers_stand_in_the_order_of_their_sections(solving: Any) -> None:
    sections = (section("late", 9), section("early", 2), section("b", 5), section("a", 5))
    found = solving(seven, *sections, asked={"late": {}, "a": {}, "b": {}})
    assert [entry["name"] for entry in found["solutions"]] == ["a", "b", "late"]
    assert [entry["name"] for entry in found["sections"]] == ["a", "b", "late"]


@pytest.mark.parametrize("briefing", [True, False])
def test_a_name_that_nobody_solves_is_no_silent_gap(solving: Any, briefing: bool) -> None:
    with pytest.raises(ValueError, match=r"^no section of the briefing that can be asked for is called plain, wlak$"):
        solving(seven, section("plain", solver=None), asked={"wlak": {}, "plain": {}}, briefing=briefing)


def boom(*_: Any) -> Any:
    raise RuntimeError("the ink ran out")


FAILING = {
    "raises": (boom, "RuntimeError: the ink ran out"),
    "ends the program": (lambda *_: sys.exit(0), "RuntimeError: it tried to end the program with 0"),
    "no solution": (lambda *_: {"steps": 7}, "AttributeError: 'dict' object has no attribute 'found'"),
    "another shape": (
        lambda *_: Solution({"steps": "many"}),
        "ValueError: its answer does not fit its schema at $.steps: 'many' is not of type 'integer'",
    ),
    "no answer": (
        lambda *_: Solution(None),  # type: ignore[arg-type]
        "ValueError: its answer does not fit its schema at $: None is not of type 'object'",
    ),
}


@pytest.mark.parametrize(("solve", "error"), FAILING.values(), ids=FAILING)
def test_a_solver_that_fails_is_named_and_its_section_left_out(solving: Any, solve: Solve, error: str) -> None:
    found = solving(solve, section("walk"), asked={"walk": {}})
    crash = f"{OWNER} failed at solving walk: {error}"
    (entry,) = found["solutions"]
    assert (entry["found"], entry["crashes"], found["sections"]) == (None, [crash], [])
    assert [warning["what"] for warning in found["warnings"]] == [crash]
    assert found["exit_status"] == 4
    jsonschema.Draft202012Validator(shipped_schema("report")).validate(found)


def test_an_address_that_leads_nowhere_is_a_failure_too(solving: Any) -> None:
    lost = section("walk", solver=Solver("toy_ways:sovle", "walk", SCHEMA))
    found = solving(seven, lost, asked={"walk": {}})
    assert found["solutions"][0]["crashes"] == [
        f"{OWNER} failed at solving walk: AttributeError: module 'toy_ways' has no attribute 'sovle'"
    ]


def test_what_failed_on_the_way_is_told_beside_the_answer(solving: Any) -> None:
    found = solving(lambda *_: Solution({"steps": 7}, ["one of them fell"]), section("walk"), asked={"walk": {}})
    assert [warning["what"] for warning in found["warnings"]] == ["while walk was solved: one of them fell"]
    assert (found["sections"][0]["data"]["half"], found["exit_status"]) == (3, 4)


@pytest.mark.parametrize(
    "error", [UsageError("no way\n    = Walk."), InputError([Problem(Place("plan.yaml", 1, 1), "no way", "Walk.")])]
)
def test_what_the_user_asked_in_vain_is_said_to_him(solving: Any, error: Exception) -> None:
    def refused(*_: Any) -> Any:
        raise error

    with pytest.raises(type(error)) as caught:
        solving(refused, section("walk"), asked={"walk": {}})
    assert caught.value is error


def test_a_report_of_before_has_no_answers() -> None:
    old = {"sections": [{"name": "walk", "title": "Walk", "data": {"half": 3}}]}
    assert drawn_from(old["sections"][0], old) == {"half": 3}
    assert found_by_name([{"name": "walk", "found": None}, {"name": "drive", "found": {}}]) == {"drive": {}}
