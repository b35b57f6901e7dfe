"""Running published check values against computations.

A check file lists cases: the name of a computation, its inputs, what is expected and how closely. A case runs through
the binding of that name where there is one, otherwise straight through the computation, whose parameters must then be
the case's inputs. A binding adapts and never computes. Nothing is left out in silence: an input that is not read, an
expected key that is not answered and a tolerance that matches no quantity each stop a case from being right.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Collection, Mapping, Set
from dataclasses import asdict, field, is_dataclass
from functools import lru_cache
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType
from typing import Any, Literal

from afield.core.frozen import frozen
from afield.core.testing.comparison import disagreements
from afield.core.testing.recorded_inputs import RecordedInputs

Status = Literal["right", "wrong", "unbound input", "no such computation"]

Computation = Callable[..., Any]
Binding = Callable[[Mapping[str, Any]], Mapping[str, Any]]


@frozen
class CaseResult:
    """How one case came out.

    Attributes:
        id: the case's id.
        computation: the name of the computation that it checks.
        status: "right", or why it is not.
        details: what was expected, what came and the tolerance; empty for a right case.

    """

    id: str
    computation: str
    status: Status
    details: str = ""


@frozen
class Bindings:
    """The bindings of one check file.

    Attributes:
        functions: computation name -> function of a case's inputs that gives what the case expects.
        ignored: computation name -> inputs that its binding leaves unread on purpose, nested ones as "p1.lat_dms".

    """

    functions: Mapping[str, Binding] = field(default_factory=dict)
    ignored: Mapping[str, Set[str]] = field(default_factory=dict)


def load_bindings(folder: Path, check_file: str) -> Bindings:
    """The bindings in a folder that are for one check file.

    Args:
        folder: holds the binding modules; each names its check file in `CHECK_FILE`.
        check_file: the file's name, such as "geometry_time.yaml".

    Raises:
        ValueError: two modules bind the same computation.

    """
    modules = [loaded(path) for path in sorted(folder.glob("*.py"))]
    functions: dict[str, Binding] = {}
    ignored: dict[str, Set[str]] = {}
    for module in (each for each in modules if getattr(each, "CHECK_FILE", None) == check_file):
        bound = _bindings_of(module)
        if twice := sorted(functions.keys() & bound.functions.keys()):
            raise ValueError(f"{check_file}: {', '.join(twice)} bound in two modules of {folder.name}")
        functions |= bound.functions
        ignored |= bound.ignored
    return Bindings(functions, ignored)


def run_check_file(
    path: Path,
    computations: Mapping[str, Computation],
    bindings: ModuleType | Bindings | None = None,
    only: Collection[str] | None = None,
) -> list[CaseResult]:
    """How every case of a check file comes out, in the order of the file.

    Args:
        path: the check file: YAML with a list `cases`.
        computations: name -> computation.
        bindings: a module with `BINDINGS` and perhaps `IGNORED`, or the bindings of several such modules.
        only: the computations whose cases are run; all, if left out.

    Raises:
        ValueError: the file has no cases, or two of one id.

    """
    bound = bindings if isinstance(bindings, Bindings) else _bindings_of(bindings)
    chosen = [case for case in _cases(path) if only is None or case["computation"] in only]
    return [_result(case, computations, bound) for case in chosen]


def loaded(path: Path) -> ModuleType:
    """The module in a file; it is run anew at each call."""
    spec = spec_from_file_location(f"check_bindings_{path.stem}", path)
    if spec is None or spec.loader is None:
        raise ValueError(f"{path.name} cannot be loaded as a module")
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def _bindings_of(module: ModuleType | None) -> Bindings:
    return Bindings(getattr(module, "BINDINGS", {}), getattr(module, "IGNORED", {}))


def check_file(path: Path) -> Mapping[str, Any]:
    """What a check file holds; one that has not changed is read once."""
    return _read(path, path.stat().st_mtime_ns)


@lru_cache(maxsize=16)
def _read(path: Path, _changed: int) -> Mapping[str, Any]:
    from ruamel.yaml import YAML

    # libyaml takes "45:45:45" in a list for a mistake.
    found: Mapping[str, Any] = YAML(typ="safe", pure=True).load(path) or {}
    return found


def _cases(path: Path) -> list[Mapping[str, Any]]:
    cases: list[Mapping[str, Any]] = check_file(path).get("cases") or []
    ids = [case["id"] for case in cases]
    if not cases or len(set(ids)) < len(ids):
        raise ValueError(f"{path.name}: {'an id stands twice' if cases else 'there are no cases'}")
    return cases


def _result(case: Mapping[str, Any], computations: Mapping[str, Computation], bindings: Bindings) -> CaseResult:
    name = case["computation"]
    if name not in bindings.functions and name not in computations:
        return CaseResult(case["id"], name, "no such computation", f'nothing computes or binds "{name}"')
    try:
        status, details = _outcome(case, computations, bindings)
    except Exception as problem:  # whatever a computation raises is an answer: a wrong one
        status, details = "wrong", f"raised {type(problem).__name__}: {problem}"
    return CaseResult(case["id"], name, status, details)


def _outcome(
    case: Mapping[str, Any], computations: Mapping[str, Computation], bindings: Bindings
) -> tuple[Status, str]:
    name, inputs, expected = case["computation"], case.get("inputs") or {}, case["expected"]
    if name in bindings.functions:
        recorded = RecordedInputs(inputs)
        got = bindings.functions[name](recorded)
        unread = recorded.unread(bindings.ignored.get(name, frozenset()))
    else:
        unread = _unmatched(computations[name], inputs)
        got = {} if unread else _by_key(computations[name](**inputs), expected)
    if unread:
        return "unbound input", f"not read: {', '.join(unread)}"
    problems = disagreements(expected, got, case.get("tolerance"))
    return ("wrong", "; ".join(problems)) if problems else ("right", "")


def _unmatched(computation: Computation, inputs: Mapping[str, Any]) -> list[str]:
    parameters = inspect.signature(computation).parameters
    missing = [name for name, one in parameters.items() if one.default is one.empty and name not in inputs]
    return sorted(set(inputs) - set(parameters)) + [f"{name} (no input gives it)" for name in missing]


def _by_key(result: Any, expected: Mapping[str, Any]) -> Mapping[str, Any]:
    if hasattr(result, "_asdict"):
        return dict(result._asdict())
    if is_dataclass(result) and not isinstance(result, type):
        return asdict(result)
    if isinstance(result, Mapping):
        return result
    return dict.fromkeys(list(expected)[:1], result)
