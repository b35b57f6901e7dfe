"""Tells every call of a hook as it happens: which plugin, what came back, how long it took."""

from __future__ import annotations

import time
from typing import Any, TextIO

OPTION = "--trace-hooks"


class Trace:
    """Where calls of hooks are told; nowhere unless it is started."""

    stream: TextIO | None = None

    @classmethod
    def start(cls, stream: TextIO) -> None:
        """Tell every call from now on."""
        cls.stream = stream

    @classmethod
    def stop(cls) -> None:
        """Tell no more calls."""
        cls.stream = None


class Call:
    """One call of a hook, told when it has ended."""

    def __init__(self, hook: str, plugin: object) -> None:
        self._hook, self._plugin = hook, plugin
        # The clock is read for the person who watches; no result depends on it.
        self._begun = time.perf_counter() if Trace.stream else 0.0

    def gave(self, result: list[Any] | None) -> None:
        """It came back with a result."""
        self.came("None" if result is None else f"{len(result)} result{'' if len(result) == 1 else 's'}")

    def raised(self, error: Exception) -> None:
        """It raised."""
        self.came(f"raised {type(error).__name__}: {error}")

    def came(self, what: str) -> None:
        """It ended like this."""
        if Trace.stream:
            took_ms = (time.perf_counter() - self._begun) * 1000
            print(f"{self._hook}: {self._plugin}: {what}, {took_ms:.1f} ms", file=Trace.stream)
