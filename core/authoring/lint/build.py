"""Looks a pack through and puts the findings together."""

from __future__ import annotations

from collections import Counter
from datetime import date

from afield.core.authoring.lint.bench import LintBench
from afield.core.authoring.lint.citing import source_findings
from afield.core.authoring.lint.codes import ERROR, SEVERITIES, WARNING
from afield.core.authoring.lint.days import days_swept
from afield.core.authoring.lint.excusing import Excused, excused
from afield.core.authoring.lint.findings import Finding, in_order
from afield.core.authoring.lint.languages import language_findings
from afield.core.authoring.lint.names import name_findings
from afield.core.authoring.lint.overlapping import overlap_findings
from afield.core.authoring.lint.sides import side_findings
from afield.core.authoring.lint.sweeping import date_findings
from afield.core.authoring.lint.trying import case_findings
from afield.core.authoring.lint.waivers import waiver_findings
from afield.core.authoring.lint.wording import text_findings
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.model import Pack

CHECKS = (
    name_findings, source_findings, text_findings, case_findings, side_findings, date_findings, overlap_findings,
    waiver_findings, language_findings,
)  # fmt: skip


@frozen
class Linted:
    """A pack that was looked through.

    Attributes:
        pack: which.
        now: the day from which ages and endings were counted.
        looked_at: how many of what, in words.
        findings: those that stand, by place.
        kept: those that the pack excuses, by place.

    """

    pack: Pack
    now: date
    looked_at: dict[str, int]
    findings: list[Finding]
    kept: list[Excused]

    @property
    def counts(self) -> dict[str, int]:
        """Standing findings by severity."""
        counted = Counter(found.severity for found in self.findings)
        return {severity: counted[severity] for severity in SEVERITIES}

    @property
    def exit_status(self) -> int:
        """1 if an error or a warning stands, or if nothing was there to be looked at; else 0."""
        weighty = self.counts[ERROR] + self.counts[WARNING]
        return 1 if weighty or not self.looked_at["rules"] else 0


def lint(pack: Pack, registry: Registry, now: date) -> Linted:
    """Look a pack through.

    Args:
        pack: that loads.
        registry: what plugins declare.
        now: the day from which ages of sources and endings are counted.

    Raises:
        InputError: its cases cannot be read or run.

    """
    bench = LintBench(pack, registry, now)
    found = [each for check in CHECKS for each in check(bench)]
    standing, kept = excused(in_order(found), pack)
    return Linted(pack, now, _looked_at(bench), in_order(standing), kept)


def _looked_at(bench: LintBench) -> dict[str, int]:
    pack = bench.pack
    return {
        "rules": len(pack.rules),
        "limits": len(pack.limits),
        "facts": len(pack.facts),
        "references": len({entry.id for entry in pack.references or ()}),
        "cases": len(bench.trials),
        "days": len(days_swept(bench)),
    }
