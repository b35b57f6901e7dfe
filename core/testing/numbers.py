"""How computations take NaN, infinity and what lies outside of their validity, and whether they go one way."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from afield.core.testing.calls import UNREACHED, short
from afield.core.testing.canonical import canonical, holds_nan
from afield.core.testing.findings import Finding
from afield.core.testing.material import Declared
from afield.core.testing.observing import Call, Observation

NOT_FINITE = (math.nan, math.inf, -math.inf)
FAR_OUT = (-1e9, -1.0, 0.0, 1e9)
"""Tried for a number that a computation should refuse."""
STEPS = 20
TRIED = 3
"""Calls whose numbers are changed; the others differ little."""

Computations = Mapping[str, Callable[..., Any]]


def of_not_finite(names: Computations, seen: Observation) -> Iterator[Finding]:
    """NaN in: a computation raises, unless it never looks at that number; infinity in: it gives no NaN."""
    check = "NaN and infinity"
    for name in names:
        tried = [
            (parameter, new, call) for call in seen.calls.get(name, [])[:TRIED] for parameter, new in _not_finite(call)
        ]
        faults = [fault for parameter, new, call in tried if (fault := _nan_out(call, parameter, new))]
        if not seen.calls.get(name):
            yield Finding(check, name, "not looked at", UNREACHED)
        elif not tried:
            yield Finding(check, name, "passed", "it takes no number")
        else:
            yield Finding(check, name, "failed" if faults else "passed", faults[0] if faults else "")


def _not_finite(call: Call) -> Iterator[tuple[str, float]]:
    for parameter, value in call.arguments.items():
        if with_number(value, math.nan) is not None:
            yield from ((parameter, new) for new in NOT_FINITE)


def _nan_out(call: Call, parameter: str, new: float) -> str | None:
    given = {**call.arguments, parameter: with_number(call.arguments[parameter], new)}
    found = answer(call.function, given)
    if isinstance(found, Exception) or canonical(found) == call.told:
        return None
    if math.isnan(new) or holds_nan(found):
        return f"with {new} for {parameter} it gives {short(canonical(found))} and raises nothing"
    return None


def with_number(value: Any, new: float) -> Any:
    """The value with its first number replaced; None where it holds none."""
    if isinstance(value, bool):
        return None
    if isinstance(value, int | float):
        return new
    if isinstance(value, list | tuple) and not hasattr(value, "_fields"):
        for place, one in enumerate(value):
            changed = with_number(one, new)
            if changed is not None:
                return type(value)([*value[:place], changed, *value[place + 1 :]])
    return None


def answer(function: Callable[..., Any], arguments: Mapping[str, Any]) -> Any:
    """What a call gives, or the error that it raises."""
    from afield.core.facts.time_limit import limited

    try:
        return limited(function, **arguments)
    except Exception as error:
        return error


def of_validity(names: Computations, seen: Observation, declared: Declared) -> Iterator[Finding]:
    """Outside of its validity a computation raises, or widens its interval."""
    check = "validity range"
    for name, function in names.items():
        entries = [entry for entry in declared.outside if entry.get("computation") == name and "inputs" in entry]
        faults = [fault for entry in entries if (fault := _accepted(function, entry))]
        if entries:
            yield Finding(check, name, "failed" if faults else "passed", faults[0] if faults else "as declared")
        elif not seen.calls.get(name):
            yield Finding(check, name, "not looked at", UNREACHED)
        else:
            yield _refusing(check, name, seen.calls[name][:TRIED])


def _accepted(function: Callable[..., Any], entry: Mapping[str, Any]) -> str | None:
    found = answer(function, entry["inputs"])
    if isinstance(found, Exception):
        return None
    if "widens" not in entry:
        return f"it takes {_words(entry['inputs'])} and gives {short(canonical(found))}"
    within = answer(function, entry["beside"])
    if not isinstance(within, Exception) and part(found, entry["widens"]) > part(within, entry["widens"]):
        return None
    return f"{entry['widens']} is not wider for {_words(entry['inputs'])} than for {_words(entry['beside'])}"


def _refusing(check: str, name: str, calls: list[Call]) -> Finding:
    for call in calls:
        for parameter, value in call.arguments.items():
            for new in FAR_OUT:
                changed = with_number(value, new)
                if changed is not None and isinstance(
                    answer(call.function, {**call.arguments, parameter: changed}), Exception
                ):
                    return Finding(check, name, "passed", f"it refuses {new:g} for {parameter}")
    return Finding(
        check,
        name,
        "not looked at",
        "no number was found that it refuses: declare one under `outside:` in a check file",
    )


def of_direction(names: Computations, declared: Declared) -> Iterator[Finding]:
    """Where a computation is declared to go up or down with an input, it does so step by step."""
    for entry in declared.monotonic:
        name = entry.get("computation", "")
        if name in names and {"input", "from", "to", "goes"} <= entry.keys():
            fault = _turning(names[name], entry)
            yield Finding(
                "monotonic", name, "failed" if fault else "passed", fault or f"{entry['goes']} with {entry['input']}"
            )


def _turning(function: Callable[..., Any], entry: Mapping[str, Any]) -> str | None:
    low, high = float(entry["from"]), float(entry["to"])
    sign = {"up": 1, "down": -1}[entry["goes"]]
    before: float | None = None
    for step in range(STEPS + 1):
        value = low + (high - low) * step / STEPS
        found = answer(function, {**(entry.get("inputs") or {}), entry["input"]: value})
        if isinstance(found, Exception):
            return f"at {entry['input']} = {value:g} it raises {type(found).__name__}: {found}"
        figure = part(found, entry.get("of"))
        if before is not None and sign * (figure - before) < 0:
            return f"it does not go {entry['goes']} at {entry['input']} = {value:g}: {before:g}, then {figure:g}"
        before = figure
    return None


def part(result: Any, key: str | None) -> float:
    """The figure of a result, by its key where it has several."""
    if key is None:
        return float(result)
    return float(result[key] if isinstance(result, Mapping) else getattr(result, key))


def _words(inputs: Mapping[str, Any]) -> str:
    return ", ".join(f"{name} = {value}" for name, value in inputs.items())
