"""The time on the air that counts for one claim: whose it is, and among how many references it is divided."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from afield.core.api import CannotTell, _, frozen, grouped, marked, quoted_list
from afield.plugins.contacts.program_facts import ONE_REFERENCE, OPERATOR, STATION_CALL

ALL_TIME = marked("all time on the air")
AMONG_OPERATORS = marked("all time on the air, divided equally among the operators {operators}")
AMONG_REFERENCES = marked("{time}, divided equally among {count} references")
OF_SLOTS = marked("the slots of operator {operator}")
OF_LEAST = marked("the slots of operator {operator}, {minutes} min, who has the least ({others})")


@frozen
class Shares:
    """What divides the time on the air.

    Attributes:
        counted_for: whose contacts the program counts; None where the pack does not say.
        counts_for: for how many references one contact counts; None where the pack does not say.
        operators: names of the plan's operators.
        claimed: references of the program that the plan claims.

    """

    counted_for: str | None
    counts_for: str | None
    operators: Sequence[str]
    claimed: int


@frozen
class Counted:
    """Minutes that count for one claim, whose they are, and in words what they rest on.

    `spent` are the minutes on the air that they are of, before any division; None for those of one operator's slots.
    """

    minutes: float
    who: str
    basis: str
    spent: float | None = None


Span = tuple[datetime, datetime, str | None]


def spans_of(instants: Mapping[str, Any]) -> list[Span]:
    """The spans on the air with the operator of each; two stations on the air at once are two spans.

    Raises:
        CannotTell: the plan states none.

    """
    slots = [(slot["from"], slot["to"], slot["operator"]) for slot in instants["slots"]]
    slots = slots or [(start, end, None) for start, end in instants["on_air"]]
    if not slots:
        raise CannotTell(_("the time on the air is not stated"), "schedule.on_air", "not stated", "trip")
    return [(datetime.fromisoformat(start), datetime.fromisoformat(end), who) for start, end, who in slots]


def on_utc_day(spans: Sequence[Span], day: str) -> list[Span]:
    """The parts of the spans that fall on a UTC date."""
    start = datetime.fromisoformat(f"{day}T00:00:00+00:00")
    cut = [(max(one, start), min(other, start + timedelta(days=1)), who) for one, other, who in spans]
    return [(one, other, who) for one, other, who in cut if one < other]


def counted(spans: Sequence[Span], shares: Shares) -> Counted:
    """The minutes that count for one claim.

    Of an operator: the fewest that any operator with a slot of their own has; where no slot names one, all share
    equally. Of the station call or the party: all minutes. Where a contact counts for one reference only, they are
    divided equally among the claimed ones.

    Raises:
        CannotTell: some slots name their operator and others do not.

    """
    found = _of_an_operator(spans, shares) if shares.counted_for == OPERATOR else _of_all(spans, shares)
    if shares.counts_for != ONE_REFERENCE or shares.claimed < 2:
        return found
    basis = _(AMONG_REFERENCES).format(time=found.basis, count=shares.claimed)
    return Counted(found.minutes / shares.claimed, found.who, basis, found.spent)


def minutes_of(spans: Sequence[Span]) -> float:
    """The minutes of all spans together."""
    return sum((end - start).total_seconds() for start, end, _who in spans) / 60


def _of_all(spans: Sequence[Span], shares: Shares) -> Counted:
    return _whole(spans, _(shares.counted_for or STATION_CALL))


def _whole(spans: Sequence[Span], who: str) -> Counted:
    minutes = minutes_of(spans)
    return Counted(minutes, who, _(ALL_TIME), minutes)


def _of_an_operator(spans: Sequence[Span], shares: Shares) -> Counted:
    named = {who: [span for span in spans if span[2] == who] for _start, _end, who in spans if who}
    if named and not all(who for _start, _end, who in spans):
        what = _("some slots name their operator and others do not")
        raise CannotTell(what, "schedule.slots[].operator", "missing input", "trip")
    if named:
        return _of_the_least({name: minutes_of(own) for name, own in named.items()})
    many = len(shares.operators)
    if many < 2:
        return _whole(spans, next(iter(shares.operators), _(OPERATOR)))
    basis = _(AMONG_OPERATORS).format(operators=quoted_list(shares.operators))
    return Counted(minutes_of(spans) / many, _("each operator"), basis, minutes_of(spans))


def _of_the_least(minutes: Mapping[str, float]) -> Counted:
    """The operator with the least time on the air, for whom the chance is least; the others are named."""
    who = min(minutes, key=lambda name: minutes[name])
    others = ", ".join(f"{name} {grouped(time)} min" for name, time in minutes.items() if name != who)
    words = _(OF_LEAST if others else OF_SLOTS)
    return Counted(minutes[who], who, words.format(operator=who, minutes=grouped(minutes[who]), others=others))
