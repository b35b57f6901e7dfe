"""`afield plugin reference`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.options import Force
from afield.core.documents.writing import write_all
from afield.core.engine import Engine


def reference(
    file: Annotated[
        Path | None, typer.Option("--output", "-o", help="File to write to; else it is printed.", show_default=False)
    ] = None,
    force: Force = False,
) -> int:
    """Print, as Markdown, every hook, kind, fact, computation and schema key that there is, those of plugins too."""
    from afield.core.authoring.plugins.reference import reference_markdown

    engine = Engine()
    text = reference_markdown(engine)
    for failure in engine.failures():
        typer.echo(f"failed: {failure}", err=True)
    if file is None:
        typer.echo(text, nl=False)
    else:
        write_all({file: text}, force)
        typer.echo(f"{file} is written")
    return 4 if engine.failures() else 0
