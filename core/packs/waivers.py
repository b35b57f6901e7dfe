"""A waiver: somebody's word, for a time and a reason, that a rule need not be kept; the verdict stays what it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from afield.core.documents import Document, Place, Problem
from afield.core.frozen import frozen
from afield.core.language import _, marked
from afield.core.packs.origins import PackName
from afield.core.rules.limits import is_in_force

Path = tuple[str | int, ...]


@frozen
class Waiver:
    """One waiver of a plan, or of a pack that extends another.

    Attributes:
        rule: key of the rule, "pack/rule".
        subject: key of the subject for which it is waived, with all that lies within it; None for the whole rule.
        reason, granted_by: as written.
        from_, until: when it is in force (inclusive, exclusive).
        place: where it is written.
        by: the pack that writes it; None for the plan.

    """

    rule: str
    subject: str | None
    reason: str
    granted_by: str
    from_: date | None
    until: date
    place: Place
    by: PackName | None = None

    def covers(self, days: Iterable[date]) -> bool:
        """Whether it is in force on every one of the days."""
        return all(is_in_force(self, day) for day in days)


def read_waiver(document: Document, path: Path, rule: str, by: PackName | None = None) -> Waiver:
    """The waiver at a path of a plan or of a rules file, as far as its schema allows it.

    Args:
        document, path: where it is written.
        rule: key of the rule that it names.
        by: the pack that writes it; None for the plan.

    """
    entry: Mapping[str, Any] = document.value(path)
    begins = date.fromisoformat(entry["from"]) if "from" in entry else None
    return Waiver(
        rule, entry.get("of"), entry["reason"], entry["granted_by"], begins, date.fromisoformat(entry["until"]),
        document.place(path), by,
    )  # fmt: skip


def waiver_words(waiver: Waiver) -> str:
    """ "waived until 2026-12-31 by club secretary: The club's van carries fuses." """
    told = _(WAIVED[waiver.from_ is not None, waiver.by is not None])
    return told.format(
        begins=waiver.from_, until=waiver.until, grantor=waiver.granted_by, pack=waiver.by,
        reason=ended_sentence(waiver.reason),
    )  # fmt: skip


WAIVED = {
    (False, False): marked("waived until {until} by {grantor}: {reason}"),
    (False, True): marked("waived until {until} by {grantor} (pack {pack}): {reason}"),
    (True, False): marked("waived from {begins} until {until} by {grantor}: {reason}"),
    (True, True): marked("waived from {begins} until {until} by {grantor} (pack {pack}): {reason}"),
}
"""Whether it has a beginning, whether a pack writes it -> the sentence that says so."""


def ended_sentence(text: str) -> str:
    """The text with a full stop, where it ends without one."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


def problems_of_dates(document: Document, paths: Iterable[tuple[Path, Waiver]]) -> list[Problem]:
    """Every waiver that is never in force, and every second one of the same on the same days."""
    found: list[Problem] = []
    earlier: list[Waiver] = []
    for path, waiver in paths:
        if waiver.from_ is not None and waiver.from_ >= waiver.until:
            what = f"the waiver is never in force: it begins on {waiver.from_} and has ended on {waiver.until}"
            found.append(document.problem((*path, "until"), what, f"Write a day after {waiver.from_}."))
            continue
        other = next((one for one in earlier if _clash(one, waiver)), None)
        if other is not None:
            what = f"a second waiver of {_what(waiver)} for the same days"
            advice = f"The first is at {other.place}. Keep one of the two, or give them days that do not overlap."
            found.append(document.problem(path, what, advice))
        earlier.append(waiver)
    return found


def _what(waiver: Waiver) -> str:
    return f"{waiver.rule} on {waiver.subject}" if waiver.subject else waiver.rule


def _clash(one: Waiver, other: Waiver) -> bool:
    same = (one.rule, one.subject) == (other.rule, other.subject)
    return same and (one.from_ or date.min) < other.until and (other.from_ or date.min) < one.until
