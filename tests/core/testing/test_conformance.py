"""The kit finds each fault that a plugin can have, by its check, and counts what it could not look at apart."""

from __future__ import annotations

import pytest

from afield.core.cli.running import status_of
from afield.core.engine import Engine
from afield.core.testing.conformance import conformance, counted, failed, nothing_ran, told
from afield.core.testing.findings import CHECKS, Finding

from .conftest import Written

COMPUTATIONS = '''
"""Computations, each with one fault."""
from __future__ import annotations
import random
import socket
import subprocess
import time
from datetime import date, datetime
from math import nan

PLACES = {"north", "south", "east", "west", "up", "down", "in", "out"}


def by_the_clock(length_m: float) -> float:
    """Source: none. Raises nothing."""
    return length_m + 0.0 * time.time()


def by_the_calendar(length_m: float) -> float:
    """Source: none. Raises nothing."""
    return length_m + 0 * datetime.now().year + 0 * date.today().day


def by_the_network(length_m: float) -> float:
    """Source: none. Raises nothing."""
    try:
        socket.create_connection(("192.0.2.1", 9), 0.1)
    except OSError:
        pass
    return length_m


def by_another_program(length_m: float) -> float:
    """Source: none. Raises nothing."""
    try:
        subprocess.run(["true"])
    except OSError:
        pass
    return length_m


def by_chance(length_m: float) -> float:
    """Source: none. Raises nothing."""
    return random.random()


def by_hash(length_m: float) -> str:
    """Source: none. Raises nothing."""
    return " ".join(PLACES)


def greedy(lengths_m: list[float]) -> float:
    """Source: none. Raises nothing."""
    return lengths_m.pop()


def lenient(length_m: float) -> float:
    """Source: none. Raises nothing."""
    return 2 * length_m


def deaf(length_m: float) -> float:
    """Source: none. Raises nothing."""
    return 1.0 if length_m < 3 else 2.0


def strict(length_m: float, share: float = 0.0) -> dict[str, float]:
    """Twice as much.

    Source: none.

    Args:
        share: of nothing, no unit.

    Raises:
        ValueError: below 0, or no number.

    """
    if not 0 <= length_m <= 1e6 or not 0 <= share <= 1:
        raise ValueError("a length below 0")
    return {"twice_m": 2 * length_m, "around_m": 1 + length_m}


def bare(length, width: float) -> float:
    return length


def wrong(length_m: float) -> float:
    """Source: none. Raises nothing."""
    return 5.0


def never_called(length_m: float) -> float:
    """Source: none. Raises nothing."""
    return 5.0
'''
NAMES = (
    "by_the_clock", "by_the_calendar", "by_the_network", "by_another_program", "by_chance", "by_hash", "greedy",
    "lenient", "deaf", "strict", "bare", "wrong", "never_called",
)  # fmt: skip
PLUGIN = f'''
import numpy
from afield.core.api import Estimate, Fact, Kind, fact, hookimpl
from afield.core.api import Command

@fact("toy.value", kind="trip", unit="m", title="a value")
def toy_value(trip_title: str) -> float:
    """It is always the same."""
    return 3.0

@fact("toy.broken", kind="trip", unit="m", title="")
def toy_broken(trip_title: str) -> float:
    raise RuntimeError("the shelf fell")

@fact("toy.closed", kind="trip", type="opaque", title="an object that nobody can read")
def toy_closed(trip_title: str) -> object:
    """It has no encoder."""
    return object()

@fact("toy.reached", kind="shelf", unit="m", title="of a kind that no plan has")
def toy_reached(subject) -> float:
    """It is never asked."""
    return 1.0

@hookimpl
def afield_kinds():
    return [Kind("shelf")]

@hookimpl
def afield_facts():
    return [toy_value, toy_broken, toy_closed, toy_reached]

@hookimpl
def afield_computations():
    return [f"toy_of_faulty.computations:{{name}}" for name in {NAMES}]

@hookimpl
def afield_commands():
    return [Command("toy", "toy_of_faulty.nowhere:toy", "")]
'''
CALLED = [name for name in NAMES if name not in ("greedy", "never_called", "bare", "strict")]
VALUES = (
    "cases:\n"
    + "".join(
        f"  - {{id: {name}, computation: {name}, inputs: {{length_m: 2}}, expected: {{value: {value}}}}}\n"
        for name, value in {**dict.fromkeys(CALLED, 2), "lenient": 4, "deaf": 1}.items()
    )
    + """
  - {id: greedy, computation: greedy, inputs: {lengths_m: [1, 2]}, expected: {value: 2}}
  - {id: bare, computation: bare, inputs: {length: 1, width: 1}, expected: {value: 1}}
  - {id: strict, computation: strict, inputs: {length_m: 2}, expected: {twice_m: 4}}
  - {id: misspelt, computation: lenent, inputs: {length_m: 2}, expected: {value: 4}}
without: {strict: it has one, nobody: it is not there}
outside:
  - {computation: lenient, inputs: {length_m: -1}}
  - {computation: strict, inputs: {length_m: -1}}
  - {computation: strict, inputs: {length_m: 5}, beside: {length_m: 2}, widens: around_m}
  - {computation: strict, inputs: {length_m: 2}, beside: {length_m: 5}, widens: around_m}
  - {computation: strict}
monotonic:
  - {computation: lenient, input: length_m, from: 0, to: 1, goes: down}
  - {computation: strict, input: length_m, from: 0, to: 1, goes: up, of: twice_m}
  - {computation: strict, input: length_m, from: -1, to: 1, goes: up, of: twice_m}
"""
)
PLAN = "trip: Cellar\ndate: 2026-06-27\npacks: [tidy]\n"
FILES = {
    "plugin.py": PLUGIN,
    "computations.py": COMPUTATIONS,
    "checks/values.yaml": VALUES,
    "checks/torn.yaml": "cases: [\n",
    "checks/plan.yaml": PLAN,
    "checks/plan-torn.yaml": "trip: Attic\n",
    "checks/tidy/pack.yaml": (
        "id: tidy\nversion: 1.0.0\ntitle: Tidy\npublisher: nobody\nlicence: MIT\njudges: trip\nneeds: [faulty]\n"
        "date_basis: local\nreview_every: 365 days\nsources: [{document: Rules, edition: '1', grade: invented}]\n"
    ),
    "checks/tidy/rules.yaml": (
        "rules:\n  - {id: named, title: It has a name, why: So that one finds it., severity: note, for_each: trip,\n"
        "     require: {fact: trip.title, exists: true},\n"
        "     source: {document: Rules, section: '1', grade: invented, last_checked: 2026-01-01}}\n"
    ),
}


