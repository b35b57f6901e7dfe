"""A fact's needs are its function's parameters, however the function is made."""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable
from typing import Any

import pytest

from afield.core.facts.declarations import fact


def plain(ladder_length: float, wall_height: float = 3.0, *, subject: Any = None) -> float:
    total = 0.0
    for length in (ladder_length, wall_height):
        total += length
    return total


def positional(ladder_length: float, /, wall_height: float) -> float:
    return ladder_length + wall_height


def none() -> float:
    return 1.0


def more(ladder_length: float, *others: float, **named: float) -> float:
    return ladder_length


class Called:
    def __call__(self, ladder_length: float) -> float:
        return ladder_length

    def bound(self, ladder_length: float) -> float:
        return ladder_length


def kept(function: Callable[..., float]) -> Callable[..., float]:
    @functools.wraps(function)
    def around(*given: Any, **named: Any) -> float:
        return function(*given, **named)

    return around


@pytest.mark.parametrize(
    "function",
    [
        plain,
        positional,
        none,
        more,
        Called(),
        Called().bound,
        kept(plain),
        functools.partial(plain, 1.0),
        lambda wall: wall,
    ],
)
def test_the_parameters_are_those_that_inspect_tells(function: Callable[..., float]) -> None:
    declared = fact("wall.gap", kind="trip", unit="m")(function)
    assert list(declared.parameters) == list(inspect.signature(function).parameters)
