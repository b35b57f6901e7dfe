"""`afield plugin`."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from afield.core.documents.writing import UsageError
from afield.core.engine import Engine
from afield.core.host.computations import computations
from afield.core.host.hookspecs import Hooks

if TYPE_CHECKING:
    from afield.core.testing.checkfiles import Bindings, CaseResult


Imported = TypeVar("Imported")


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.add_typer(application(), name="plugin")


def application() -> typer.Typer:
    """The commands for plugin authors."""
    app = typer.Typer(help="For those who write plugins.", rich_markup_mode=None, no_args_is_help=True)
    app.callback()(_plugin)
    app.command("list")(list_plugins)
    app.command("check")(check)
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


def check(
    file: Annotated[Path, typer.Argument(help="A file of check values.", show_default=False)],
    bindings: Annotated[
        str | None, typer.Option("--bindings", help="What adapts the inputs: a module, its file, or a folder of such.")
    ] = None,
) -> int:
    """Compare the registered computations with published check values."""
    if not file.is_file():
        raise UsageError(f"there is no file {file}\n    = Check the path.")
    results = _results(file, _bindings(bindings, file.name))
    wrong = [result for result in results if result.status in ("wrong", "unbound input")]
    for result in wrong:
        typer.echo(f"{result.id} ({result.computation}): {result.status}: {result.details}")
    counted = {status: sum(result.status == status for result in results) for status in STATUSES}
    typer.echo(", ".join(f"{count} {status}" for status, count in counted.items()))
    return 1 if wrong or not counted["right"] else 0


def _results(file: Path, bindings: ModuleType | Bindings | None) -> list[CaseResult]:
    from ruamel.yaml.error import YAMLError

    from afield.core.testing.checkfiles import run_check_file

    try:
        return run_check_file(file, computations(Engine().host), bindings)
    except (ValueError, LookupError, TypeError, AttributeError, YAMLError) as error:
        what = " ".join(str(error).split())
        advice = "It is YAML with a list `cases:`, each with `id`, `computation`, `inputs` and `expected`."
        raise UsageError(f"{file} is no file of check values: {what}\n    = {advice}") from error


STATUSES = ("right", "wrong", "unbound input", "no such computation")


def _bindings(name: str | None, check_file: str) -> ModuleType | Bindings | None:
    from afield.core.testing.checkfiles import load_bindings

    if name is None:
        return None
    path = Path(name)
    if path.is_dir():
        return _imported(name, lambda: load_bindings(path, check_file))
    if path.suffix != ".py":
        sys.path.insert(0, str(Path.cwd()))
        return _imported(name, lambda: importlib.import_module(name))
    return _imported(name, lambda: _from_file(path))


def _imported(name: str, get: Callable[[], Imported]) -> Imported:
    """What `get` imports; whatever the module raises is said of it."""
    try:
        return get()
    except UsageError:
        raise
    except Exception as error:
        what = f"the bindings {name} cannot be imported: {type(error).__name__}: {error}"
        raise UsageError(f"{what}\n    = Name a module, its .py file, or a folder of such.") from error


def _from_file(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    if spec is None or spec.loader is None or not path.is_file():
        raise UsageError(f"there is no file {path}\n    = Name the bindings' module, or its .py file.")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
