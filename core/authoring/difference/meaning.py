"""What a rule, or a fact of the program, means: conditions, limits, days, severity, decision; not its wording."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from afield.core.authoring.mutation.mutants import limits_of
from afield.core.packs.model import DatedFact, Pack, Rule
from afield.core.rules.conditions import Condition, to_json
from afield.core.rules.limits import Limit

Json = dict[str, Any]


def rule_meaning(pack: Pack, rule: Rule) -> Json:
    """All that the rule's verdicts rest on, as plain data; of a limit the figures of every day.

    With the days on which the pack waives it, if it does.
    """
    waived = [_days(waiver.from_, waiver.until) for waiver in pack.waivers if waiver.rule == rule.key]
    return {
        "judges": pack.judges,
        "date_basis": pack.date_basis,
        "for_each": rule.for_each,
        "where": _condition(rule.where),
        "require": _condition(rule.require),
        "confirm": rule.confirm is not None,
        "severity": rule.severity,
        "decision": rule.decision,
        "days": _days(rule.from_, rule.until),
        "limits": {name: _limit(pack.limits.get(name)) for name in sorted(limits_of(rule))},
        **({"waived": sorted(waived, key=str)} if waived else {}),
    }


def fact_meaning(pack: Pack, versions: tuple[DatedFact, ...]) -> Json:
    """What the program says of itself, on which days."""
    said = [
        {"days": _days(version.from_, version.until), "value": version.value, "limit": version.limit}
        for version in versions
    ]
    taken = sorted({version.limit for version in versions if version.limit is not None})
    return {"said": said, "limits": {name: _limit(pack.limits.get(name)) for name in taken}}


def meanings(pack: Pack) -> dict[str, Json]:
    """The meanings of all rules and program facts, as "rule NAME" and "fact NAME", what is taken over included."""
    rules = {f"rule {rule.id}": rule_meaning(pack, rule) for rule in pack.rules}
    return rules | {f"fact {name}": fact_meaning(pack, versions) for name, versions in pack.facts.items()}


def hash_of(meaning: Mapping[str, Any]) -> str:
    """sha256 of a meaning, in hexadecimal."""
    text = json.dumps(meaning, sort_keys=True, ensure_ascii=False, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def _condition(condition: Condition | None) -> Any:
    return None if condition is None else to_json(condition)


def _limit(limit: Limit | None) -> Any:
    if limit is None:
        return None
    versions = sorted(limit.versions, key=lambda version: version.from_ or date.min)
    return [
        {"days": _days(version.from_, version.until), "value": _figure(version.value), "unit": version.unit}
        for version in versions
    ]


def _figure(value: Decimal | None) -> str | None:
    """The same for 80 and 80.0, which decide alike."""
    return None if value is None else f"{value.normalize():f}"


def _days(begin: date | None, end: date | None) -> list[str | None]:
    return [None if day is None else day.isoformat() for day in (begin, end)]
