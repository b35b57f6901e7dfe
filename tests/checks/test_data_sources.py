"""The open data under tests/data: each with its source and licence, and all of it small."""

from __future__ import annotations

from pathlib import Path

import pytest

DATA = Path(__file__).parents[1] / "data"
FOLDERS = sorted(path for path in DATA.iterdir() if path.is_dir())
GREATEST_TOTAL_BYTES = 3_000_000


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
@pytest.mark.parametrize("heading", ["Source", "Version", "Licence", "Cut"])
def test_every_data_set_states_where_it_is_from(folder: Path, heading: str) -> None:
    assert f"- {heading}: " in (folder / "SOURCE.md").read_text(encoding="utf-8")


def test_the_data_are_small() -> None:
    assert FOLDERS
    assert sum(path.stat().st_size for path in DATA.rglob("*") if path.is_file()) < GREATEST_TOTAL_BYTES
