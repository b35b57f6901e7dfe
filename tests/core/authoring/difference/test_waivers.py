"""A waiver that a pack gains lets through what was required, whatever the replay of cases shows."""

import json
from typing import Any

import pytest

from afield.core.authoring.difference.comparing import difference_of
from afield.core.authoring.difference.locking import changes_since, lock_of
from afield.core.authoring.rulebook import rulebook_json
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": "0.5 m"}}
WORDS = "waived until 2027-01-01 by the landlord: It is let."


def waiver(**more: Any) -> dict[str, Any]:
    return {"rule": "gap", "reason": "It is let.", "granted_by": "the landlord", "until": "2027-01-01", **more}


def club(house: Any, folder: str, *waivers: Any) -> Pack:
    """A pack `tidy` that extends a base and waives a rule of it."""
    house.pack(GAP, name=f"{folder}/base", id="base")
    written = house.pack(name=f"{folder}/tidy", id="tidy", extends="base", needs=[])
    (written / "rules.yaml").write_text(json.dumps({"waivers": list(waivers)} if waivers else {"limits": {}}))
    return load_pack(written, house.engine.registry)


@pytest.mark.parametrize(
    ("before", "after", "effects", "demands", "gained", "lost"),
    [
        ([], [waiver()], ("looser",), "major", (WORDS,), ()),
        ([waiver()], [], ("stricter",), "minor", (), (WORDS,)),
        ([waiver()], [waiver(until="2026-12-01")], ("stricter",), "minor",
         ("waived until 2026-12-01 by the landlord: It is let.",), (WORDS,)),
        ([waiver()], [waiver(), waiver(**{"from": "2027-01-01", "until": "2027-02-01"})], ("looser",), "major",
         ("waived from 2027-01-01 until 2027-02-01 by the landlord: It is let.",), ()),
        ([waiver()], [waiver(reason="It is sold.")], (), "patch",
         ("waived until 2027-01-01 by the landlord: It is sold.",), (WORDS,)),
        ([waiver()], [waiver()], (), "none", (), ()),
    ],
)  # fmt: skip
def test_what_a_waiver_changes(
    house: Any, before: Any, after: Any, effects: Any, demands: str, gained: Any, lost: Any
) -> None:
    found = difference_of(club(house, "old", *before), club(house, "new", *after), house.engine.registry)
    (rule,) = found.rules
    assert (rule.effects, rule.demands, rule.waived, rule.no_longer_waived) == (effects, demands, gained, lost)


def test_the_lock_knows_its_days_and_not_its_words(house: Any) -> None:
    lock = lock_of(club(house, "old", waiver()))
    assert list(changes_since(lock, club(house, "same", waiver(reason="It is sold.")))) == []
    assert list(changes_since(lock, club(house, "later", waiver(until="2027-02-01")))) == [
        "rule gap means something else"
    ]
    assert list(changes_since(lock, club(house, "none"))) == ["rule gap means something else"]


def test_the_rulebook_says_by_whom_it_is_waived(house: Any) -> None:
    book = json.dumps(rulebook_json(club(house, "old", waiver()), house.engine.registry))
    assert "Waived until 2027-01-01 by the landlord (pack tidy 1.0.0): It is let." in book
