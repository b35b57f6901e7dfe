"""The German catalogue of the plugin, as the program adds it when it starts."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from afield.core.language import add_catalogues, speaking


@pytest.fixture
def in_german() -> Callable[[], AbstractContextManager[None]]:
    """Speaks German for a while: `with in_german(): ...`."""
    add_catalogues(Path(__file__).parents[3] / "plugins" / "geometry" / "locale")
    return lambda: speaking("de")
