"""A call ends at its limit, gives back the system's timer, and a call inside another has no limit of its own."""

from __future__ import annotations

import signal
import sys
import threading
import time
from typing import Any

import pytest

from afield.core.facts.time_limit import SECONDS, VARIABLE, limited, seconds


@pytest.fixture
def short(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, "0.1")


def spinning() -> None:
    while True:
        pass


def deaf() -> None:
    while True:
        try:
            time.sleep(1)
        except Exception:
            continue


def test_a_call_gives_what_its_function_gives() -> None:
    assert limited(max, 3, 5) == 5
    assert limited(dict, a=1) == {"a": 1}
    with pytest.raises(ZeroDivisionError):
        limited(lambda: 1 / 0)


@pytest.mark.usefixtures("short")
@pytest.mark.parametrize("function", [spinning, deaf])
def test_a_call_that_does_not_end_is_ended(function: Any) -> None:
    begun = time.monotonic()
    with pytest.raises(TimeoutError) as caught:
        limited(function)
    assert str(caught.value) == "it took longer than 0.1 s (AFIELD_TIME_LIMIT sets the limit)"
    assert time.monotonic() - begun < 5


@pytest.mark.usefixtures("short")
def test_the_systems_timer_is_given_back() -> None:
    def mine(_number: int, _frame: Any) -> None: ...

    before = signal.signal(signal.SIGALRM, mine)
    try:
        with pytest.raises(TimeoutError):
            limited(deaf)
        assert signal.getsignal(signal.SIGALRM) is mine
        assert signal.getitimer(signal.ITIMER_REAL) == (0.0, 0.0)
    finally:
        signal.signal(signal.SIGALRM, before)


@pytest.mark.usefixtures("short")
def test_a_call_inside_another_shares_its_limit() -> None:
    with pytest.raises(TimeoutError):
        limited(lambda: limited(deaf))
    assert limited(lambda: limited(lambda: 3)) == 3


@pytest.mark.usefixtures("short")
def test_in_another_thread_there_is_no_limit_and_no_error() -> None:
    found: list[int] = []
    thread = threading.Thread(target=lambda: found.append(limited(lambda: time.sleep(0.2) or 7)))
    thread.start()
    thread.join()
    assert found == [7]


def test_ending_the_program_is_an_error() -> None:
    with pytest.raises(RuntimeError, match="it tried to end the program with 0"):
        limited(sys.exit, 0)


@pytest.mark.parametrize(("text", "limit"), [(None, SECONDS), ("0", 0.0), ("2.5", 2.5)])
def test_the_environment_sets_the_limit(monkeypatch: pytest.MonkeyPatch, text: str | None, limit: float) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)
    if text is not None:
        monkeypatch.setenv(VARIABLE, text)
    assert seconds() == limit


@pytest.mark.parametrize("text", ["", "soon", "-1", "nan", "inf"])
def test_a_limit_that_is_none_is_refused(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setenv(VARIABLE, text)
    with pytest.raises(ValueError, match=r"AFIELD_TIME_LIMIT is '.*', not a number of seconds"):
        seconds()
