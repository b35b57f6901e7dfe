"""Values that a person gives for a declared fact where no schema knows the fact: measurements, cases, pack facts."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from afield.core.documents import did_you_mean, quoted_list
from afield.core.facts.declarations import Fact
from afield.core.host.stated import number_in
from afield.core.quantities import QuantityError, bare_number, convert_difference, dimension_of, parse_quantity

TYPES: dict[str, tuple[type, str]] = {"text": (str, "text"), "bool": (bool, "true or false"), "list": (list, "a list")}


def given_number(value: Any, unit: str | None) -> float:
    """A number in the unit; a plain one only where the fact has no unit.

    Raises:
        QuantityError: no number, a bare number where a unit is due, another dimension.

    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise QuantityError(f"{_written(value)} is no number", "Write a number with its unit.")
    if isinstance(value, str):
        return number_in(value, unit)
    if unit:
        raise bare_number(value, dimension_of(unit))
    return float(value)


def given_width(value: Any, unit: str | None) -> float:
    """An uncertainty in the unit: a difference, so that the zero of a temperature scale is left out of it.

    Raises:
        QuantityError: as `given_number`, or below 0.

    """
    if isinstance(value, str):
        quantity = parse_quantity(value, unit or "")
        width = convert_difference(float(quantity.digits), quantity.unit, unit or quantity.unit)
    else:
        width = given_number(value, unit)
    if width < 0:
        raise QuantityError(f"an uncertainty of {value} is below 0", "Write half the 95 % interval, 0 or more.")
    return width


def refuse_unfit(declared: Fact, value: Any) -> None:
    """Refuse a value that the fact cannot have; silence about it would look like an answer.

    Raises:
        QuantityError: with what is wrong and what to write instead.

    """
    if declared.type == "number":
        given_number(value, declared.unit)
    elif declared.type == "instant":
        _refuse_no_instant(declared, value)
    elif declared.type in TYPES and not isinstance(value, TYPES[declared.type][0]):
        due = TYPES[declared.type][1]
        raise QuantityError(f"{_title(declared)}: {due} is due, not {_written(value)}", f"Write {due}.")
    elif declared.type == "list":
        for item in value:
            refuse_unfit(replace(declared, type="text"), item)
    elif declared.choices and value not in declared.choices:
        near = did_you_mean(str(value), declared.choices)
        meant = f'Did you mean "{near}"? ' if near else ""
        advice = f"{meant}Choices: {quoted_list(declared.choices)}."
        raise QuantityError(f'"{_written(value)}" is not a choice for {_title(declared)}', advice)


def _refuse_no_instant(declared: Fact, value: Any) -> None:
    try:
        instant = datetime.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        instant = None
    if instant is None or instant.tzinfo is None:
        what = f"{_title(declared)} is an instant, not {_written(value)}"
        raise QuantityError(what, "Write date and time in UTC, for example 2026-06-27T22:30Z.")


def _title(declared: Fact) -> str:
    return declared.title or declared.name


def _written(value: Any) -> str:
    return {True: "true", False: "false"}[value] if isinstance(value, bool) else str(value)
