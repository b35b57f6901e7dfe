"""What a plugin declares: kinds of subject, facts, and how a fact is found."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from types import FunctionType
from typing import Any

from afield.core.frozen import frozen

_TAKES_MORE = inspect.CO_VARARGS | inspect.CO_VARKEYWORDS
FACT_TYPES = ("number", "text", "bool", "instant", "list", "opaque")


@frozen
class Kind:
    """A kind of subject.

    Attributes:
        name: lower-case word, singular (`claim_day`).
        within: the kinds that enclose it; the graph has no cycle.
        title: as read on screen.

    """

    name: str
    within: tuple[str, ...] = ("trip",)
    title: str = ""


@frozen
class Each:
    """A parameter that gathers a fact over all subjects of a kind that share every common ancestor."""

    kind: str
    fact: str


@frozen
class Tool:
    """The tool with which a fact can be measured in the field.

    Attributes:
        name: trade name, such as "tape measure".
        uncertainty: 95 %, in the fact's unit.

    """

    name: str
    uncertainty: float


@frozen
class Fact:
    """A declared fact.

    Attributes:
        name: dotted, unique over all kinds (`place.farthest_part_from_line`).
        kind: the kind of subject that it belongs to.
        type: one of FACT_TYPES; opaque facts never stand in a condition.
        unit: the one declared unit of a number ("" for a count); None for other types.
        title: a noun phrase for the reader.
        function: finds it from other facts; None for a fact that is only stated or given by a pack.
        parameters: parameter name -> fact name, `Each`, or "subject".
        optional: parameters that may be absent (then None).
        exact: a value without uncertainty is exact (a count, a stated choice).
        owns_uncertainty: the function gives its own parts; core does not perturb.
        default_uncertainty: 95 %, in the unit, of a value stated without one; None = cannot tell.
        detail: field name -> description of what `detail` holds for texts.
        tool: how it can be measured in the field; None = it cannot.
        settle: what to supply where it is not stated (a plan path).
        least: the smallest value that there can be, in the unit; None = no bound.
        below_zero: what a value below 0 means, as one word ("outside"); None where that needs no word.
        stands_on: facts that must be known for a reading to count too: a reading tells nothing of a station that is
            not described.
        inverse: for placement; see the design.
        encode: value -> JSON, for opaque facts.
        gathers_claims: gathers over claims of all programs; program packs may not ask it.
        stated: True where the plan or a pack states it.
        tells_utc_days: whether its value is the list of UTC dates (ISO 8601) that the trip touches, or that a subject
            of another kind does, by which packs with days in UTC are then judged.

    """

    name: str
    kind: str
    type: str = "number"
    unit: str | None = None
    title: str = ""
    function: Callable[..., Any] | None = None
    parameters: Mapping[str, str | Each] = field(default_factory=dict)
    optional: frozenset[str] = frozenset()
    exact: bool = False
    owns_uncertainty: bool = False
    default_uncertainty: float | None = None
    detail: Mapping[str, str] = field(default_factory=dict)
    tool: Tool | None = None
    settle: str | None = None
    stands_on: tuple[str, ...] = ()
    least: float | None = None
    below_zero: str | None = None
    inverse: Callable[..., Any] | None = None
    encode: Callable[[Any], Any] | None = None
    gathers_claims: bool = False
    stated: bool = False
    tells_utc_days: bool = False
    choices: tuple[str, ...] = ()

    @property
    def python_name(self) -> str:
        """The name as a parameter of another fact function."""
        return self.name.replace(".", "_")


def fact(
    name: str,
    *,
    kind: str,
    each: Mapping[str, tuple[str, str]] | None = None,
    optional: Sequence[str] = (),
    **declared: Any,
) -> Callable[[Callable[..., Any]], Fact]:
    """Declare the fact that the decorated function finds.

    The function's parameters name the facts it needs (`station_at` for `station.at`); a parameter in `each` gathers
    `(kind, fact)` as a list of `(subject, value)`; `subject` is the subject itself. Units and text as in `Fact`.
    """

    def declare(function: Callable[..., Any]) -> Fact:
        gathered = each or {}
        parameters: dict[str, str | Each] = {
            parameter: Each(*gathered[parameter]) if parameter in gathered else parameter
            for parameter in _parameters(function)
        }
        return Fact(
            name=name, kind=kind, function=function, parameters=parameters, optional=frozenset(optional), **declared
        )

    return declare


def _parameters(function: Callable[..., Any]) -> Sequence[str]:
    """The names of a function's parameters; of a plain one straight from its code, as `inspect` takes long."""
    if type(function) is not FunctionType or vars(function) or function.__code__.co_flags & _TAKES_MORE:
        return list(inspect.signature(function).parameters)
    code = function.__code__
    return code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]
