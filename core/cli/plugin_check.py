"""`afield plugin check`: a plugin by the conformance kit, or a file of check values."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from afield.core.documents import did_you_mean
from afield.core.documents.writing import UsageError
from afield.core.engine import Engine
from afield.core.host.computations import computations
from afield.core.report.statuses import EXIT_CRASH

if TYPE_CHECKING:
    from afield.core.testing.checkfiles import Bindings, CaseResult
    from afield.core.testing.findings import Finding
    from afield.core.testing.material import Material

Imported = TypeVar("Imported")
STATUSES = ("right", "wrong", "unbound input", "no such computation")


def check(
    what: Annotated[str, typer.Argument(help="A plugin's name, or a file of check values.", show_default=False)],
    bindings: Annotated[
        str | None, typer.Option("--bindings", help="What adapts the inputs: a module, its file, or a folder of such.")
    ] = None,
    checks: Annotated[
        Path | None,
        typer.Option("--checks", help="A folder of check files and plans in place of what came with the plugin."),
    ] = None,
) -> int:
    """Try a plugin by the conformance kit, or compare the registered computations with published check values."""
    if Path(what).suffix in (".yaml", ".yml") or "/" in what or Path(what).is_file():
        _refuse(checks is not None, "--checks goes with a plugin's name", "Leave it out, or name a plugin.")
        return _check_file(Path(what), bindings)
    _refuse(bindings is not None, "--bindings goes with a file of check values", "A plugin's are in its `checks`.")
    return _check_plugin(what, checks)


def _refuse(wrong: bool, what: str, advice: str) -> None:
    if wrong:
        raise UsageError(f"{what}\n    = {advice}")


def _check_plugin(name: str, checks: Path | None) -> int:
    from afield.core.testing.conformance import conformance, counted, nothing_ran, told

    engine = Engine()
    material = _material(name, checks, engine)
    failure = engine.registry.broken.get(name)
    if failure is not None:
        typer.echo(f"failed: {failure.text}")
        return EXIT_CRASH
    findings = conformance(name, engine, material)
    typer.echo("\n".join(told(findings)))
    counts = counted(findings)
    words = ", ".join(f"{count} {outcome}" for outcome, count in counts.items())
    typer.echo(f"\n{engine.host.plugins[name]}: {words}")
    if nothing_ran(findings):
        typer.echo("nothing that it computes was called: give it check files and plans in `checks`, or by --checks")
    return _status(findings, engine)


def _material(name: str, checks: Path | None, engine: Engine) -> Material | None:
    if name not in engine.host.plugins:
        guess = did_you_mean(name, engine.host.plugins)
        advice = f"Did you mean {guess}?" if guess else "`afield plugin list` lists them."
        raise UsageError(f"no installed plugin is called {name}\n    = {advice}")
    if checks is None:
        return None
    _refuse(not checks.is_dir(), f"there is no folder {checks}", "Check the path.")
    from afield.core.testing.material import material_in

    return material_in(checks)


def _status(findings: list[Finding], engine: Engine) -> int:
    from afield.core.testing.conformance import counted, nothing_ran

    if engine.failures():
        for failure in engine.failures():
            typer.echo(f"failed: {failure}")
        return EXIT_CRASH
    return 1 if counted(findings)["failed"] or nothing_ran(findings) else 0


def _check_file(file: Path, bindings: str | None) -> int:
    if not file.is_file():
        raise UsageError(f"there is no file {file}\n    = Check the path.")
    results = _results(file, _bindings(bindings, file.name))
    wrong = [result for result in results if result.status in ("wrong", "unbound input")]
    for result in wrong:
        typer.echo(f"{result.id} ({result.computation}): {result.status}: {result.details}")
    counts = {status: sum(result.status == status for result in results) for status in STATUSES}
    typer.echo(", ".join(f"{count} {status}" for status, count in counts.items()))
    return 1 if wrong or not counts["right"] else 0


def _results(file: Path, bindings: ModuleType | Bindings | None) -> list[CaseResult]:
    from ruamel.yaml.error import YAMLError

    from afield.core.testing.checkfiles import run_check_file

    try:
        return run_check_file(file, computations(Engine().host), bindings)
    except (ValueError, LookupError, TypeError, AttributeError, YAMLError) as error:
        what = " ".join(str(error).split())
        advice = "It is YAML with a list `cases:`, each with `id`, `computation`, `inputs` and `expected`."
        raise UsageError(f"{file} is no file of check values: {what}\n    = {advice}") from error


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
