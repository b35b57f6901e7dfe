"""What the conformance kit finds, one thing at a time, and how it is told."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from afield.core.frozen import frozen

Outcome = Literal["passed", "failed", "not looked at"]
OUTCOMES: tuple[Outcome, ...] = ("passed", "failed", "not looked at")


@frozen
class Finding:
    """One check of one thing.

    Attributes:
        check: one of CHECKS.
        of: the computation, fact, kind or command that was looked at; the plugin's name where it is about the whole.
        outcome: passed, failed, or not looked at: the kit had nothing to try it with.
        text: why it failed or could not be looked at, with what to do; or what was seen.

    """

    check: str
    of: str
    outcome: Outcome
    text: str = ""


CHECKS = (
    "registration",
    "documentation",
    "check values",
    "facts of a plan",
    "same answer twice",
    "same answer with another hash seed",
    "no clock",
    "no network",
    "inputs left alone",
    "NaN and infinity",
    "validity range",
    "monotonic",
    "units there and back",
    "inverse and forward",
)
"""Every check, in the order in which they are told."""

ABOUT_CALLS = CHECKS[2:12]
"""Those that call what the plugin computes."""


def counted(findings: Iterable[Finding]) -> dict[Outcome, int]:
    """How many findings there are of each outcome."""
    found = Counter(finding.outcome for finding in findings)
    return {outcome: found[outcome] for outcome in OUTCOMES}


def told(findings: Sequence[Finding]) -> list[str]:
    """The findings as lines: what failed, what was not looked at, and the counts of each check."""
    failed = [f"failed: {one.check}: {one.of}: {one.text}" for one in findings if one.outcome == "failed"]
    return [*failed, *_not_looked_at(findings), *(_row(check, findings) for check in CHECKS)]


def _not_looked_at(findings: Sequence[Finding]) -> Iterator[str]:
    checks: dict[tuple[str, str], list[str]] = {}
    for one in findings:
        if one.outcome == "not looked at":
            checks.setdefault((one.of, one.text), []).append(one.check)
    names: dict[tuple[str, str], list[str]] = {}
    for (of, text), mine in checks.items():
        names.setdefault((", ".join(mine), text), []).append(of)
    return (f"not looked at: {mine}: {', '.join(of)}: {text}" for (mine, text), of in names.items())


def _row(check: str, findings: Iterable[Finding]) -> str:
    mine = [finding for finding in findings if finding.check == check]
    words = ", ".join(f"{count} {outcome}" for outcome, count in counted(mine).items() if count)
    return f"{check:<36}{words or 'nothing of this kind'}"
