"""Everything that the loaded plugins declare, checked to fit together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from afield.core.documents import did_you_mean
from afield.core.facts.declarations import Each, Fact, Kind
from afield.core.facts.graph import fact_cycle, first_cycle, kinds_around
from afield.core.host.fragments import kinds_by_path, stated_facts, stated_kinds
from afield.core.host.hookspecs import Fragment
from afield.core.host.loading import Host, PluginInfo, SetupError

CORE = PluginInfo("core", "afield", "")
CORE_KINDS = (
    Kind("trip", (), "trip"),
    Kind("program", ("trip",), "award program"),
    Kind("claim", ("program",), "claim"),
)
CORE_FACTS = (
    Fact("trip.title", "trip", "text", title="the trip's name", exact=True, stated=True),
    Fact("trip.date", "trip", "text", title="local date of arrival", exact=True, stated=True),
    Fact("claim.reference", "claim", "text", title="the claimed reference", exact=True, stated=True),
    Fact("reference.title", "claim", "text", title="the reference's name", exact=True, stated=True),
)


@dataclass
class Registry:
    """What is declared, by whom.

    Attributes:
        host: the loaded plugins.
        kinds, facts: by name.
        owners: fact or kind name -> plugin.
        fragments: (plugin, fragment) in order of loading.

    """

    host: Host
    kinds: dict[str, Kind] = field(default_factory=dict)
    facts: dict[str, Fact] = field(default_factory=dict)
    owners: dict[str, PluginInfo] = field(default_factory=dict)
    fragments: list[tuple[PluginInfo, Fragment]] = field(default_factory=list)

    @property
    def plugins(self) -> list[PluginInfo]:
        """The loaded plugins, by name."""
        return sorted(self.host.plugins.values(), key=lambda plugin: plugin.name)

    def kinds_by_path(self) -> dict[str, str]:
        """Which arrays of the plan make subjects, by path."""
        return kinds_by_path(fragment for _, fragment in self.fragments if fragment.document == "plan")

    def owner_names(self) -> dict[str, str]:
        """Fact name -> plugin in words, for messages."""
        return {name: str(owner) for name, owner in self.owners.items() if name in self.facts}


def registry_of(host: Host) -> Registry:
    """Ask every plugin what it declares and check that it all fits.

    Raises:
        SetupError: a name declared twice, names that collide in Python, a cycle, a need that nothing meets.

    """
    registry = Registry(host)
    _add_kinds(registry, CORE, CORE_KINDS)
    for plugin, kinds in host.results("afield_kinds"):
        _add_kinds(registry, plugin, kinds)
    for plugin, fragments in host.results("afield_fragments"):
        registry.fragments.extend((plugin, fragment) for fragment in fragments)
    paths = registry.kinds_by_path()
    for plugin, fragment in registry.fragments:
        _add_kinds(registry, plugin, stated_kinds(fragment, paths))
    _add_all_facts(registry)
    _refuse_kind_cycles(registry.kinds)
    registry.facts = linked(registry.facts, registry.owners, registry.kinds)
    _refuse_fact_cycles(registry)
    return registry


def _add_all_facts(registry: Registry) -> None:
    _add_facts(registry, CORE, CORE_FACTS)
    paths = registry.kinds_by_path()
    for plugin, fragment in registry.fragments:
        _add_facts(registry, plugin, stated_facts(fragment, paths))
    for plugin, facts in registry.host.results("afield_facts"):
        _add_facts(registry, plugin, facts)


def _add_kinds(registry: Registry, plugin: PluginInfo, kinds: Iterable[Kind]) -> None:
    for kind in kinds:
        if kind.name in registry.kinds:
            raise SetupError(_twice("kind", kind.name, registry.owners[f"kind:{kind.name}"], plugin))
        registry.kinds[kind.name] = kind
        registry.owners[f"kind:{kind.name}"] = plugin


def _add_facts(registry: Registry, plugin: PluginInfo, facts: Iterable[Fact]) -> None:
    python_names = {fact.python_name: name for name, fact in registry.facts.items()}
    for declared in facts:
        if declared.name in registry.facts:
            raise SetupError(_twice("fact", declared.name, registry.owners[declared.name], plugin))
        if declared.python_name in python_names:
            other = python_names[declared.python_name]
            raise SetupError(
                f"the facts {other} of {registry.owners[other]} and {declared.name} of {plugin} are both "
                f"{declared.python_name} in Python; rename one"
            )
        registry.facts[declared.name] = declared
        registry.owners[declared.name] = plugin
        python_names[declared.python_name] = declared.name


def _twice(what: str, name: str, first: PluginInfo, second: PluginInfo) -> str:
    if first == second:
        return f"{first} declares the {what} {name} twice; remove one"
    return f"the {what} {name} is declared by {first} and by {second}; uninstall or rename one"


def _refuse_kind_cycles(kinds: Mapping[str, Kind]) -> None:
    found = first_cycle({name: list(kind.within) for name, kind in kinds.items()})
    if found:
        raise SetupError(f"the kinds {' within '.join(found)} form a cycle; a kind cannot enclose itself")


def _refuse_fact_cycles(registry: Registry) -> None:
    found = fact_cycle(registry.facts)
    if found:
        owner = registry.owners[found[0]]
        raise SetupError(f"{owner}: the facts {' needs '.join(found)} form a cycle; one of them must not need the next")


def linked(facts: Mapping[str, Fact], owners: Mapping[str, PluginInfo], kinds: Mapping[str, Kind]) -> dict[str, Fact]:
    """The facts with their parameters resolved to fact names, each need looked up in its own kind, then outward."""
    names = {fact.python_name: name for name, fact in facts.items()}
    return {name: _linked(fact, names, facts, owners, kinds) for name, fact in facts.items()}


def _linked(
    declared: Fact,
    names: Mapping[str, str],
    facts: Mapping[str, Fact],
    owners: Mapping[str, PluginInfo],
    kinds: Mapping[str, Kind],
) -> Fact:
    resolved: dict[str, str | Each] = {}
    for parameter, need in declared.parameters.items():
        wanted = need.fact if isinstance(need, Each) else need
        if wanted == "subject":
            resolved[parameter] = "subject"
            continue
        name = names.get(wanted.replace(".", "_"))
        if name is None:
            raise SetupError(_no_such_need(declared, wanted, owners[declared.name], facts))
        if not isinstance(need, Each) and facts[name].kind not in kinds_around(declared.kind, kinds):
            raise SetupError(
                f"{owners[declared.name]}: the fact {declared.name} of a {declared.kind} asks for {name}, a fact of a "
                f"{facts[name].kind}, which does not enclose it; gather it with each="
            )
        resolved[parameter] = replace(need, fact=name) if isinstance(need, Each) else name
    return replace(declared, parameters=resolved)


def _no_such_need(declared: Fact, wanted: str, owner: PluginInfo, facts: Mapping[str, Any]) -> str:
    guess = did_you_mean(wanted, [name.replace(".", "_") for name in facts])
    hint = f"did you mean {guess}?" if guess else "no installed plugin declares it"
    return f"{owner}: the fact {declared.name} asks for {wanted}: {hint}"
