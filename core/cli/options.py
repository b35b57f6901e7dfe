"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.running import UsageError
from afield.core.documents import InputError, Problem

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


@contextmanager
def named_as_given(plan: Path) -> Iterator[None]:
    """Let messages name the plan by its path as given, so that an editor finds it; reports use its bare name."""
    try:
        yield
    except InputError as error:
        raise InputError([_with_path(problem, plan) for problem in error.problems]) from error


def _with_path(problem: Problem, plan: Path) -> Problem:
    if problem.place.file != plan.name:
        return problem
    advice = problem.advice.replace(f"at {plan.name}:", f"at {plan}:")
    return replace(problem, place=replace(problem.place, file=str(plan)), advice=advice)


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
