"""Days in words."""

from __future__ import annotations

from datetime import date

from afield.core.language.speech import ENGLISH, language

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


def day_in_words(day: date, short: bool = False) -> str:
    """ "28 June", in few letters "28 Jun"; in another language as that writes it (Unicode CLDR, by babel)."""
    if language() == ENGLISH:
        month = MONTHS[day.month - 1]
        return f"{day.day} {month[:3] if short else month}"
    from babel.dates import format_skeleton

    return str(format_skeleton("MMMd" if short else "MMMMd", day, locale=language()))
