"""A record of a log -> when its contact began and ended, in UTC, and its mode."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

from afield.plugins.contacts.adi_file import AdiText, Field, Record

LONGEST = timedelta(minutes=30)
"""A contact that seems longer has a wrong end, which is left out; common practice, no source."""

FIRST_YEAR = 1930
"""Source: ADIF 3.1.x, data type Date: the year is 1930 or later."""


def start_of(text: AdiText, record: Record) -> datetime:
    """When the contact began.

    Raises:
        InputError: no QSO_DATE or TIME_ON, or one that is no date or time.

    """
    for name, example in (("QSO_DATE", "<QSO_DATE:8>20260627"), ("TIME_ON", "<TIME_ON:4>1830")):
        if name not in record:
            at = min((field.at for field in record.values()), default=0)
            text.refuse(at, f"the record has no {name}", f"Add it, such as {example}, or remove the record.")
    return _instant(text, record["QSO_DATE"], "QSO_DATE", record["TIME_ON"], "TIME_ON")


def end_of(text: AdiText, record: Record, start: datetime) -> datetime | None:
    """When the contact ended; None where the record does not say, or says more than 30 minutes after its start.

    A TIME_OFF without its own date that is before TIME_ON is of the next day.

    Raises:
        InputError: no time or date, or a stated date and time before the start.

    """
    if "TIME_OFF" not in record:
        return None
    dated = "QSO_DATE_OFF" in record
    day, name = (record["QSO_DATE_OFF"], "QSO_DATE_OFF") if dated else (record["QSO_DATE"], "QSO_DATE")
    end = _instant(text, day, name, record["TIME_OFF"], "TIME_OFF")
    if end.replace(second=0) < start.replace(second=0) and dated:
        text.refuse(record["TIME_OFF"].at, "the contact ends before it begins", "Mend the times, or remove the end.")
    if end < start:
        # An end to the minute, in the minute of a start to the second, is no earlier.
        end = start if start - end < timedelta(minutes=1) else end + timedelta(days=1)
    return end if end - start <= LONGEST else None


def mode_of(record: Record, known: dict[str, str]) -> str | None:
    """The mode by the words that plans use: the submode if it is one of them (FT4 of MFSK), else the mode."""
    names = [record[name].value.upper() for name in ("SUBMODE", "MODE") if name in record]
    found = next((name for name in names if name in known), names[-1] if names else None)
    return None if found is None else known.get(found, found)


def _instant(text: AdiText, day: Field, day_name: str, time: Field, time_name: str) -> datetime:
    date = _parsed(day.value, r"[0-9]{8}", "%Y%m%d")
    if date is None or date.year < FIRST_YEAR:
        text.refuse(day.at, f'{day_name} "{day.value}" is no date', "Write year, month and day: 20260627.")
    clock = _parsed(time.value, r"[0-9]{4}([0-9]{2})?", "%H%M%S" if len(time.value) == 6 else "%H%M")
    if clock is None:
        text.refuse(time.at, f'{time_name} "{time.value}" is no time of day', "Write hours and minutes in UTC: 1830.")
    return datetime.combine(date.date(), clock.time(), UTC)


def _parsed(value: str, form: str, pattern: str) -> datetime | None:
    if not re.fullmatch(form, value):
        return None
    try:
        return datetime.strptime(value, pattern).replace(tzinfo=UTC)
    except ValueError:
        return None
