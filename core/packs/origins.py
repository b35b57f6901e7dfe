"""Whose a limit or a severity is, where a pack extends another; and the sentences that say so."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from afield.core.documents import Place
from afield.core.rules.limits import Limit, in_force, printed_figure


@dataclass(frozen=True, slots=True)
class PackName:
    """Which pack, in which version: what "gear 1.2.0" stands for."""

    id: str
    version: str

    def __str__(self) -> str:
        """As shown to the reader."""
        return f"{self.id} {self.version}"


@dataclass(frozen=True, slots=True)
class Change:
    """A severity that a pack gives to a rule of the pack that it extends.

    Attributes:
        reason: why, in the words of the pack that changes it.
        by, place: which pack, and where it is written.
        was, set_by: the severity in whose place it stands, and the pack that had set that.

    """

    severity: str
    reason: str
    by: PackName
    place: Place
    was: str
    set_by: PackName


@dataclass(frozen=True, slots=True)
class LimitOrigin:
    """Whose a limit is.

    Attributes:
        by, place: the pack that writes it, and where.
        replaces: the limit of an extended pack in whose place it stands; None for a new one.
        replaced: whose that is; None for a new one.

    """

    by: PackName
    place: Place
    replaces: Limit | None = None
    replaced: LimitOrigin | None = None


def limit_change_words(name: str, limit: Limit, origin: LimitOrigin, day: date) -> str | None:
    """That a limit stands in place of another pack's, with both figures of the day; None for one that does not."""
    if origin.replaces is None or origin.replaced is None:
        return None
    return f"limit {_set_words(name, limit, origin.by, day)} {_before_words(origin.replaces, origin.replaced.by, day)}"


def _set_words(name: str, limit: Limit, by: PackName, day: date) -> str:
    version = in_force(limit.versions, day)
    if version is None:
        return f"{name} set by {by} without a value on {day}"
    if version.value is None:
        return f"{name} set to none by {by}"
    return f"{name} of {printed_figure(version.value, version.unit)} set by {by}"


def _before_words(limit: Limit, by: PackName, day: date) -> str:
    version = in_force(limit.versions, day)
    if version is None:
        return f"where {by} has no value on {day}"
    if version.value is None:
        return f"where {by} has none"
    return f"in place of {printed_figure(version.value, version.unit)} of {by}"


def severity_change_words(change: Change) -> str:
    """That a pack gives a rule another severity than the pack that had set it, and why."""
    return f"severity {change.severity} set by {change.by} in place of {change.was} of {change.set_by}: {change.reason}"