@pytest.fixture(scope="module")
def findings(examined: Written) -> list[Finding]:
    return examined("faulty", FILES)


def about(findings: list[Finding], check: str, of: str) -> list[tuple[str, str]]:
    return [(one.outcome, one.text) for one in findings if (one.check, one.of) == (check, of)]


FAULTS = {
    ("registration", "faulty"): "registering it imports numpy: import it in the function that uses it",
    ("documentation", "toy.broken"): "it has no title; its function has no docstring",
    ("documentation", "kind shelf"): "it has no title",
    ("documentation", "command toy"): "it has no help",
    ("documentation", "bare"): "it has no docstring",
    ("check values", "wrong"): "wrong: wrong: value: expected 2, got 5.0, tolerance of the last printed figure",
    ("check values", "never_called"): (
        "it has no check value: give it a case with a source, or say under `without:` why it has none"
    ),
    ("check values", "strict"): "it has check values: take its reason for having none away",
    ("facts of a plan", "faulty"): (
        "plugin faulty (faulty 1.0) failed at toy.broken of trip: RuntimeError: the shelf fell"
    ),
    ("facts of a plan", "toy.closed"): "no report can show its value: declare `encode`",
    ("inputs left alone", "greedy"): "it changes its input lengths_m",
    ("NaN and infinity", "lenient"): "with nan for length_m it gives nan and raises nothing",
    ("NaN and infinity", "deaf"): "with nan for length_m it gives 2.0 and raises nothing",
    ("validity range", "lenient"): "it takes length_m = -1 and gives -2",
    ("validity range", "strict"): "around_m is not wider for length_m = 2 than for length_m = 5",
}  # fmt: skip


@pytest.mark.parametrize(("check", "of"), FAULTS)
def test_each_fault_is_found_and_said(findings: list[Finding], check: str, of: str) -> None:
    assert about(findings, check, of) == [("failed", FAULTS[check, of])]


@pytest.mark.parametrize(
    ("check", "of", "begins"),
    [
        ("no clock", "by_the_clock", "it reads the clock: time.time in toy_of_faulty.computations, line "),
        ("no clock", "by_the_calendar", "it reads the clock: datetime.now in toy_of_faulty.computations, line "),
        ("no network", "by_the_network", "it looks up a host"),
        ("no network", "by_another_program", "it starts another program"),
        ("same answer twice", "by_chance", "first 0."),
        ("same answer with another hash seed", "by_hash", "here "),
        ("check values", "torn.yaml", "it cannot be read: "),
        ("check values", "plan-torn.yaml", "it cannot be read: "),
    ],
)
def test_each_fault_that_is_told_otherwise_each_time_is_found(
    findings: list[Finding], check: str, of: str, begins: str
) -> None:
    ((outcome, text),) = about(findings, check, of)
    assert (outcome, text[: len(begins)]) == ("failed", begins)


