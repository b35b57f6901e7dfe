"""A verdict as far as a case can expect it, and in what two of them differ."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.frozen import frozen
from afield.core.packs.cases import Case
from afield.core.packs.model import Pack
from afield.core.quantities import trimmed

ASPECTS = ("outcome", "reason", "severity", "margin")
"""What a case can expect, the weightiest first."""


@frozen
class Seen:
    """One verdict.

    Attributes:
        outcome: as a word; None where the rule gave no verdict on the subject.
        reason: its code.
        severity: of the rule.
        margin: with the limit's unit; None where it is not numeric.

    """

    outcome: str | None
    reason: str | None = None
    severity: str | None = None
    margin: str | None = None

    def difference(self, other: Seen) -> str | None:
        """The weightiest aspect in which the other differs; None where it does not."""
        return next((name for name in ASPECTS if getattr(self, name) != getattr(other, name)), None)

    def expectation(self, difference: str) -> Mapping[str, Any]:
        """What a case expects so that it tells this verdict from one with that difference."""
        found = {"outcome": self.outcome, "reason": self.reason, "margin": self.margin}
        if difference == "severity":
            found["severity"] = self.severity
        return {name: value for name, value in found.items() if value is not None}


def seen(case: Case, pack: Pack) -> Seen:
    """The verdict that the case gets under a version of the pack."""
    if all(rule.id != case.data["rule"] for rule in pack.rules):
        return Seen(None)
    verdict = case.verdict(pack)
    if verdict is None:
        return Seen(None)
    explanation = verdict.explanation
    margin = None
    if explanation is not None and explanation.margin is not None:
        margin = f"{trimmed(explanation.margin)} {explanation.unit or ''}".rstrip()
    return Seen(verdict.word, verdict.reason.code if verdict.reason else None, verdict.rule.severity, margin)
