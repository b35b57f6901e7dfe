"""What is said of the operator's own earlier logs: what counts of them, and what was left out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from afield.core.api import _, any_of, marked, ngettext
from afield.plugins.contacts.computations.rates import time_words
from afield.plugins.contacts.computations.runs import Run

WORDS = {"digital": "digital (FT8, FT4, JS8)"}
"""Mode as it counts -> in words, where that is not the mode itself."""
NOTHING = marked("{log} counts nothing: it has no run of two or more contacts that no earlier log holds")
NOTHING_IN = marked("{log} counts nothing: it has no run of two or more contacts in {modes} that no earlier log holds")
COUNTS = marked("{log}: {contacts} contacts in {runs}, {time}, all modes.")
COUNTS_IN = marked("{log}: {contacts} contacts in {runs}, {time} in {modes}.")
RUNS = marked(
    "Starts at most 30 minutes apart make a run (common practice, no source); its time takes in one mean gap more."
)
HIGHER = marked("{note}; the rate comes out the higher for it")
LATIN = marked("{log}: is not UTF-8 and was read as Latin-1")


class LeftOut(NamedTuple):
    """How much of a log does not count, and why.

    Attributes:
        alone: contacts that tell no time.
        higher: whether the rate comes out the higher for them.
        later: records that are later than the outing.
        others: records in other modes.
        twice: records that stood there before.
        no_end: ends too long after their start.
        in_bytes: lengths that count bytes.
        latin: whether it was read as Latin-1.

    """

    alone: int
    higher: bool
    later: int
    others: int
    twice: int
    no_end: int
    in_bytes: int
    latin: bool


def modes_words(modes: Sequence[str]) -> str:
    """The modes in words: "SSB or CW"; empty for none."""
    return any_of([WORDS.get(mode, mode) for mode in modes]) if modes else ""


def counts_nothing(log: str, modes: str) -> str:
    """Said of a log without a run that tells a rate; no modes are all modes."""
    return _(NOTHING_IN if modes else NOTHING).format(log=log, modes=modes)


def what_counts(log: str, runs: Sequence[Run], modes: str) -> str:
    """Contacts, runs and time of a log, and what a run is."""
    count = ngettext("{count} run", "{count} runs", len(runs)).format(count=len(runs))
    contacts, time = sum(run.contacts for run in runs), time_words(sum(run.hours for run in runs))
    words = _(COUNTS_IN if modes else COUNTS).format(log=log, contacts=contacts, runs=count, time=time, modes=modes)
    return f"{words} {_(RUNS)}"


def left_out(log: str, amounts: LeftOut, modes: str, day: date) -> list[str]:
    """A sentence for each thing that was left out of a log, or read other than it should be."""
    told = [
        (amounts.alone, _alone(amounts)), (amounts.later, _later(amounts.later)), (amounts.others, _others(amounts)),
        (amounts.twice, _twice(amounts.twice)), (amounts.no_end, _no_end(amounts.no_end)),
        (amounts.in_bytes, _in_bytes(amounts.in_bytes)),
    ]  # fmt: skip
    said = [words.format(log=log, count=count, modes=modes, day=day) for count, words in told if count]
    return said + ([_(LATIN).format(log=log)] if amounts.latin else [])


def _alone(amounts: LeftOut) -> str:
    words = ngettext(
        "{log}: {count} contact left out that tell no time (alone, or all begun in one minute)",
        "{log}: {count} contacts left out that tell no time (alone, or all begun in one minute)",
        amounts.alone,
    )
    return _(HIGHER).replace("{note}", words) if amounts.higher else words


def _later(count: int) -> str:
    return ngettext(
        "{log}: {count} record left out that is later than the day of the outing, {day}",
        "{log}: {count} records left out that are later than the day of the outing, {day}",
        count,
    )


def _others(amounts: LeftOut) -> str:
    return ngettext(
        "{log}: {count} record left out that are not in {modes}",
        "{log}: {count} records left out that are not in {modes}",
        amounts.others,
    )


def _twice(count: int) -> str:
    return ngettext(
        "{log}: {count} record left out that stood there, or in a log before, already",
        "{log}: {count} records left out that stood there, or in a log before, already",
        count,
    )


def _no_end(count: int) -> str:
    return ngettext(
        "{log}: {count} end left out, more than 30 minutes after the start",
        "{log}: {count} ends left out, more than 30 minutes after the start",
        count,
    )


def _in_bytes(count: int) -> str:
    return ngettext(
        "{log}: {count} length counted in bytes; the standard has characters",
        "{log}: {count} lengths counted in bytes; the standard has characters",
        count,
    )
