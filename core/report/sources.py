"""Sources: of one verdict, of the whole report, and those that were checked too long ago."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Any

from afield.core.language import _, marked
from afield.core.packs.model import Pack, Rule
from afield.core.packs.verdicts import Verdict
from afield.core.rules.conditions import limits_asked
from afield.core.rules.limits import Source, is_in_force

Json = dict[str, Any]
GRADES = (marked("published"), marked("common practice"), marked("from memory"), marked("invented"))
"""Strongest first."""


def source_json(source: Source) -> Json:
    """A source as JSON."""
    return {
        "document": source.document,
        "section": source.section,
        "edition": source.edition,
        "grade": source.grade,
        "last_checked": source.last_checked.isoformat() if source.last_checked else None,
    }


def sources_of_verdict(verdict: Verdict) -> list[Json]:
    """The rule's source and those of the limits that it was judged by, each once."""
    return [source_json(source) for source in dict.fromkeys(source for _, source in _cited(verdict))]


def _cited(verdict: Verdict) -> Iterator[tuple[str, Source]]:
    """Each source with the pack that cites it."""
    rule, pack = verdict.rule, verdict.pack
    if rule.source:
        yield (rule.by or pack.name).id, rule.source
    leaves = verdict.explanation.leaves if verdict.explanation else ()
    for bound in (bound for result in leaves for bound in result.bounds):
        if bound.limit and bound.version and bound.version.source:
            origin = pack.origins.get(bound.limit)
            yield origin.by.id if origin else pack.id, bound.version.source


def sources_used(verdicts: Iterable[Verdict]) -> list[Json]:
    """Every source of the verdicts, with the rules that rest on it, in the order of first use."""
    used: dict[tuple[Any, ...], Json] = {}
    for verdict in verdicts:
        for pack, cited in dict.fromkeys(_cited(verdict)):
            source = source_json(cited)
            entry = used.setdefault((pack, *source.values()), {**source, "pack": pack, "used_by": []})
            if verdict.rule.key not in entry["used_by"]:
                entry["used_by"].append(verdict.rule.key)
    return list(used.values())


def stale_warnings(packs: Iterable[Pack], today: date) -> list[Json]:
    """A warning for every limit and rule in force whose source was last checked longer ago than the pack allows."""
    return [warning for pack in packs for warning in _stale_in(pack, today)]


def _stale_in(pack: Pack, today: date) -> Iterable[Json]:
    """Those of a pack that it extends are reviewed as often as that pack says."""
    for name, limit in pack.limits.items():
        writer = pack.writer(pack.origins[name].by)
        for version in limit.versions:
            if is_in_force(version, today):
                yield from _stale(writer, version.source, today, LIMIT_IS_OLD, name, version.path)
    for rule in pack.rules:
        if is_in_force(rule, today) and not _cited_by_limits(rule):
            yield from _stale(pack.writer(rule.by), rule.source, today, RULE_IS_OLD, rule.id, rule.path)


def _cited_by_limits(rule: Rule) -> bool:
    return rule.source is None and rule.require is not None and bool(limits_asked(rule.require))


LIMIT_IS_OLD = marked("the limit {name} of {pack} was last checked on {checked}, {days} days before {today}")
RULE_IS_OLD = marked("the rule {name} of {pack} was last checked on {checked}, {days} days before {today}")
COMPARE = marked("compare it with {document}, section {section}, and renew the pack")


def _stale(
    pack: Pack, source: Source | None, today: date, told: str, name: str, path: tuple[str | int, ...]
) -> Iterable[Json]:
    if source is None or source.last_checked is None:
        return
    days = (today - source.last_checked).days
    if days > pack.review_days:
        yield {
            "place": str(pack.documents["rules"].place(path)),
            "what": _(told).format(name=name, pack=pack.id, checked=source.last_checked, days=days, today=today),
            "do": _(COMPARE).format(document=source.document, section=source.section),
        }
