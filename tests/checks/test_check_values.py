"""Every published check value against the computation that it names."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from afield.core.engine import Engine
from afield.core.host.computations import Computations, computations
from afield.core.testing.checkfiles import Bindings, CaseResult, load_bindings, run_check_file
from afield.core.testing.comparison import disagreements
from afield.core.testing.recorded_inputs import RecordedInputs

FOLDER = Path(__file__).parent
BINDING_MODULES = sorted((FOLDER / "bindings").glob("*.py"))
FLOORS = {"geometry_time.yaml": 121, "power_rf.yaml": 163}
"""Least number of right cases, so that a file cannot turn green by running nothing; raise it with every computation."""


@lru_cache
def registered() -> Computations:
    return computations(Engine().host)


@lru_cache
def bindings(check_file: str) -> Bindings:
    return load_bindings(FOLDER / "bindings", check_file)


@lru_cache
def results(check_file: str) -> list[CaseResult]:
    return run_check_file(FOLDER / check_file, registered(), bindings(check_file))


@lru_cache
def answers(check_file: str) -> list[tuple[dict[str, Any], RecordedInputs, Any]]:
    """Each bound case, its inputs as they were read, and what its binding gave."""
    cases = YAML(typ="safe", pure=True).load(FOLDER / check_file)["cases"]
    bound = [(case, RecordedInputs(case["inputs"])) for case in cases if is_bound(case["computation"], check_file)]
    return [(case, inputs, bindings(check_file).functions[case["computation"]](inputs)) for case, inputs in bound]


def is_bound(computation: str, check_file: str) -> bool:
    return computation in bindings(check_file).functions


def changes(expected: Any) -> Iterator[Any]:
    """The same expectation with one of its values changed, each in turn."""
    if isinstance(expected, dict) and expected:
        for key in expected:
            yield from ({**expected, key: changed} for changed in changes(expected[key]))
    elif isinstance(expected, list) and expected:
        for place, value in enumerate(expected):
            yield from ([*expected[:place], changed, *expected[place + 1 :]] for changed in changes(value))
    else:
        yield changed_value(expected)


def changed_value(value: Any) -> Any:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + 1 + abs(value) / 2
    return f"{value}?" if isinstance(value, str) else ["something"]


def test_every_check_file_has_a_floor() -> None:
    assert sorted(FLOORS) == sorted(path.name for path in FOLDER.glob("*.yaml"))


@pytest.mark.parametrize("check_file", FLOORS)
def test_no_case_of_a_computation_that_exists_is_wrong(check_file: str) -> None:
    failures = [case for case in results(check_file) if case.status in ("wrong", "unbound input")]
    assert not failures, "\n".join(f"{case.id} ({case.computation}): {case.details}" for case in failures)


@pytest.mark.parametrize(("check_file", "floor"), FLOORS.items())
def test_as_many_cases_are_right_as_were_before(check_file: str, floor: int) -> None:
    assert Counter(case.status for case in results(check_file))["right"] >= floor


@pytest.mark.parametrize("check_file", FLOORS)
def test_bindings_are_for_cases_that_exist(check_file: str) -> None:
    named = {case.computation for case in results(check_file)}
    assert bindings(check_file).functions.keys() <= named
    assert bindings(check_file).ignored.keys() <= bindings(check_file).functions.keys()


@pytest.mark.parametrize("check_file", FLOORS)
def test_no_input_is_declared_ignored_that_every_case_reads(check_file: str) -> None:
    unread = {(case["computation"], path) for case, inputs, _ in answers(check_file) for path in inputs.unread()}
    ignored = {(name, path) for name, paths in bindings(check_file).ignored.items() for path in paths}
    assert ignored <= unread


@pytest.mark.parametrize("check_file", FLOORS)
def test_a_change_to_any_expected_value_is_noticed(check_file: str) -> None:
    for case, _, got in answers(check_file):
        assert not disagreements(case["expected"], got, case.get("tolerance"))
        for changed in changes({key: value for key, value in case["expected"].items() if "any_of" not in key}):
            assert disagreements(changed, got, case.get("tolerance")), f"{case['id']}: {changed} passes for {got}"


@pytest.mark.parametrize("path", BINDING_MODULES, ids=lambda path: path.stem)
def test_every_binding_module_names_a_check_file(path: Path) -> None:
    assert any(f'CHECK_FILE = "{name}"' in path.read_text(encoding="utf-8") for name in FLOORS)


@pytest.mark.parametrize("path", BINDING_MODULES, ids=lambda path: path.stem)
def test_bindings_use_no_function_that_is_not_registered(path: Path) -> None:
    imports = [
        node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.ImportFrom)
    ]
    plugins = [node for node in imports if (node.module or "").startswith("afield.")]
    functions = {alias.name for node in plugins for alias in node.names if alias.name.islower()}
    assert functions
    assert functions <= set(registered())
