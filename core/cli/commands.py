"""Which commands there are: core's own and those that plugins bring; none of their modules is imported for that."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from afield.core.host.hookspecs import Command

COMMANDS = {
    "demo": "demos", "new": "plans", "check": "checks", "why": "checks", "brief": "briefs",
    "compare": "comparisons", "compute": "computing", "facts": "listings", "schema": "listings", "pack": "packs",
    "plugin": "plugin_tools",
}  # fmt: skip
"""Each command's name -> the module of `afield.core.cli` that adds it."""


def commands_of_plugins(asked: str) -> Sequence[Command]:
    """What plugins bring, by name; they are not looked at where a command of core's own is asked for.

    Raises:
        SetupError: a name that is taken.

    """
    if asked in COMMANDS:
        return ()
    from afield.core.host.loading import SetupError, installed_host

    owners = dict.fromkeys(COMMANDS, "core")
    host = installed_host()
    brought = [(command, plugin) for plugin, commands in host.results("afield_commands") for command in commands]
    for command, plugin in sorted(brought, key=lambda pair: pair[0].name):
        if command.name in owners:
            what = f"the command {command.name} is brought by {owners[command.name]} and by {plugin}"
            raise SetupError(what, "Uninstall or rename one of them.")
        owners[command.name] = str(plugin)
    for failure in host.failures:
        print(f"failed: {failure.text}", file=sys.stderr)
    return sorted((command for command, _ in brought), key=lambda command: command.name)


def function_of(command: Command) -> Callable[..., Any]:
    """The function of a plugin's command, imported if it is given by its address."""
    if not isinstance(command.function, str):
        return command.function
    module, _, name = command.function.partition(":")
    function: Callable[..., Any] = getattr(import_module(module), name)
    return function
