"""One rule in two versions of a pack, judged on the same facts: the cases of both, and a grid about their limits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from afield.core.authoring.sampling.scenes import Scenes, made_case
from afield.core.authoring.sampling.verdicts import Seen, seen
from afield.core.authoring.sampling.writing import case_yaml
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.cases import Case
from afield.core.packs.model import Pack, Rule

EFFECTS = ("looser", "stricter", "applies otherwise", "told otherwise")
"""How a verdict may differ: it lets more through, lets less through, is passed in place of not applicable or the other
way round, or differs only in its reason or margin."""

_WEIGHT = {None: 0, "not applicable": 0, "passed": 0, "cannot tell": 1, "failed": 2}


def effect_of(before: Seen, after: Seen) -> str | None:
    """In what the second verdict differs from the first; None where it does not."""
    if before.outcome != after.outcome:
        change = _WEIGHT[after.outcome] - _WEIGHT[before.outcome]
        if change:
            return "stricter" if change > 0 else "looser"
        return "applies otherwise"
    return "told otherwise" if (before.reason, before.margin) != (after.reason, after.margin) else None


@frozen
class Example:
    """One set of facts that the two versions judge differently.

    Attributes:
        effect: one of EFFECTS.
        day: of judging.
        before, after: the verdicts.
        case: YAML of a case that the newer version passes.

    """

    effect: str
    day: str
    before: Seen
    after: Seen
    case: str


@dataclass
class Replay:
    """What came of judging one rule by both versions.

    Attributes:
        cases: how many cases of both packs were judged.
        combinations: how many combinations of facts and days.
        counts: effect -> how many of them all.
        examples: the plainest of each effect.

    """

    cases: int = 0
    combinations: int = 0
    counts: dict[str, int] = field(default_factory=dict)
    examples: dict[str, Example] = field(default_factory=dict)

    @property
    def effects(self) -> list[str]:
        """The effects that occur; the lesser ones only where no outcome becomes stricter or looser."""
        found = [effect for effect in EFFECTS if effect in self.counts]
        weighty = [effect for effect in found if effect in ("looser", "stricter")]
        return weighty or found[:1]


@frozen(slots=False)
class Versions:
    """Two versions of a pack, with their cases and what plugins declare."""

    old: Pack
    new: Pack
    old_cases: Sequence[Case]
    new_cases: Sequence[Case]
    registry: Registry

    def replayed(self, before: Rule, after: Rule, grid: bool) -> Replay:
        """The rule judged by both on its cases and, if asked for, on a grid about what either compares with."""
        found = Replay()
        for case in self._cases_of(before.id):
            found.cases += 1
            self._compare(case, found)
        for data in self._grid(before, after) if grid else ():
            found.combinations += 1
            self._compare(made_case(self.new, self.registry, data), found)
        return found

    def _cases_of(self, rule: str) -> list[Case]:
        """Cases of both, each once."""
        found = {repr(_without_name(case.data)): case for case in (*self.old_cases, *self.new_cases)}
        return [case for case in found.values() if case.data["rule"] == rule]

    def _grid(self, before: Rule, after: Rule) -> Iterator[Mapping[str, Any]]:
        judgings = [(self.old, before), (self.new, after)]
        return Scenes(self.new, judgings, self.registry, [*self.new_cases, *self.old_cases]).tried()

    def _compare(self, case: Case, found: Replay) -> None:
        before, after = seen(case, self.old), seen(case, self.new)
        effect = effect_of(before, after)
        if effect is None:
            return
        found.counts[effect] = found.counts.get(effect, 0) + 1
        if effect not in found.examples:
            found.examples[effect] = Example(effect, case.data["date"], before, after, _as_case(case, effect, after))


def _without_name(data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if key not in ("name", "expect")}


def _as_case(case: Case, effect: str, after: Seen) -> str:
    data = {**_without_name(case.data), "expect": after.expectation("outcome")}
    return case_yaml({"name": f"{case.data['rule']} ({effect})", **data})
