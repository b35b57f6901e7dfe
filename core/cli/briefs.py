"""`afield brief`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.options import Force, Now, Plan, Variant, day
from afield.core.documents.naming import named_as_given
from afield.core.documents.writing import refuse_standing, write_all
from afield.core.engine import Engine, judge, load, report

BRIEFING = ("briefing.html", "briefing.txt", "report.json")
"""What a briefing's folder holds."""


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("brief")(brief)


def brief(
    plan: Plan,
    folder: Annotated[Path, typer.Option("--output", "-o", help="Folder to write to.")] = Path("briefing"),
    variant: Variant = None,
    now: Now = None,
    force: Force = False,
) -> int:
    """Write the briefing for the bag: a page to print, the same as text, and the report that both are made from."""
    write_briefing(plan, folder, variant, now, force)
    typer.echo(f"{folder / 'briefing.html'} is written; print it, or open it on the phone.")
    return 0


def write_briefing(plan: Path, folder: Path, variant: str | None, now: str | None, force: bool) -> None:
    """Judge the plan and write briefing.html, briefing.txt and report.json."""
    from afield.core.briefing import briefing_html, briefing_text

    # Said before the work is done, not after it.
    refuse_standing([folder / name for name in BRIEFING], force)
    engine = Engine()
    with named_as_given(plan):
        found = report(judge(load(plan, engine, variant), engine, day(now)), engine, briefing=True)
    texts = (
        briefing_html(found, engine.sections),
        briefing_text(found, engine.sections),
        json.dumps(found, indent=2, ensure_ascii=False) + "\n",
    )
    write_all({folder / name: text for name, text in zip(BRIEFING, texts, strict=True)}, force)
