"""One value with its interval, where it came from and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from math import sqrt
from typing import Any

from afield.core.documents import Place
from afield.core.frozen import frozen
from afield.core.language import marked

RANKS = (marked("computed"), marked("stated"), marked("logged"), marked("measured"), marked("case"))
"""Weakest first: a value of a later rank displaces one of an earlier rank."""


@frozen
class Reason:
    """Why a value, or a verdict, cannot be told.

    Attributes:
        code: one of REASONS, stable for machines.
        text: the same in words for the reader.
        settle: the one input that would settle it, as a plan path, a fact name or a command; None if nothing would.
        subject: key of the subject that the input belongs to.

    """

    code: str
    text: str
    settle: str | None = None
    subject: str | None = None


REASONS = (
    "not stated",
    "missing input",
    "within uncertainty",
    "no uncertainty stated",
    "no value in force",
    "plugin failed",
    "plugin absent",
    "pack absent",
    "kind absent",
    "outside validity",
    "applicability",
    "versions disagree",
    "to be confirmed",
    "cannot be computed",
)


@frozen
class Estimate:
    """What a fact function returns when it knows more than a bare value.

    Attributes:
        value: in the fact's declared unit.
        low, high: at 95 %; left out, they follow from `parts`.
        parts: signed 95 % contribution of each origin, in the fact's unit; errors of one origin cancel in a difference.
        detail: the fact's declared detail, for texts and drawings.
        method: how it was found, for the reader.
        notes: what the reader must know of it (a repaired ring, a default taken).

    """

    value: Any
    low: float | None = None
    high: float | None = None
    parts: Mapping[str, float] = field(default_factory=dict)
    detail: Mapping[str, Any] = field(default_factory=dict)
    method: str | None = None
    notes: tuple[str, ...] = ()


class CannotTell(Exception):
    """Raised by a fact function that has no answer.

    Args:
        text: why, in words.
        settle: the one input that would settle it (a plan path such as `station.at`, or a fact's name).
        code: one of REASONS.
        subject: key of the subject that the input belongs to; left out, the fact's own subject.

    """

    def __init__(
        self, text: str, settle: str | None = None, code: str = "cannot be computed", subject: str | None = None
    ) -> None:
        super().__init__(text)
        self.reason = Reason(code, text, settle, subject)


@frozen
class Measured:
    """One record of the World's table.

    A value that cannot be told has `value` None and a `reason`; a definite "not stated" has the reason code
    "not stated".
    """

    value: Any
    unit: str | None = None
    low: float | None = None
    high: float | None = None
    parts: Mapping[str, float] = field(default_factory=dict)
    method: str | None = None
    source: str | None = None
    inputs: tuple[tuple[str, str], ...] = ()
    rank: str = "computed"
    detail: Mapping[str, Any] = field(default_factory=dict)
    displaced: Measured | None = None
    reason: Reason | None = None
    place: Place | None = None
    notes: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """Whether there is a value to judge."""
        return self.reason is None

    @property
    def not_stated(self) -> bool:
        """Whether the plan definitely does not say it."""
        return self.reason is not None and self.reason.code == "not stated"

    @property
    def uncertainty(self) -> float:
        """Half the 95 % interval, in the fact's unit; 0 for an exact value."""
        if self.parts:
            return root_sum_square(self.parts)
        if self.low is None or self.high is None:
            return 0.0
        return (self.high - self.low) / 2

    def displacing(self, weaker: Measured | None) -> Measured:
        """The same record, keeping the weaker one that it displaces."""
        return replace(self, displaced=weaker)


def root_sum_square(parts: Mapping[str, float]) -> float:
    """Combined 95 % uncertainty of independent contributions (JCGM 100:2008, 5.1.2, with uncorrelated origins)."""
    return sqrt(sum(part * part for part in parts.values()))


def unknown(reason: Reason, **more: Any) -> Measured:
    """A record that says why there is no value."""
    return Measured(None, reason=reason, **more)
