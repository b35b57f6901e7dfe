"""Toy packs whose changes are tried."""

from pathlib import Path
from typing import Any

import pytest

from afield.core.authoring.mutation.mutants import Mutant, mutants_of
from afield.core.authoring.mutation.trying import Mutation, mutation_of
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack

Json = dict[str, Any]
DAY = "2026-06-27"


class Changed:
    """Writes a pack of rules, limits and cases into a house, and changes it."""

    def __init__(self, house: Any) -> None:
        self.house, self.registry = house, house.engine.registry

    def pack(self, *rules: Json, cases: list[Json] | str = "", reasons: list[Json] | None = None, **more: Any) -> Pack:
        self.folder: Path = self.house.pack(*rules, **more)
        if isinstance(cases, list):
            named = [{"name": f"case {index}", "date": DAY, **case} for index, case in enumerate(cases)]
            self.house.write(self.folder / "cases.yaml", {"cases": named})
        elif cases:
            self.house.write(self.folder / "cases.yaml", f"cases:\n{cases}")
        if reasons is not None:
            self.house.write(self.folder / "mutants.yaml", {"survivors": reasons})
        return load_pack(self.folder, self.registry)

    def mutants(self, *rules: Json, **more: Any) -> list[Mutant]:
        return mutants_of(self.pack(*rules, **more), self.registry)

    def changes(self, *rules: Json, **more: Any) -> list[str]:
        """The changes in words, but for those of severities."""
        return [mutant.change for mutant in self.mutants(*rules, **more) if not mutant.change.startswith("severity")]

    def tried(self, *rules: Json, **more: Any) -> Mutation:
        return mutation_of(self.pack(*rules, **more), self.registry)


@pytest.fixture
def changed(house: Any) -> Changed:
    return Changed(house)
