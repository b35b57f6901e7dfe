"""The hash of a rule's meaning changes with what decides, and with nothing else."""

from typing import Any

import pytest

from afield.core.authoring.difference.locking import changes_since, lock_of
from afield.core.authoring.mutation.mutants import mutants_of

LIMITS = {"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]}
RULE = {
    "id": "it", "where": {"fact": "wall.damp", "is": True}, "from": "2023-01-01",
    "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}},
}  # fmt: skip


def hashes(pair: Any, folder: str, rule: Any = RULE, limits: Any = LIMITS, **more: Any) -> dict[str, str]:
    return dict(lock_of(pair.version(folder, rule, limits=limits, **more)).hashes)


@pytest.mark.parametrize(
    "words",
    [
        {"title": "Another"}, {"why": "Because."}, {"if_failed": "Move it."}, {"assumes": ["Nothing."]},
        {"source": {"document": "House rules", "section": "9", "grade": "invented", "last_checked": "2026-05-05"}},
    ],
    ids=lambda words: next(iter(words)),
)  # fmt: skip
def test_wording_and_sources_leave_it_as_it_is(pair: Any, words: Any) -> None:
    assert hashes(pair, "old") == hashes(pair, "new", {**RULE, **words})


def test_digits_that_decide_nothing_leave_it_as_it_is(pair: Any) -> None:
    same = {
        "gap": [{"from": "2024-01-01", "value": "0.50", "unit": "m", "also_printed": [{"value": "1.6", "unit": "ft"}]}]
    }
    assert hashes(pair, "old") == hashes(pair, "new", limits=same)


def test_every_change_that_is_tried_by_cases_changes_it(pair: Any) -> None:
    pack = pair.version("old", RULE, limits=LIMITS)
    before = lock_of(pack)
    mutants = mutants_of(pack, pair.registry)
    assert len(mutants) > 12
    for mutant in mutants:
        assert list(changes_since(before, mutant.pack)) == ["rule it means something else"], mutant.title


def test_the_days_of_a_pack_count(pair: Any) -> None:
    assert hashes(pair, "old") != hashes(pair, "new", date_basis="utc")


def test_what_is_new_and_what_is_gone_is_named(pair: Any) -> None:
    before = lock_of(pair.version("old", RULE, limits=LIMITS))
    after = pair.version("new", {**RULE, "id": "other"}, limits=LIMITS)
    assert list(changes_since(before, after)) == ["rule other is new", "rule it is gone"]
