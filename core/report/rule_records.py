"""Rules as JSON, as loaded: conditions, all dated values of their limits, sources; a log can be re-judged by them."""

from __future__ import annotations

from typing import Any

from afield.core.packs.model import Pack, Rule
from afield.core.report.sources import source_json
from afield.core.rules.conditions import limits_asked, to_json
from afield.core.rules.limits import Limit, Version

Json = dict[str, Any]


def rule_json(rule: Rule, pack: Pack) -> Json:
    """One rule."""
    return {
        "key": rule.key,
        "pack": rule.pack,
        "id": rule.id,
        "title": rule.title,
        "why": rule.why,
        "kind": "confirm" if rule.confirm is not None else "judge",
        "severity": rule.severity,
        "for_each": rule.for_each,
        "where": to_json(rule.where) if rule.where is not None else None,
        "require": to_json(rule.require) if rule.require is not None else None,
        "confirm": rule.confirm,
        "when": rule.when,
        "evidence": rule.evidence,
        "assumes": list(rule.assumes),
        "decision": rule.decision,
        "texts": dict(rule.texts),
        "from": rule.from_.isoformat() if rule.from_ else None,
        "until": rule.until.isoformat() if rule.until else None,
        "source": source_json(rule.source) if rule.source else None,
        "place": str(rule.place),
        "limits": [limit_json(pack.limits[name]) for name in _limit_names(rule) if name in pack.limits],
    }


def _limit_names(rule: Rule) -> list[str]:
    conditions = [condition for condition in (rule.require, rule.where) if condition is not None]
    return list(dict.fromkeys(name for condition in conditions for name in limits_asked(condition)))


def limit_json(limit: Limit) -> Json:
    """A limit with all its dated values."""
    return {"name": limit.name, "versions": [_version_json(version) for version in limit.versions]}


def _version_json(version: Version) -> Json:
    return {
        "from": version.from_.isoformat() if version.from_ else None,
        "until": version.until.isoformat() if version.until else None,
        "value": f"{version.value:f}" if version.value is not None else None,
        "unit": version.unit,
        "also_printed": [{"value": f"{value:f}", "unit": unit} for value, unit in version.also_printed],
        "none": version.none,
        "announced": version.announced.isoformat() if version.announced else None,
        "corrects": version.corrects,
        "source": source_json(version.source) if version.source else None,
    }
