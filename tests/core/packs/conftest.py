"""Packs that extend others, written into the toys' folder."""

import json
from pathlib import Path
from typing import Any

import pytest

Json = dict[str, Any]
GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
FEW = {
    "id": "few", "for_each": "shelf", "severity": "advised",
    "require": {"fact": "shelf.books", "at_most": {"limit": "few"}},
    "if_failed": "{{ short_by }} too many for {{ limit }}.",
}  # fmt: skip
LIMITS = {
    "gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}],
    "few": [{"from": "2024-01-01", "value": "10"}],
}


class Club:
    """A base pack and packs that extend it."""

    def __init__(self, house: Any) -> None:
        self.house = house
        house.pack(GAP, FEW, name="base", version="1.2.0", limits=LIMITS, notice="The base is a sketch.")

    def pack(self, *rules: Json, changes: list[Json] | None = None, **more: Any) -> Path:
        """A pack that extends `base`, if it does not say another; it is called `tidy`, if it does not say otherwise."""
        folder: Path = self.house.pack(*rules, **{"extends": "base", "needs": [], **more})
        if changes is not None:
            path = folder / "rules.yaml"
            path.write_text(json.dumps({**json.loads(path.read_text()), "changes": changes}, indent=1))
        return folder


@pytest.fixture
def club(house: Any) -> Club:
    """The pack `base` in a house, and a way to extend it."""
    return Club(house)
