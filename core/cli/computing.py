"""`afield compute`."""

from __future__ import annotations

import inspect
import json
from collections.abc import Callable
from typing import Annotated, Any

import typer

from afield.core.documents import did_you_mean
from afield.core.documents.writing import UsageError
from afield.core.engine import Engine
from afield.core.host.computations import computations


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("compute")(compute)


def compute(
    name: Annotated[str | None, typer.Argument(help="Name of the computation.", show_default=False)] = None,
    inputs: Annotated[list[str] | None, typer.Argument(help="Its inputs, each as key=value.")] = None,
) -> int:
    """Run one computation, or list them all; with a name alone, say what it does."""
    known = computations(Engine().host)
    if name is None:
        typer.echo("\n".join(f"{name:<40}{summary_of(found)}" for name, found in sorted(known.items())))
        return 0
    if name not in known:
        guess = did_you_mean(name, list(known))
        hint = f'Did you mean "{guess}"?' if guess else "`afield compute` lists them."
        raise UsageError(f"no computation is called {name}\n    = {hint}")
    function = known[name]
    if not inputs:
        typer.echo(f"{name}{inspect.signature(function)}\n\n{inspect.getdoc(function)}")
        return 0
    typer.echo(json.dumps(plain(_called(name, function, inputs)), indent=2, ensure_ascii=False))
    return 0


def summary_of(function: Callable[..., Any]) -> str:
    """First line of the docstring."""
    return (inspect.getdoc(function) or "").split("\n", 1)[0]


def _called(name: str, function: Callable[..., Any], inputs: list[str]) -> Any:
    arguments: dict[str, Any] = {}
    for text in inputs:
        key, value = _argument(text, name, function)
        if key in arguments:
            raise UsageError(f"{name} is given {key} twice\n    = Keep one of the two.")
        arguments[key] = value
    try:
        inspect.signature(function).bind(**arguments)
    except TypeError as error:
        raise UsageError(f"{name}: {error}\n    = Its inputs are {', '.join(_inputs(function))}.") from error
    try:
        return function(**arguments)
    except (ValueError, TypeError, ArithmeticError, LookupError, AttributeError) as error:
        # Whatever it raises here, it does so over the values that were typed.
        raise UsageError(f"{name}: {error}\n    = `afield compute {name}` says what it takes.") from error


def _argument(text: str, name: str, function: Callable[..., Any]) -> tuple[str, Any]:
    key, equals, value = text.partition("=")
    if not equals:
        raise UsageError(f"{text} is no key=value\n    = Write {name} key=value ..., without spaces around the =.")
    parameters = inspect.signature(function).parameters
    if key not in parameters:
        guess = did_you_mean(key, list(parameters))
        hint = f'Did you mean "{guess}"?' if guess else f"Its inputs are {', '.join(parameters)}."
        raise UsageError(f"{name} has no input {key}\n    = {hint}")
    return key, _value(key, value, str(parameters[key].annotation))


def _inputs(function: Callable[..., Any]) -> list[str]:
    """Names of the inputs; those that may be left out in brackets."""
    parameters = inspect.signature(function).parameters.values()
    return [one.name if one.default is one.empty else f"[{one.name}]" for one in parameters]


def _value(key: str, text: str, annotation: str) -> Any:
    """Text for a text parameter; JSON for the rest, so that numbers and lists can be given."""
    if annotation == "str":
        return text
    try:
        value = json.loads(text)
    except (ValueError, RecursionError):
        value = text
    if annotation in ("int", "float") and (isinstance(value, bool) or not isinstance(value, int | float)):
        raise UsageError(f"{key}={text} is no number\n    = Write digits without a unit: the name tells the unit.")
    return value


def plain(value: Any) -> Any:
    """A result as JSON: tuples with names as objects, arrays as lists."""
    if hasattr(value, "_asdict"):
        return {key: plain(inner) for key, inner in value._asdict().items()}
    if hasattr(value, "tolist"):
        return value.tolist()
    if isinstance(value, dict):
        return {str(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    return value
