"""Tries every change of a pack by its cases, and looks for the case that would catch each that survives."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from afield.core.authoring.mutation.mutants import Mutant, mutants_of
from afield.core.authoring.mutation.reasons import Key, Reason, key_of, read_reasons
from afield.core.authoring.mutation.telling import Told, catches, told_apart
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.cases import Case, read_cases
from afield.core.packs.model import Pack

Progress = Callable[[int, int], None]
"""Told how many changes of how many were tried."""


@frozen
class Trial:
    """How one change fared.

    Attributes:
        mutant: the change.
        caught_by: the first case that comes out wrong under it; None if all come out right.
        told: what would catch it; None for one that is caught.
        like: an earlier trial whose case would catch this one too.
        reason: written in the pack for a change that survives.

    """

    mutant: Mutant
    caught_by: Case | None = None
    told: Told | None = None
    like: Trial | None = None
    reason: Reason | None = None

    @property
    def outcome(self) -> str:
        """caught, equivalent (proved: nothing can tell it from the pack) or survived."""
        if self.caught_by is not None:
            return "caught"
        return "equivalent" if self.told is not None and self.told.proved else "survived"

    @property
    def is_open(self) -> bool:
        """Whether it survives without a reason."""
        return self.outcome == "survived" and self.reason is None


@frozen
class Mutation:
    """How all the changes of a pack fared.

    Attributes:
        pack: as written.
        cases: how many it has.
        wrong: how many of them come out wrong already; then nothing was tried.
        trials: in the order of the pack's files.
        needless: reasons for changes that do not survive.

    """

    pack: Pack
    cases: int
    wrong: int = 0
    trials: tuple[Trial, ...] = ()
    needless: tuple[tuple[Key, Reason], ...] = ()

    @property
    def exit_status(self) -> int:
        """0 where changes were made and none survives without a reason, and every reason is for one that survives."""
        ends = self.wrong or not self.trials or self.needless or any(trial.is_open for trial in self.trials)
        return 1 if ends else 0


def mutation_of(pack: Pack, registry: Registry, progress: Progress = lambda done, of: None) -> Mutation:
    """Every change of the pack, tried.

    Raises:
        InputError: the pack's cases or its reasons cannot be read.

    """
    cases = read_cases(pack, registry)
    wrong = sum(not case.result().right for case in cases)
    mutants = mutants_of(pack, registry)
    reasons = read_reasons(pack, mutants)
    if wrong:
        return Mutation(pack, len(cases), wrong)
    trials: list[Trial] = []
    for mutant in mutants:
        progress(len(trials), len(mutants))
        trial = _trial(mutant, pack, registry, cases, trials)
        trials.append(replace(trial, reason=reasons.get(key_of(mutant))))
    surviving = {key_of(trial.mutant) for trial in trials if trial.outcome == "survived"}
    needless = tuple((key, reason) for key, reason in reasons.items() if key not in surviving)
    return Mutation(pack, len(cases), 0, tuple(trials), needless)


def _trial(mutant: Mutant, pack: Pack, registry: Registry, cases: Sequence[Case], before: Iterable[Trial]) -> Trial:
    caught_by = catching(mutant, cases)
    if caught_by is not None:
        return Trial(mutant, caught_by)
    for other in before:
        case = other.told.case if other.told is not None and other.like is None else None
        if case is not None and _concerns(other.mutant, mutant) and catches(case, mutant, pack, registry):
            return Trial(mutant, None, Told(case), other)
    return Trial(mutant, None, told_apart(mutant, pack, registry, cases))


def _concerns(one: Mutant, other: Mutant) -> bool:
    """Whether a case for the one could catch the other; most could not, and need not be run."""
    return bool({*one.rules} & {*other.rules}) or one.name == other.name


def catching(mutant: Mutant, cases: Iterable[Case]) -> Case | None:
    """The first case that comes out wrong under the change; only those that could are run."""
    concerned = (case for case in cases if case.data["rule"] in mutant.rules or "program" in case.data["expect"])
    return next((case for case in concerned if case.differences_under(mutant.pack)), None)
