"""Everything that the loaded plugins declare, checked to fit together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from afield.core.documents import did_you_mean
from afield.core.facts.declarations import Fact, Kind
from afield.core.facts.graph import fact_cycle, first_cycle
from afield.core.host.fragments import kinds_by_path, stated_facts, stated_kinds
from afield.core.host.hookspecs import Fragment
from afield.core.host.linking import linked
from afield.core.host.loading import HookFailure, Host, PluginInfo, SetupError

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

    @property
    def broken(self) -> dict[str, HookFailure]:
        """Plugins that failed to declare what they have, by name, with the first failure of each."""
        return self.host.broken("afield_kinds", "afield_fragments", "afield_facts")

    @property
    def incomplete(self) -> bool:
        """Whether a plugin failed to say what it adds to the plan, so that an unknown key may be its own."""
        return bool(self.host.broken("afield_fragments"))

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
    _refuse_unknown_kinds(registry)
    _refuse_kind_cycles(registry.kinds)
    registry.facts = linked(registry.facts, registry.owners, registry.kinds, registry.broken)
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
            raise _twice("kind", kind.name, registry.owners[f"kind:{kind.name}"], plugin)
        registry.kinds[kind.name] = kind
        registry.owners[f"kind:{kind.name}"] = plugin


def _add_facts(registry: Registry, plugin: PluginInfo, facts: Iterable[Fact]) -> None:
    python_names = {fact.python_name: name for name, fact in registry.facts.items()}
    for declared in facts:
        if declared.name in registry.facts:
            raise _twice("fact", declared.name, registry.owners[declared.name], plugin)
        if declared.python_name in python_names:
            other = python_names[declared.python_name]
            raise SetupError(
                f"the facts {other} of {registry.owners[other]} and {declared.name} of {plugin} are both "
                f"{declared.python_name} in Python",
                "Rename one of them.",
            )
        registry.facts[declared.name] = declared
        registry.owners[declared.name] = plugin
        python_names[declared.python_name] = declared.name


def _twice(what: str, name: str, first: PluginInfo, second: PluginInfo) -> SetupError:
    if first == second:
        return SetupError(f"{first} declares the {what} {name} twice", "Remove one of the two.")
    both = f"the {what} {name} is declared by {first} and by {second}"
    return SetupError(both, f"Uninstall one of the two plugins, or rename the {what} in one of them.")


def _refuse_unknown_kinds(registry: Registry) -> None:
    if registry.broken:
        return
    for kind in registry.kinds.values():
        for around in kind.within:
            if around not in registry.kinds:
                guess = did_you_mean(around, list(registry.kinds))
                advice = f"Did you mean {guess}?" if guess else "Install the plugin that declares it."
                owner = registry.owners[f"kind:{kind.name}"]
                raise SetupError(f"{owner}: the kind {kind.name} lies within {around}, which nothing declares", advice)


def _refuse_kind_cycles(kinds: Mapping[str, Kind]) -> None:
    found = first_cycle({name: list(kind.within) for name, kind in kinds.items()})
    if found:
        raise SetupError(f"the kinds {' within '.join(found)} form a cycle", "No kind may enclose itself.")


def _refuse_fact_cycles(registry: Registry) -> None:
    found = fact_cycle(registry.facts)
    if found:
        owner = registry.owners[found[0]]
        what = f"{owner}: the facts form a cycle: {' needs '.join(found)}"
        raise SetupError(what, "One of them must not need the next.")
