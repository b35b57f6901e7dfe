"""The commands of `afield`, put together with those that plugins bring."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Annotated, Any

import typer

from afield.core import __version__
from afield.core.cli.commands import COMMANDS, commands_of_plugins, function_of
from afield.core.cli.marked import for_typer

if TYPE_CHECKING:
    from afield.core.host.hookspecs import Command

HELP = "Check a planned portable-radio outing before it leaves home, and print the briefing for the bag."


def application(asked: str = "", brought: Sequence[Command] | None = None) -> typer.Typer:
    """The application; where one command is asked for, core's own or a plugin's, only its module is imported.

    Args:
        asked: the name of that command.
        brought: the commands of plugins, where they have been looked for already.

    Raises:
        SetupError: plugins bring commands of one name.

    """
    app = typer.Typer(
        help=HELP, add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None, no_args_is_help=True
    )
    app.callback()(_global)
    brought = commands_of_plugins(asked) if brought is None else brought
    if any(command.name == asked for command in brought):
        brought, own = [command for command in brought if command.name == asked], []
    else:
        own = [COMMANDS[asked]] if asked in COMMANDS else list(dict.fromkeys(COMMANDS.values()))
    for name in own:
        import_module(f"afield.core.cli.{name}").add_to(app)
    for command in brought:
        app.command(command.name, help=command.help)(for_typer(function_of(command)))
    return app


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


def command(asked: str = "", brought: Sequence[Command] | None = None) -> Any:
    """The application as a click command, its arguments as of `application`."""
    from typer.main import get_command

    return get_command(application(asked, brought))
