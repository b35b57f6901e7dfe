"""A fact's function, or a hook, may take so long and no longer: a plugin that hangs is named like one that raises.

The limit holds where the interpreter can interrupt itself: in the main thread of a system with SIGALRM. It cannot end a
call that never comes back to the interpreter, such as an endless loop inside a C library; Ctrl-C or the system must.
Elsewhere (Windows, another thread) there is no limit.
"""

from __future__ import annotations

import math
import os
import signal
import threading
from collections.abc import Callable
from typing import Any, TypeVar

Result = TypeVar("Result")

SECONDS = 60.0
"""What one call may take; common practice, no source: the slowest built-in fact takes some seconds."""
VARIABLE = "AFIELD_TIME_LIMIT"
"""Environment variable with another limit, in seconds; 0 takes the limit away."""
AGAIN_S = 0.1
"""A call that swallows the interruption is interrupted again after this long."""


class _Interrupted(BaseException):
    """Not an Exception, so that a plugin that catches every Exception does not go on for ever."""


def seconds() -> float:
    """The limit in force, in seconds; 0 for none.

    Raises:
        ValueError: the environment variable holds no such number.

    """
    text = os.environ.get(VARIABLE)
    if text is None:
        return SECONDS
    try:
        found = float(text)
    except ValueError:
        found = math.nan
    if not 0 <= found < math.inf:
        raise ValueError(f"{VARIABLE} is {text!r}, not a number of seconds")
    return found


def limited(function: Callable[..., Result], *arguments: Any, **named: Any) -> Result:
    """Call a plugin's function; a call inside another has no limit of its own.

    Raises:
        TimeoutError: it took longer than the limit.
        RuntimeError: it tried to end the program, which would end with the status that the plugin likes.

    """
    result: Result = not_leaving(_timed, function, *arguments, **named)
    return result


def not_leaving(function: Callable[..., Result], *arguments: Any, **named: Any) -> Result:
    """Call a plugin's function that may take as long as it likes: a search, say.

    Raises:
        RuntimeError: as `limited`.

    """
    try:
        return function(*arguments, **named)
    except SystemExit as leaving:
        raise RuntimeError(f"it tried to end the program with {leaving.code!r}") from leaving


def _timed(function: Callable[..., Result], *arguments: Any, **named: Any) -> Result:
    limit = seconds()
    if not limit or _Alarm.running or not _can_interrupt():
        return function(*arguments, **named)
    alarm = _Alarm()
    try:
        alarm.start(limit)
        try:
            return function(*arguments, **named)
        finally:
            alarm.stop()
    except _Interrupted:
        alarm.stop()
        raise TimeoutError(f"it took longer than {limit:g} s ({VARIABLE} sets the limit)") from None


def _can_interrupt() -> bool:
    return hasattr(signal, "SIGALRM") and threading.current_thread() is threading.main_thread()


class _Alarm:
    """The system's timer, given back as it was."""

    running = False

    def __init__(self) -> None:
        self._before: Any = None

    def start(self, limit: float) -> None:
        self._before = signal.signal(signal.SIGALRM, _ring)
        _Alarm.running = True
        signal.setitimer(signal.ITIMER_REAL, limit, AGAIN_S)

    def stop(self) -> None:
        _Alarm.running = False
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, self._before)


def _ring(_number: int, _frame: Any) -> None:
    if _Alarm.running:
        raise _Interrupted
