"""The sweep over days: on each day that matters, is exactly one value of everything in force?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from afield.core.authoring.lint.bench import LintBench, limits_of
from afield.core.authoring.lint.days import days_swept, in_a_year
from afield.core.authoring.lint.findings import Finding, finding
from afield.core.documents import Document, Path
from afield.core.frozen import frozen
from afield.core.packs.model import Reference, Rule
from afield.core.rules.limits import Dated, is_in_force


@frozen
class _Swept:
    """Something of which one version must be in force on each day.

    Attributes:
        name, about: in words, and what kind of thing it is by which name.
        versions: its dated versions.
        users: what it must be in force for; () = always.
        document, path: where it is written.
        may_start: whether it may begin later than the pack, as a reference may.
        may_end: whether its end needs no successor.

    """

    name: str
    about: tuple[str, str]
    versions: Sequence[Dated]
    users: Sequence[Rule]
    document: Document
    path: Path
    may_start: bool = False
    may_end: bool = False

    def is_due(self, day: date) -> bool:
        """Whether something in force on the day needs it."""
        return not self.users or any(is_in_force(rule, day) for rule in self.users)

    def is_there(self, day: date) -> bool:
        """Whether a version, or an explicit reason for there being no value, is in force."""
        return any(is_in_force(version, day) for version in self.versions)


def date_findings(bench: LintBench) -> Iterator[Finding]:
    """Days between, before and after the values of limits, facts and references, on which none is in force."""
    days = days_swept(bench)
    for swept in (*_limits(bench), *_facts(bench), *_references(bench)):
        silent = [day for day in days if swept.is_due(day) and not swept.is_there(day)]
        yield from _starts(swept, silent)
        yield from _between(swept, silent)
        if not swept.may_end:
            yield from _ends(swept, silent, bench.now)
    yield from _all_ended(bench)


def _limits(bench: LintBench) -> Iterator[_Swept]:
    taken = {version.limit for versions in bench.pack.facts.values() for version in versions}
    for name, limit in bench.pack.limits.items():
        users = [rule for rule in bench.pack.rules if name in limits_of(rule)]
        if users or name in taken:
            document = bench.pack.writer(bench.pack.origins[name].by).documents["rules"]
            always = [] if name in taken else users
            yield _Swept(f"the limit {name}", ("limit", name), limit.versions, always, document, ("limits", name))


def _facts(bench: LintBench) -> Iterator[_Swept]:
    for name, versions in bench.pack.facts.items():
        document = bench.pack.fact_writer(name).documents["pack"]
        yield _Swept(name, ("fact", name), versions, (), document, ("facts", name))


def _references(bench: LintBench) -> Iterator[_Swept]:
    by_name: dict[str, list[Reference]] = {}
    for entry in bench.pack.references or ():
        by_name.setdefault(entry.id, []).append(entry)
    for name, entries in by_name.items():
        document = bench.pack.references_writer().documents["references"]
        about = ("reference", name)
        yield _Swept(f"the reference {name}", about, entries, (), document, entries[-1].path, True, True)


def _first(swept: _Swept) -> date:
    return min(version.from_ or date.min for version in swept.versions)


def _last(swept: _Swept) -> date | None:
    """The day from which no version is in force any more; None if that never comes."""
    ends = [version.until for version in swept.versions]
    return None if None in ends else max(end for end in ends if end is not None)


def _found(swept: _Swept, code: str, what: str, advice: str) -> Finding:
    kind, name = swept.about
    return finding(code, swept.document, swept.path, what, advice, {kind: name}, key=kind != "reference")


def _starts(swept: _Swept, silent: Sequence[date]) -> Iterator[Finding]:
    early = [day for day in silent if day < _first(swept)]
    if early and not swept.may_start:
        what = f"{swept.name} has no value before {_first(swept)}, but the pack is in force on {early[0]}"
        advice = "Begin both on one day, or write why there was none."
        if swept.about[0] == "limit":
            advice = f"Begin both on one day, or write `{{from: {early[0]}, until: {_first(swept)}, none: REASON}}`."
        yield _found(swept, "starts-late", what, advice)


def _between(swept: _Swept, silent: Sequence[date]) -> Iterator[Finding]:
    begins = sorted(version.from_ for version in swept.versions if version.from_ is not None)
    for end in sorted(version.until for version in swept.versions if version.until is not None):
        begin = next((begin for begin in begins if begin >= end), None)
        if end in silent and begin is not None:
            lacks = "has no value" if swept.about[0] != "reference" else "is not in force"
            what = f"{swept.name} {lacks} from {end} until {begin}"
            advice = "Let one value end on the day on which the next begins"
            reason = f", or write `{{from: {end}, until: {begin}, none: REASON}}`" if swept.about[0] == "limit" else ""
            yield _found(swept, "date-gap", what, f"{advice}{reason}.")


def _ends(swept: _Swept, silent: Sequence[date], now: date) -> Iterator[Finding]:
    last = _last(swept)
    late = [day for day in silent if last is not None and day >= last]
    if last is None or not late:
        return
    advice = f"Look up what holds from {last} on, and add it with its source."
    if now >= last:
        yield _found(swept, "lapsed", f"{swept.name} has had no value since {last}", advice)
    else:
        yield _found(swept, "will-lapse", f"{swept.name} ends on {last}, and nothing follows", advice)


def _all_ended(bench: LintBench) -> Iterator[Finding]:
    """Rules and references may end one by one; a pack of which all have ended judges nothing."""
    pack = bench.pack
    for many, entries, document in (
        ("rules", pack.rules, bench.rules_file),
        ("references", pack.references, pack.references_writer().documents.get("references")),
    ):
        if not entries or document is None:
            continue
        for code, day in (("lapsed", bench.now), ("will-lapse", in_a_year(bench.now))):
            if not any(is_in_force(entry, day) for entry in entries):
                what = f"none of the pack's {many} is in force on {day}"
                yield finding(code, document, (many,), what, f"Renew the {many}, or withdraw the pack.", key=True)
                break
