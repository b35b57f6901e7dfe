"""The facts that a case gives, as records of rank case."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.documents import Document, InputError, Problem, did_you_mean
from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.facts.world import Key
from afield.core.host.given import given_number, given_width, refuse_unfit
from afield.core.host.registry import Registry
from afield.core.quantities import QuantityError

Path = tuple[str | int, ...]


def case_records(
    document: Document, path: Path, subjects: Sequence[Mapping[str, Any]], registry: Registry
) -> dict[Key, list[Measured]]:
    """(subject key, fact) -> the record that the case gives.

    Raises:
        InputError: an unknown fact, or a value that does not fit the fact.

    """
    return {
        (entry["key"], name): [_record(document, (*path, "subjects", index, "facts", name), entry, value, registry)]
        for index, entry in enumerate(subjects)
        for name, value in entry.get("facts", {}).items()
    }


def _record(document: Document, path: Path, entry: Mapping[str, Any], value: Any, registry: Registry) -> Measured:
    name = str(path[-1])
    declared = registry.facts.get(name)
    if declared is None:
        guess = did_you_mean(name, registry.facts)
        advice = f'Did you mean "{guess}"?' if guess else "`afield facts` lists them."
        raise _problem(document, path, f"no fact is called {name}", advice, key=True)
    if declared.kind != entry["kind"]:
        what = f"{name} is a fact of a {declared.kind}, but {entry['key']} is a {entry['kind']}"
        raise _problem(document, path, what, f"Give it to a subject of the kind {declared.kind}.", key=True)
    try:
        return _given(declared, value if isinstance(value, dict) else {"value": value})
    except QuantityError as error:
        raise _problem(document, path, error.what, error.advice) from error


def _given(declared: Fact, value: Mapping[str, Any]) -> Measured:
    if "unknown" in value:
        return unknown(
            Reason(value["unknown"], f"the case gives {declared.name} as unknown", declared.name), rank="case"
        )
    if "not_stated" in value:
        return unknown(Reason("not stated", f"{declared.name} is not stated", declared.name), rank="case")
    refuse_unfit(declared, value["value"])
    if declared.type != "number":
        return Measured(value["value"], rank="case")
    number = given_number(value["value"], declared.unit)
    low, high = _interval(declared, value, number)
    return Measured(number, declared.unit, low, high, rank="case")


def _interval(declared: Fact, value: Mapping[str, Any], number: float) -> tuple[float, float]:
    if "low" in value:
        low, high = given_number(value["low"], declared.unit), given_number(value["high"], declared.unit)
        if not low <= number <= high:
            what = f"{value['value']} is outside of {value['low']} to {value['high']}"
            raise QuantityError(what, "Write low, value and high in that order.")
        return low, high
    around = given_width(value["uncertainty"], declared.unit) if "uncertainty" in value else 0.0
    return number - around, number + around


def _problem(document: Document, path: Path, what: str, advice: str, key: bool = False) -> InputError:
    place = document.key_place(path) if key else document.place(path)
    return InputError([Problem(place, what, advice, document.line(place))])
