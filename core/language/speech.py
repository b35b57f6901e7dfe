"""Sentences by the gettext catalogues of the program and of each plugin: locale/LANGUAGE/LC_MESSAGES/NAME.mo.

What is written in the code is English and is what the catalogues are asked for. In English nothing is looked up.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gettext import NullTranslations

ENGLISH = "en"
OWN = Path(__file__).parent / "locale"
COMMA_FOR_POINT = frozenset({"cs", "da", "de", "es", "fi", "fr", "it", "nb", "nl", "pl", "pt", "sv"})
"""Languages that write 21,3 (Unicode CLDR, numbers, symbols, decimal)."""

_folders: dict[Path, None] = {OWN: None}


@dataclass
class _Speech:
    """A language with its catalogues, read when the first sentence is asked for, and what none of them holds."""

    language: str
    missing: set[str] = field(default_factory=set)
    read: dict[Path, NullTranslations] = field(default_factory=dict)

    def found(self, text: str, many: str | None, number: int) -> str:
        for folder in _folders:
            catalogue = self._catalogue(folder)
            told = catalogue.gettext(text) if many is None else catalogue.ngettext(text, many, number)
            if told is not text and told is not many:
                return told
        self.missing.add(text)
        return text if many is None or number == 1 else many

    def _catalogue(self, folder: Path) -> NullTranslations:
        if folder not in self.read:
            self.read[folder] = _read(folder, self.language)
        return self.read[folder]


_speech: ContextVar[_Speech | None] = ContextVar("speech", default=None)


def _read(folder: Path, language: str) -> NullTranslations:
    """The catalogues of a folder in one language, one behind the other."""
    from gettext import GNUTranslations, NullTranslations

    found = NullTranslations()
    for path in sorted((folder / language / "LC_MESSAGES").glob("*.mo")):
        with path.open("rb") as stream:
            catalogue = GNUTranslations(stream)
        catalogue.add_fallback(found)
        found = catalogue
    return found


def add_catalogues(folder: Path) -> None:
    """Let sentences be looked up in the catalogues of a folder too; one that does not exist holds none."""
    _folders.setdefault(folder)


def languages() -> list[str]:
    """English, and the languages for which the program has a catalogue of its own."""
    return sorted({ENGLISH, *(path.parent.parent.name for path in OWN.glob("*/LC_MESSAGES/*.mo"))})


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Speak a language for a while; one of `languages()`, others leave the sentences as they are written."""
    token = _speech.set(None if language == ENGLISH else _Speech(language))
    try:
        yield
    finally:
        _speech.reset(token)


def language() -> str:
    """The language spoken now, by its two letters (ISO 639-1)."""
    speech = _speech.get()
    return ENGLISH if speech is None else speech.language


def missing() -> frozenset[str]:
    """What was asked for and is in no catalogue of the language spoken now."""
    speech = _speech.get()
    return frozenset() if speech is None else frozenset(speech.missing)


def _(text: str) -> str:
    """The sentence in the language spoken now; as it is written where no catalogue holds it.

    Places for values are named braces, filled in afterwards: `_("{count} of {all} boxes").format(count=3, all=5)`.
    """
    speech = _speech.get()
    return text if speech is None or not text else speech.found(text, None, 1)


def in_context(text: str) -> str:
    """The words behind their context: "drawing|local" is "local".

    So that a language may have other words where there is less room, or where the same English means something else.
    """
    return _(text).rpartition("|")[2]


def marked(text: str) -> str:
    """The text as it is; it is said later, by `_`, and the catalogues are to hold it."""
    return text


def ngettext(one: str, many: str, number: int) -> str:
    """The sentence for one or for many, as the language counts."""
    speech = _speech.get()
    if speech is None:
        return one if number == 1 else many
    return speech.found(one, many, number)


def local_digits(digits: str) -> str:
    """A number as printed, with the decimal sign of the language spoken now."""
    return digits.replace(".", ",") if language() in COMMA_FOR_POINT else digits
