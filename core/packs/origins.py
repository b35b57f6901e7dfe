"""Whose a limit or a severity is, where a pack extends another; and the sentences that say so."""

from __future__ import annotations

from datetime import date

from afield.core.documents import Place
from afield.core.frozen import frozen
from afield.core.language import _, marked
from afield.core.rules.limits import Limit, in_force, printed_figure


@frozen
class PackName:
    """Which pack, in which version: what "gear 1.2.0" stands for."""

    id: str
    version: str

    def __str__(self) -> str:
        """As shown to the reader."""
        return f"{self.id} {self.version}"


@frozen
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


@frozen
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
    now, before = _figure(limit, day), _figure(origin.replaces, day)
    told = _(LIMIT_CHANGES[_state(now), _state(before)])
    return told.format(limit=name, figure=now, pack=origin.by, former=before, other=origin.replaced.by, day=day)


FIGURE, NONE, NOT_IN_FORCE = "figure", "none", "not in force"
LIMIT_CHANGES = {
    (FIGURE, FIGURE): marked("limit {limit} of {figure} set by {pack} in place of {former} of {other}"),
    (FIGURE, NONE): marked("limit {limit} of {figure} set by {pack} where {other} has none"),
    (FIGURE, NOT_IN_FORCE): marked("limit {limit} of {figure} set by {pack} where {other} has no value on {day}"),
    (NONE, FIGURE): marked("limit {limit} set to none by {pack} in place of {former} of {other}"),
    (NONE, NONE): marked("limit {limit} set to none by {pack} where {other} has none"),
    (NONE, NOT_IN_FORCE): marked("limit {limit} set to none by {pack} where {other} has no value on {day}"),
    (NOT_IN_FORCE, FIGURE): marked(
        "limit {limit} set by {pack} without a value on {day} in place of {former} of {other}"
    ),
    (NOT_IN_FORCE, NONE): marked("limit {limit} set by {pack} without a value on {day} where {other} has none"),
    (NOT_IN_FORCE, NOT_IN_FORCE): marked(
        "limit {limit} set by {pack} without a value on {day} where {other} has no value on {day}"
    ),
}
"""What a pack sets, and what stood there before -> the sentence that says so."""


def _figure(limit: Limit, day: date) -> str | None:
    """The figure of the day as printed, "" where the pack says that there is none; None where nothing is in force."""
    version = in_force(limit.versions, day)
    if version is None:
        return None
    return "" if version.value is None else printed_figure(version.value, version.unit)


def _state(figure: str | None) -> str:
    return NOT_IN_FORCE if figure is None else FIGURE if figure else NONE


def severity_change_words(change: Change) -> str:
    """That a pack gives a rule another severity than the pack that had set it, and why."""
    return _("severity {severity} set by {pack} in place of {former} of {other}: {reason}").format(
        severity=_(change.severity), pack=change.by, former=_(change.was), other=change.set_by, reason=change.reason
    )
