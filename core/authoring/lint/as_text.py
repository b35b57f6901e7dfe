"""What was found as text for a terminal."""

from __future__ import annotations

from dataclasses import replace

from afield.core.authoring.lint.build import Linted
from afield.core.authoring.lint.codes import SEVERITIES
from afield.core.authoring.lint.excusing import Excused
from afield.core.authoring.lint.findings import either


def lint_text(linted: Linted) -> str:
    """Every finding, every exception, and how much was looked at."""
    found = [each.problem.text() for each in linted.findings]
    kept = [_kept(each) for each in linted.kept]
    return "\n".join([*found, *kept, summary(linted)]) + "\n"


def _kept(kept: Excused) -> str:
    """The exception with its reason in the advice's place."""
    problem = kept.finding.problem
    return replace(problem, what=f"kept {kept.finding.code}: {kept.finding.what}", advice=kept.reason).text()


def summary(linted: Linted) -> str:
    """One line: the pack, what stands, what is kept, and what was looked at."""
    pack = linted.pack
    name = f"{pack.name}, extending {pack.base.name}" if pack.base else str(pack.name)
    stands = either([counted(linted.counts[severity], severity) for severity in SEVERITIES], "and")
    kept = f", {counted(len(linted.kept), 'finding')} kept with a reason" if linted.kept else ""
    looked = either([counted(count, many.removesuffix("s")) for many, count in linted.looked_at.items()], "and")
    return f"{name} on {linted.now}: {stands}{kept}; looked at {looked}"


def counted(count: int, one: str) -> str:
    """`1 rule`, `2 rules`."""
    return f"{count} {one}{'' if count == 1 else 's'}"
