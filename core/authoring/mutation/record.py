"""What became of a pack's changes, as JSON by `schemas/mutation.json`, and as text made from that alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from afield.core.authoring.mutation.reasons import FILE, Key, Reason
from afield.core.authoring.mutation.trying import Mutation, Trial

Json = dict[str, Any]


def mutation_record(mutation: Mutation) -> Json:
    """The record."""
    pack = mutation.pack
    outcomes = [trial.outcome for trial in mutation.trials]
    return {
        "pack": pack.id,
        "version": pack.version,
        "exit_status": mutation.exit_status,
        "cases": mutation.cases,
        "wrong_cases": mutation.wrong,
        "counts": {
            "changes": len(outcomes),
            **{outcome: outcomes.count(outcome) for outcome in ("caught", "equivalent", "survived")},
            "with_reason": sum(trial.reason is not None for trial in mutation.trials if trial.outcome == "survived"),
        },
        "changes": [_change(trial) for trial in mutation.trials],
        "needless_reasons": [_needless(key, reason) for key, reason in mutation.needless],
    }


def _change(trial: Trial) -> Json:
    mutant = trial.mutant
    found: Json = {
        "kind": mutant.kind, "name": mutant.name, "change": mutant.change, "place": str(mutant.place),
        "outcome": trial.outcome,
    }  # fmt: skip
    if trial.caught_by is not None:
        return {**found, "caught_by": {"name": trial.caught_by.data["name"], "place": str(trial.caught_by.place)}}
    assert trial.told is not None
    optional = {
        "proof": trial.told.proved,
        "case": trial.told.case,
        "case_of": trial.like.mutant.title if trial.like else None,
        "reason": {"text": trial.reason.text, "place": str(trial.reason.place)} if trial.reason else None,
    }
    return {**found, "tried": trial.told.tried, **{key: value for key, value in optional.items() if value is not None}}


def _needless(key: Key, reason: Reason) -> Json:
    return {"kind": key[0], "name": key[1], "change": key[2], "place": str(reason.place)}


def mutation_text(record: Json) -> str:
    """The record for the reader: what survives, each with the case that would catch it, and the counts."""
    return "\n".join([*_lines(record), _summary(record)]) + "\n"


def _lines(record: Json) -> Iterator[str]:
    for change in record["changes"]:
        if change["outcome"] == "equivalent":
            yield f"{change['place']}: no case could catch it: {_title(change)}: {change['proof']}"
        elif change["outcome"] == "survived" and "reason" in change:
            yield f"{change['place']}: survives for a reason: {_title(change)}: {change['reason']['text']}"
        elif change["outcome"] == "survived":
            yield f"{change['place']}: survives: {_title(change)}"
            yield from _remedy(change)
    for reason in record["needless_reasons"]:
        yield f"{reason['place']}: this reason is for a change that does not survive: {_title(reason)}"


def _title(change: Json) -> str:
    return f"{change['kind']} {change['name']}: {change['change']}"


def _remedy(change: Json) -> Iterator[str]:
    if "case_of" in change:
        yield f"    = The case for {change['case_of']} catches it too."
    elif "case" in change:
        yield "    = Add this case, which catches it:"
        yield change["case"].rstrip("\n")
    else:
        yield (
            f"    = No case was found among {change['tried']} combinations of facts and days. "
            f"Write one, or a reason in {FILE}."
        )


def _summary(record: Json) -> str:
    name, counts = f"{record['pack']} {record['version']}", record["counts"]
    if record["wrong_cases"]:
        wrong = f"{record['wrong_cases']} of its {record['cases']} cases"
        return f"{name}: nothing was tried: {wrong} come out wrong. `afield pack test` shows them."
    if not counts["changes"]:
        return f"{name}: nothing was tried: the pack writes nothing that could be changed."
    parts = [f"{counts['caught']} caught by its {record['cases']} cases"]
    if counts["equivalent"]:
        parts.append(f"{counts['equivalent']} that no case could catch")
    surviving = f"{counts['survived']} survive"
    if counts["with_reason"]:
        surviving += f", {counts['with_reason']} of them for a written reason"
    return f"{name}: {counts['changes']} changes: {', '.join([*parts, surviving])}"
