"""Sentences of readers and computations: English as a catalogue of references stores them, said when a fact tells them.

What is read of a file is kept for the whole run and is stored in catalogues, so it may not be in one reader's language.
"""

from __future__ import annotations

from collections.abc import Iterable

from afield.core.api import _, local_digits


class Digits(str):
    """A number as printed in English, of which the decimal sign is changed where another language has another."""


class Note(str):
    """A sentence in English that knows how it is said in another language.

    Attributes:
        sentence: marked, with named braces for the values.
        values: what fills them; a float is printed with up to six figures, `Digits` as they are.

    """

    __slots__ = ("sentence", "values")

    sentence: str
    values: dict[str, object]

    def __new__(cls, sentence: str, **values: object) -> Note:
        """The sentence with its values filled in."""
        shown = {name: f"{value:g}" if isinstance(value, float) else value for name, value in values.items()}
        note = super().__new__(cls, sentence.format(**shown))
        note.sentence, note.values = sentence, values
        return note

    def said(self) -> str:
        """The sentence in the language spoken now."""
        return _(self.sentence).format(**{name: _shown(value) for name, value in self.values.items()})


def _shown(value: object) -> object:
    """A value as it is printed: a figure with the decimal sign of the language, a marked word in the language."""
    if isinstance(value, float):
        return local_digits(f"{value:g}")
    if isinstance(value, Digits):
        return local_digits(value)
    return value.said() if isinstance(value, Note) else value


def said(notes: Iterable[str]) -> tuple[str, ...]:
    """The notes in the language spoken now; a plain text, as from a stored catalogue, stays as it is."""
    return tuple(note.said() if isinstance(note, Note) else str(note) for note in notes)
