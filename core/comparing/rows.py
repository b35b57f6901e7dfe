"""The rows of a comparison: each fact with its value on every side, and how that differs from the base's."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from afield.core.comparing.declared import Declared, OwnWords
from afield.core.comparing.differences import (
    CANNOT_TELL,
    DIFFERS,
    SAME,
    Difference,
    entries_apart,
    numeric_difference,
)
from afield.core.comparing.origins import shared_origins
from afield.core.comparing.sides import Side
from afield.core.language import _
from afield.core.quantities import printed, printed_interval
from afield.core.report.records import is_number

Json = dict[str, Any]
Record = Mapping[str, Any]
REASON_CODE = "plugin failed"


def rows_json(sides: Sequence[Side], comparisons: Iterable[Declared], own: OwnWords) -> tuple[list[Json], list[Json]]:
    """The rows, and apart from them the facts that are known on no side, with the reasons.

    Args:
        sides: the base first.
        comparisons: in order.
        own: asks the plugins for their words.

    """
    shared = [shared_origins(sides[0].report, other.report) for other in sides[1:]]
    rows, silent = [], []
    for declared in comparisons:
        records = [_record(side, declared) for side in sides]
        if all(record["reason"] for record in records):
            silent.append(_silent(declared, sides, records))
        else:
            rows.append(_row(declared, sides, records, shared, own))
    return rows, silent


def _record(side: Side, declared: Declared) -> Record:
    """The side's record; one that says why there is none where the plugin that declares the fact failed."""
    found = side.record(declared.comparison.fact)
    if found is not None:
        return found
    text = _("{fact} is not known: a plugin failed").format(fact=declared.comparison.fact)
    reason = {"code": REASON_CODE, "text": text, "settle": None, "subject": None}
    empty = dict.fromkeys(("unit", "value", "low", "high", "uncertainty", "rank"))
    return {**empty, "parts": [], "reason": reason}


def _silent(declared: Declared, sides: Sequence[Side], records: Sequence[Record]) -> Json:
    told: dict[str, list[str]] = {}
    for side, record in zip(sides, records, strict=True):
        told.setdefault(record["reason"]["text"], []).append(side.label)
    reasons = [text if len(told) == 1 else f"{', '.join(labels)}: {text}" for text, labels in told.items()]
    return {"fact": declared.comparison.fact, "title": _(declared.comparison.title), "why": "; ".join(reasons)}


def _row(
    declared: Declared, sides: Sequence[Side], records: Sequence[Record], shared: Sequence[set[str]], own: OwnWords
) -> Json:
    differences = [
        _difference_json(declared, (sides[0], records[0]), (side, record), origins, own)
        for side, record, origins in zip(sides[1:], records[1:], shared, strict=True)
    ]
    return {
        "fact": declared.comparison.fact,
        "title": _(declared.comparison.title),
        "unit": next((record["unit"] for record in records if record["unit"] is not None), None),
        "values": [value_json(declared, side, record, own) for side, record in zip(sides, records, strict=True)],
        "differences": differences,
        "notes": _notes(declared, sides),
    }


def _notes(declared: Declared, sides: Sequence[Side]) -> list[Json]:
    """What the reader must know of the values, each note with the sides that it is for."""
    found: dict[str, list[str]] = {}
    for side in sides:
        for note in side.notes(declared.comparison.fact):
            found.setdefault(note, []).append(side.label)
    return [{"text": text, "sides": labels} for text, labels in found.items()]


def value_json(declared: Declared, side: Side, record: Record, own: OwnWords) -> Json:
    """One value with its words, or why there is none."""
    words, *lines = _words(declared, record, own)
    kept = {name: record[name] for name in ("value", "low", "high", "uncertainty", "rank", "reason")}
    return {"label": side.label, "words": words, "lines": lines, **kept}


def _words(declared: Declared, record: Record, own: OwnWords) -> list[str]:
    if record["reason"] is not None:
        return [_("cannot tell: {why}").format(why=record["reason"]["text"])]
    told = own.of_record(declared, record)
    return _plain_words(record) if told is None else told.split("\n")


def _plain_words(record: Record) -> list[str]:
    value = record["value"]
    if isinstance(value, list):
        return [f"{len(value)}", *(str(entry) for entry in value)]
    if is_number(value):
        ends = record["low"], record["high"], record["uncertainty"]
        return [printed_interval(value, *ends, record["unit"] or "", also_imperial=True)]
    if isinstance(value, bool):
        return [_("yes") if value else _("no")]
    return [str(record["printed"])]


def _difference_json(
    declared: Declared, base: tuple[Side, Record], other: tuple[Side, Record], shared: set[str], own: OwnWords
) -> Json:
    label = other[0].label
    silent = [f"{side.label}: {record['reason']['text']}" for side, record in (base, other) if record["reason"]]
    if silent:
        return _found(label, CANNOT_TELL, why="; ".join(silent))
    found = _known_difference(label, base, other, shared)
    return {**found, "extra": own.of_difference(declared, base[1], other[1])}


def _known_difference(label: str, base: tuple[Side, Record], other: tuple[Side, Record], shared: set[str]) -> Json:
    one, two = base[1]["value"], other[1]["value"]
    if is_number(one) and is_number(two):
        found = numeric_difference(base[1], other[1], shared)
        return _found(label, found.finding, _signed(found, other[1]["unit"] or ""), found)
    if isinstance(one, list) and isinstance(two, list):
        return _lists_apart(label, base, other)
    return _found(label, SAME if one == two else DIFFERS)


def _lists_apart(label: str, base: tuple[Side, Record], other: tuple[Side, Record]) -> Json:
    one, two = base[1]["value"], other[1]["value"]
    gone, new = entries_apart(one, two)
    apart = [(side.label, entry) for side, entries in ((base[0], gone), (other[0], new)) for entry in entries]
    lines = [_("only with {side}: {entry}").format(side=label, entry=entry) for label, entry in apart]
    found = Difference(float(len(two) - len(one)), 0.0)
    return _found(label, DIFFERS if lines else SAME, _signed(found, "") if found.value else None, found, lines=lines)


def _signed(found: Difference, unit: str) -> str | None:
    """The difference with its sign; None where there is none at all."""
    if found.finding == SAME:
        return None
    sign = "+" if found.value > 0 else ""
    return f"{sign}{printed(found.value, found.uncertainty, unit, also_imperial=True)}"


def _found(
    label: str, finding: str, words: str | None = None, found: Difference | None = None, why: str | None = None,
    lines: Sequence[str] = (),
) -> Json:  # fmt: skip
    return {
        "label": label, "finding": finding, "value": found.value if found else None,
        "uncertainty": found.uncertainty if found else None, "words": words, "lines": list(lines), "extra": None,
        "why": why,
    }  # fmt: skip
