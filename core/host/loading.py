"""Finds plugins by entry point and calls each implementation in its own try, so that one failure names its plugin."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any

import pluggy

from afield.core.documents.places import InputError
from afield.core.facts.time_limit import limited
from afield.core.frozen import frozen
from afield.core.host import hookspecs
from afield.core.host.entry_points import InstalledPoint, entry_points
from afield.core.host.tracing import Call
from afield.core.language import add_catalogues

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

GROUP = "afield.plugins"


class SetupError(Exception):
    """The installed plugins do not fit together.

    Attributes:
        what: what does not fit, naming the plugins; without a full stop.
        advice: what to do about it, a sentence.

    """

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}\n    = {advice}")
        self.what, self.advice = what, advice


@frozen
class PluginInfo:
    """An installed plugin: its name, the distribution it came with, and that one's version."""

    name: str
    distribution: str
    version: str

    def __str__(self) -> str:
        return f"plugin {self.name} ({self.distribution} {self.version})"


@frozen
class HookFailure:
    """A hook implementation, or a plugin's import, that raised."""

    plugin: PluginInfo
    hook: str
    error: str

    @property
    def text(self) -> str:
        """The failure in one line."""
        return f"{self.plugin} failed in {self.hook}: {self.error}"


def _items(hook: str, function: Callable[..., Any], given: Mapping[str, Any]) -> list[Any] | None:
    result = function(**given)
    # A generator would raise later, outside of the try around this.
    items = list(result) if result is not None else None
    _refuse_wrong_items(hook, items or ())
    return items


def _refuse_wrong_items(hook: str, items: Iterable[Any]) -> None:
    """A function that lacks its `@fact`, say, is found here, where its plugin can still be named."""
    due = hookspecs.RESULTS[hook]
    wrong = next((item for item in items if not isinstance(item, due)), None)
    if wrong is not None:
        raise TypeError(f"it returned a {type(wrong).__name__} where a {due.__name__} is due")


@dataclass
class Host:
    """The plugin manager together with what is known of each plugin."""

    manager: pluggy.PluginManager
    plugins: dict[str, PluginInfo] = field(default_factory=dict)
    failures: list[HookFailure] = field(default_factory=list)

    def results(self, hook: str, **arguments: Any) -> Iterator[tuple[PluginInfo, Any]]:
        """Each implementation's result, in order of registration; None is passed over, a failure is kept and named."""
        for implementation in getattr(self.manager.hook, hook).get_hookimpls():
            plugin = self.plugins[implementation.plugin_name]
            given = {name: arguments[name] for name in implementation.argnames}
            call = Call(hook, plugin)
            try:
                result = limited(_items, hook, implementation.function, given)
            except InputError as error:
                call.raised(error)
                raise  # what the user wrote is wrong: that is no failure of the plugin
            except Exception as error:
                call.raised(error)
                self.failed(plugin, hook, error)
                continue
            call.gave(result)
            if result is not None:
                yield plugin, result

    def failed(self, plugin: PluginInfo, hook: str, error: Exception) -> None:
        """Keep a failure; one that comes again, as with a second plan, is kept once."""
        failure = HookFailure(plugin, hook, f"{type(error).__name__}: {error}")
        if failure not in self.failures:
            self.failures.append(failure)

    def broken(self, *hooks: str) -> dict[str, HookFailure]:
        """Plugin name -> its first failure in its import or one of the hooks."""
        found = [failure for failure in self.failures if failure.hook in ("import", *hooks)]
        return {failure.plugin.name: failure for failure in reversed(found)}

    def add(self, module: ModuleType | object, info: PluginInfo) -> None:
        """Register a loaded plugin."""
        self.plugins[info.name] = info
        self.manager.register(module, name=info.name)


def new_host() -> Host:
    """A host without plugins."""
    manager = pluggy.PluginManager("afield")
    manager.add_hookspecs(hookspecs.Hooks)
    return Host(manager)


def installed_host(found: Iterable[EntryPoint | InstalledPoint] | None = None) -> Host:
    """A host with every installed plugin, built-ins included; they all come by the entry-point group.

    Raises:
        SetupError: two plugins of one name, or a hook that does not exist.

    """
    host = new_host()
    points = sorted(found if found is not None else entry_points(group=GROUP), key=lambda point: point.name)
    labels = _labels(points)
    for entry_point in points:
        info = PluginInfo(entry_point.name, *labels[id(entry_point.dist)])
        if info.name in host.plugins:
            what = f"two plugins are called {info.name}: {host.plugins[info.name]} and {info}"
            raise SetupError(what, "Uninstall one of them.")
        _load(host, entry_point, info)
    refuse_unknown_hooks(host)
    return host


def _load(host: Host, entry_point: EntryPoint | InstalledPoint, info: PluginInfo) -> None:
    call = Call("import", info)
    try:
        module = limited(importlib.import_module, entry_point.module)
        _add_catalogues_of(module)
        host.add(module, info)
        call.came("imported")
    except Exception as error:
        call.raised(error)
        host.plugins[info.name] = info
        host.failed(info, "import", error)


def _add_catalogues_of(module: object) -> None:
    """The catalogues of sentences beside a plugin's registration module; an object that is no file has none."""
    file = getattr(module, "__file__", None)
    if file:
        add_catalogues(Path(file).parent / "locale")


def _labels(points: Iterable[EntryPoint | InstalledPoint]) -> dict[int, tuple[str, str]]:
    """Name and version of each distribution by its id, read once: each reading parses its whole description."""
    distributions = {id(point.dist): point.dist for point in points}
    unknown = ("unknown distribution", "?")
    return {key: (found.name, found.version) if found else unknown for key, found in distributions.items()}


def refuse_unknown_hooks(host: Host) -> None:
    """Refuse an implementation of a hook that does not exist: pluggy alone would never call it, in silence."""
    known = [name for name in vars(hookspecs.Hooks) if name.startswith("afield_")]
    for name, plugin in host.manager.list_name_plugin():
        for attribute in dir(plugin):
            if attribute in known or not hasattr(getattr(plugin, attribute, None), "afield_impl"):
                continue
            from afield.core.documents.spelling import did_you_mean

            guess = did_you_mean(attribute, known)
            advice = f"Did you mean {guess}?" if guess else f"The hooks are {', '.join(known)}."
            raise SetupError(f"{host.plugins[name]} implements {attribute}, which is no hook", advice)
