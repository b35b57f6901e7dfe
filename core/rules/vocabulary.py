"""The names that a condition may use."""

from __future__ import annotations

from collections.abc import Mapping

from afield.core.facts.declarations import Fact, Kind
from afield.core.facts.graph import kinds_around
from afield.core.frozen import frozen
from afield.core.rules.limits import Limit


@frozen
class Vocabulary:
    """What is declared where a condition is read; see `condition_reading.read_condition`."""

    facts: Mapping[str, Fact]
    limits: Mapping[str, Limit]
    kinds: Mapping[str, Kind]
    rules: Mapping[str, str] | None
    absent: tuple[str, ...]
    program: bool
    own: tuple[str, ...] = ()

    def local(self, rule: str) -> str:
        """The rule's name without its pack, where that is the pack's own or one that it extends."""
        pack, _, name = rule.rpartition("/")
        return name if pack in self.own else rule

    def reaches(self, from_kind: str | None, kind: str) -> bool:
        """Whether a subject of the first kind is, or lies within, one of the other; True where that is not known."""
        return from_kind is None or not self.kinds or kind in kinds_around(from_kind, self.kinds)

    def facts_of(self, kind: str | None) -> list[str]:
        """The facts that can be asked of a subject of the kind."""
        return [name for name, fact in self.facts.items() if fact.type != "opaque" and self.reaches(kind, fact.kind)]


@frozen
class Target:
    """What a bound must fit.

    Attributes:
        title: a noun phrase.
        type: of the fact; "" where its plugin is absent.
        unit: of a number.
        choices: that text may be; () = any.

    """

    title: str
    type: str
    unit: str = ""
    choices: tuple[str, ...] = ()
