"""The bounds of a comparison on one day: which version of each limit is in force, and its figure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from afield.core.frozen import frozen
from afield.core.quantities import convert_exact, to_12_digits
from afield.core.rules.columns import minutes_since_1970
from afield.core.rules.conditions import Bound
from afield.core.rules.limits import Limit, Version, in_force, printed_figure


@frozen
class BoundUsed:
    """A bound on the day of judging.

    Attributes:
        value: what is compared with; None where no figure is in force.
        unit: of a number; "" for a count.
        limit: the limit's name, None for a value written in the rule.
        version: the limit's version in force; None for a written value, and where none is in force.

    """

    value: Decimal | str | bool | datetime | None
    unit: str = ""
    limit: str | None = None
    version: Version | None = None

    @property
    def missing(self) -> bool:
        """Whether a limit has no version in force, not even one that says that there is no limit."""
        return self.limit is not None and self.version is None

    @property
    def printed(self) -> str:
        """As the source prints it: "80 ft"; "" where no figure is in force."""
        if isinstance(self.value, Decimal):
            return printed_figure(self.value, self.unit)
        if isinstance(self.value, datetime):
            return self.value.isoformat(" ", "minutes")
        if isinstance(self.value, bool):
            return "true" if self.value else "false"
        return self.value or ""


def bound_used(bound: Bound, limits: Mapping[str, Limit], day: date) -> BoundUsed:
    """The bound on that day; a limit that is not among `limits` has no version in force."""
    if bound.limit is None:
        return BoundUsed(bound.value, bound.unit)
    limit = limits.get(bound.limit)
    version = in_force(limit.versions, day) if limit else None
    if version is None:
        return BoundUsed(None, "", bound.limit)
    return BoundUsed(version.value, version.unit, bound.limit, version)


def comparable(bounds: Sequence[BoundUsed]) -> tuple[Any, ...]:
    """The bounds as values to compare a column with, numbers in the first bound's unit.

    A single limit is never converted: the column is.
    """
    return tuple(_comparable(bound, bounds[0].unit) for bound in bounds)


def _comparable(bound: BoundUsed, unit: str) -> Any:
    if isinstance(bound.value, datetime):
        return minutes_since_1970(bound.value)
    if isinstance(bound.value, Decimal):
        exact = bound.value if bound.unit == unit else convert_exact(bound.value, bound.unit, unit)
        return to_12_digits(float(exact))
    return bound.value