def test_what_is_without_fault_passes(findings: list[Finding]) -> None:
    for check in ("no clock", "no network", "same answer twice", "inputs left alone", "NaN and infinity"):
        assert about(findings, check, "strict") == [("passed", "")]
    assert about(findings, "same answer with another hash seed", "lenient") == [("passed", "")]
    assert about(findings, "documentation", "strict") == [("passed", "")]
    assert about(findings, "facts of a plan", "toy.value") == [("passed", "1 of 1 known")]
    assert about(findings, "units there and back", "toy.value") == [("passed", "")]


def test_which_way_a_computation_goes(findings: list[Finding]) -> None:
    assert about(findings, "monotonic", "lenient") == [
        ("failed", "it does not go down at length_m = 0.05: 0, then 0.1")
    ]
    assert about(findings, "monotonic", "strict") == [
        ("passed", "up with length_m"),
        ("failed", "at length_m = -1 it raises ValueError: a length below 0"),
    ]


def test_a_slip_of_the_pen_in_what_is_declared_is_no_silence(findings: list[Finding]) -> None:
    assert about(findings, "check values", "without") == [("failed", "it names nobody, no computation of the plugin")]
    assert about(findings, "check values", "outside") == [
        ("failed", "an entry has no `inputs`: {'computation': 'strict'}")
    ]
    assert about(findings, "check values", "lenent") == [("not looked at", "cases name it, and no plugin computes it")]


def test_what_nothing_calls_is_not_looked_at(findings: list[Finding]) -> None:
    advice = "nothing calls it: give a case in a check file, or a plan that reaches it"
    for check in ("no clock", "same answer twice", "validity range"):
        assert about(findings, check, "never_called") == [("not looked at", advice)]
    unreached = "no plan was read that has a subject of the kind shelf"
    assert about(findings, "facts of a plan", "toy.reached") == [("not looked at", unreached)]


def test_every_check_is_one_of_those_that_are_counted(findings: list[Finding]) -> None:
    assert {one.check for one in findings} <= set(CHECKS)
    assert sum(counted(findings).values()) == len(findings)


def test_what_is_not_looked_at_is_told_once_and_counted_apart(findings: list[Finding]) -> None:
    lines = told(findings)
    assert len([line for line in lines if "never_called: nothing calls it" in line]) <= 2
    assert lines[-1] == "inverse and forward                 nothing of this kind"
    assert any(line.startswith("no clock ") and "2 failed" in line and "not looked at" in line for line in lines)


def test_a_plugin_of_which_nothing_ran_is_never_green(examined: Written) -> None:
    text = (
        "from afield.core.api import hookimpl\n@hookimpl\ndef afield_computations():\n"
        "    return ['toy_of_idle.sums:total']\n"
    )
    sums = 'def total(length_m: float) -> float:\n    """Source: none. Raises nothing."""\n    return length_m\n'
    found = examined("idle", {"plugin.py": text, "sums.py": sums})
    assert counted(found)["failed"] == 0
    assert nothing_ran(found)
    assert failed(found) == ["nothing of the plugin was called"]


def test_a_plugin_that_nobody_installed() -> None:
    with pytest.raises(LookupError, match="no plugin is called nobody"):
        conformance("nobody", Engine())


def test_the_command_tells_it_and_ends_red_where_nothing_ran(
    examined: Written, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "from afield.core.api import Kind, hookimpl\n@hookimpl\ndef afield_kinds():\n"
    text += "    return [Kind('pew', title='pew')]\n"
    examined("hollow", {"plugin.py": text})
    assert status_of(["plugin", "check", "hollow"]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[-2:] == [
        "plugin hollow (hollow 1.0): 2 passed, 0 failed, 0 not looked at",
        "nothing that it computes was called: give it check files and plans in `checks`, or by --checks",
    ]


def test_the_command_ends_red_where_something_failed(
    findings: list[Finding], capsys: pytest.CaptureFixture[str]
) -> None:
    assert status_of(["plugin", "check", "faulty"]) == 1
    assert "failed: no network: by_another_program: it starts another program" in capsys.readouterr().out
    assert findings
