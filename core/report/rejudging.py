"""Judges a report's facts again by the rules that it holds, so that a log can be judged without the pack of its day.

Plugins are still needed for what they declare (kinds of subject, types of facts); no fact function is called.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from afield.core.documents import Place
from afield.core.facts.measured import Measured, Reason
from afield.core.facts.subjects import Subject
from afield.core.facts.world import Key, World
from afield.core.host.registry import Registry
from afield.core.packs.asking import asked_in
from afield.core.packs.judging import Bench, verdicts_of_all
from afield.core.packs.model import TEXTS, Pack, Rule
from afield.core.packs.origins import Change, LimitOrigin, PackName
from afield.core.packs.outlines import RuleElsewhere
from afield.core.packs.verdicts import Verdict
from afield.core.packs.waivers import Waiver
from afield.core.packs.waiving import waived
from afield.core.rules.condition_reading import read_condition
from afield.core.rules.conditions import Condition
from afield.core.rules.limit_reading import read_limits, read_source
from afield.core.rules.limits import Limit

Json = Mapping[str, Any]


class NotRejudgeable(Exception):
    """The report's rules ask for something that the installed plugins do not declare; the text says what."""


def rejudged(
    report: Json, registry: Registry, records: Mapping[Key, Iterable[Measured]] | None = None
) -> list[Verdict]:
    """The verdicts of the report's rules, pack by pack.

    Args:
        report: as built.
        registry: what the installed plugins declare.
        records: further values, those of a log, say; by rank they displace the report's own.

    Raises:
        NotRejudgeable: a rule asks for a fact or kind that no plugin declares.

    """
    subjects = {entry["key"]: _subject(entry) for entry in report["subjects"]}
    given = _given(report["facts"])
    for key, more in (records or {}).items():
        given.setdefault(key, []).extend(more)
    failed = {entry["kind"]: _reason(entry["reason"]) for entry in report["run"]["failed_kinds"]}
    world = World(registry.facts, registry.kinds, subjects, given, computes=False, failed_kinds=failed)
    confirmed = {verdict["rule"] for verdict in report["verdicts"] if verdict["confirmed"]}
    days = {entry["id"]: [date.fromisoformat(day) for day in entry.get("days", ())] for entry in report["run"]["packs"]}
    bench = Bench(world, registry, date.fromisoformat(report["trip"]["date"]), confirmed, days)
    packs = [_pack(entry, report["rules"], registry) for entry in report["run"]["packs"]]
    verdicts = verdicts_of_all(packs, bench)
    return waived(verdicts, [_waiver(entry) for entry in report.get("waivers", ())], world, bench.day)[0]


def _waiver(entry: Json) -> Waiver:
    by = _name(entry["by"]) if entry["by"] else None
    until = date.fromisoformat(entry["until"])
    return Waiver(
        entry["rule"], entry["subject"], entry["reason"], entry["granted_by"], _day(entry["from"]), until,
        Place(entry["where"]), by,
    )  # fmt: skip


def _subject(entry: Json) -> Subject:
    around = entry["parents"].get("program", entry["key"] if entry["kind"] == "program" else "")
    program = around.removeprefix("program:") or None
    return Subject(entry["key"], entry["kind"], entry["label"], entry["parents"], program=program)


def _given(facts: Iterable[Json]) -> dict[Key, list[Measured]]:
    return {(entry["subject"], entry["fact"]): [_record(entry)] for entry in facts}


def _record(entry: Json) -> Measured:
    parts = {part["origin"]: part["contribution"] for part in entry["parts"]}
    return Measured(
        entry["value"], entry["unit"], entry["low"], entry["high"], parts, entry["method"], entry["source"],
        rank=entry["rank"], detail=entry["detail"], reason=_reason(entry["reason"]) if entry["reason"] else None,
        notes=tuple(entry["notes"]),
    )  # fmt: skip


def _reason(entry: Json) -> Reason:
    return Reason(entry["code"], entry["text"], entry["settle"], entry["subject"])


