"""An inverse is tried beside its fact: every candidate is judged forward and looked for in the region."""

from __future__ import annotations

import pytest

from afield.core.testing.findings import Finding

from .conftest import Written

PLUGIN = '''
from afield.core.api import NOWHERE, Fragment, fact, hookimpl

LENGTH = {"type": "string", "title": "length", "x-fact": "ladder.length", "x-dimension": "length",
          "x-default-uncertainty": 0.0}

def lengths(wrong):
    def inverse(subject, asked, free, world):
        fits = {"at_most": lambda gap: gap <= asked.limit, "at_least": lambda gap: gap >= asked.limit,
                "below": lambda gap: gap < asked.limit, "above": lambda gap: gap > asked.limit}[asked.comparison]
        found = frozenset(tenth for tenth in free if fits(3 - tenth / 10 + wrong))
        return found or NOWHERE
    return inverse

def gap(name, wrong):
    @fact(name, kind="trip", unit="m", title="gap above the ladder", inverse=lengths(wrong))
    def found(ladder_length: float) -> float:
        """The wall is 3 m high."""
        return 3 - ladder_length
    return found

@hookimpl
def afield_fragments():
    return [Fragment("plan", "/", {"ladder": {"type": "object", "title": "ladder", "properties": {"length": LENGTH}}})]

@hookimpl
def afield_facts():
    return [gap("wall.gap", 0.0), gap("wall.odd", 0.25), gap("wall.free", 0.0)]
'''
PROBES = """
from afield.core.testing.material import Probe

LENGTHS = range(5, 30, 5)
PROBE = Probe(
    facts=("ladder.length",), free=lambda trip: range(60), candidates=lambda trip: LENGTHS,
    patch=lambda tenth: {"ladder": {"length": f"{tenth / 10} m"}}, inside=lambda region, tenth: tenth in region,
)
PROBES = {"wall.gap": PROBE, "wall.odd": PROBE}
"""
FILES = {
    "plugin.py": PLUGIN,
    "checks/probes.py": PROBES,
    "checks/plan.yaml": "trip: Wall\ndate: 2026-06-27\nladder: {length: 2 m}\npacks: [tidy]\n",
    "checks/tidy/pack.yaml": (
        "id: tidy\nversion: 1.0.0\ntitle: Tidy\npublisher: nobody\nlicence: MIT\njudges: trip\nneeds: [ladders]\n"
        "date_basis: local\nreview_every: 365 days\nsources: [{document: Rules, edition: '1', grade: invented}]\n"
    ),
    "checks/tidy/rules.yaml": (
        "rules:\n  - {id: named, title: It has a name, why: So that one finds it., severity: note, for_each: trip,\n"
        "     require: {fact: trip.title, exists: true},\n"
        "     source: {document: Rules, section: '1', grade: invented, last_checked: 2026-01-01}}\n"
    ),
}


@pytest.fixture(scope="module")
def findings(examined: Written) -> dict[str, Finding]:
    found = examined("ladders", FILES)
    return {one.of: one for one in found if one.check == "inverse and forward"}


def test_an_inverse_that_agrees_passes_with_how_many_were_judged(findings: dict[str, Finding]) -> None:
    assert (findings["wall.gap"].outcome, findings["wall.gap"].text) == ("passed", "80 candidates judged both ways")


def test_an_inverse_that_disagrees_is_named_with_the_candidate(findings: dict[str, Finding]) -> None:
    found = findings["wall.odd"]
    assert (found.outcome, found.text) == (
        "failed", "trip: 25 is in the region of at_least 0.75, but judged there it is 0.5",
    )  # fmt: skip


def test_an_inverse_without_a_probe_is_not_looked_at(findings: dict[str, Finding]) -> None:
    assert findings["wall.free"].outcome == "not looked at"
    assert findings["wall.free"].text == "its inverse has no probe: give one in `probes.py` beside the check files"
