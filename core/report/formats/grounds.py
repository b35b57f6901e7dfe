"""What a verdict stands on, for the reader: which reading decided, and the notes of the facts beneath it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.language import _, marked

Json = Mapping[str, Any]
Records = Mapping[tuple[str, str], Json]

BY_HAND = marked("measured by hand")
ASSUMED_WIDTH = "±"
"""How a note begins that only says which uncertainty was assumed."""


def records_of(report: Json) -> Records:
    """The report's facts by (subject, name)."""
    return {(record["subject"], record["fact"]): record for record in report["facts"]}


def holder(report: Json, subject: str, kind: str | None) -> str:
    """The subject itself, or the one around it that has facts of the kind."""
    mine = next(entry for entry in report["subjects"] if entry["key"] == subject)
    return subject if mine["kind"] == kind else str(mine["parents"].get(kind, subject))


def compared(report: Json, verdict: Json, leaf: Json) -> list[tuple[str, str]]:
    """Subject and name of each fact that a comparison is about: one, or all that it gathers."""
    if leaf["fact"]:
        return [(holder(report, verdict["subject"], leaf["kind"]), leaf["fact"])]
    gathers = leaf.get("gathers")
    if not gathers:
        return []
    members = _members(report, verdict["subject"], gathers["over"])
    return [(holder(report, member, gathers["kind"]), gathers["fact"]) for member in members]


def _members(report: Json, subject: str, kind: str) -> Iterator[str]:
    """The subjects of a kind that share every enclosing subject that both have."""
    mine = next(entry for entry in report["subjects"] if entry["key"] == subject)
    around = {**mine["parents"], mine["kind"]: subject}
    for entry in report["subjects"]:
        if entry["kind"] == kind and all(entry["parents"].get(each, key) == key for each, key in around.items()):
            yield entry["key"]


def leaf_records(report: Json, verdict: Json, records: Records) -> Iterator[Json]:
    """The records that the verdict compares with a limit, or gathers for it."""
    keys = [key for leaf in verdict["leaves"] for key in compared(report, verdict, leaf)]
    yield from (records[key] for key in keys if key in records)


def grounds(report: Json, verdict: Json, records: Records) -> list[Json]:
    """The records that the verdict rests on, each once: those compared, then their inputs. Displaced ones are not."""
    found: dict[tuple[str, str], Json] = {}
    waiting = list(leaf_records(report, verdict, records))
    while waiting:
        record = waiting.pop(0)
        key = (record["subject"], record["fact"])
        if key not in found:
            found[key] = record
            inputs = [records.get((inner["subject"], inner["fact"])) for inner in record["inputs"]]
            waiting += [inner for inner in inputs if inner is not None]
    return list(found.values())


def notes_of(records: list[Json]) -> list[str]:
    """The notes of the records, each once, without those on an assumed uncertainty."""
    notes = [note for record in records for note in record["notes"] if not note.startswith(ASSUMED_WIDTH)]
    return list(dict.fromkeys(notes))


def readings_of(report: Json, verdict: Json, records: Records) -> list[str]:
    """A line for every reading that decides: one compared with a limit, or one beneath it, then with its name."""
    looked_at = [record["fact"] for record in leaf_records(report, verdict, records)]
    return [
        reading_words(record, named=record["fact"] not in looked_at)
        for record in grounds(report, verdict, records)
        if record["rank"] in ("measured", "logged")
    ]


def reading_words(record: Json, named: bool) -> str:
    """By what the value was had, the value, and the one that it stands for."""
    value = f"{record['title']} {record['printed']}" if named else record["printed"]
    given = {"by": _by(record), "value": value}
    weaker = record["displaced"]
    if weaker is None:
        return f"{given['by']}: {value}"
    rank = _(weaker["rank"])
    if weaker["reason"] is not None:
        return _("{by}: {value} instead of the {rank} value, which is not known").format(rank=rank, **given)
    return _("{by}: {value} instead of the {rank} {weaker}").format(rank=rank, weaker=weaker["printed"], **given)


def _by(record: Json) -> str:
    """By what a reading was had."""
    if record["rank"] == "logged":
        return _("from the log")
    how = (record["method"] or "").removeprefix(_(BY_HAND)).removeprefix(": ")
    return _("by hand ({how})").format(how=how) if how else _("by hand")
