"""`afield compare`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.options import Force, Now, Plan, day
from afield.core.documents.naming import named_as_given
from afield.core.documents.writing import UsageError, refuse_standing, write_all
from afield.core.engine import Engine
from afield.core.engine import compare as compared
from afield.core.language import _


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("compare")(compare)


def compare(
    plan: Plan,
    base: Annotated[
        str | None, typer.Option("--base", help="Compare with this variant; else with the plan itself.")
    ] = None,
    variant: Annotated[
        list[str] | None, typer.Option("--variant", help="Compare this variant alone; may be given several times.")
    ] = None,
    format: Annotated[str, typer.Option("--format", help="text or json.")] = "text",
    html: Annotated[
        Path | None, typer.Option("--html", "-o", help="Also write it as a page to this file.", show_default=False)
    ] = None,
    now: Now = None,
    force: Force = False,
) -> int:
    """Set a plan and its variants side by side: verdicts, figures, and which differences can be told."""
    if format not in ("text", "json"):
        raise UsageError(f"--format {format} is not known\n    = Write --format text or --format json.")
    if html is not None:
        # Said before the work is done, not after it.
        refuse_standing([html], force)
    asked, engine = day(now), Engine()
    with named_as_given(plan):
        found = compared(plan, engine, base, variant or (), asked)
    _print(found, format)
    if html is not None:
        from afield.core.comparing.page import comparison_html

        write_all({html: comparison_html(found)}, force)
        told = _("{page} is written; print it, or open it on the phone.").format(page=html)
        typer.echo(told, err=format == "json")
    return int(found["exit_status"])


def _print(found: dict[str, object], format: str) -> None:
    from afield.core.comparing.text import comparison_text

    as_json = format == "json"
    typer.echo(json.dumps(found, indent=2, ensure_ascii=False) + "\n" if as_json else comparison_text(found), nl=False)
