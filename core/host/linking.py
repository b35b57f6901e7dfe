"""Facts with their needs resolved: each need looked up in the fact's own kind, then outward, or gathered by `Each`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from afield.core.documents import did_you_mean, quoted_list
from afield.core.facts.declarations import FACT_TYPES, Each, Fact, Kind
from afield.core.facts.graph import kinds_around, rests_on
from afield.core.facts.measured import CannotTell
from afield.core.host.loading import HookFailure, PluginInfo, SetupError
from afield.core.quantities import QuantityError, dimension_of


def linked(
    facts: Mapping[str, Fact],
    owners: Mapping[str, PluginInfo],
    kinds: Mapping[str, Kind],
    broken: Mapping[str, HookFailure],
) -> dict[str, Fact]:
    """The facts, fit to be resolved.

    Args:
        facts, owners, kinds: as declared, by name.
        broken: plugins that failed to declare what they have. What is missing may be theirs: a fact that needs it
            cannot be told then, where otherwise it keeps the plugins from loading.

    Raises:
        SetupError: a fact that does not fit what is declared.

    """
    linker = _Linker(facts, owners, kinds)
    fitting = {name: _fit(fact, linker.linked, broken) for name, fact in facts.items()}
    return _marked(fitting, kinds)


def _fit(declared: Fact, link: Callable[[Fact], Fact], broken: Mapping[str, HookFailure]) -> Fact:
    try:
        return link(declared)
    except SetupError:
        if not broken:
            raise
        return replace(declared, parameters={}, optional=frozenset(), function=_silence(broken))


def _silence(broken: Mapping[str, HookFailure]) -> Callable[[], Any]:
    def cannot_tell() -> Any:
        raise CannotTell("; ".join(failure.text for failure in broken.values()), code="plugin failed")

    return cannot_tell


def _marked(facts: Mapping[str, Fact], kinds: Mapping[str, Kind]) -> dict[str, Fact]:
    """The facts, those marked that gather claims of all programs, whether or not they declare it."""
    gathering = {name for name, fact in facts.items() if fact.gathers_claims or _gathers_claims(fact, kinds)}
    return {name: _mark(fact, bool(rests_on(name, facts) & gathering)) for name, fact in facts.items()}


def _mark(declared: Fact, gathers: bool) -> Fact:
    return declared if declared.gathers_claims == gathers else replace(declared, gathers_claims=gathers)


def _gathers_claims(declared: Fact, kinds: Mapping[str, Kind]) -> bool:
    """Whether it gathers something within programs from outside of them; a claim only gathers its own program's."""
    gathered = [need.kind for need in declared.parameters.values() if isinstance(need, Each)]
    reaches_in = any("program" in kinds_around(kind, kinds) for kind in gathered)
    return reaches_in and "program" not in kinds_around(declared.kind, kinds)


class _Linker:
    def __init__(self, facts: Mapping[str, Fact], owners: Mapping[str, PluginInfo], kinds: Mapping[str, Kind]) -> None:
        self.facts, self.owners, self.kinds = facts, owners, kinds
        self.names = {fact.python_name: name for name, fact in facts.items()}

    def linked(self, declared: Fact) -> Fact:
        """The fact with the names of its needs in full."""
        self.refuse_misfit(declared)
        if not declared.parameters and not declared.stands_on:
            return declared
        needs = {parameter: self.need(declared, need) for parameter, need in declared.parameters.items()}
        ground = tuple(str(self.need(declared, name)) for name in declared.stands_on)
        return replace(declared, parameters=needs, stands_on=ground)

    def refuse_misfit(self, declared: Fact) -> None:
        if declared.type not in FACT_TYPES:
            raise self.misfit(declared, f"has the type {declared.type}", declared.type, FACT_TYPES)
        if declared.kind not in self.kinds:
            raise self.misfit(declared, f"is of the kind {declared.kind}", declared.kind, self.kinds)
        self.refuse_unknown_unit(declared)
        absent = sorted(set(declared.optional) - set(declared.parameters))
        if absent:
            what = f"{self.owners[declared.name]}: the fact {declared.name} has no parameter {absent[0]} to be optional"
            raise SetupError(what, f"Its parameters are {quoted_list(declared.parameters)}.")

    def refuse_unknown_unit(self, declared: Fact) -> None:
        try:
            dimension_of(declared.unit or "")
        except QuantityError as error:
            what = f"{self.owners[declared.name]}: the fact {declared.name} has the unit {declared.unit}"
            raise SetupError(f"{what}, which is not known", error.advice) from error

    def need(self, declared: Fact, need: str | Each) -> str | Each:
        wanted = need.fact if isinstance(need, Each) else need
        if wanted == "subject":
            return need
        name = self.names.get(wanted.replace(".", "_"))
        if name is None:
            raise self.misfit(declared, f"asks for {wanted}", wanted, self.names)
        from_kind = declared.kind
        if isinstance(need, Each):
            if need.kind not in self.kinds:
                raise self.misfit(declared, f"gathers over each {need.kind}", need.kind, self.kinds)
            from_kind = need.kind
        self.refuse_unreachable(declared, name, from_kind)
        return replace(need, fact=name) if isinstance(need, Each) else name

    def refuse_unreachable(self, declared: Fact, name: str, from_kind: str) -> None:
        kind = self.facts[name].kind
        if kind not in kinds_around(from_kind, self.kinds):
            raise SetupError(
                f"{self.owners[declared.name]}: the fact {declared.name} of a {declared.kind} asks for {name}, a fact "
                f"of a {kind}, which does not enclose {_a(from_kind, declared.kind)}",
                "Gather it with each=.",
            )

    def misfit(self, declared: Fact, does: str, word: str, known: Mapping[str, Any] | tuple[str, ...]) -> SetupError:
        guess = did_you_mean(word, list(known))
        advice = f"Did you mean {guess}?" if guess else f"Known are {quoted_list(known)}."
        return SetupError(
            f"{self.owners[declared.name]}: the fact {declared.name} {does}, which nothing declares", advice
        )


def _a(from_kind: str, kind: str) -> str:
    return "it" if from_kind == kind else f"a {from_kind}"
