"""No shipped pack means something else than its lock says under its version."""

from typing import Any

import pytest

from afield.core.authoring.difference.locking import changes_since, read_lock
from afield.core.engine import Engine
from afield.core.packs.finding import installed_packs
from afield.core.packs.loading import load_pack

SHIPPED = {name: folder for name, folder in installed_packs().items() if folder.parent.name == "programs"}


@pytest.fixture(scope="module")
def registry() -> Any:
    return Engine().registry


def test_there_are_shipped_packs() -> None:
    assert {"freight-road", "basin-preserves", "lantern-hills", "gear"} <= SHIPPED.keys()


@pytest.mark.parametrize("name", sorted(SHIPPED))
def test_the_lock_fits(name: str, registry: Any) -> None:
    pack = load_pack(SHIPPED[name], registry)
    lock = read_lock(pack)
    assert lock is not None
    assert (lock.version, list(changes_since(lock, pack))) == (pack.version, [])
