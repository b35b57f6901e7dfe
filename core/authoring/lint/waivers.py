"""Waivers that a pack still holds though they have ended."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.authoring.lint.bench import LintBench
from afield.core.authoring.lint.findings import Finding, finding


def waiver_findings(bench: LintBench) -> Iterator[Finding]:
    """Every waiver in the pack's own file that is in force no more, and is followed by none of the same rule."""
    own = [waiver for waiver in bench.pack.waivers if waiver.by == bench.pack.name]
    for index, waiver in enumerate(own):
        later = [other for other in own if other.rule == waiver.rule and other.until > waiver.until]
        if waiver.until <= bench.now and not later:
            name = waiver.rule.partition("/")[2]
            what = f"the waiver of the rule {name} has ended on {waiver.until}"
            advice = "Have it granted anew and write the later day, or take it out."
            yield finding("lapsed", bench.rules_file, ("waivers", index, "until"), what, advice, {"rule": name})
