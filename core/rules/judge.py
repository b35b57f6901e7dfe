"""Verdicts of many subjects as columns, and how they are joined."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TypeAlias

from afield.core.facts.measured import Reason
from afield.core.frozen import frozen
from afield.core.rules.columns import Column
from afield.core.rules.conditions import Measure
from afield.core.rules.outcomes import CANNOT_TELL, NOT_APPLICABLE, WORDS, closeness, deciding, joined, negated

ColumnsFor: TypeAlias = Callable[[Measure, str | None], Column]
"""(measure, unit of the bound or None) -> its column for the subjects that are judged."""


@frozen
class Judged:
    """The verdicts of one rule on n subjects; columns may be shared, so they are not to be changed.

    Attributes:
        outcome: codes, see `outcomes`.
        margin: the decider's, > 0 room, < 0 lack, in the unit of the decider's limit; None where it is not numeric.
        uncertainty: 95 %, of the margin, same unit; None where there is no margin.
        decider: index into the compiled rule's `leaves`.
        chosen: after `agree`, which of the dates the verdict is of, -1 where the dates disagree.

    """

    outcome: bytes
    margin: Sequence[float | None]
    uncertainty: Sequence[float | None]
    decider: Sequence[int]
    chosen: Sequence[int] = ()

    def __len__(self) -> int:
        return len(self.outcome)

    def closeness(self) -> list[float | None]:
        """|margin| / U of every subject."""
        return [closeness(margin, around) for margin, around in zip(self.margin, self.uncertainty, strict=True)]


def without_margin(outcome: bytes, decider: int) -> Judged:
    """Verdicts that no number decides."""
    none: list[float | None] = [None] * len(outcome)
    return Judged(outcome, none, none, [decider] * len(outcome))


def join(operator: str, children: Sequence[Judged]) -> Judged:
    """The verdicts of `all`, `any` or `none` of the children, each with the margin of the child that decides."""
    outcome = joined(operator, [child.outcome for child in children])
    wanted = negated(outcome) if operator == "none" else outcome
    joint = _picked(children, outcome, _choices(children, wanted))
    return _negated_margin(joint) if operator == "none" else joint


def _choices(children: Sequence[Judged], wanted: bytes) -> list[int]:
    """For every subject, which child decides: one with the outcome that the whole rests on."""
    widths = [child.closeness() for child in children]
    rows = zip(*[child.outcome for child in children], strict=True)
    return [
        row.index(due) if row.count(due) == 1 else _closest(row, due, [width[index] for width in widths])
        for index, (row, due) in enumerate(zip(rows, wanted, strict=True))
    ]


def _closest(row: Sequence[int], due: int, widths: Sequence[float | None]) -> int:
    return deciding([child for child, outcome in enumerate(row) if outcome == due], widths.__getitem__)


def _picked(children: Sequence[Judged], outcome: bytes, choices: Sequence[int]) -> Judged:
    margins = [child.margin for child in children]
    around = [child.uncertainty for child in children]
    deciders = [child.decider for child in children]
    return Judged(
        outcome,
        [margins[choice][index] for index, choice in enumerate(choices)],
        [around[choice][index] for index, choice in enumerate(choices)],
        [deciders[choice][index] for index, choice in enumerate(choices)],
    )


def _negated_margin(judged: Judged) -> Judged:
    # 0.0 - x, not -x: a margin of exactly 0 is not to become -0.0.
    margin = [None if margin is None else 0.0 - margin for margin in judged.margin]
    return Judged(judged.outcome, margin, judged.uncertainty, judged.decider)


def where_applies(applies: Judged, required: Judged) -> Judged:
    """The rule's verdicts: not applicable where `applies` failed, cannot tell where it cannot be told."""
    outcome, margin = bytearray(required.outcome), list(required.margin)
    uncertainty, decider = list(required.uncertainty), list(required.decider)
    for index, applicable in enumerate(applies.outcome):
        if applicable:
            outcome[index] = CANNOT_TELL if applicable == CANNOT_TELL else NOT_APPLICABLE
            margin[index] = uncertainty[index] = None
            decider[index] = applies.decider[index]
    return Judged(bytes(outcome), margin, uncertainty, decider)


def agree(by_date: Sequence[Judged]) -> Judged:
    """The verdicts that hold on every date; where the dates disagree it cannot be told ("versions disagree").

    Where they agree, the date with the closest call is shown. `chosen` says which that is; all the columns have the
    same subjects.
    """
    choices = _choices(by_date, by_date[0].outcome)
    same = [len(set(outcomes)) == 1 for outcomes in zip(*[judged.outcome for judged in by_date], strict=True)]
    picked = _picked(by_date, by_date[0].outcome, choices)
    return Judged(
        bytes(code if agreed else CANNOT_TELL for code, agreed in zip(picked.outcome, same, strict=True)),
        [margin if agreed else None for margin, agreed in zip(picked.margin, same, strict=True)],
        [around if agreed else None for around, agreed in zip(picked.uncertainty, same, strict=True)],
        picked.decider,
        [choice if agreed else -1 for choice, agreed in zip(choices, same, strict=True)],
    )


def narrowed(joint: Judged, by_date: Sequence[Judged], own: Mapping[int, Sequence[int]]) -> Judged:
    """The joint verdicts, some of them agreed anew over fewer dates.

    Args:
        joint: what `agree` gave.
        by_date: what it was given.
        own: index of a subject -> the dates that it has, as indices of `by_date`.

    """
    outcome, margin, uncertainty = bytearray(joint.outcome), list(joint.margin), list(joint.uncertainty)
    decider, chosen = list(joint.decider), list(joint.chosen)
    for index, dates in own.items():
        found = agree([_only(by_date[at], index) for at in dates])
        outcome[index], margin[index], uncertainty[index] = found.outcome[0], found.margin[0], found.uncertainty[0]
        decider[index] = found.decider[0]
        chosen[index] = dates[found.chosen[0]] if found.chosen[0] >= 0 else -1
    return Judged(bytes(outcome), margin, uncertainty, decider, chosen)


def _only(judged: Judged, index: int) -> Judged:
    """The verdicts of one subject."""
    at = slice(index, index + 1)
    return Judged(judged.outcome[at], judged.margin[at], judged.uncertainty[at], judged.decider[at])


def disagreement(outcomes: Sequence[tuple[date, int]]) -> Reason:
    """Why it cannot be told where the dates that a subject may have give different outcomes."""
    told = ", ".join(f"{WORDS[code]} under the rules of {day}" for day, code in outcomes)
    return Reason("versions disagree", f"its date is not certain, and it is {told}")
