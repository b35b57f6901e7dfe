"""Comparing what came out with what a check file expects, leaf by leaf."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from numbers import Integral, Real
from typing import Any

from afield.core.frozen import frozen
from afield.core.testing.sexagesimal import time_or_angle_error
from afield.core.testing.tolerances import Allowance, Tolerance

Path = tuple[str, ...]


@frozen
class Leaf:
    """One expected value, the keys that lead to it, and what came in its place."""

    path: Path
    expected: Any
    got: Any
    any_of: bool = False

    @property
    def name(self) -> str:
        """The keys and list positions, dotted."""
        return ".".join(self.path)


class _Missing:
    def __repr__(self) -> str:
        return "nothing"


MISSING = _Missing()


def disagreements(expected: Mapping[str, Any], got: Mapping[str, Any], tolerance: Any = None) -> list[str]:
    """What differs, each with what was expected, what came and the tolerance; an empty list if all agrees.

    A number without a tolerance must agree to its last printed figure; a text, a truth value and a missing value
    exactly. Keys that were not expected do no harm.

    Args:
        expected: key -> value; nested mappings and lists as wanted, `KEY_any_of` a list of allowed values.
        got: the same keys; for `KEY_any_of` also plain `KEY`.
        tolerance: as in the check files: "exact", or a mapping; see `Tolerance`.

    """
    allowed = Tolerance(tolerance)
    problems = [_disagreement(leaf, allowed) for leaf in _leaves((), expected, got)]
    problems += [f'the tolerance "{key}" matches no quantity' for key in allowed.unused()]
    return [problem for problem in problems if problem]


def _leaves(path: Path, expected: Any, got: Any) -> Iterator[Leaf]:
    if isinstance(expected, Mapping) and expected:
        for key, value in expected.items():
            yield from _keyed_leaves(path, str(key), value, got)
    elif isinstance(expected, list) and expected and _is_list_of(got, len(expected)):
        for place, (value, answer) in enumerate(zip(expected, got, strict=True)):
            yield from _leaves((*path, str(place)), value, answer)
    else:
        yield Leaf(path, expected, got)


def _keyed_leaves(path: Path, key: str, expected: Any, got: Any) -> Iterator[Leaf]:
    answers = got if isinstance(got, Mapping) else {}
    plain = key.removesuffix("_any_of")
    answer = answers.get(key, answers.get(plain, MISSING))
    if plain == key:
        yield from _leaves((*path, key), expected, answer)
    elif _is_list_of(answer, len(expected)):
        for place, (choices, one) in enumerate(zip(expected, answer, strict=True)):
            yield Leaf((*path, key, str(place)), choices, one, any_of=True)
    else:
        yield Leaf((*path, key), expected, answer, any_of=True)


def _is_list_of(value: Any, length: int) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str) and len(value) == length


def _disagreement(leaf: Leaf, tolerance: Tolerance) -> str:
    allowance = tolerance.of(leaf.path, leaf.expected)
    if leaf.got is MISSING:
        return f"{leaf.name}: expected {leaf.expected!r}, got nothing"
    choices = leaf.expected if leaf.any_of else [leaf.expected]
    if any(_agrees(choice, leaf.got, allowance) for choice in choices):
        return ""
    return f"{leaf.name}: expected {_one_of(leaf)}, got {leaf.got!r}, tolerance {allowance.text}"


def _one_of(leaf: Leaf) -> str:
    return " or ".join(map(repr, leaf.expected)) if leaf.any_of else repr(leaf.expected)


def _agrees(expected: Any, got: Any, allowance: Allowance) -> bool:
    if isinstance(expected, bool) or expected is None:
        return got is expected
    if isinstance(expected, Real):
        return _number_agrees(expected, got, allowance)
    if isinstance(expected, str):
        return isinstance(got, str) and _text_agrees(expected, got, allowance)
    if isinstance(got, str) or isinstance(got, Mapping) != isinstance(expected, Mapping):
        return False
    # What is left is an empty list or mapping, or one of another length than came.
    return hasattr(got, "__len__") and len(expected) == len(got) == 0


def _number_agrees(expected: Real, got: Any, allowance: Allowance) -> bool:
    if not isinstance(got, Real) or isinstance(got, bool):
        return False
    if isinstance(expected, Integral) and isinstance(got, Integral) and allowance.by_print:
        return int(expected) == int(got)
    return allowance.holds(float(expected), float(got))


def _text_agrees(expected: str, got: str, allowance: Allowance) -> bool:
    if allowance.ignores_case:
        return expected.casefold() == got.casefold()
    if allowance.unit in ("s", "arcsec"):
        error = time_or_angle_error(expected, got, allowance.unit, allowance.of_time)
        return expected == got if error is None else error <= allowance.absolute
    return expected == got
