"""Two versions of a toy pack, written into two folders."""

from pathlib import Path
from typing import Any

import pytest

from afield.core.authoring.difference.comparing import Difference, difference_of
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack

Json = dict[str, Any]


class Pair:
    """Writes two versions of the pack `tidy`, and compares them."""

    def __init__(self, house: Any) -> None:
        self.house, self.registry = house, house.engine.registry

    def version(self, folder: str, *rules: Json, version: str = "1.0.0", cases: Any = None, **more: Any) -> Pack:
        written: Path = self.house.pack(*rules, version=version, **more)
        if cases is not None:
            self.house.write(written / "cases.yaml", {"cases": cases})
        place = self.house.folder / folder / "tidy"
        place.parent.mkdir(exist_ok=True)
        written.rename(place)
        return load_pack(place, self.registry)

    def compared(self, old: Json, new: Json) -> Difference:
        """The difference of two versions, each `rules` and what `version` takes."""
        before, after = (
            self.version(folder, *data["rules"], **{key: value for key, value in data.items() if key != "rules"})
            for folder, data in (("old", old), ("new", new))
        )
        return difference_of(before, after, self.registry)

    def effects(self, old: Json, new: Json) -> dict[str, tuple[str, ...]]:
        """Rule -> how it is judged otherwise, of one rule without limits in each version."""
        found = self.compared({"rules": [old]}, {"rules": [new]})
        return {rule.rule.id: rule.effects for rule in found.rules}


@pytest.fixture
def pair(house: Any) -> Pair:
    return Pair(house)
