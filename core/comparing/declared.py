"""What the plugins compare, checked to be there, and their own words, each asked for in its own try."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from afield.core.documents import did_you_mean
from afield.core.frozen import frozen
from afield.core.host.hookspecs import Comparison
from afield.core.host.loading import Host, PluginInfo, SetupError
from afield.core.host.registry import Registry
from afield.core.language import _, marked

Json = dict[str, Any]
FAILED = marked("cannot tell: plugin failed")


@frozen
class Declared:
    """A comparison with the plugin that brings it."""

    comparison: Comparison
    plugin: PluginInfo


@dataclass
class OwnWords:
    """Asks plugins for their own words; one that raises is kept in `failures`, and its words say that it failed."""

    failures: list[str] = field(default_factory=list)

    def of_record(self, declared: Declared, record: Mapping[str, Any]) -> str | None:
        """The plugin's words for a known record; None where it has none of its own."""
        words = declared.comparison.words
        return None if words is None else self._asked(declared, lambda: _text(words(record)))

    def of_difference(self, declared: Declared, base: Mapping[str, Any], other: Mapping[str, Any]) -> str | None:
        """What the plugin adds to a difference between two known records; None where it adds nothing."""
        difference = declared.comparison.difference
        return None if difference is None else self._asked(declared, lambda: _text_or_none(difference(base, other)))

    def _asked(self, declared: Declared, ask: Callable[[], str | None]) -> str | None:
        try:
            return ask()
        except Exception as error:
            failure = _("{plugin} failed at comparing {fact}: {error}").format(
                plugin=declared.plugin, fact=declared.comparison.fact, error=f"{type(error).__name__}: {error}"
            )
            self.failures.append(failure)
            return _(FAILED)


def _text(words: Any) -> str:
    if not isinstance(words, str):
        raise TypeError(f"it returned {words!r}, not a text")
    return words


def _text_or_none(words: Any) -> str | None:
    return None if words is None else _text(words)


def declared_comparisons(host: Host, registry: Registry) -> list[Declared]:
    """Everything that the plugins compare, in order.

    Raises:
        SetupError: a fact that nothing declares, that is not the trip's, or that is named twice.

    """
    brought = [
        Declared(comparison, plugin)
        for plugin, comparisons in host.results("afield_comparisons")
        for comparison in comparisons
    ]
    for declared in brought:
        _refuse_unfit(declared, registry)
    _refuse_twice(brought)
    return sorted(brought, key=lambda one: (one.comparison.order, one.comparison.title, one.comparison.fact))


def _refuse_unfit(declared: Declared, registry: Registry) -> None:
    name = declared.comparison.fact
    found = registry.facts.get(name)
    if found is None and not registry.broken:
        guess = did_you_mean(name, list(registry.facts))
        advice = f"Did you mean {guess}?" if guess else "`afield facts` lists them all."
        raise SetupError(f"{declared.plugin} compares {name}, which nothing declares", advice)
    if found is not None and found.kind != "trip":
        what = f"{declared.plugin} compares {name}, which is a fact of a {found.kind}, not of the trip"
        raise SetupError(what, "Compare a fact of the trip that gathers it.")


def _refuse_twice(brought: Iterable[Declared]) -> None:
    seen: dict[str, PluginInfo] = {}
    for declared in brought:
        name = declared.comparison.fact
        if name in seen:
            what = f"{name} is compared by {seen[name]} and by {declared.plugin}"
            same = f"{declared.plugin} compares {name} twice"
            raise SetupError(same if seen[name] == declared.plugin else what, "Remove one of the two.")
        seen[name] = declared.plugin
