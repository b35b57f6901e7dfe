"""The words of the section on contacts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from afield.plugins.contacts.program_facts import OUTING, UTC_DAY, YEAR

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
PERIODS = {UTC_DAY: "in one UTC day", OUTING: "over the outing", YEAR: "in the calendar year"}
ASSUMPTIONS = (
    "An estimate, to plan with: one outing differs from another far more than these figures show. The log counts.",
    "The rate is taken to be the same all the time, and every contact to count.",
    "A chance takes in what is not known of the rate; beside it, the chances at both ends of the rate's interval.",
)
AGAIN = {
    "after 00:00 UTC": "The same station counts again after 00:00 UTC.",
    "per band": "The same station counts again on another band.",
    "per band and mode": "The same station counts again on another band or in another mode.",
    "never": "The same station counts once.",
}
REFERENCES = {
    "one reference": "A contact counts for one reference only.",
    "all claimed": "A contact counts for every reference that is claimed.",
}


def day_words(day: str) -> str:
    """A UTC date: "27 June UTC"."""
    found = date.fromisoformat(day)
    return f"{found.day} {MONTHS[found.month - 1]} UTC"


def percent_words(percent: float) -> str:
    """A chance to the whole percent, never certain: "88 %", "below 1 %", "above 99 %"."""
    if percent < 1:
        return "below 1 %"
    return "above 99 %" if percent > 99 else f"{percent:.0f} %"


def chance_words(record: Mapping[str, Any]) -> str:
    """A chance, and those at the ends of the rate's interval: "88 % (6 % to above 99 %)"."""
    words = percent_words(record["value"])
    if record.get("low") is None or record["low"] == record.get("high"):
        return words
    return f"{words} ({percent_words(record['low'])} to {percent_words(record['high'])})"


def minutes_words(record: Mapping[str, Any] | None) -> str | None:
    """Minutes, with their interval where they have one; None where they are not known."""
    if record is None or record["reason"] is not None:
        return None
    words = f"{record['value']:,.0f} min"
    if record["low"] == record["high"]:
        return words
    return f"{words} ({record['low']:,.0f} to {record['high']:,.0f})"


def rate_words(rate: Mapping[str, Any]) -> str:
    """The rate with its interval and what it rests on."""
    figures = " to ".join(_few(rate[key]) for key in ("low_per_h", "high_per_h"))
    return f"{_few(rate['per_h'])} contacts an hour are expected, {figures} (95 %); {rate['basis']}."


def _few(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0") if number < 10 else f"{number:.0f}"


DIVISION = (
    "To make it on both UTC days with the same time: {before} min before 00:00 UTC and {after} min after it, with "
    "chances of {first} and {second}, of both {both}."
)
ONE_DAY = "All of it in one UTC day would give that day {chance}, and the other no contact."
CLOCK = "That is on the air, without a pause, from {from_local} to {to_local} local time ({from_utc} to {to_utc})."
AS_PLANNED = "That is the time on the air as planned."
FITS, FITS_NOT = "It fits the plan: {limits}.", "It does not fit the plan: {limits}."
EARLIEST = {True: "setting up ends at {local} ({utc})", False: "the arrival is at {local} ({utc})"}
LATEST = {True: "packing up has to begin at {local} ({utc})", False: "the departure is at {local} ({utc})"}


def division_words(best: Mapping[str, Any]) -> Iterator[str]:
    """The best division of the time across 00:00 UTC, its times by the clock, and what one UTC day would have."""
    chances = {
        name: percent_words(100 * best[key])
        for name, key in (("first", "chance_before"), ("second", "chance_after"), ("both", "chance_of_both"))
    }
    yield DIVISION.format(before=best["minutes_before"], after=best["minutes_after"], **chances)
    if best["clock"]:
        yield from _clock_words(best["clock"])
    yield ONE_DAY.format(chance=percent_words(100 * best["chance_in_one"]))


def _clock_words(clock: Mapping[str, Any]) -> Iterator[str]:
    start, end = clock["from"], clock["to"]
    yield CLOCK.format(from_local=start["local"], to_local=end["local"], from_utc=start["utc"], to_utc=end["utc"])
    sides = (("earliest", EARLIEST[clock["set_up"]]), ("latest", LATEST[clock["pack_up"]]))
    limits = " and ".join(words.format(**clock[key]) for key, words in sides if clock[key])
    if clock["as_planned"]:
        yield AS_PLANNED
    elif limits:
        yield (FITS if clock["fits"] else FITS_NOT).format(limits=limits)


def want_words(minimum: float, said: Mapping[str, Any], wanted: float | None) -> str:
    """What the claim needs: "14 contacts in one UTC day, of the station call"."""
    period = PERIODS[said["period"] or UTC_DAY]
    whose = f", of the {said['counted_for']}" if said["counted_for"] else ""
    whose = ", of each operator" if said["counted_for"] == "operator" else whose
    rest = f"; {wanted:.0f} of them are still wanted" if wanted is not None and wanted != minimum else ""
    return f"{minimum:.0f} contacts {period}{whose}{rest}."


def rules_words(said: Mapping[str, Any]) -> Iterator[str]:
    """What the pack says of contacts, a sentence each."""
    if said["placed_by"]:
        yield f"A contact belongs to the day and the place of its {said['placed_by']}."
    for key, words in (("same_station_again", AGAIN), ("one_contact_counts_for", REFERENCES)):
        if said[key]:
            yield words[said[key]]
    for key, what in (("through_repeaters", "through a repeater"), ("within_party", "within the party")):
        if said[key] is not None:
            yield f"A contact {what} {'counts' if said[key] else 'does not count'}."
