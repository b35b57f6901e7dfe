"""What a verdict stands on, for the reader: which reading decided, and the notes of the facts beneath it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

Json = Mapping[str, Any]
Records = Mapping[tuple[str, str], Json]

BY_HAND = "measured by hand"
ASSUMED_WIDTH = "±"
"""How a note begins that only says which uncertainty was assumed."""


def records_of(report: Json) -> Records:
    """The report's facts by (subject, name)."""
    return {(record["subject"], record["fact"]): record for record in report["facts"]}


def holder(report: Json, subject: str, kind: str | None) -> str:
    """The subject itself, or the one around it that has facts of the kind."""
    mine = next(entry for entry in report["subjects"] if entry["key"] == subject)
    return subject if mine["kind"] == kind else str(mine["parents"].get(kind, subject))


def leaf_records(report: Json, verdict: Json, records: Records) -> Iterator[Json]:
    """The records that the verdict compares with a limit."""
    for leaf in verdict["leaves"]:
        found = leaf["fact"] and records.get((holder(report, verdict["subject"], leaf["kind"]), leaf["fact"]))
        if found:
            yield found


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
    compared = [record["fact"] for record in leaf_records(report, verdict, records)]
    return [
        reading_words(record, named=record["fact"] not in compared)
        for record in grounds(report, verdict, records)
        if record["rank"] in ("measured", "logged")
    ]


def reading_words(record: Json, named: bool) -> str:
    """By what the value was had, the value, and the one that it stands for."""
    how = (record["method"] or "").removeprefix(BY_HAND).removeprefix(": ")
    source = "from the log" if record["rank"] == "logged" else f"by hand ({how})" if how else "by hand"
    title = f"{record['title']} " if named else ""
    weaker = record["displaced"]
    instead = "" if weaker is None else f" instead of the {_weaker_words(weaker)}"
    return f"{source}: {title}{record['printed']}{instead}"


def _weaker_words(record: Json) -> str:
    if record["reason"] is not None:
        return f"{record['rank']} value, which is not known"
    return f"{record['rank']} {record['printed']}"
