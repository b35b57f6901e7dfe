"""What became of each rule between two versions of a pack."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date

from afield.core.authoring.difference.meaning import rule_meaning
from afield.core.authoring.difference.replaying import EFFECTS, Replay, Versions
from afield.core.authoring.difference.versions import greatest
from afield.core.authoring.difference.wording import resourced, reworded
from afield.core.frozen import frozen
from afield.core.packs.model import SEVERITIES, Pack, Rule
from afield.core.packs.waivers import Waiver, waiver_words

Progress = Callable[[int, int], None]
"""Told how many rules of how many were judged."""


@frozen(slots=False)
class RuleDifference:
    """One rule in two versions.

    Attributes:
        before, after: None where it is not there.
        effects: those of EFFECTS that the judging shows, and those of its severity.
        rewritten: whether its meaning is written otherwise, whatever the judging shows.
        reworded, resourced: names of texts, and of what has a source.
        replay: what was judged; None where it is in one version only.
        waived, no_longer_waived: in words, the waivers that only the newer has, and those that only the older has.

    """

    before: Rule | None
    after: Rule | None
    effects: tuple[str, ...] = ()
    rewritten: bool = False
    reworded: tuple[str, ...] = ()
    resourced: tuple[str, ...] = ()
    replay: Replay | None = None
    waived: tuple[str, ...] = ()
    no_longer_waived: tuple[str, ...] = ()

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
        told = (self.effects, self.rewritten, self.reworded, self.resourced, self.waived, self.no_longer_waived)
        return "changed" if any(told) else None

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
    waivers, others = _waivers(versions.new, after), _waivers(versions.old, before)
    found = {*replay.effects, *_severity_effects(before, after), *_waiver_effects(versions, before, after)}
    return RuleDifference(
        before, after, tuple(effect for effect in EFFECTS if effect in found), rewritten,
        tuple(reworded(before, after)), tuple(resourced(versions.old, before, versions.new, after)), replay,
        tuple(words for words in waivers if words not in others),
        tuple(words for words in others if words not in waivers),
    )  # fmt: skip


def _severity_effects(before: Rule, after: Rule) -> Iterator[str]:
    if before.severity != after.severity:
        milder = SEVERITIES.index(after.severity) > SEVERITIES.index(before.severity)
        yield "looser" if milder else "stricter"


def _waiver_effects(versions: Versions, before: Rule, after: Rule) -> Iterator[str]:
    """A waiver changes no verdict, but lets through what it covers; no replay of cases shows that."""
    earlier = [waiver for waiver in versions.old.waivers if waiver.rule == before.key]
    later = [waiver for waiver in versions.new.waivers if waiver.rule == after.key]
    days = {day for waiver in (*earlier, *later) for day in (waiver.from_ or date.min, waiver.until)}
    changes = {(_covered(earlier, day), _covered(later, day)) for day in days}
    yield from ["looser"] if (False, True) in changes else []
    yield from ["stricter"] if (True, False) in changes else []


def _waivers(pack: Pack, rule: Rule) -> list[str]:
    """What waives the rule, whichever version of the pack says so."""
    return [waiver_words(replace(waiver, by=None)) for waiver in pack.waivers if waiver.rule == rule.key]


def _covered(waivers: Sequence[Waiver], day: date) -> bool:
    return any(waiver.covers([day]) for waiver in waivers)


def demanded_by(differences: list[RuleDifference]) -> str:
    """What all of them together demand."""
    return greatest([difference.demands for difference in differences])
