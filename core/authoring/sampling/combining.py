"""Combinations of candidates: all of them where they are few, else those that differ little, and a fair draw."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import combinations, islice, product
from math import prod

from afield.core.authoring.sampling.candidates import Candidate

MOST = 3000
"""Combinations that are tried at most."""

Row = tuple[Candidate, ...]


def is_whole(slots: Sequence[Sequence[Candidate]], most: int = MOST) -> bool:
    """Whether all combinations are tried."""
    return prod(len(slot) for slot in slots) <= most


def combined(slots: Sequence[Sequence[Candidate]], most: int = MOST) -> Iterator[Row]:
    """The combinations of one candidate of every slot, the plainest first; the same ones at every run."""
    if is_whole(slots, most):
        yield from sorted(product(*slots), key=_cost)
        return
    seen: set[str] = set()
    yield from islice(_fresh(slots, seen), most)


def _fresh(slots: Sequence[Sequence[Candidate]], seen: set[str]) -> Iterator[Row]:
    for row in _many(slots):
        key = repr(row)
        if key not in seen:
            seen.add(key)
            yield row


def _many(slots: Sequence[Sequence[Candidate]]) -> Iterator[Row]:
    """The first candidates with one and with two of them changed, then draws."""
    base = [slot[0] for slot in slots]
    for count in (1, 2):
        for places in combinations(range(len(slots)), count):
            for values in product(*(slots[place] for place in places)):
                changed = dict(zip(places, values, strict=True))
                yield tuple(changed.get(place, value) for place, value in enumerate(base))
    draw = random.Random(0)
    for _ in range(20 * MOST):
        yield tuple(draw.choice(slot) for slot in slots)


def _cost(row: Row) -> int:
    return sum(candidate.cost for candidate in row)
