"""A waiver that has ended does not stand in a pack for ever."""

import pytest

from .conftest import Bench
from .test_extending import PACK, found, region

WAIVER = "reason: It is light., granted_by: the region"
UNCITED = ("source-uncited", "pack:region/pack.yaml:11:11")


def waivers(*days: str) -> str:
    return "".join(["waivers:\n", *(f"  - {{rule: lamp, {day}, {WAIVER}}}\n" for day in days)])


def test_one_that_has_ended_is_found(bench: Bench) -> None:
    linted = region(bench, waivers("until: 2026-06-27"))
    told = [each.problem.text() for each in linted.findings if each.code == "lapsed"]
    assert told == [
        "pack:region/rules.yaml:2:25: error lapsed: the waiver of the rule lamp has ended on 2026-06-27\n"
        f"    |   - {{rule: lamp, until: 2026-06-27, {WAIVER}}}\n"
        "    = Have it granted anew and write the later day, or take it out."
    ]
    assert linted.exit_status == 1


@pytest.mark.parametrize("days", [("until: 2026-06-28",), ("until: 2026-01-01", "from: 2026-01-01, until: 2027-01-01")])
def test_one_that_is_in_force_or_followed_is_not(bench: Bench, days: tuple[str, ...]) -> None:
    assert found(region(bench, waivers(*days))) == [UNCITED]


def test_it_may_stand_with_a_reason(bench: Bench) -> None:
    kept = PACK + "lint: [{code: lapsed, rule: lamp, reason: The members are to see it.}]\n"
    linted = region(bench, waivers("until: 2026-01-01"), pack=kept)
    assert found(linted) == [UNCITED]
    assert [(each.finding.code, each.reason) for each in linted.kept] == [("lapsed", "The members are to see it.")]
