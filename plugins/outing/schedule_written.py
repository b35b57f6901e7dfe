"""The schedule as it is written: its times of day and slots, each with its place in the plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NoReturn

from afield.core.api import InputError, Origin, frozen
from afield.plugins.outing.clocks import Clock


@frozen
class Named:
    """A time of the schedule: what it is, when, and its path inside the schedule."""

    what: str
    clock: Clock
    path: tuple[str | int, ...]


@frozen
class Slot:
    """A slot as stated: its name, its times if it has any, what it states beside them, and where it is written."""

    name: str
    start: Clock | None
    end: Clock | None
    states: Mapping[str, Any]
    origin: Origin


@frozen
class Schedule:
    """A schedule as stated, with its place in the plan; without `on_air` its slots make the time on the air."""

    arrive: Clock | None
    on_air: tuple[Clock, Clock] | None
    leave: Clock | None
    states: Mapping[str, Any]
    slots: Sequence[Slot]
    origin: Origin

    def refuse(self, what: str, advice: str, *path: str | int) -> NoReturn:
        """Raise the input error that points at a value of the schedule."""
        raise error_at(self.origin, what, advice, *path)


def error_at(origin: Origin, what: str, advice: str, *path: str | int) -> InputError:
    """The input error that points at a value inside a piece of the plan."""
    return InputError([origin.document.problem(origin.path + path, what, advice)])
