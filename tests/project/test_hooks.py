"""Every hook says when it is called, is used by a built-in plugin or says why not, and has a test."""

from __future__ import annotations

import inspect
from pathlib import Path

import pytest

from afield.core.host.hookspecs import Hooks
from afield.core.host.loading import installed_host

HOOKS = [name for name in vars(Hooks) if name.startswith("afield_")]

UNUSED: dict[str, str] = {}
"""Hooks that no built-in plugin implements, each with the reason why it is there."""


def implemented() -> set[str]:
    """Hooks that an installed plugin implements."""
    host = installed_host()
    return {name for name in HOOKS if getattr(host.manager.hook, name).get_hookimpls()}


@pytest.mark.parametrize("name", HOOKS)
@pytest.mark.parametrize("word", ["When:", "Order:", "None:", "Since:"])
def test_every_hook_is_documented(name: str, word: str) -> None:
    assert word in (inspect.getdoc(getattr(Hooks, name)) or "")


@pytest.mark.parametrize("name", HOOKS)
def test_every_hook_is_typed(name: str) -> None:
    signature = inspect.signature(getattr(Hooks, name))
    given = [parameter for parameter in signature.parameters.values() if parameter.name != "self"]
    assert "| None" in str(signature.return_annotation)
    assert all(parameter.annotation is not inspect.Parameter.empty for parameter in given)


def test_every_hook_is_used_by_a_built_in_plugin_or_says_why_not() -> None:
    assert set(HOOKS) - implemented() == UNUSED.keys()


@pytest.mark.parametrize("name", HOOKS)
def test_every_hook_has_a_test(name: str, all_files: list[Path], root: Path) -> None:
    tests = [path for path in all_files if path.match("test_*.py") and path.parts[:2] != ("tests", "project")]
    assert [path for path in tests if name in (root / path).read_text(encoding="utf-8")]


@pytest.mark.parametrize("name", HOOKS)
def test_every_hook_is_in_the_table_for_contributors(name: str, root: Path) -> None:
    assert f"| `{name}` |" in (root / "DEVELOPERS.md").read_text(encoding="utf-8")
