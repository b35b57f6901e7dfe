"""Calls of a plugin's computations and facts as its check values and plans make them: what went in, what came out."""

from __future__ import annotations

import functools
import importlib
import inspect
import pickle
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from copy import deepcopy
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from afield.core.documents import InputError
from afield.core.engine import Engine, PluginTrouble, load
from afield.core.frozen import frozen
from afield.core.host.computations import computations
from afield.core.testing.canonical import canonical
from afield.core.testing.checkfiles import CaseResult, check_file, load_bindings, run_check_file
from afield.core.testing.guards import Watch
from afield.core.testing.material import Material, read_check_file

if TYPE_CHECKING:
    from afield.core.facts.declarations import Fact
    from afield.core.facts.measured import Measured

MOST, MOST_OF_A_FACT = 8, 3
"""Calls of one computation, and of one fact, that are looked at closely; a fact may be given a whole kit."""


@frozen(slots=False)
class Call:
    """One call, made twice.

    Attributes:
        name: the computation or fact.
        function: what was called.
        arguments: parameter -> what went in, as it was before the call.
        asked: the same as text.
        result: what came out; None where it raised.
        told, again: what came out of the first and of the second call, as text.
        changed: parameters whose argument was another after the call.
        clock, network: what the call did that no plugin may do.

    """

    name: str
    function: Callable[..., Any]
    arguments: Mapping[str, Any]
    asked: str
    result: Any
    told: str
    again: str
    changed: tuple[str, ...]
    clock: tuple[str, ...] = ()
    network: tuple[str, ...] = ()

    @property
    def answered(self) -> bool:
        """Whether it gave something, where it could also have raised."""
        return not self.told.startswith("raised ")


@dataclass
class Observation:
    """All that was seen of one plugin.

    Attributes:
        calls: computation or fact -> its calls.
        cases: how the check cases of its computations came out.
        records: fact -> its records on the plans' subjects.
        crashes: what failed on a plan, in words.
        unread: plans and check files that could not be read, with why.
        unknown: computations that cases name and no plugin has.

    """

    calls: dict[str, list[Call]] = field(default_factory=dict)
    cases: list[CaseResult] = field(default_factory=list)
    records: dict[str, list[Measured]] = field(default_factory=dict)
    crashes: list[str] = field(default_factory=list)
    unread: dict[str, str] = field(default_factory=dict)
    unknown: set[str] = field(default_factory=set)


class Recorder:
    """Stands in for a function and keeps what its first calls did."""

    replaying = False
    texts: ClassVar[dict[int, tuple[Any, str]]] = {}

    def __init__(self, name: str, function: Callable[..., Any], into: list[Call], of_fact: bool) -> None:
        functools.update_wrapper(self, function)
        self._name, self._function, self._into = name, function, into
        # What a fact is given holds whole documents: it is not copied.
        self._copies, self._most = not of_fact, MOST_OF_A_FACT if of_fact else MOST
        self._signature = inspect.signature(function)

    def __call__(self, *arguments: Any, **named: Any) -> Any:
        """Call the function; while its calls are few, watch it and call it once more."""
        if len(self._into) >= self._most or Recorder.replaying:
            return self._function(*arguments, **named)
        bound = self._signature.bind(*arguments, **named).arguments
        kept = _copied(bound) if self._copies else dict(bound)
        before = {name: (_pickled(value), _known_text(value)) for name, value in bound.items()}
        watch = Watch()
        outcome = _outcome(lambda: watch.call(lambda: self._function(*arguments, **named)))
        changed = tuple(name for name, value in bound.items() if _is_changed(value, *before[name]))
        asked = repr({name: text for name, (_, text) in before.items()})
        call = Call(self._name, self._function, kept, asked, outcome.result, outcome.told, "", changed)
        again = self._again(arguments, named)
        self._into.append(replace(call, again=again, clock=tuple(watch.clock), network=tuple(watch.network)))
        if outcome.error is not None:
            raise outcome.error
        return outcome.result

    def _again(self, arguments: Any, named: Any) -> str:
        Recorder.replaying = True
        try:
            return _outcome(lambda: self._function(*arguments, **named)).told
        finally:
            Recorder.replaying = False


def _pickled(value: Any) -> bytes | None:
    try:
        return pickle.dumps(value)
    except Exception:  # whatever an object that cannot be pickled raises
        return None


def _known_text(value: Any) -> str:
    """The value as text; many facts are given the same great structure, which is written once."""
    found = Recorder.texts.get(id(value))
    if found is None:
        # The value is kept beside its text, so that no other can come to its place.
        found = Recorder.texts[id(value)] = (value, canonical(value))
    return found[1]


