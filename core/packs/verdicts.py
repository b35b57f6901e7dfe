"""A verdict: what one rule says of one subject, with all that it rests on."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from afield.core.facts.measured import Reason
from afield.core.facts.subjects import Subject
from afield.core.frozen import frozen
from afield.core.packs.model import Pack, Rule
from afield.core.rules.explain import Explanation
from afield.core.rules.outcomes import CANNOT_TELL, FAILED, NOT_APPLICABLE, PASSED, WORDS

if TYPE_CHECKING:
    from afield.core.packs.waivers import Waiver


@frozen
class Verdict:
    """One verdict.

    Attributes:
        outcome: a code of `rules.outcomes`.
        reason: why it cannot be told or is not applicable; None otherwise.
        explanation: the comparisons; None where none was made.
        day: whose rules and limits were in force.
        confirmed: whether the plan confirms it (checklist rules).
        waiver: that applies to it; the outcome is the same with and without.

    """

    rule: Rule
    pack: Pack
    subject: Subject
    outcome: int
    day: date
    reason: Reason | None = None
    explanation: Explanation | None = None
    confirmed: bool = False
    waiver: Waiver | None = None

    @property
    def word(self) -> str:
        """The outcome in words."""
        return WORDS[self.outcome]


__all__ = ["CANNOT_TELL", "FAILED", "NOT_APPLICABLE", "PASSED", "Verdict"]
