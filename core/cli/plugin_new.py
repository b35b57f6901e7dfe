"""`afield plugin new`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.options import Force
from afield.core.documents.writing import write_all
from afield.core.engine import Engine


def new(
    name: Annotated[str, typer.Argument(help="Its name, one lower-case word.", show_default=False)],
    folder: Annotated[
        Path | None, typer.Option("--output", "-o", help="Folder to write to; afield-NAME if left out.")
    ] = None,
    force: Force = False,
) -> int:
    """Write a plugin of its own distribution that installs and passes at once, to be changed from there."""
    from afield.core.authoring.plugins.scaffold import folder_for, plugin_files

    texts = plugin_files(name, Engine())
    into = folder_for(name, folder)
    write_all({into / path: text for path, text in texts.items()}, force)
    typer.echo(f"{into}\n    {len(texts)} files of the plugin {name}; README.md says what is in each")
    typer.echo(f"    install it with `pip install -e {into}`, then run `afield plugin check {name}`")
    return 0
