"""What a plugin says of what it declares: docstrings with units, errors and source, titles, words of help."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from afield.core.engine import Engine
from afield.core.facts.declarations import Fact
from afield.core.testing.findings import Finding
from afield.core.testing.observing import facts_of

CHECK = "documentation"
UNIT_SUFFIX = re.compile(
    r"_(?:m|km|cm|mm|mil|ft|in|mi|nmi|s|min|h|hours|minutes|days|deg|rad|w|wh|ah|mah|a|ma|v|mv|ohm|hz|khz|mhz|ghz|db|dbm|"
    r"dbi|dbd|c|f|k|kg|g|lb|kn|mph|ms|kmh|hpa|pa|psf|mm2|m2|percent|fraction|ratio|count|per_\w+)$"
)
"""A name that ends so tells its unit."""


def of_documentation(plugin: str, engine: Engine, functions: Mapping[str, Callable[..., Any]]) -> Iterator[Finding]:
    """One finding for each computation, fact, kind, section, question and command of the plugin."""
    for name, function in functions.items():
        yield _finding(name, _of_computation(function))
    for fact in facts_of(plugin, engine):
        yield _finding(fact.name, _of_fact(fact))
    for hook, label, needed in TITLED:
        for owner, items in engine.host.results(hook):
            for item in items if owner.name == plugin else ():
                lacking = [word for word in needed if not getattr(item, word)]
                yield _finding(f"{label} {item.name}", [f"it has no {word}" for word in lacking])


TITLED = (
    ("afield_kinds", "kind", ("title",)),
    ("afield_sections", "section", ("title", "schema", "text")),
    ("afield_questions", "question", ("ask", "example")),
    ("afield_commands", "command", ("help",)),
)
"""Hook, word for what it gives, and what each of its items must say."""


def _finding(of: str, faults: list[str]) -> Finding:
    return Finding(CHECK, of, "failed" if faults else "passed", "; ".join(faults))


def _of_computation(function: Callable[..., Any]) -> list[str]:
    text = inspect.getdoc(function) or ""
    if not text:
        return ["it has no docstring"]
    faults = [] if "Source" in text else ['its docstring names no source ("Source: document, section, edition")']
    if "Raises:" not in text and "raises nothing" not in text.lower():
        faults.append('its docstring does not say what it refuses ("Raises:", or "Raises nothing.")')
    return [*faults, *_without_unit(function, text), *_untyped(function)]


def _without_unit(function: Callable[..., Any], text: str) -> list[str]:
    told = text.partition("Args:")[2]
    numbers = [one for one in _parameters(function) if str(one.annotation) in ("float", "float | None")]
    dumb = [one.name for one in numbers if not UNIT_SUFFIX.search(one.name) and not re.search(rf"\b{one.name}\b", told)]
    return [f"neither the name of {name} nor its docstring tells its unit" for name in dumb]


def _untyped(function: Callable[..., Any]) -> list[str]:
    bare = [one.name for one in _parameters(function) if one.annotation is one.empty]
    return [f"its parameter {name} has no type" for name in bare]


def _parameters(function: Callable[..., Any]) -> list[inspect.Parameter]:
    return list(inspect.signature(function).parameters.values())


def _of_fact(fact: Fact) -> list[str]:
    faults = [] if fact.title and fact.title != fact.name else ["it has no title"]
    if fact.function is not None and not inspect.getdoc(fact.function):
        faults.append("its function has no docstring")
    return faults + [f"its detail {name} has no words" for name, words in fact.detail.items() if not words]
