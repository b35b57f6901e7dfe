"""Watches a call for what no plugin may do: read the clock, use the network, start another program.

The clock is watched by a profile function, so that it is found however it was imported; a C library that reads it by
itself is not seen. The network is watched, and stopped, by an audit hook of the interpreter.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType
from typing import Any

CLOCKS = {
    "time": {"time", "time_ns", "clock_gettime", "clock_gettime_ns"},
    "datetime": {"now", "utcnow", "today"},
    "date": {"today"},
}
"""Module, or class, -> its functions that read the clock."""
ANY_CLOCK = {"now", "utcnow", "today"}
"""Names of such functions in other libraries."""
OUTWARD = {
    "socket.__new__": "makes a socket",
    "socket.connect": "connects to another machine",
    "socket.getaddrinfo": "looks up a host",
    "socket.gethostbyname": "looks up a host",
    "subprocess.Popen": "starts another program",
    "os.system": "starts another program",
    "os.posix_spawn": "starts another program",
}
"""Audit event (Python's audit events table) -> what it is."""


class Watch:
    """What was seen of the calls that ran under it."""

    active: Watch | None = None
    _hooked = False

    def __init__(self) -> None:
        self.clock: list[str] = []
        self.network: list[str] = []

    def call(self, function: Callable[[], Any]) -> Any:
        """Run the function under watch; one that runs inside another watched call is seen by both."""
        if not Watch._hooked:
            sys.addaudithook(_audit)
            Watch._hooked = True
        outer, profile = Watch.active, sys.getprofile()
        Watch.active = self
        sys.setprofile(self._profile)
        try:
            return function()
        finally:
            sys.setprofile(profile)
            Watch.active = outer
            if outer is not None:
                outer.clock += self.clock
                outer.network += self.network

    def _profile(self, frame: FrameType, event: str, argument: Any) -> None:
        if event == "c_call" and _reads_clock(argument) and not _importing(frame):
            name = f"{_holder(argument)}.{argument.__name__}"
            self.clock.append(f"{name} in {frame.f_globals.get('__name__')}, line {frame.f_lineno}")


def _holder(function: Any) -> str:
    owner = getattr(function, "__self__", None)
    if isinstance(owner, type):
        named = [base.__name__ for base in owner.__mro__ if base.__name__ in CLOCKS]
        return named[0] if named else owner.__name__
    return str(getattr(owner, "__name__", None) or getattr(function, "__module__", "") or "")


def _reads_clock(function: Any) -> bool:
    name = getattr(function, "__name__", "")
    return name in CLOCKS.get(_holder(function), ()) or name in ANY_CLOCK


def _audit(event: str, _arguments: Any) -> None:
    watch = Watch.active
    if watch is not None and event in OUTWARD and not _importing(sys._getframe()):
        watch.network.append(OUTWARD[event])
        raise PermissionError(f"a plugin {OUTWARD[event]}; the conformance kit stops it")


def _importing(frame: FrameType | None) -> bool:
    """Whether a library is being imported: what it does then is done once, and is no part of an answer."""
    while frame is not None:
        if frame.f_code.co_filename.startswith("<frozen importlib"):
            return True
        frame = frame.f_back
    return False
