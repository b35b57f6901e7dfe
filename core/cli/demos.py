"""`afield demo`."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.briefs import BRIEFING, write_briefing
from afield.core.cli.options import Force
from afield.core.cli.output import refuse_standing, write_all


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("demo")(demo)


def demo(
    folder: Annotated[Path, typer.Argument(help="Folder to write to.")] = Path("afield-demo"),
    force: Force = False,
) -> int:
    """Write an invented trip and its briefing, to look at and to change."""
    source = files("afield.programs").joinpath("demo")
    texts = {folder / item.name: item.read_text(encoding="utf-8") for item in source.iterdir() if item.is_file()}
    refuse_standing([folder / "briefing" / name for name in BRIEFING], force)
    write_all(dict(sorted(texts.items())), force)
    write_briefing(folder / "trip.yaml", folder / "briefing", None, None, force)
    typer.echo(f"{folder / 'trip.yaml'}\n    the plan of an invented trip; change it and run `afield check` on it")
    typer.echo(f"{folder / 'briefing' / 'briefing.html'}\n    its briefing; open it in a browser, or print it")
    return 0
