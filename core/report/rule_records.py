"""Rules as JSON, as loaded: conditions, all dated values of their limits, sources; a log can be re-judged by them."""

from __future__ import annotations

from typing import Any

from afield.core.packs.model import Pack, Rule
from afield.core.packs.origins import Change, LimitOrigin
from afield.core.report.overrides import limit_names, pack_name_json
from afield.core.report.sources import source_json
from afield.core.rules.conditions import to_json
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
        "written_by": pack_name_json(rule.by or pack.name),
        "change": _change_json(rule.change) if rule.change else None,
        "limits": [limit_json(pack.limits[name], pack) for name in limit_names(rule) if name in pack.limits],
    }


def _change_json(change: Change) -> Json:
    return {
        "severity": change.severity,
        "reason": change.reason,
        "by": pack_name_json(change.by),
        "place": str(change.place),
        "was": change.was,
        "set_by": pack_name_json(change.set_by),
    }


def limit_json(limit: Limit, pack: Pack) -> Json:
    """A limit with all its dated values, whose it is, and the one in whose place it stands."""
    origin = pack.origins[limit.name]
    replaced = None
    if origin.replaces is not None and origin.replaced is not None:
        replaced = _written(origin.replaces, origin.replaced)
    return {"name": limit.name, **_written(limit, origin), "in_place_of": replaced}


def _written(limit: Limit, origin: LimitOrigin) -> Json:
    return {
        "by": pack_name_json(origin.by),
        "place": str(origin.place),
        "versions": [_version_json(version) for version in limit.versions],
    }


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
