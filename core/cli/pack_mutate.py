"""`afield pack mutate`."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Annotated

import typer

from afield.core.documents.writing import UsageError
from afield.core.engine import Engine

Name = Annotated[str, typer.Argument(help="An installed pack's name, or a pack's folder.", show_default=False)]
Format = Annotated[str, typer.Option("--format", help="text or json.")]


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("mutate")(mutate)


def mutate(name: Name, format: Format = "text") -> int:
    """Change the pack in every systematic way; its cases must catch each change."""
    from afield.core.authoring.mutation.record import mutation_record, mutation_text
    from afield.core.authoring.mutation.trying import mutation_of
    from afield.core.cli.packs import named_pack

    refuse_format(format)
    engine = Engine()
    pack = named_pack(name, engine)
    with progress_shown() as progress:
        record = mutation_record(mutation_of(pack, engine.registry, progress))
    as_json = format == "json"
    text = json.dumps(record, indent=2, ensure_ascii=False) + "\n" if as_json else mutation_text(record)
    typer.echo(text, nl=False)
    return int(record["exit_status"])


def refuse_format(format: str) -> None:
    """Raise UsageError for a format that is neither text nor json."""
    if format not in ("text", "json"):
        raise UsageError(f"--format {format} is not known\n    = Write --format text or --format json.")


@contextmanager
def progress_shown(what: str = "changes tried") -> Iterator[Callable[[int, int], None]]:
    """What shows how much of the work is done, on a terminal; nothing elsewhere."""
    if not sys.stderr.isatty():
        yield lambda done, of: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, of: bar.update(task, completed=done, total=of)
