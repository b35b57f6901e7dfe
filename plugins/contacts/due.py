"""What is due, for the title block; and blank boxes to mark contacts in, up to the minimum."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from afield.core.api import _, marked, ngettext
from afield.plugins.contacts.found import Found, program_of
from afield.plugins.contacts.program_facts import ONE_REFERENCE, OPERATOR, OUTING, UTC_DAY, YEAR
from afield.plugins.contacts.section_words import day_words

GROUP, MOST_BOXES = 5, 30
DUE = marked("Contacts due: {programs}")
PERIODS = {
    UTC_DAY: marked("{program} {count} in one UTC day"),
    OUTING: marked("{program} {count} over the outing"),
    YEAR: marked("{program} {count} in the calendar year"),
}
STILL_WANTED = marked("{due}, of which {count} are still wanted")
STILL_BETWEEN = marked("{due}, of which {least} to {most} are still wanted")
EACH_OPERATOR = marked("{due}, for each operator")
EACH_REFERENCE = marked("{due}, for each of {references} references")
TOO_MANY = marked("More than {most} boxes would hold: count them in the log.")


class Need(NamedTuple):
    """What one program needs of contacts.

    Attributes:
        program: its name.
        minimum: contacts that a claim needs.
        said: what the pack says of them, by the last part of the facts' names.
        references: how many of it are claimed.
        wanted: for each claim what is still wanted; none where the whole minimum is.

    """

    program: str
    minimum: float
    said: Mapping[str, Any]
    references: int
    wanted: Sequence[float]


def needs(found: Found, claims: Sequence[str]) -> Iterator[Need]:
    """What each program needs, in the order of its first claim.

    Args:
        found: the section's facts.
        claims: those whose program states a minimum.

    """
    for program in dict.fromkeys(map(program_of, claims)):
        mine = [claim for claim in claims if program_of(claim) == program]
        wanted = [number for claim in mine if (number := found.wanted(claim)) is not None]
        kept = _kept(found, mine[0])
        yield Need(kept["program"], found.minimum(mine[0]), found.said(mine[0]), kept["references"], wanted)


def headline(needs: Sequence[Need]) -> str:
    """All programs in one line: "Contacts due: Freight Road 14 in one UTC day; Basin Preserves 17 over the outing"."""
    return _(DUE).format(programs="; ".join(_due(need) for need in needs))


def _due(need: Need) -> str:
    words = _(PERIODS[need.said["period"] or UTC_DAY]).format(program=need.program, count=f"{need.minimum:.0f}")
    least, most = (f"{edge(need.wanted, default=need.minimum):.0f}" for edge in (min, max))
    if least != most:
        words = _(STILL_BETWEEN).format(due=words, least=least, most=most)
    elif least != f"{need.minimum:.0f}":
        words = _(STILL_WANTED).format(due=words, count=least)
    if need.said["counted_for"] == OPERATOR:
        words = _(EACH_OPERATOR).format(due=words)
    if _apart(need.said, need.references):
        words = _(EACH_REFERENCE).format(due=words, references=need.references)
    return words


def _apart(said: Mapping[str, Any], references: int) -> bool:
    """Whether each reference needs contacts of its own."""
    return bool(said["one_contact_counts_for"] == ONE_REFERENCE and references > 1)


def tallies(found: Found, claim: str) -> Iterator[dict[str, Any]]:
    """The claim's lines of boxes: for each operator, and each UTC day on the air, that needs contacts of its own."""
    kept = _kept(found, claim)
    reference = [claim.partition("/")[2]] if _apart(found.said(claim), kept["references"]) else []
    for period, count in _periods(found, claim):
        for operator in [[name] for name in kept["operators"]] or [[]]:
            yield from tally([*reference, *operator, period], count)


def _kept(found: Found, claim: str) -> Mapping[str, Any]:
    program = program_of(claim)
    own = {"program": program.removeprefix("program:"), "references": 1, "operators": []}
    return found.value("program.tallies", program) or own


def _periods(found: Found, claim: str) -> Iterator[tuple[str, int]]:
    """Each period with what it needs."""
    if not found.by_day(claim):
        wanted = found.wanted(claim)
        yield _("the outing"), int(found.minimum(claim) if wanted is None else wanted)
        return
    for date in found.days():
        yield day_words(date), int(found.minimum(claim))


def tally(whose: Sequence[str], count: int) -> Iterator[dict[str, Any]]:
    """The line of boxes for so many contacts; none where none is wanted, words where they are more than 30.

    Args:
        whose: what the line is for: reference, operator, period.
        count: contacts to mark.

    """
    if count > 0:
        words = ngettext("{count} contact", "{count} contacts", count).format(count=count)
        fits = count <= MOST_BOXES
        yield {
            "label": _("To mark, {whose}: {contacts}.").format(whose=", ".join(whose), contacts=words),
            "groups": _groups(count) if fits else [],
            "words": None if fits else _(TOO_MANY).format(most=MOST_BOXES),
        }


def _groups(count: int) -> list[int]:
    whole, rest = divmod(count, GROUP)
    return [GROUP] * whole + ([rest] if rest else [])
