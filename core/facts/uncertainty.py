"""How errors of inputs reach a result: every origin perturbed through the function, in all inputs that share it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from afield.core.facts.measured import CannotTell, Measured
from afield.core.frozen import frozen
from afield.core.language import _

Argument = Measured | list[tuple[Any, Measured]] | Any
"""One argument of a fact function: a record, a gathered list of (subject, record), or the subject itself."""


@frozen
class Spread:
    """What the perturbation found: signed contribution of each origin, and whether a non-numeric result changed."""

    parts: dict[str, float]
    changed_by: str | None = None


def plain_arguments(arguments: Mapping[str, Argument], origin: str = "", sign: int = 0) -> dict[str, Any]:
    """The arguments' values, those with a part of `origin` moved by that part."""
    return {name: _plain(argument, origin, sign) for name, argument in arguments.items()}


def _plain(argument: Argument, origin: str, sign: int) -> Any:
    if isinstance(argument, Measured):
        return _moved(argument, origin, sign)
    if isinstance(argument, list):
        return [(subject, _moved(record, origin, sign)) for subject, record in argument]
    return argument


def _moved(record: Measured, origin: str, sign: int) -> Any:
    shift = record.parts.get(origin)
    return record.value if shift is None or not sign else record.value + sign * shift


def origins(arguments: Mapping[str, Argument]) -> list[str]:
    """Every origin of error among the numeric arguments, in order of appearance."""
    return list(dict.fromkeys(origin for record in _records(arguments) if _numeric(record) for origin in record.parts))


def _records(arguments: Mapping[str, Argument]) -> Sequence[Measured]:
    found: list[Measured] = []
    for argument in arguments.values():
        if isinstance(argument, Measured):
            found.append(argument)
        elif isinstance(argument, list):
            found.extend(record for _, record in argument)
    return found


def _numeric(record: Measured) -> bool:
    return isinstance(record.value, int | float) and not isinstance(record.value, bool)


def spread(function: Callable[..., Any], arguments: Mapping[str, Argument], value: Any) -> Spread:
    """Perturb every origin by plus and minus its 95 % contribution.

    Source: JCGM 100:2008, 5.1.3, note 2 (sensitivities found by changing one input at a time). The greater of the two
    changes counts, with the sign of the slope: where the function bends, half their difference would lose some of it.

    Raises:
        CannotTell: the function has no answer at a perturbed input.

    """
    parts: dict[str, float] = {}
    for origin in origins(arguments):
        above = _value(function(**plain_arguments(arguments, origin, 1)))
        below = _value(function(**plain_arguments(arguments, origin, -1)))
        if not _is_number(value):
            if above != value or below != value:
                return Spread({}, origin)
            continue
        parts[origin] = _contribution(above, value, below, origin)
    return Spread({origin: part for origin, part in parts.items() if part})


def _value(result: Any) -> Any:
    return getattr(result, "value", result)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _contribution(above: Any, value: Any, below: Any, origin: str) -> float:
    if not (_is_number(above) and _is_number(below)):
        text = _("there is no value at the edge of the uncertainty of {origin}").format(origin=origin)
        raise CannotTell(text, code="outside validity")
    size = max(abs(above - value), abs(value - below))
    return float(-size if above < below else size)
