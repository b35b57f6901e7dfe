"""Changes of what a pack says of its program: other values, words left out, days moved, the fact left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from afield.core.authoring.mutation.date_changes import shifted
from afield.core.authoring.mutation.figures import changed_figures
from afield.core.authoring.mutation.mutants import Mutant
from afield.core.facts.declarations import Fact
from afield.core.host.registry import Registry
from afield.core.packs.model import DatedFact, Pack
from afield.core.quantities import QuantityError, parse_quantity

Versions = tuple[DatedFact, ...]


def fact_mutants(pack: Pack, registry: Registry) -> Iterator[Mutant]:
    """Every change of the program facts that the pack writes itself.

    No rule's verdict in a case rests on them, for cases call no plugin: a case tries them by `expect: {program: ...}`.
    """
    document = pack.documents["pack"]
    for name in document.data.get("facts", {}):
        for change, path, versions in _changes(name, pack.facts[name], registry.facts.get(name)):
            changed = replace(pack, facts={**pack.facts, name: versions})
            yield Mutant("fact", name, change, document.place(path), changed, ())


def _changes(name: str, versions: Versions, declared: Fact | None) -> Iterator[tuple[str, Any, Versions]]:
    for index, version in enumerate(versions):
        before, after = versions[:index], versions[index + 1 :]
        since = f" from {version.from_}" if version.from_ else ""
        yield f"{_shown(version)}{since} is dropped", version.value_path, (*before, *after)
        for words, value in _other_values(version.value, declared) if version.limit is None else ():
            changed = replace(version, value=value)
            yield f"{words[0]}{since} {words[1]}", version.value_path, (*before, changed, *after)
    yield from shifted(versions)


def _shown(version: DatedFact) -> str:
    if version.limit is not None:
        return f"limit {version.limit}"
    value = version.value
    return ", ".join(map(str, value)) if isinstance(value, list) else _word(value)


def _word(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def _other_values(value: Any, declared: Fact | None) -> Iterator[tuple[tuple[str, str], Any]]:
    """(what is changed, what becomes of it), and the new value."""
    if isinstance(value, bool):
        yield (_word(value), f"becomes {_word(not value)}"), not value
    elif isinstance(value, list):
        for index, item in enumerate(value if len(value) > 1 else ()):
            yield (str(item), "is dropped"), [*value[:index], *value[index + 1 :]]
    elif declared is not None and declared.type == "text":
        other = next((choice for choice in declared.choices if choice != value), None)
        if other is not None:
            yield (str(value), f"becomes {other}"), other
    elif declared is not None and declared.type == "number":
        yield from _other_numbers(value, declared.unit or "")


def _other_numbers(value: Any, unit: str) -> Iterator[tuple[tuple[str, str], Any]]:
    try:
        quantity = parse_quantity(str(value), unit)
    except QuantityError:
        return
    for printed, figure, new in changed_figures(quantity.digits, quantity.unit):
        yield (str(value), f"becomes {printed}"), f"{figure:f} {new}".rstrip()
