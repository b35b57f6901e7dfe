"""`afield pack`."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli import pack_diff, pack_lint, pack_lock, pack_mutate, pack_new, pack_rulebook
from afield.core.documents.writing import UsageError
from afield.core.engine import Engine
from afield.core.packs.cases import CaseResult, run_cases
from afield.core.packs.finding import NoSuchPack, is_path, pack_folder
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack
from afield.core.report.overrides import limit_names

Name = Annotated[
    str, typer.Argument(help="An installed pack's name, or a pack's folder or zip file.", show_default=False)
]


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.add_typer(application(), name="pack")


def application() -> typer.Typer:
    """The commands for rule authors."""
    app = typer.Typer(help="For those who write rule packs.", rich_markup_mode=None, no_args_is_help=True)
    app.callback()(_pack)
    app.command("test")(test)
    pack_lint.add_to(app)
    pack_mutate.add_to(app)
    pack_diff.add_to(app)
    pack_lock.add_to(app)
    pack_new.add_to(app)
    pack_rulebook.add_to(app)
    return app


def _pack() -> None:
    """For those who write rule packs."""


def test(name: Name) -> int:
    """Run a pack's own cases."""
    engine = Engine()
    pack = named_pack(name, engine)
    results = run_cases(pack, engine.registry)
    typer.echo("\n".join(_lines(pack, results)))
    return 0 if results and all(result.right for result in results) else 1


def named_pack(name: str, engine: Engine) -> Pack:
    """The pack of that name, or in that folder or zip file.

    Raises:
        UsageError: there is none.
        InputError: something in it is wrong.

    """
    try:
        folder = pack_folder(name, Path())
        return load_pack(folder, engine.registry, name.rstrip("/") if is_path(name) else None)
    except NoSuchPack as error:
        raise UsageError(f"{error.what}\n    = {error.advice}") from error


def _lines(pack: Pack, results: list[CaseResult]) -> list[str]:
    wrong = [result for result in results if not result.right]
    lines = [
        f"{result.place}: {result.name} ({result.rule}): {text}" for result in wrong for text in result.differences
    ]
    lines += list(_untried(pack, {result.rule for result in results}))
    name = f"{pack.name}, extending {pack.base.name}" if pack.base else str(pack.name)
    if not results:
        return [*lines, f"{name}: nothing ran: the pack has no cases. Write some in cases.yaml."]
    return [*lines, f"{name}: {_cases(len(results) - len(wrong))} right, {len(wrong)} wrong"]


def _untried(pack: Pack, tried: set[str]) -> Iterator[str]:
    """What no case tries: the pack's own rules, and its own limits in the rules that it takes over."""
    for rule in pack.rules:
        if rule.id not in tried and pack.writes(rule):
            yield f"{rule.place}: no case tries the rule {rule.id}"
        elif rule.id not in tried:
            origins = {name: pack.origins[name] for name in limit_names(rule)}
            own = {name: origin.place for name, origin in origins.items() if origin.by == pack.name}
            yield from (f"{place}: no case tries the limit {name} in the rule {rule.id}" for name, place in own.items())


def _cases(count: int) -> str:
    return f"{count} case{'' if count == 1 else 's'}"
