"""Worlds of a few toy facts, built by hand."""

from collections.abc import Callable, Iterable, Mapping
from types import SimpleNamespace
from typing import Any

import pytest

from afield.core.facts.declarations import Each, Fact, Kind
from afield.core.facts.measured import Measured, Reason
from afield.core.facts.subjects import Subject
from afield.core.facts.world import World

KINDS = {
    kind.name: kind
    for kind in (
        Kind("trip", ()),
        Kind("program", ("trip",)),
        Kind("claim", ("program",)),
        Kind("utc_day", ("trip",)),
        Kind("claim_day", ("claim", "utc_day")),
        Kind("shelf", ("trip",)),
        Kind("book", ("shelf",)),
    )
}
TRIP = Subject("trip", "trip", "trip")


def number(value: float, around: float = 0.0, origin: str = "", rank: str = "stated", **more: Any) -> Measured:
    parts = {origin: around} if origin else {}
    return Measured(value, "m", value - abs(around), value + abs(around), parts, rank=rank, **more)


def finding(name: str, function: Callable[..., Any], kind: str = "trip", **more: Any) -> Fact:
    """A fact with a function whose parameters name other facts, written with their dots."""
    parameters: dict[str, str | Each] = {
        parameter: more.pop(parameter, parameter.replace("_", ".", 1))
        for parameter in function.__code__.co_varnames[: function.__code__.co_argcount]
    }
    return Fact(name, kind, **{"unit": "m", "function": function, "parameters": parameters, **more})


def stated(name: str, **more: Any) -> Fact:
    return Fact(name, "trip", unit="m", **more)


@pytest.fixture
def subject() -> Callable[..., Subject]:
    def made(key: str, **parents: str) -> Subject:
        return Subject(key, key.split(":")[0], key, {"trip": "trip", **parents})

    return made


@pytest.fixture
def world() -> Callable[..., World]:
    def made(
        facts: Iterable[Fact],
        given: Mapping[tuple[str, str], Measured | list[Measured]] | None = None,
        subjects: Iterable[Subject] = (),
        failed_kinds: Mapping[str, Reason] | None = None,
        **more: Any,
    ) -> World:
        records = {key: value if isinstance(value, list) else [value] for key, value in (given or {}).items()}
        everything = {subject.key: subject for subject in (TRIP, *subjects)}
        declared = {fact.name: fact for fact in facts}
        return World(declared, KINDS, everything, records, failed_kinds=failed_kinds or {}, **more)

    return made


@pytest.fixture
def toy() -> Any:
    """The helpers `number`, `finding` and `stated`."""
    return SimpleNamespace(number=number, finding=finding, stated=stated)
