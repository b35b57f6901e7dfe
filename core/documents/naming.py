"""Lets messages call a plan by the path that it was given by."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from afield.core.documents.places import InputError, Problem


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
