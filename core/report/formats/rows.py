"""Verdicts that say the same of several things, together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from afield.core.frozen import frozen
from afield.core.language import _
from afield.core.report.words import TRUTH

Entry = Mapping[str, Any]


@frozen
class Row:
    """One verdict, or several of one rule with one outcome and no figures.

    Attributes:
        verdict: the first.
        subjects: keys of what they are on.
        texts: what to do, each once.

    """

    verdict: Entry
    subjects: list[str]
    texts: list[str]


def rows_of(verdicts: Iterable[Entry]) -> list[Row]:
    """The verdicts in their order, a row for those that say the same."""
    groups: dict[Any, list[Entry]] = {}
    for verdict in verdicts:
        groups.setdefault(_likeness(verdict), []).append(verdict)
    return [_row(group) for group in groups.values()]


def _likeness(verdict: Entry) -> Any:
    """Equal for verdicts that may stand in one row: what has figures stands alone."""
    if has_figures(verdict):
        return verdict["rule"], verdict["subject"]
    reason = verdict["reason"]["text"] if verdict["reason"] else None
    waived = verdict["waived"]["words"] if verdict.get("waived") else None
    return verdict["rule"], verdict["outcome"], reason, tuple(verdict["warnings"]), waived


def _row(verdicts: Sequence[Entry]) -> Row:
    texts = dict.fromkeys(verdict["text"] for verdict in verdicts if verdict["text"])
    return Row(verdicts[0], [verdict["subject"] for verdict in verdicts], list(texts))


def has_figures(verdict: Entry) -> bool:
    """Whether it says more than yes or no: those are told by the outcome."""
    return verdict["measured"] is not None and verdict["limit"] not in (None, *TRUTH, *map(_, TRUTH))


def without_subjects(report: Entry) -> set[str]:
    """The rules that found nothing of their kind: one verdict on the trip stands for them, "not applicable"."""
    kinds = {subject["key"]: subject["kind"] for subject in report["subjects"]}
    due = {rule["key"]: rule["for_each"] for rule in report["rules"]}
    return {
        verdict["rule"]
        for verdict in report["verdicts"]
        if verdict["outcome"] == "not applicable"
        and due.get(verdict["rule"]) not in (None, kinds.get(verdict["subject"]))
    }
