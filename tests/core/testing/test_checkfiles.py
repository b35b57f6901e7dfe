from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple

import pytest

from afield.core.testing.checkfiles import Bindings, CaseResult, load_bindings, run_check_file

CASE = """
cases:
- id: board
  computation: board_area
  inputs: {length_m: 3, width_m: 0.2}
  expected: {area_m2: 0.6}
  tolerance: {area_m2: 0.001}
"""


class Board(NamedTuple):
    area_m2: float
    edge_m: float


def board_area(length_m: float, width_m: float, copies: int = 1) -> float:
    return length_m * width_m * copies


def written(folder: Path, text: str) -> Path:
    path = folder / "boards.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def outcome(folder: Path, text: str, computation: Callable[..., Any] | None, bindings: Any = None) -> CaseResult:
    computations = {} if computation is None else {"board_area": computation}
    [result] = run_check_file(written(folder, text), computations, bindings)
    return result


def bound(function: Callable[[Mapping[str, Any]], Mapping[str, Any]], ignored: set[str] | None = None) -> Bindings:
    return Bindings({"board_area": function}, {"board_area": ignored or set()})


def test_a_case_runs_straight_through_a_computation_with_its_parameters(tmp_path: Path) -> None:
    assert outcome(tmp_path, CASE, board_area) == CaseResult("board", "board_area", "right")


def test_a_result_of_several_values_answers_by_name(tmp_path: Path) -> None:
    assert outcome(tmp_path, CASE, lambda length_m, width_m: Board(0.6, 6.4)).status == "right"
    assert outcome(tmp_path, CASE, lambda length_m, width_m: {"area_m2": 0.6}).status == "right"


def test_a_wrong_value_says_what_was_expected_and_what_came(tmp_path: Path) -> None:
    result = outcome(tmp_path, CASE, lambda length_m, width_m: 0.7)
    assert (result.status, result.details) == ("wrong", "area_m2: expected 0.6, got 0.7, tolerance area_m2 0.001")


def test_a_computation_that_raises_is_wrong_and_ends_nothing(tmp_path: Path) -> None:
    result = outcome(tmp_path, CASE, lambda length_m, width_m: 1 / 0)
    assert (result.status, result.details) == ("wrong", "raised ZeroDivisionError: division by zero")


def test_a_name_that_nothing_answers(tmp_path: Path) -> None:
    result = outcome(tmp_path, CASE, None)
    assert (result.status, result.details) == ("no such computation", 'nothing computes or binds "board_area"')


def test_an_input_that_is_no_parameter_is_unbound(tmp_path: Path) -> None:
    result = outcome(tmp_path, CASE, lambda length_m: length_m)
    assert (result.status, result.details) == ("unbound input", "not read: width_m")


def test_a_parameter_that_no_input_gives_is_unbound(tmp_path: Path) -> None:
    result = outcome(tmp_path, CASE, lambda length_m, width_m, thickness_m: length_m)
    assert (result.status, result.details) == ("unbound input", "not read: thickness_m (no input gives it)")


def test_an_input_that_the_binding_does_not_read_is_unbound(tmp_path: Path) -> None:
    result = outcome(tmp_path, CASE, board_area, bound(lambda inputs: {"area_m2": inputs["length_m"] / 5}))
    assert (result.status, result.details) == ("unbound input", "not read: width_m")


def test_an_input_that_the_binding_leaves_on_purpose(tmp_path: Path) -> None:
    bindings = bound(lambda inputs: {"area_m2": inputs["length_m"] / 5}, {"width_m"})
    assert outcome(tmp_path, CASE, board_area, bindings).status == "right"


def test_a_binding_may_be_for_a_name_that_no_computation_has(tmp_path: Path) -> None:
    bindings = bound(lambda inputs: {"area_m2": board_area(**inputs)})
    assert outcome(tmp_path, CASE, None, bindings).status == "right"


def test_bindings_may_be_a_module(tmp_path: Path) -> None:
    module = ModuleType("boards")
    module.BINDINGS = {"board_area": lambda inputs: {"area_m2": 0.6}}  # type: ignore[attr-defined]
    module.IGNORED = {"board_area": {"length_m", "width_m"}}  # type: ignore[attr-defined]
    assert outcome(tmp_path, CASE, None, module).status == "right"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "boards.yaml: there are no cases"),
        ("cases: []", "boards.yaml: there are no cases"),
        (CASE + CASE.replace("\ncases:", ""), "boards.yaml: an id stands twice"),
    ],
)
def test_a_file_that_checks_nothing_is_refused(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        run_check_file(written(tmp_path, text), {})
    assert str(refused.value) == message


def module_text(check_file: str, name: str) -> str:
    return f'CHECK_FILE = "{check_file}"\nBINDINGS = {{"{name}": dict}}\nIGNORED = {{"{name}": {{"colour"}}}}\n'


def test_bindings_are_gathered_by_check_file(tmp_path: Path) -> None:
    for stem, check_file in [("boards", "wood.yaml"), ("beams", "wood.yaml"), ("rods", "steel.yaml")]:
        (tmp_path / f"{stem}.py").write_text(module_text(check_file, stem), encoding="utf-8")
    (tmp_path / "none.py").write_text("", encoding="utf-8")
    found = load_bindings(tmp_path, "wood.yaml")
    assert found.functions == {"beams": dict, "boards": dict}
    assert found.ignored == {"beams": {"colour"}, "boards": {"colour"}}


def test_one_computation_bound_twice_is_refused(tmp_path: Path) -> None:
    for stem in ("boards", "planks"):
        (tmp_path / f"{stem}.py").write_text(module_text("wood.yaml", "board_area"), encoding="utf-8")
    with pytest.raises(ValueError) as refused:
        load_bindings(tmp_path, "wood.yaml")
    assert str(refused.value) == f"wood.yaml: board_area bound in two modules of {tmp_path.name}"
