"""`afield brief`."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from afield.core.cli.options import Force, Now, Plan, Variant, day
from afield.core.documents.naming import named_as_given
from afield.core.documents.writing import refuse_standing, write_all
from afield.core.engine import Engine, judge, load, report
from afield.core.language import _

With = Annotated[
    list[str] | None,
    typer.Option(
        "--with",
        metavar="NAME",
        help="Also make this section, one that is made only where it is asked for; a name that is none lists them.",
        show_default=False,
    ),
]
Set = Annotated[
    list[str] | None,
    typer.Option(
        "--set",
        metavar="NAME.SETTING=VALUE",
        help="Set how such a section is made; a setting that is none lists them.",
        show_default=False,
    ),
]


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("brief")(brief)


def brief(
    plan: Plan,
    folder: Annotated[Path, typer.Option("--output", "-o", help="Folder to write to.")] = Path("briefing"),
    variant: Variant = None,
    now: Now = None,
    with_: With = None,
    set_: Set = None,
    force: Force = False,
) -> int:
    """Write the briefing for the bag: a page to print, the same as text, the report, and a calendar file."""
    from afield.core.briefing.asking import asked_sections

    engine = Engine()
    asked = asked_sections(engine.sections, with_ or (), set_ or ()) if with_ or set_ else {}
    troubles = write_briefing(plan, folder, variant, now, force, engine, asked)
    typer.echo(_("{page} is written; print it, or open it on the phone.").format(page=folder / "briefing.html"))
    for trouble in troubles:
        typer.echo(trouble, err=True)
    return 4 if troubles else 0


def briefing_paths(folder: Path, engine: Engine, asked: Iterable[str] = ()) -> list[Path]:
    """Every file that a briefing in the folder may hold, with the sections that are asked for."""
    from afield.core.briefing.files import PAGE, offered_files

    offered = offered_files(engine.sections).items()
    made = [name for name, section in offered if section.solver is None or section.name in asked]
    return [folder / name for name in (*PAGE, *made)]


def write_briefing(
    plan: Path,
    folder: Path,
    variant: str | None,
    now: str | None,
    force: bool,
    engine: Engine | None = None,
    asked: Mapping[str, Mapping[str, str]] | None = None,
) -> list[str]:
    """Judge the plan and write briefing.html, briefing.txt, report.json and the files that sections offer.

    Returns:
        In words, which sections failed at their files, and what failed while those asked for were solved.

    """
    from afield.core.briefing import briefing_html, briefing_text
    from afield.core.briefing.files import PAGE, section_files

    engine = engine or Engine()
    # Said before the work is done, not after it.
    refuse_standing(briefing_paths(folder, engine, asked or ()), force)
    with named_as_given(plan):
        found = report(judge(load(plan, engine, variant), engine, day(now)), engine, briefing=True, asked=asked)
    texts = (
        briefing_html(found, engine.sections),
        briefing_text(found, engine.sections),
        json.dumps(found, indent=2, ensure_ascii=False) + "\n",
    )
    more, troubles = section_files(found, engine.sections)
    written = {**dict(zip(PAGE, texts, strict=True)), **more}
    write_all({folder / name: text for name, text in written.items()}, force)
    return [*_unsolved(found, asked or ()), *troubles]


def _unsolved(found: Mapping[str, Any], asked: Iterable[str]) -> list[str]:
    """What failed while the sections that are asked for were solved, and which of them are missing all the same."""
    from afield.core.briefing.files import PAGE

    crashes = {solved["name"]: solved["crashes"] for solved in found["solutions"]}
    made = {section["name"] for section in found["sections"]}
    missing = [name for name in asked if name not in made and not crashes[name]]
    return [
        *(crash for name in crashes for crash in crashes[name]),
        *(f"the section {name} is missing: the warnings in {PAGE[1]} say why" for name in missing),
    ]
