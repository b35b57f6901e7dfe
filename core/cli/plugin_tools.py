"""`afield plugin`."""

from __future__ import annotations

import typer

from afield.core.cli.plugin_check import check
from afield.core.cli.plugin_new import new
from afield.core.cli.plugin_reference import reference
from afield.core.engine import Engine
from afield.core.host.hookspecs import Hooks


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.add_typer(application(), name="plugin")


def application() -> typer.Typer:
    """The commands for plugin authors."""
    app = typer.Typer(help="For those who write plugins.", rich_markup_mode=None, no_args_is_help=True)
    app.callback()(_plugin)
    app.command("list")(list_plugins)
    app.command("new")(new)
    app.command("check")(check)
    app.command("reference")(reference)
    return app


def _plugin() -> None:
    """For those who write plugins."""


def list_plugins() -> int:
    """List the installed plugins with the hooks that each implements, and what failed."""
    engine = Engine()
    registry = engine.registry
    for plugin in registry.plugins:
        facts = sum(owner == plugin for name, owner in registry.owners.items() if name in registry.facts)
        hooks = [name for name in vars(Hooks) if name.startswith("afield_") and _implements(engine, plugin.name, name)]
        typer.echo(f"{plugin.name:<16}{plugin.distribution} {plugin.version}, {facts} facts; {', '.join(hooks)}")
    for failure in engine.failures():
        typer.echo(f"failed: {failure}")
    return 4 if engine.failures() else 0


def _implements(engine: Engine, plugin: str, hook: str) -> bool:
    found = getattr(engine.host.manager.hook, hook).get_hookimpls()
    return any(implementation.plugin_name == plugin for implementation in found)
