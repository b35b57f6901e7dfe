"""Starters: rules that a new pack can begin with, each with the question for its figure.

They are data, beside the installed packs (`starters/NAME.yaml`): what the rules of the trade compare is not core's to
know.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from typing import Any

from afield.core.documents import InputError, check_schema, read_document
from afield.core.frozen import frozen
from afield.core.host.composition import shipped_schema
from afield.core.host.registry import Registry
from afield.core.packs.finding import roots
from afield.core.packs.loading import common_schemas


@frozen
class Starter:
    """One rule that is offered; what each key means stands in schemas/starter.json."""

    id: str
    order: int
    judges: tuple[str, ...]
    needs: tuple[str, ...]
    ask: str
    example: str
    rule: str
    limit: str
    title: str
    why: str
    severity: str
    fact: str
    comparison: str
    assumes: tuple[str, ...]
    if_failed: str
    whole: bool = False
    for_each: str | None = None
    where: Mapping[str, str] | None = None
    greatest: str | None = None
    decision: str = "guarded"
    bound: str | None = None
    if_cannot_tell: str | None = None
    program: Mapping[str, Any] = field(default_factory=dict)
    reference: Mapping[str, Any] | None = None
    shape: Mapping[str, Any] | None = None

    def asks_facts(self) -> set[str]:
        """The facts that its rule and its program facts name."""
        return {self.fact, *self.program, *([self.where["fact"]] if self.where else [])}


def offered_starters(registry: Registry) -> list[Starter]:
    """The starters of installed distributions whose facts are declared here, in the order of their questions.

    Raises:
        InputError: a starter that its schema refuses.

    """
    found = [_read(path) for root in roots() for path in sorted(root.glob("starters/*.yaml"))]
    known = [starter for starter in found if starter.asks_facts() <= set(registry.facts)]
    return sorted(known, key=lambda starter: (starter.order, starter.id))


def _read(path: Path) -> Starter:
    document = read_document(path, f"starters/{path.name}")
    problems = check_schema(document, shipped_schema("starter"), common_schemas())
    if problems:
        raise InputError(problems)
    data: dict[str, Any] = {name: _kept(value) for name, value in document.data.items()}
    return Starter(**data)


def _kept(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value
