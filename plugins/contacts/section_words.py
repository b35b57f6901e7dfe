"""The words of the section on contacts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from afield.core.api import _, all_of, day_in_words, grouped, local_digits, marked
from afield.plugins.contacts.program_facts import OUTING, UTC_DAY, YEAR

PERIODS = {
    UTC_DAY: marked("{count} contacts in one UTC day"),
    OUTING: marked("{count} contacts over the outing"),
    YEAR: marked("{count} contacts in the calendar year"),
}
WHOSE = {
    "operator": marked("{contacts}, of each operator"),
    "station call": marked("{contacts}, of the station call"),
    "party": marked("{contacts}, of the party"),
}
STILL_WANTED = marked("{contacts}; {count} of them are still wanted")
ASSUMPTIONS = (
    marked(
        "An estimate, to plan with: one outing differs from another far more than these figures show. The log counts."
    ),
    marked("The rate is taken to be the same all the time, and every contact to count."),
    marked(
        "A chance takes in what is not known of the rate; beside it, the chances at both ends of the rate's interval."
    ),
)
PLACED = {
    "start": marked("A contact belongs to the day and the place of its start."),
    "end": marked("A contact belongs to the day and the place of its end."),
}
AGAIN = {
    "after 00:00 UTC": marked("The same station counts again after 00:00 UTC."),
    "per band": marked("The same station counts again on another band."),
    "per band and mode": marked("The same station counts again on another band or in another mode."),
    "never": marked("The same station counts once."),
}
REFERENCES = {
    "one reference": marked("A contact counts for one reference only."),
    "all claimed": marked("A contact counts for every reference that is claimed."),
}
REPEATERS = {
    True: marked("A contact through a repeater counts."), False: marked("A contact through a repeater does not count."),
}  # fmt: skip
WITHIN_PARTY = {
    True: marked("A contact within the party counts."), False: marked("A contact within the party does not count."),
}  # fmt: skip
RULES: dict[str, Mapping[Any, str]] = {
    "placed_by": PLACED, "same_station_again": AGAIN, "one_contact_counts_for": REFERENCES,
    "through_repeaters": REPEATERS, "within_party": WITHIN_PARTY,
}  # fmt: skip
"""What a pack says of contacts -> its value -> the sentence, in the order in which they are printed."""


def day_words(day: str) -> str:
    """A UTC date: "27 June UTC"."""
    return f"{day_in_words(date.fromisoformat(day))} UTC"


def percent_words(percent: float) -> str:
    """A chance to the whole percent, never certain: "88 %", "below 1 %", "above 99 %"."""
    if percent < 1:
        return _("below 1 %")
    return _("above 99 %") if percent > 99 else f"{percent:.0f} %"


def chance_words(record: Mapping[str, Any]) -> str:
    """A chance, and those at the ends of the rate's interval: "88 % (6 % to above 99 %)"."""
    words = percent_words(record["value"])
    if record.get("low") is None or record["low"] == record.get("high"):
        return words
    low, high = (percent_words(record[key]) for key in ("low", "high"))
    return _("{value} ({low} to {high})").format(value=words, low=low, high=high)


def minutes_words(record: Mapping[str, Any] | None) -> str | None:
    """Minutes, with their interval where they have one; None where they are not known."""
    if record is None or record["reason"] is not None:
        return None
    value, low, high = (grouped(record[key]) for key in ("value", "low", "high"))
    if record["low"] == record["high"]:
        return f"{value} min"
    return _("{value} ({low} to {high})").format(value=f"{value} min", low=low, high=high)


def rate_words(rate: Mapping[str, Any]) -> str:
    """The rate with its interval and what it rests on."""
    figures = {name: _few(rate[key]) for name, key in (("rate", "per_h"), ("low", "low_per_h"), ("high", "high_per_h"))}
    words = _("{rate} contacts an hour are expected, {low} to {high} (95 %); {basis}.")
    return words.format(**figures, basis=rate["basis"])


def _few(number: float) -> str:
    return local_digits(f"{number:.1f}".removesuffix(".0") if number < 10 else f"{number:.0f}")


DIVISION = marked(
    "To make it on both UTC days with the same time: {before} min before 00:00 UTC and {after} min after it, with "
    "chances of {first} and {second}, of both {both}."
)
ONE_DAY = marked("All of it in one UTC day would give that day {chance}, and the other no contact.")
CLOCK = marked(
    "That is on the air, without a pause, from {from_local} to {to_local} local time ({from_utc} to {to_utc})."
)
AS_PLANNED = marked("That is the time on the air as planned.")
FITS, FITS_NOT = marked("It fits the plan: {limits}."), marked("It does not fit the plan: {limits}.")
EARLIEST = {
    True: marked("setting up ends at {local} ({utc})"),
    False: marked("the arrival is at {local} ({utc})"),
}
LATEST = {
    True: marked("packing up has to begin at {local} ({utc})"),
    False: marked("the departure is at {local} ({utc})"),
}


def division_words(best: Mapping[str, Any]) -> Iterator[str]:
    """The best division of the time across 00:00 UTC, its times by the clock, and what one UTC day would have."""
    chances = {
        name: percent_words(100 * best[key])
        for name, key in (("first", "chance_before"), ("second", "chance_after"), ("both", "chance_of_both"))
    }
    yield _(DIVISION).format(before=best["minutes_before"], after=best["minutes_after"], **chances)
    if best["clock"]:
        yield from _clock_words(best["clock"])
    yield _(ONE_DAY).format(chance=percent_words(100 * best["chance_in_one"]))


def _clock_words(clock: Mapping[str, Any]) -> Iterator[str]:
    start, end = clock["from"], clock["to"]
    yield _(CLOCK).format(from_local=start["local"], to_local=end["local"], from_utc=start["utc"], to_utc=end["utc"])
    sides = (("earliest", EARLIEST[clock["set_up"]]), ("latest", LATEST[clock["pack_up"]]))
    limits = [_(words).format(**clock[key]) for key, words in sides if clock[key]]
    if clock["as_planned"]:
        yield _(AS_PLANNED)
    elif limits:
        yield _(FITS if clock["fits"] else FITS_NOT).format(limits=all_of(limits))


def want_words(minimum: float, said: Mapping[str, Any], wanted: float | None) -> str:
    """What the claim needs: "14 contacts in one UTC day, of the station call"."""
    words = _(PERIODS[said["period"] or UTC_DAY]).format(count=f"{minimum:.0f}")
    if said["counted_for"]:
        words = _(WHOSE[said["counted_for"]]).format(contacts=words)
    if wanted is not None and wanted != minimum:
        words = _(STILL_WANTED).format(contacts=words, count=f"{wanted:.0f}")
    return f"{words}."


def rules_words(said: Mapping[str, Any]) -> Iterator[str]:
    """What the pack says of contacts, a sentence each."""
    return (_(words[said[key]]) for key, words in RULES.items() if said[key] is not None)
