"""Turns the marks on a command's parameters into those of typer, which reads the command line and prints the help."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Annotated, Any, get_args, get_origin

import typer

from afield.core.host.parameters import Argument, Option


def for_typer(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function as typer takes it; one that bears typer's own marks stays as it is."""
    signature = inspect.signature(function, eval_str=True)
    parameters = [each.replace(annotation=_typers(each.annotation)) for each in signature.parameters.values()]
    if parameters == list(signature.parameters.values()):
        return function

    def called(**given: Any) -> Any:
        return function(**given)

    called.__name__, called.__doc__ = function.__name__, function.__doc__
    called.__annotations__ = {each.name: each.annotation for each in parameters}
    called.__signature__ = signature.replace(parameters=parameters)  # type: ignore[attr-defined]
    return called


def _typers(annotation: Any) -> Any:
    if get_origin(annotation) is not Annotated:
        return annotation
    base, *marks = get_args(annotation)
    return Annotated[(base, *(_mark(mark) for mark in marks))]


def _mark(mark: Any) -> Any:
    if isinstance(mark, Option):
        return typer.Option(*mark.flags, help=mark.help, metavar=mark.metavar, show_default=mark.show_default)
    if isinstance(mark, Argument):
        return typer.Argument(help=mark.help, metavar=mark.metavar, show_default=mark.show_default)
    return mark
