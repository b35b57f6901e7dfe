"""Every message of the message files, whole, with its exit status; and what all of them have in common."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from .conftest import Run
from .golden import MESSAGES, Golden, goldens

FAMILIES = sorted(path.stem for path in MESSAGES.glob("*.txt"))
CASES = [(family, case) for family in FAMILIES for case in goldens(family)]
SENTENCE = re.compile(r"    = (?:[A-Z`].*[.?]|(?:.* )?(?:For|for) example: .+|[A-Z].*\.|Write .*[.\"`])")


@pytest.mark.parametrize(("family", "case"), CASES, ids=[f"{family}: {case.name}" for family, case in CASES])
def test_says_exactly_this(family: str, case: Golden, base: Path, run: Run) -> None:
    case.prepare(base)
    status, out, err = run(*case.run)
    said, silent = (err, out) if status == 2 else (out, err)
    assert (status, said, silent) == (case.status, case.text, "")


@pytest.mark.parametrize("family", FAMILIES)
def test_names_its_cases_once(family: str) -> None:
    names = [case.name for case in goldens(family)]
    assert len(set(names)) == len(names) > 5


def test_pins_many_different_messages() -> None:
    faults = [case.text for _, case in CASES if case.status == 2]
    assert len(set(faults)) > 150


def test_never_accepts_what_it_complains_of() -> None:
    # The cases of a pack may come out wrong; everything else here is an error of input.
    assert {case.status for family, case in CASES if family != "cases"} == {2}


@pytest.mark.parametrize(("family", "case"), CASES, ids=[f"{family}: {case.name}" for family, case in CASES])
def test_advice_is_a_sentence(family: str, case: Golden) -> None:
    advice = [line for line in case.text.splitlines() if line.startswith("    = ")]
    assert [line for line in advice if not SENTENCE.fullmatch(line)] == []
    assert bool(advice) == (case.status == 2)


@pytest.mark.parametrize(("family", "case"), CASES, ids=[f"{family}: {case.name}" for family, case in CASES])
def test_what_is_wrong_has_no_full_stop(family: str, case: Golden) -> None:
    first_lines = [line for line in case.text.splitlines() if not line.startswith("    ")]
    assert case.status != 2 or not any(line.endswith(".") for line in first_lines)