def _is_changed(value: Any, pickled: bytes | None, text: str) -> bool:
    if pickled is not None and pickled == _pickled(value):
        return False
    Recorder.texts.pop(id(value), None)
    return canonical(value) != text


@frozen(slots=False)
class _Outcome:
    told: str
    result: Any = None
    error: Exception | None = None


def _outcome(call: Callable[[], Any]) -> _Outcome:
    try:
        result = call()
    except Exception as error:
        return _Outcome(f"raised {type(error).__name__}: {error}", None, error)
    return _Outcome(canonical(result), result)


def _copied(arguments: Mapping[str, Any]) -> dict[str, Any]:
    try:
        return deepcopy(dict(arguments))
    except Exception:  # what cannot be copied is taken as it is
        return dict(arguments)


def addresses_of(plugin: str, engine: Engine) -> dict[str, str]:
    """The plugin's computations: name -> address."""
    found = [given for owner, given in engine.host.results("afield_computations") if owner.name == plugin]
    return {address.partition(":")[2]: address for addresses in found for address in addresses}


def facts_of(plugin: str, engine: Engine) -> list[Fact]:
    """The facts that the plugin declares, stated ones included."""
    registry = engine.registry
    return [fact for name, fact in registry.facts.items() if registry.owners[name].name == plugin]


def observed(plugin: str, engine: Engine, material: Material) -> Observation:
    """Run the check files and plans, and keep what the plugin's functions do."""
    seen = Observation()
    Recorder.texts.clear()
    with _recorded_computations(addresses_of(plugin, engine), seen):
        for path in material.files:
            text = read_check_file(path)
            if isinstance(text, str):
                seen.unread[path.name] = text
            elif text.get("cases"):
                _run_cases(path, plugin, engine, material, seen)
        with _recorded_facts(plugin, engine, seen):
            for plan in material.plans:
                _ask(plan, plugin, engine, seen)
    Recorder.texts.clear()
    return seen


def _run_cases(path: Path, plugin: str, engine: Engine, material: Material, seen: Observation) -> None:
    known = computations(engine.host)
    try:
        bindings = load_bindings(material.bindings, path.name) if material.bindings else None
        seen.unknown |= {case["computation"] for case in check_file(path)["cases"]} - set(known)
        seen.cases += run_check_file(path, known, bindings, addresses_of(plugin, engine))
    except Exception as error:  # whatever stands in the file or in its bindings
        seen.unread[path.name] = f"{type(error).__name__}: {error}"


@contextmanager
def _recorded_computations(addresses: Mapping[str, str], seen: Observation) -> Iterator[None]:
    recorders: dict[Callable[..., Any], Any] = {}
    for name, address in addresses.items():
        function = getattr(importlib.import_module(address.partition(":")[0]), name)
        recorders[function] = Recorder(name, function, seen.calls.setdefault(name, []), of_fact=False)
    _rebind(recorders)
    try:
        yield
    finally:
        # A module that was imported meanwhile took a recorder for the function.
        _rebind({recorder: function for function, recorder in recorders.items()})


def _rebind(new_for_old: Mapping[Any, Any]) -> None:
    """Put others in the place of functions wherever a module has them by name."""
    by_id = {id(old): new for old, new in new_for_old.items()}
    for module in list(sys.modules.values()):
        names = [name for name, value in list(getattr(module, "__dict__", {}).items()) if id(value) in by_id]
        for name in names:
            setattr(module, name, by_id[id(getattr(module, name))])


@contextmanager
def _recorded_facts(plugin: str, engine: Engine, seen: Observation) -> Iterator[None]:
    facts = engine.registry.facts
    mine = {fact.name: fact for fact in facts_of(plugin, engine) if fact.function is not None}
    for name, fact in mine.items():
        assert fact.function is not None
        recorder = Recorder(name, fact.function, seen.calls.setdefault(name, []), of_fact=True)
        facts[name] = replace(fact, function=recorder)
    try:
        yield
    finally:
        facts.update(mine)


def _ask(plan: Path, plugin: str, engine: Engine, seen: Observation) -> None:
    try:
        trip = load(plan, engine)
        for fact in facts_of(plugin, engine):
            keys = [subject.key for subject in trip.subjects.values() if subject.kind == fact.kind]
            seen.records.setdefault(fact.name, []).extend(trip.world.value(key, fact.name) for key in keys)
    except (InputError, PluginTrouble, OSError) as error:
        seen.unread[plan.name] = " ".join(str(error).split())
        return
    failed = [*(crash.text for crash in trip.world.crashes), *engine.failures()]
    seen.crashes += [text for text in failed if text.startswith(f"plugin {plugin} ")]
