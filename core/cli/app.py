"""The commands of `afield`, put together with those that plugins bring."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from afield.core import __version__
from afield.core.cli import briefs, checks, computing, demos, listings, packs, plugin_tools, plans

HELP = "Check a planned portable-radio outing before it leaves home, and print the briefing for the bag."


def application() -> typer.Typer:
    """The application with its own commands."""
    app = typer.Typer(
        help=HELP, add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None, no_args_is_help=True
    )
    app.callback()(_global)
    for module in (demos, plans, checks, briefs, computing, listings):
        module.add_to(app)
    app.add_typer(packs.application(), name="pack")
    app.add_typer(plugin_tools.application(), name="plugin")
    return app


def _global(
    version: Annotated[bool, typer.Option("--version", help="Print the version.", is_eager=True)] = False,
) -> None:
    """Check a planned portable-radio outing before it leaves home, and print the briefing for the bag."""
    if version:
        typer.echo(__version__)
        raise typer.Exit


def command() -> Any:
    """The application as a click command."""
    from typer.main import get_command

    return get_command(application())
