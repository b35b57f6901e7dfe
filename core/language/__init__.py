"""The language that the reader is spoken to in: English as written, or another for which there are catalogues."""

from afield.core.language.choosing import in_language
from afield.core.language.dates import day_in_words
from afield.core.language.speech import (
    ENGLISH,
    _,
    add_catalogues,
    in_context,
    language,
    languages,
    local_digits,
    marked,
    missing,
    ngettext,
    speaking,
)
from afield.core.language.wording import all_of, any_of, grouped

__all__ = [
    "ENGLISH",
    "_",
    "add_catalogues",
    "all_of",
    "any_of",
    "day_in_words",
    "grouped",
    "in_context",
    "in_language",
    "language",
    "languages",
    "local_digits",
    "marked",
    "missing",
    "ngettext",
    "speaking",
]
