"""`--trace-hooks` tells every call of a hook: the plugin, what came back, how long it took."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import pytest

from afield.core.documents import InputError, Place, Problem
from afield.core.facts.declarations import Kind
from afield.core.host.hookspecs import RESULTS
from afield.core.host.tracing import Trace


@pytest.fixture
def told() -> Iterator[io.StringIO]:
    stream = io.StringIO()
    Trace.start(stream)
    yield stream
    Trace.stop()


def lines(stream: io.StringIO) -> list[str]:
    return [re.sub(r"\d+\.\d ms$", "... ms", line) for line in stream.getvalue().splitlines()]


def boom() -> list[Kind]:
    raise RuntimeError("the shelf fell")


def test_each_call_is_told_with_what_came_back(toys: Any, told: io.StringIO) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf"), Kind("book")]).add("yard", kinds=lambda: [Kind("bench")])
    toys.add("attic", kinds=lambda: None).add("cellar", kinds=boom)
    list(toys.host.results("afield_kinds"))
    assert sorted(lines(told)) == [
        "afield_kinds: plugin attic (toys 1.0): None, ... ms",
        "afield_kinds: plugin cellar (toys 1.0): raised RuntimeError: the shelf fell, ... ms",
        "afield_kinds: plugin house (toys 1.0): 2 results, ... ms",
        "afield_kinds: plugin yard (toys 1.0): 1 result, ... ms",
    ]


def test_a_hook_that_refuses_the_input_is_told_too(toys: Any, told: io.StringIO) -> None:
    def refusing(plan: Any) -> Any:
        raise InputError([Problem(Place("plan.yaml", 1, 1), "no wall", "Write one.", "")])

    toys.add("house", subjects=refusing)
    with pytest.raises(InputError):
        list(toys.host.results("afield_subjects", plan=None))
    assert lines(told)[0].startswith(
        "afield_subjects: plugin house (toys 1.0): raised InputError: plan.yaml:1:1: no wall"
    )


def test_nothing_is_told_unless_it_is_asked_for(toys: Any, capsys: pytest.CaptureFixture[str]) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf")])
    list(toys.host.results("afield_kinds"))
    assert capsys.readouterr() == ("", "")


@pytest.mark.parametrize("arguments", [["--trace-hooks", "facts", "trip."], ["facts", "trip.", "--trace-hooks"]])
def test_the_switch_stands_anywhere_and_what_is_printed_stays_the_same(arguments: list[str]) -> None:
    def run(*given: str) -> subprocess.CompletedProcess[str]:
        code = "from afield.core.cli import main; main()"
        return subprocess.run([sys.executable, "-c", code, *given], capture_output=True, text=True, check=True)

    traced, plain = run(*arguments), run("facts", "trip.")
    assert (traced.stdout, plain.stderr) == (plain.stdout, "")
    hooks = {line.partition(":")[0] for line in traced.stderr.splitlines()}
    assert {"import", "afield_kinds", "afield_fragments", "afield_facts"} <= hooks <= {"import", *RESULTS}
