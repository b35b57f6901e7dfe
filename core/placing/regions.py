"""What a fact's inverse is asked, and how its answers are joined."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import Any, Protocol, TypeAlias

from afield.core.frozen import frozen


class Region(Protocol):
    """Where something that is free may be; a plugin's own, of which core needs no more than this."""

    def __and__(self, other: Any, /) -> Any:
        """What is in both."""

    def __or__(self, other: Any, /) -> Any:
        """What is in one of them."""


class Whole(Enum):
    """The two regions that need no plugin."""

    EVERYWHERE = "everywhere"
    NOWHERE = "nowhere"


EVERYWHERE, NOWHERE = Whole.EVERYWHERE, Whole.NOWHERE

AnyRegion: TypeAlias = Region | Whole


@frozen
class Asked:
    """The comparison that a fact's inverse turns into a region.

    Attributes:
        comparison: at_most, at_least, below or above.
        limit: in the fact's unit.
        sure: whether it must hold for every value of the interval; else for the value alone.

    """

    comparison: str
    limit: float
    sure: bool


@frozen
class Sought:
    """What is looked for.

    Attributes:
        free: what may be chosen; handed to the inverses as it is.
        facts: names of the facts that say it, such as `station.at`.
        room: by how much every margin that depends on it must keep away from its limit, in the fact's unit; below 0,
            by how much it may miss it.
        sure: whether uncertainty may not decide.

    """

    free: Any
    facts: tuple[str, ...]
    room: float = 0.0
    sure: bool = True


def both(regions: Iterable[AnyRegion]) -> AnyRegion:
    """What is in all of them; everywhere if there is none."""
    met: AnyRegion = EVERYWHERE
    for region in regions:
        if region is NOWHERE or met is NOWHERE:
            return NOWHERE
        met = region if isinstance(met, Whole) else met if isinstance(region, Whole) else met & region
    return met


def either(regions: Iterable[AnyRegion]) -> AnyRegion:
    """What is in any of them; nowhere if there is none."""
    met: AnyRegion = NOWHERE
    for region in regions:
        if region is EVERYWHERE or met is EVERYWHERE:
            return EVERYWHERE
        met = region if isinstance(met, Whole) else met if isinstance(region, Whole) else met | region
    return met
