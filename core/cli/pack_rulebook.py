"""`afield pack rulebook`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.options import Force
from afield.core.documents.writing import UsageError, refuse_standing, write_all
from afield.core.engine import Engine

FORMATS = ("html", "text")


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("rulebook")(rulebook)


def rulebook(
    name: Annotated[
        str, typer.Argument(help="An installed pack's name, or a pack's folder or zip file.", show_default=False)
    ],
    output: Annotated[
        Path | None, typer.Option("--output", "-o", help="File to write; else it is printed.", show_default=False)
    ] = None,
    format: Annotated[
        str | None, typer.Option("--format", help="html or text; else by the file's ending.", show_default=False)
    ] = None,
    force: Force = False,
) -> int:
    """Write a pack as a rulebook: its rules in sentences, its limits with dates and sources, examples."""
    chosen = format or ("html" if output is not None and output.suffix in (".html", ".htm") else "text")
    if chosen not in FORMATS:
        raise UsageError(f"--format {chosen} is not known\n    = Write --format html or --format text.")
    if output is not None:
        # Said before the work is done, not after it.
        refuse_standing([output], force)
    text = _made(name, chosen)
    if output is None:
        typer.echo(text, nl=False)
        return 0
    write_all({output: text}, force)
    typer.echo(f"{output} is written; print it, or pass it on.")
    return 0


def _made(name: str, format: str) -> str:
    from afield.core.authoring.rulebook import WrongCases, rulebook_html, rulebook_json, rulebook_text
    from afield.core.cli.packs import named_pack

    engine = Engine()
    pack = named_pack(name, engine)
    try:
        book = rulebook_json(pack, engine.registry)
    except WrongCases as error:
        advice = f"`afield pack test {name}` names them; examples made from them would mislead. Nothing was written."
        raise UsageError(f"{error}\n    = {advice}") from error
    return rulebook_html(book) if format == "html" else rulebook_text(book)
