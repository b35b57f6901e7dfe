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
    """Write the briefing for the bag: a page to print, the same as text, the report, and a calendar file."""
    troubles = write_briefing(plan, folder, variant, now, force)
    typer.echo(f"{folder / 'briefing.html'} is written; print it, or open it on the phone.")
    for trouble in troubles:
        typer.echo(trouble, err=True)
    return 4 if troubles else 0


def briefing_paths(folder: Path, engine: Engine) -> list[Path]:
    """Every file that a briefing in the folder may hold."""
    from afield.core.briefing.files import PAGE, offered_files

    return [folder / name for name in (*PAGE, *offered_files(engine.sections))]


def write_briefing(
    plan: Path, folder: Path, variant: str | None, now: str | None, force: bool, engine: Engine | None = None
) -> list[str]:
    """Judge the plan and write briefing.html, briefing.txt, report.json and the files that sections offer.

    Returns:
        In words, which sections failed at their files.

    """
    from afield.core.briefing import briefing_html, briefing_text
    from afield.core.briefing.files import PAGE, section_files

    engine = engine or Engine()
    # Said before the work is done, not after it.
    refuse_standing(briefing_paths(folder, engine), force)
    with named_as_given(plan):
        found = report(judge(load(plan, engine, variant), engine, day(now)), engine, briefing=True)
    texts = (
        briefing_html(found, engine.sections),
        briefing_text(found, engine.sections),
        json.dumps(found, indent=2, ensure_ascii=False) + "\n",
    )
    more, troubles = section_files(found, engine.sections)
    written = {**dict(zip(PAGE, texts, strict=True)), **more}
    write_all({folder / name: text for name, text in written.items()}, force)
    return troubles
