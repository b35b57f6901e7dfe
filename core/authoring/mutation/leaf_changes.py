"""Changes of one comparison: its bounds, whether it is strict, which way it points, what it is compared with."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from afield.core.authoring.mutation.figures import changed_figures
from afield.core.quantities import convert_exact
from afield.core.rules.conditions import Bound, Condition, Group, Leaf

Change = tuple[str, Condition]
"""What is changed, in words, and the condition that comes of it."""

STRICTNESS = {"at_most": "below", "below": "at_most", "at_least": "above", "above": "at_least"}
DIRECTION = {"at_most": "at_least", "at_least": "at_most", "below": "above", "above": "below"}


def leaf_changes(leaf: Leaf) -> Iterator[Change]:
    """Every change of the comparison itself; those of what an aggregate gathers are not among them."""
    yield from _comparison_changes(leaf)
    yield from _bound_changes(leaf)


def negated(condition: Condition) -> Condition:
    """What is met where the condition is not."""
    return Group("none", (condition,), condition.path)


def _comparison_changes(leaf: Leaf) -> Iterator[Change]:
    if leaf.comparison in STRICTNESS:
        for other in (STRICTNESS[leaf.comparison], DIRECTION[leaf.comparison]):
            yield f"{leaf.comparison} becomes {other}", replace(leaf, comparison=other)
    elif leaf.comparison == "between":
        least, most = leaf.bounds
        yield "the upper end is dropped", replace(leaf, comparison="at_least", bounds=(least,))
        yield "the lower end is dropped", replace(leaf, comparison="at_most", bounds=(most,))
    elif isinstance(leaf.bounds[0].value, bool):
        yield _flipped(leaf, leaf.bounds[0].value)
    else:
        yield f"{leaf.comparison} becomes not {leaf.comparison}", negated(leaf)


def _flipped(leaf: Leaf, due: bool) -> Change:
    words = ("true", "false") if due else ("false", "true")
    return f"{leaf.comparison} {words[0]} becomes {words[1]}", replace(leaf, bounds=(Bound(value=not due),))


def _bound_changes(leaf: Leaf) -> Iterator[Change]:
    for index, bound in enumerate(leaf.bounds):
        if isinstance(bound.value, Decimal):
            for printed, figure, unit in changed_figures(bound.value, bound.unit):
                changed = _with_bound(leaf, index, Bound(value=figure, unit=unit))
                if not _is_reversed(changed):
                    yield f"{bound.written} becomes {printed}", changed
        if leaf.comparison == "one_of" and len(leaf.bounds) > 1:
            others = (*leaf.bounds[:index], *leaf.bounds[index + 1 :])
            yield f"{bound.written} is dropped", replace(leaf, bounds=others)


def _with_bound(leaf: Leaf, index: int, bound: Bound) -> Leaf:
    return replace(leaf, bounds=(*leaf.bounds[:index], bound, *leaf.bounds[index + 1 :]))


def _is_reversed(leaf: Leaf) -> bool:
    """Whether the lower end of a range is above its upper end, which no pack may have."""
    if leaf.comparison != "between":
        return False
    least, most = leaf.bounds
    if not (isinstance(least.value, Decimal) and isinstance(most.value, Decimal)):
        return False
    return convert_exact(least.value, least.unit, most.unit) > convert_exact(most.value, most.unit, most.unit)
