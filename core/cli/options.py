"""Options that several commands share."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from afield.core.documents.writing import UsageError

Plan = Annotated[Path, typer.Argument(help="The plan, a YAML file.", show_default=False)]
Variant = Annotated[str | None, typer.Option("--variant", help="Judge this variant of the plan.", show_default=False)]
Now = Annotated[
    str | None,
    typer.Option("--now", help="The day by which sources count as checked too long ago; else the trip's date."),
]
Strict = Annotated[
    bool, typer.Option("--strict", help="Let open checklist items that are required count in the exit status.")
]
Force = Annotated[bool, typer.Option("--force", help="Write over files that stand already.")]


def day(text: str | None) -> date | None:
    """The day that `--now` names.

    Raises:
        UsageError: it is no date.

    """
    if text is None:
        return None
    refuse_no_date("--now", text)
    return date.fromisoformat(text)


def refuse_no_date(flag: str, text: str) -> None:
    """Raise UsageError where the flag's text is no date as a plan writes it."""
    from afield.core.documents.schema_formats import format_fault

    fault = format_fault(text, "date")
    if fault:
        raise UsageError(f"{flag}: {fault[0]}\n    = {fault[1]}")
