"""Says on a terminal how far a long search is; silent in a pipe."""

from __future__ import annotations

import sys
from types import TracebackType

from afield.core.api import _

WIDTH = 60


class Teller:
    """A line on standard error that is written over, and taken away in the end."""

    def __init__(self) -> None:
        self.speaks = sys.stderr.isatty()
        self.said = False

    def __enter__(self) -> Teller:
        return self

    def tell(self, word: str) -> None:
        """Shows the word in place of the last one."""
        if self.speaks:
            self.said = True
            line = _("looking for places: {word}").format(word=word)
            sys.stderr.write(f"\r{line[:WIDTH]:<{WIDTH}}")
            sys.stderr.flush()

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self.said:
            sys.stderr.write(f"\r{'':<{WIDTH}}\r")
            sys.stderr.flush()
