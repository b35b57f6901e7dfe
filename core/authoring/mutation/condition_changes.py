"""Changes of a condition: of every comparison in it, of what joins them, and each of them left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from afield.core.authoring.mutation.leaf_changes import leaf_changes, negated
from afield.core.documents import Path
from afield.core.frozen import frozen
from afield.core.rules.conditions import Aggregate, Condition, Group, Leaf
from afield.core.rules.outcomes import OPERATORS


@frozen
class Turn:
    """One change of a condition.

    Attributes:
        at: which part of it, in words; "" for the condition as a whole.
        what: is changed, in words.
        path: of the part in the document.
        condition: the whole as changed; None where nothing is left of it.

    """

    at: str
    what: str
    path: Path
    condition: Condition | None


def turns_of(condition: Condition) -> Iterator[Turn]:
    """Every change of a condition that must be met."""
    if isinstance(condition, Group):
        yield from _group_turns(condition)
        return
    for what, changed in leaf_changes(condition):
        yield Turn("", what, (*condition.path, condition.comparison), changed)
    if isinstance(condition.measure, Aggregate):
        yield from _aggregate_turns(condition, condition.measure)


def turns_of_where(where: Condition) -> Iterator[Turn]:
    """Every change of a condition that says what a rule, or an aggregate, applies to."""
    yield Turn("", "it is dropped", where.path, None)
    opposite = negated(where)
    yield Turn("", "it is turned round", where.path, opposite)
    for turn in turns_of(where):
        # What the turned-round whole says already is no second change.
        if turn.condition != opposite and not _is_opposite(turn.condition, where):
            yield turn


def _is_opposite(changed: Condition | None, leaf: Condition) -> bool:
    """Whether a comparison with true or false was turned round."""
    if not (isinstance(leaf, Leaf) and isinstance(changed, Leaf) and changed.measure == leaf.measure):
        return False
    before, after = leaf.bounds[0].value, changed.bounds[0].value
    return isinstance(before, bool) and isinstance(after, bool) and before != after


def _group_turns(group: Group) -> Iterator[Turn]:
    for operator in OPERATORS:
        alike = len(group.children) == 1 and "none" not in (operator, group.operator)
        if operator != group.operator and not alike:
            yield Turn(
                "", f"{group.operator} becomes {operator}", (*group.path, group.operator),
                replace(group, operator=operator),
            )  # fmt: skip
    for index, child in enumerate(group.children):
        at = f"{group.operator} {index + 1}"
        if len(group.children) > 1:
            others = (*group.children[:index], *group.children[index + 1 :])
            yield Turn(at, "it is dropped", child.path, replace(group, children=others))
        for turn in turns_of(child):
            assert turn.condition is not None
            children = (*group.children[:index], turn.condition, *group.children[index + 1 :])
            yield replace(turn, at=f"{at} {turn.at}".rstrip(), condition=replace(group, children=children))


def _aggregate_turns(leaf: Leaf, measure: Aggregate) -> Iterator[Turn]:
    if measure.where is not None:
        for turn in turns_of_where(measure.where):
            changed = replace(leaf, measure=replace(measure, where=turn.condition))
            yield replace(turn, at=f"its where {turn.at}".rstrip(), condition=changed)
    if measure.distinct:
        changed = replace(leaf, measure=replace(measure, distinct=()))
        yield Turn("", "distinct is dropped", (*leaf.path, "distinct"), changed)
    if measure.how in ("least", "greatest"):
        other = "greatest" if measure.how == "least" else "least"
        changed = replace(leaf, measure=replace(measure, how=other))
        yield Turn("", f"{measure.how} becomes {other}", (*leaf.path, measure.how), changed)