def _pack(entry: Json, rules: Sequence[Json], registry: Registry) -> Pack:
    mine = [rule for rule in rules if rule["pack"] == entry["id"]]
    absent = tuple(name for name in entry["needs"] if name not in registry.host.plugins or name in registry.broken)
    limits = _limits(mine)
    asked = {name for rule in mine for _, name in asked_in([rule["where"], rule["require"]]) if "/" in name}
    kinds = {**dict.fromkeys(asked, "trip"), **{rule["id"]: rule["for_each"] for rule in mine}}
    reader = _RuleReader(registry, limits, kinds, absent, entry["judges"])
    origins = {limit["name"]: _origin(limit) for rule in mine for limit in rule["limits"] if "by" in limit}
    pack = Pack(
        id=entry["id"], version=entry["version"], title=entry["title"], publisher=entry["publisher"],
        licence=entry["licence"], judges=entry["judges"], date_basis=entry["date_basis"], review_days=0.0,
        folder=Path(), shown=f"pack:{entry['id']}", sha256=entry["sha256"], documents={}, notice=entry["notice"],
        needs=tuple(entry["needs"]), absent=absent, rules=tuple(reader.rule(rule) for rule in mine), limits=limits,
        origins=origins,
    )  # fmt: skip
    return replace(pack, base=_bases(pack, entry.get("extends", ())), elsewhere=_elsewhere(asked))


def _elsewhere(names: Iterable[str]) -> dict[str, RuleElsewhere]:
    """The rules of other packs that are asked for, as far as a report tells of them."""
    split = {name: name.partition("/") for name in sorted(names)}
    return {name: RuleElsewhere(pack, rule, rule, "trip", "trip", Place("")) for name, (pack, _, rule) in split.items()}


def _bases(pack: Pack, entries: Sequence[Json]) -> Pack | None:
    """The packs that it extends, by their names only: what it takes over from them stands in its own rules."""
    if not entries:
        return None
    base = replace(pack, id=entries[0]["id"], version=entries[0]["version"], rules=(), limits={}, origins={})
    return replace(base, base=_bases(base, entries[1:]))


def _origin(entry: Json) -> LimitOrigin:
    """Whose the limit is; a report says so of every limit since packs can extend each other."""
    written = LimitOrigin(_name(entry["by"]), Place(entry["place"]))
    replaced = entry.get("in_place_of")
    if replaced is None:
        return written
    limit = _limits([{"limits": [{**replaced, "name": entry["name"]}]}])[entry["name"]]
    return replace(written, replaces=limit, replaced=_origin(replaced))


def _name(entry: Json) -> PackName:
    return PackName(entry["id"], entry["version"])


def _change(entry: Json) -> Change:
    return Change(
        entry["severity"], entry["reason"], _name(entry["by"]), Place(entry["place"]), entry["was"],
        _name(entry["set_by"]),
    )  # fmt: skip


def _limits(rules: Iterable[Json]) -> dict[str, Limit]:
    written = {limit["name"]: limit["versions"] for rule in rules for limit in rule["limits"]}
    stripped = {
        name: [{key: value for key, value in version.items() if value is not None} for version in versions]
        for name, versions in written.items()
    }
    return read_limits(stripped)[0]


class _RuleReader:
    def __init__(
        self, registry: Registry, limits: Mapping[str, Limit], kinds: Mapping[str, str], absent: tuple[str, ...],
        judges: str,
    ) -> None:  # fmt: skip
        self.registry, self.limits, self.kinds_of_rules, self.absent = registry, limits, kinds, absent
        self.program = judges == "program"

    def rule(self, entry: Json) -> Rule:
        return Rule(
            key=entry["key"], id=entry["id"], pack=entry["pack"], title=entry["title"], why=entry["why"],
            severity=entry["severity"], for_each=entry["for_each"], place=Place(entry["place"]),
            require=self.condition(entry, "require"), where=self.condition(entry, "where"), confirm=entry["confirm"],
            when=entry["when"], evidence=entry["evidence"], assumes=tuple(entry["assumes"]),
            decision=entry["decision"], from_=_day(entry["from"]), until=_day(entry["until"]),
            source=read_source(_present(entry["source"]), ())[0],
            texts={name: text for name, text in entry["texts"].items() if name in TEXTS},
            by=_name(entry["written_by"]) if "written_by" in entry else None,
            change=_change(entry["change"]) if entry.get("change") else None,
        )  # fmt: skip

    def condition(self, entry: Json, key: str) -> Condition | None:
        if entry[key] is None:
            return None
        kinds = self.registry.kinds
        condition, complaints = read_condition(
            entry[key], (key,), self.registry.facts, self.limits,
            kind=entry["for_each"] if entry["for_each"] in kinds else None, kinds=kinds, rules=self.kinds_of_rules,
            absent=self.absent, program=self.program,
        )  # fmt: skip
        if complaints:
            raise NotRejudgeable(f"{entry['key']}: {complaints[0].what}. {complaints[0].advice}")
        return condition


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


def _present(source: Json | None) -> Json | None:
    return None if source is None else {key: value for key, value in source.items() if value is not None}
