"""What became of each rule between two versions of a pack."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from afield.core.authoring.difference.meaning import rule_meaning
from afield.core.authoring.difference.replaying import EFFECTS, Replay, Versions
from afield.core.authoring.difference.versions import greatest
from afield.core.authoring.difference.wording import resourced, reworded
from afield.core.packs.model import SEVERITIES, Rule

Progress = Callable[[int, int], None]
"""Told how many rules of how many were judged."""


@dataclass(frozen=True)
class RuleDifference:
    """One rule in two versions.

    Attributes:
        before, after: None where it is not there.
        effects: those of EFFECTS that the judging shows, and those of its severity.
        rewritten: whether its meaning is written otherwise, whatever the judging shows.
        reworded, resourced: names of texts, and of what has a source.
        replay: what was judged; None where it is in one version only.

    """

    before: Rule | None
    after: Rule | None
    effects: tuple[str, ...] = ()
    rewritten: bool = False
    reworded: tuple[str, ...] = ()
    resourced: tuple[str, ...] = ()
    replay: Replay | None = None

    @property
    def rule(self) -> Rule:
        """The newer of the two."""
        found = self.after or self.before
        assert found is not None
        return found

    @property
    def change(self) -> str | None:
        """added, removed or changed; None for a rule that is as it was."""
        if self.before is None:
            return "added"
        if self.after is None:
            return "removed"
        return "changed" if self.effects or self.rewritten or self.reworded or self.resourced else None

    @property
    def is_looser(self) -> bool:
        """Whether a rule that was required lets more through, or is gone."""
        if self.before is None or self.before.severity != "required":
            return False
        return self.after is None or "looser" in self.effects

    @property
    def demands(self) -> str:
        """What the version must say."""
        if self.is_looser:
            return "major"
        decided = self.change in ("added", "removed") or {*self.effects} & {"looser", "stricter", "applies otherwise"}
        return "minor" if decided else "patch" if self.change else "none"


def rule_differences(versions: Versions, progress: Progress = lambda done, of: None) -> list[RuleDifference]:
    """Every rule of either version, in the order of the newer, the removed ones last."""
    before = {rule.id: rule for rule in versions.old.rules}
    after = {rule.id: rule for rule in versions.new.rules}
    found: list[RuleDifference] = []
    for done, name in enumerate(names := list(dict.fromkeys([*after, *before]))):
        progress(done, len(names))
        found.append(_difference(versions, before.get(name), after.get(name)))
    return found


def _difference(versions: Versions, before: Rule | None, after: Rule | None) -> RuleDifference:
    if before is None or after is None:
        return RuleDifference(before, after)
    rewritten = rule_meaning(versions.old, before) != rule_meaning(versions.new, after)
    replay = versions.replayed(before, after, grid=rewritten)
    found = {*replay.effects, *_severity_effects(before, after)}
    return RuleDifference(
        before, after, tuple(effect for effect in EFFECTS if effect in found), rewritten,
        tuple(reworded(before, after)), tuple(resourced(versions.old, before, versions.new, after)), replay,
    )  # fmt: skip


def _severity_effects(before: Rule, after: Rule) -> Iterator[str]:
    if before.severity != after.severity:
        milder = SEVERITIES.index(after.severity) > SEVERITIES.index(before.severity)
        yield "looser" if milder else "stricter"


def demanded_by(differences: list[RuleDifference]) -> str:
    """What all of them together demand."""
    return greatest([difference.demands for difference in differences])
