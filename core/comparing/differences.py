"""The difference between two records, and whether it is more than what is uncertain in it."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import Any

from afield.core.facts.measured import root_sum_square
from afield.core.frozen import frozen
from afield.core.language import marked
from afield.core.quantities import to_12_digits

Json = Mapping[str, Any]
DIFFERS, UNTOLD, SAME = marked("differs"), marked("no difference that can be told"), marked("the same")
CANNOT_TELL = "cannot tell"
NOISE = 1e-11
"""Share of the greater value below which a difference is the rounding of a report's 12 digits."""


@frozen
class Difference:
    """How much more the other is than the base, with its uncertainty at 95 %, both in the fact's unit."""

    value: float
    uncertainty: float

    @property
    def finding(self) -> str:
        """DIFFERS if it is more than its uncertainty, SAME if it is nothing and exact, else UNTOLD."""
        if abs(self.value) > self.uncertainty:
            return DIFFERS
        return UNTOLD if self.uncertainty else SAME


def numeric_difference(base: Json, other: Json, shared: Collection[str]) -> Difference:
    """The difference of two numeric records, errors that both share cancelled.

    Formula: root sum of squares of what each independent origin contributes to the difference (JCGM 100:2008, 5.1.2
    and 5.2.2; fully correlated contributions of one origin subtract before they are squared). An interval that is wider
    than its parts account for stands as one origin of its own, unless both records are one and the same finding.

    Args:
        base, other: a report's records, `value`, `low`, `high` and `parts` in one unit, at 95 %.
        shared: the origins that are one and the same error in both.

    """
    if _one_finding(base, other, shared):
        return Difference(0.0, 0.0)
    mine, others = _contributions(base), _contributions(other)
    common = {origin for origin in shared if origin in mine and origin in others}
    parts = {f"both {origin}": others[origin] - mine[origin] for origin in common}
    for side, contributions in (("base", mine), ("other", others)):
        parts |= {f"{side} {origin}": part for origin, part in contributions.items() if origin not in common}
    scale = max(abs(base["value"]), abs(other["value"])) * NOISE
    return Difference(_without_noise(_less(other, base), scale), _without_noise(root_sum_square(parts), scale))


def _one_finding(base: Json, other: Json, shared: Collection[str]) -> bool:
    """Whether nothing that the value rests on is another in the variant, so that whatever is wrong in it cancels."""
    alike = all(base[name] == other[name] for name in ("value", "low", "high", "parts"))
    return alike and all(part["origin"] in shared for part in base["parts"])


def _less(other: Json, base: Json) -> float:
    """What the decimal digits differ by: binary arithmetic would leave a tail that is no part of either."""
    one, two = (Decimal(repr(to_12_digits(float(record["value"])))) for record in (base, other))
    return float(two - one)


def _contributions(record: Json) -> dict[str, float]:
    parts = {part["origin"]: float(part["contribution"]) for part in record["parts"]}
    width = _half_width(record)
    # The report's ends have 12 digits of the value, not of the width.
    noise = NOISE * (abs(float(record["value"])) + width)
    return parts if root_sum_square(parts) >= width - noise else {"the interval itself": width}


def _half_width(record: Json) -> float:
    """The wider half of the interval: a record that reaches further to one side is not made narrower by the other."""
    ends = [record[end] for end in ("low", "high") if record[end] is not None]
    return max((abs(float(end) - float(record["value"])) for end in ends), default=0.0)


def _without_noise(number: float, scale: float) -> float:
    return 0.0 if abs(number) <= scale else float(to_12_digits(number))


def entries_apart(base: list[Any], other: list[Any]) -> tuple[list[Any], list[Any]]:
    """The entries that only the one list has, and those that only the other has, each in its order."""
    return _left(base, other), _left(other, base)


def _left(entries: list[Any], taken: list[Any]) -> list[Any]:
    rest = Counter(_key(entry) for entry in entries)
    rest.subtract(Counter(_key(entry) for entry in taken))
    found = []
    for entry in reversed(entries):
        if rest[_key(entry)] > 0:
            rest[_key(entry)] -= 1
            found.append(entry)
    return found[::-1]


def _key(entry: Any) -> str:
    return json.dumps(entry, sort_keys=True)
