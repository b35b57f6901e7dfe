"""Which claims can be had together at one place, where not all can."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations
from typing import Any

import shapely

from afield.plugins.geometry.computations.erosion import met, without_slivers


def standing_room(region: Any) -> bool:
    """Whether a region is more than what differences leave over."""
    return not without_slivers(region).is_empty


def maximal(places: Mapping[str, Any]) -> list[frozenset[str]]:
    """The largest sets of claims whose places meet, none within another.

    Depth first, adding only claims that each meet all those taken; three that meet in pairs need not meet together, so
    every step intersects the places themselves.
    """
    names = [name for name, region in places.items() if standing_room(region)]
    apart = {pair for pair in combinations(names, 2) if not standing_room(met(places[name] for name in pair))}
    found: list[frozenset[str]] = []

    def extend(taken: tuple[str, ...], region: Any, rest: Sequence[str]) -> None:
        grew = False
        for index, name in enumerate(rest):
            if any((other, name) in apart for other in taken):
                continue
            smaller = places[name] if region is None else shapely.intersection(region, places[name])
            if standing_room(smaller):
                grew = True
                extend((*taken, name), smaller, rest[index + 1 :])
        if not grew and taken:
            found.append(frozenset(taken))

    extend((), None, names)
    return largest(found)


def largest(sets: Iterable[frozenset[str]]) -> list[frozenset[str]]:
    """Sets without those that lie within another, the largest first."""
    kept: list[frozenset[str]] = []
    for one in sorted(set(sets), key=lambda names: (-len(names), sorted(names))):
        if not any(one <= other for other in kept):
            kept.append(one)
    return kept
