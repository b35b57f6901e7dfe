"""Every name of the interface for plugins is there, whether it is imported at once or when it is asked for."""

from __future__ import annotations

import subprocess
import sys

import pytest

from afield.core import api


@pytest.mark.parametrize("name", api.__all__)
def test_the_name_is_there(name: str) -> None:
    assert getattr(api, name) is getattr(api, name)


def test_another_name_is_not() -> None:
    with pytest.raises(AttributeError, match=r"module 'afield\.core\.api' has no attribute 'judge_all'"):
        api.judge_all  # noqa: B018


def test_what_is_imported_later_is_listed() -> None:
    later = {name for names in api._LATER.values() for name in names}
    assert later < set(api.__all__)
    assert not later & vars(api).keys()


def test_to_import_it_imports_neither_engine_nor_readers() -> None:
    code = "import afield.core.api, sys; print(*(name for name in sys.modules if name.startswith('afield.core')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    found = set(done.stdout.split())
    assert "afield.core.host.hookspecs" in found
    assert not found & {"afield.core.engine", "afield.core.documents.reading", "afield.core.quantities.units"}
