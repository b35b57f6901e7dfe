"""`afield facts` and `afield schema`."""

from __future__ import annotations

import json
from typing import Annotated, Any

import typer

from afield.core.documents import did_you_mean
from afield.core.documents.writing import UsageError
from afield.core.engine import Engine
from afield.core.facts.declarations import Fact
from afield.core.facts.graph import inputs_of
from afield.core.host.bundling import SCHEMAS, bundled_schema
from afield.core.host.registry import Registry
from afield.core.quantities import shown_unit


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("facts")(facts)
    app.command("schema")(schema)


def facts(name: Annotated[str | None, typer.Argument(help="A fact, or the beginning of names.")] = None) -> int:
    """List the facts that rules can ask for, or show one with all it rests on."""
    registry = Engine().registry
    if name in registry.facts:
        typer.echo("\n".join(_described(registry.facts[name], registry)))
        return 0
    found = [fact for fact in registry.facts.values() if name is None or fact.name.startswith(name)]
    if not found:
        guess = did_you_mean(str(name), list(registry.facts))
        hint = f'Did you mean "{guess}"?' if guess else "`afield facts` lists them all."
        raise UsageError(f"no fact is called {name}\n    = {hint}")
    for kind in registry.kinds:
        mine = sorted((fact for fact in found if fact.kind == kind), key=lambda fact: fact.name)
        if mine:
            typer.echo(f"{kind}:")
            typer.echo("\n".join(f"  {fact.name:<36}{_type(fact):<16}{fact.title}" for fact in mine))
    return 0


def _type(fact: Fact) -> str:
    return f"number, {shown_unit(fact.unit)}" if fact.type == "number" and fact.unit else fact.type


def _described(fact: Fact, registry: Registry) -> list[str]:
    lines = [f"{fact.name}: {fact.title}", f"  of a {fact.kind}, {_type(fact)}, from {registry.owners[fact.name]}"]
    if fact.choices:
        lines.append(f"  one of: {', '.join(fact.choices)}")
    if fact.tool:
        unit = shown_unit(fact.unit or "")
        lines.append(f"  measured in the field with: {fact.tool.name}, ± {fact.tool.uncertainty:g} {unit} (95 %)")
    if fact.default_uncertainty is not None:
        lines.append(f"  where stated without an uncertainty: ± {fact.default_uncertainty:g} {fact.unit or ''} (95 %)")
    needs = inputs_of(fact)
    lines.append(f"  rests on: {', '.join(needs)}" if needs else f"  {_given(fact)}")
    lines += [f"  detail.{field}: {words}" for field, words in fact.detail.items()]
    return lines


def _given(fact: Fact) -> str:
    if fact.stated:
        return "stated in the plan or by the pack's reference"
    return "stated by the pack" if fact.function is None else "rests on the subject alone"


def schema(name: Annotated[str, typer.Argument(help=f"One of {', '.join(SCHEMAS)}.")]) -> int:
    """Print a JSON Schema in one piece, for editors that check while you type."""
    if name not in SCHEMAS:
        guess = did_you_mean(name, SCHEMAS)
        hint = f'Did you mean "{guess}"?' if guess else f"Write one of {', '.join(SCHEMAS)}."
        raise UsageError(f"no schema is called {name}\n    = {hint}")
    found: dict[str, Any] = bundled_schema(name, Engine().registry)
    typer.echo(json.dumps(found, indent=2, ensure_ascii=False))
    return 0
