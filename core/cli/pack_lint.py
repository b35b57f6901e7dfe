"""`afield pack lint`."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from afield.core.cli.options import Force, day
from afield.core.documents import InputError
from afield.core.documents.writing import UsageError, refuse_standing, write_all
from afield.core.engine import Engine, PluginTrouble
from afield.core.report.statuses import EXIT_CRASH

if TYPE_CHECKING:
    from afield.core.authoring.lint.build import Linted

FORMATS = ("text", "json", "sarif", "junit")

Name = Annotated[str, typer.Argument(help="A pack's folder, or an installed pack's name.", show_default=False)]
Output = Annotated[Path | None, typer.Option("--output", "-o", help="Write to this file instead.", show_default=False)]


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("lint")(lint)


def lint(
    name: Name,
    format: Annotated[str, typer.Option("--format", help="text, json, sarif or junit.")] = "text",
    now: Annotated[
        str | None, typer.Option("--now", help="The day from which ages and endings are counted; else today.")
    ] = None,
    output: Output = None,
    force: Force = False,
) -> int:
    """Look a pack through for what loads but does not hold: untried limits, gaps between dates, old sources."""
    if format not in FORMATS:
        advice = "Write --format text, --format json, --format sarif or --format junit."
        raise UsageError(f"--format {format} is not known\n    = {advice}")
    if output is not None:
        # Said before the work is done, not after it.
        refuse_standing([output], force)
    engine = Engine()
    linted = _linted(name, day(now) or date.today(), engine)
    written = _written(linted, format)
    if output is None:
        typer.echo(written, nl=False)
    else:
        from afield.core.authoring.lint.as_text import summary

        write_all({output: written}, force)
        typer.echo(f"{summary(linted)}\n{output} is written")
    for failure in engine.failures():
        typer.echo(f"failed: {failure}", err=True)
    return EXIT_CRASH if engine.failures() else linted.exit_status


def _linted(name: str, now: date, engine: Engine) -> Linted:
    from afield.core.authoring.lint.build import lint as looked_through
    from afield.core.cli.packs import named_pack

    try:
        return looked_through(named_pack(name, engine), engine.registry, now)
    except InputError as error:
        if engine.host.failures:
            raise PluginTrouble(engine.failures(), error) from error
        raise


def _written(linted: Linted, format: str) -> str:
    if format == "junit":
        from afield.core.authoring.lint.as_junit import lint_junit

        return lint_junit(linted)
    if format == "text":
        from afield.core.authoring.lint.as_text import lint_text

        return lint_text(linted)
    return json.dumps(_data(linted, format), indent=2, ensure_ascii=False) + "\n"


def _data(linted: Linted, format: str) -> dict[str, object]:
    if format == "sarif":
        from afield.core.authoring.lint.as_sarif import lint_sarif

        return lint_sarif(linted, Path())
    from afield.core.authoring.lint.as_json import lint_json

    return lint_json(linted)
