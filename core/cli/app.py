"""The commands of `afield`, put together with those that plugins bring."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, Annotated, Any

import typer

from afield.core import __version__

if TYPE_CHECKING:
    from afield.core.host.hookspecs import Command

HELP = "Check a planned portable-radio outing before it leaves home, and print the briefing for the bag."

COMMANDS = {
    "demo": "demos", "new": "plans", "check": "checks", "why": "checks", "brief": "briefs",
    "compare": "comparisons", "compute": "computing", "facts": "listings", "schema": "listings", "pack": "packs",
    "plugin": "plugin_tools",
}  # fmt: skip
"""Each command's name -> the module of `afield.core.cli` that adds it."""


def application(asked: str = "") -> typer.Typer:
    """The application; where one command is asked for, core's own or a plugin's, only its module is imported."""
    app = typer.Typer(
        help=HELP, add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None, no_args_is_help=True
    )
    app.callback()(_global)
    brought = _commands_of_plugins() if asked not in COMMANDS else []
    if any(command.name == asked for command in brought):
        brought, own = [command for command in brought if command.name == asked], []
    else:
        own = [COMMANDS[asked]] if asked in COMMANDS else list(dict.fromkeys(COMMANDS.values()))
    for name in own:
        import_module(f"afield.core.cli.{name}").add_to(app)
    for command in brought:
        app.command(command.name, help=command.help)(_function_of(command))
    return app


def _commands_of_plugins() -> list[Command]:
    """What plugins bring, by name.

    Raises:
        SetupError: a name that is taken.

    """
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
        typer.echo(f"failed: {failure.text}", err=True)
    return sorted((command for command, _ in brought), key=lambda command: command.name)


def _function_of(command: Command) -> Callable[..., Any]:
    if not isinstance(command.function, str):
        return command.function
    module, _, name = command.function.partition(":")
    function: Callable[..., Any] = getattr(import_module(module), name)
    return function


def _print_version(asked: bool) -> None:
    if asked:
        typer.echo(__version__)
        raise typer.Exit


def _global(
    version: Annotated[
        bool, typer.Option("--version", help="Print the version.", callback=_print_version, is_eager=True)
    ] = False,
    trace: Annotated[
        bool, typer.Option("--trace-hooks", help="Tell every call of a plugin's hook on standard error.")
    ] = False,
    language: Annotated[
        str | None,
        typer.Option("--language", help="Speak this language, such as de; AFIELD_LANGUAGE may name it too."),
    ] = None,
) -> None:
    """Check a planned portable-radio outing before it leaves home, and print the briefing for the bag."""


def command(asked: str = "") -> Any:
    """The application as a click command; `asked` is the name of the command to run, if known."""
    from typer.main import get_command

    return get_command(application(asked))
