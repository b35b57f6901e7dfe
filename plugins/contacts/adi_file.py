"""Reads the records of an ADI file: the tagged text form of the open standard ADIF 3.1.x."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple, NoReturn

from afield.core.api import InputError, Place, Problem

_TAG = re.compile(r"<\s*([A-Za-z0-9_]+)\s*(?::([0-9]{1,9})(?::[^<>:]*)?)?>")
_HEADER_END = re.compile(r"<EOH>", re.IGNORECASE)
_RECORD_END = re.compile(r"<EOR>", re.IGNORECASE)
_SPACE = re.compile(r"\s*")
CUT_OFF = "Delete the record that is not whole, or copy the file again."
READ = ("QSO_DATE", "TIME_ON", "QSO_DATE_OFF", "TIME_OFF", "MODE", "SUBMODE")
"""The fields that runs are made from; after their values nothing may stand that the length leaves out."""


class Field(NamedTuple):
    """A value and the offset of its tag in the text."""

    value: str
    at: int


Record = dict[str, Field]


class AdiText:
    """The text of an ADI file.

    Attributes:
        name: the file as messages show it.
        text: all of it, line ends as they are: lengths count them.
        in_bytes: how many values had a length that counts UTF-8 bytes, where the standard has it in characters.

    """

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        self.in_bytes = 0

    def records(self) -> Iterator[Record]:
        """The records in their order, without the header; empty values are left out.

        Raises:
            InputError: a broken tag, a value that is cut off, a field twice in one record, a record without an end.

        """
        fields: Record = {}
        at = self._start()
        while (at := self.text.find("<", at)) >= 0:
            name, length, after = self._tag(at)
            if name == "EOR":
                yield fields
                fields, at = {}, after
                continue
            if name in fields:
                self.refuse(at, f"{name} stands twice in one record", "Remove one, or add the missing <EOR>.")
            value, after = self._value(at, name, length, after)
            if value:
                fields[name] = Field(value, at)
            at = after
        if fields:
            first = min(field.at for field in fields.values())
            self.refuse(first, "the file ends in the middle of the record that begins here", CUT_OFF)

    def refuse(self, at: int, what: str, advice: str) -> NoReturn:
        """Raises the InputError that points at an offset of the text."""
        lines = _lines(self.text[:at])
        place = Place(self.name, len(lines), len(lines[-1]) + 1)
        raise InputError([Problem(place, what, advice, _lines(self.text)[place.line - 1])])

    def _start(self) -> int:
        """Where the records begin: after the header, which a file that begins with text must have."""
        found = _HEADER_END.search(self.text)
        if found is not None:
            return found.end()
        start = _space_after(self.text, 0)
        if start < len(self.text) and self.text[start] != "<":
            self.refuse(start, "the header has no <EOH>", "Begin with a tag, or end the header with <EOH>.")
        return start

    def _tag(self, at: int) -> tuple[str, int, int]:
        """The tag's name in capitals, the length of its value, and the offset after it."""
        found = _TAG.match(self.text, at)
        name = found[1].upper() if found else ""
        if found is None and ">" not in self.text[at:]:
            self.refuse(at, "the file ends in the middle of a record, within the tag that begins here", CUT_OFF)
        if found is None or (found[2] is None) != (name == "EOR"):
            self.refuse(at, "this is no tag of an ADI file", "A tag is <NAME:LENGTH>, such as <MODE:3>, or <EOR>.")
        return name, int(found[2] or 0), found.end()

    def _value(self, at: int, name: str, length: int, start: int) -> tuple[str, int]:
        """The value and the offset after it, by characters, else by bytes where only that leads to the next tag."""
        ends = [start + length]
        part = self.text[start : start + length]
        if not part.isascii():
            counted = part.encode()[:length].decode("utf-8", "ignore")
            if len(counted.encode()) == length:
                ends.append(start + len(counted))
        fitting = [end for end in ends if end <= len(self.text) and self._tag_follows(end)]
        end = fitting[0] if fitting else ends[0]
        self._check(at, name, start, end, bool(fitting))
        self.in_bytes += end != ends[0]
        return self.text[start:end].strip(), end

    def _check(self, at: int, name: str, start: int, end: int, fits: bool) -> None:
        due, there = end - start, len(self.text) - start
        value = self.text[start:end]
        if due > there and not _RECORD_END.search(value):
            what = f"the file ends in the middle of a record: of {name} {due} characters are due, {there} are there"
            self.refuse(at, what, CUT_OFF)
        if _RECORD_END.search(value):
            self.refuse(at, f"the length of {name} reaches past an <EOR>", "Mend the length, or export the file again.")
        if not fits and (name in READ or not value.isascii()):
            advice = "Mend the length, or export the file again."
            self.refuse(at, f"the length of {name}, {due}, does not lead to the next tag", advice)

    def _tag_follows(self, end: int) -> bool:
        after = _space_after(self.text, end)
        return after == len(self.text) or self.text[after] == "<"


def _space_after(text: str, at: int) -> int:
    found = _SPACE.match(text, at)
    return found.end() if found else at


def _lines(text: str) -> list[str]:
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
