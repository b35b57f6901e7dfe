"""Where something was written, and what is wrong there."""

from __future__ import annotations

from collections.abc import Iterable

from afield.core.frozen import frozen

_WIDEST_SOURCE = 140
_ESCAPES = {"\n": "\\n", "\r": "\\r", "\t": "\\t"}


@frozen(order=True)
class Place:
    """A position in a file.

    Attributes:
        file: the file's name as shown to the reader.
        line, column: counted from 1; 0 where the file as a whole is meant.

    """

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@frozen
class Problem:
    """One thing that is wrong in what a person wrote.

    Attributes:
        place: where.
        what: what is wrong, without a full stop.
        advice: what to do about it, one or more sentences.
        source: the line as written, "" where there is none to show.

    """

    place: Place
    what: str
    advice: str
    source: str = ""

    def text(self) -> str:
        """Three lines: where and what; the source line; the advice."""
        source = [f"    | {_clipped(self.source, self.place.column)}"] if self.source else []
        return "\n".join([f"{self.place}: {_one_line(self.what)}", *source, f"    = {_one_line(self.advice)}"])


class InputError(Exception):
    """What a person wrote cannot be used.

    Attributes:
        problems: one or more, in the order of their places.

    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sorted(problems, key=lambda problem: problem.place)
        super().__init__(self.text())

    def text(self, verbose: bool = False) -> str:
        """The first problem and the count of the rest; all of them if `verbose`."""
        if verbose or len(self.problems) < 2:
            return "\n".join(problem.text() for problem in self.problems)
        rest = len(self.problems) - 1
        return f"{self.problems[0].text()}\nand {rest} more problem{'s' if rest > 1 else ''}"

    def __str__(self) -> str:
        return self.text()


def _one_line(text: str) -> str:
    """The text with its breaks shown as such: what strangers wrote cannot pass for a line of ours."""
    return "".join(character if character.isprintable() else _ESCAPES.get(character, "�") for character in text)


def _clipped(line: str, column: int) -> str:
    """The part of a long line around the column; characters that could steer a terminal are shown as �."""
    seen = "".join(character if character.isprintable() else " " if character == "\t" else "�" for character in line)
    if len(seen) <= _WIDEST_SOURCE:
        return seen.rstrip()
    start = max(0, min(column - _WIDEST_SOURCE // 2, len(seen) - _WIDEST_SOURCE))
    end = start + _WIDEST_SOURCE
    return f"{'... ' if start else ''}{seen[start:end].strip()}{' ...' if end < len(seen) else ''}"
