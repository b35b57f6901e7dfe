"""`afield demo`."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.briefs import briefing_paths, write_briefing
from afield.core.cli.options import Force
from afield.core.documents.writing import refuse_standing, write_all
from afield.core.engine import Engine
from afield.core.language import _, marked

OPEN_IT = marked("its briefing; open it in a browser, or print it")


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("demo")(demo)


def demo(
    folder: Annotated[Path, typer.Argument(help="Folder to write to.")] = Path("afield-demo"),
    force: Force = False,
) -> int:
    """Write an invented trip and its briefing, to look at and to change."""
    source = files("afield.programs").joinpath("demo")
    texts = {folder / name: text for name, text in _files(source)}
    engine = Engine()
    refuse_standing(briefing_paths(folder / "briefing", engine), force)
    write_all(dict(sorted(texts.items())), force)
    for trouble in write_briefing(folder / "trip.yaml", folder / "briefing", None, None, force, engine):
        typer.echo(trouble, err=True)
    plan, page = _("the plan of an invented trip; change it and run `afield check` on it"), _(OPEN_IT)
    typer.echo(f"{folder / 'trip.yaml'}\n    {plan}\n{folder / 'briefing' / 'briefing.html'}\n    {page}")
    return 0


def _files(source: Traversable, below: str = "") -> Iterator[tuple[str, str]]:
    """Path within the demo and text of every file in it."""
    for item in source.iterdir():
        if item.is_dir():
            yield from _files(item, f"{below}{item.name}/")
        else:
            yield f"{below}{item.name}", item.read_text(encoding="utf-8")
