"""Whether a value found rests on what is to be chosen: by the inputs that were taken, not by those possible."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.placing.resting import rests_on_any

FREE = ("spot",)
MAY = ("spot", "zone", "minutes", "reading", "gap")


def found(*inputs: str, rank: str = "computed") -> Measured:
    return Measured(1.0, inputs=tuple(("trip", name) for name in inputs), rank=rank)


class Told:
    """A world of records that are there already."""

    def __init__(self, **records: Measured) -> None:
        self.records = records
        self.asked: list[str] = []

    def value(self, subject: str, name: str) -> Measured:
        self.asked.append(name)
        return self.records[name]


@pytest.mark.parametrize(
    ("records", "rests"),
    [
        ({"minutes": found("zone", "clock"), "zone": found("stated zone")}, False),
        ({"minutes": found("zone", "clock"), "zone": found("spot")}, True),
        ({"minutes": found("zone", "gap"), "zone": found("stated zone"), "gap": found("spot")}, True),
        ({"minutes": found("zone"), "zone": unknown(Reason("cannot be computed", "no zone"))}, True),
        ({"minutes": found("reading"), "reading": found(rank="measured")}, True),
        ({"minutes": found("zone"), "zone": found("minutes")}, False),
    ],
)
def test_what_was_asked_decides(records: dict[str, Measured], rests: bool) -> None:
    world: Any = Told(spot=found(), **records)
    assert rests_on_any(world, ("trip", "minutes"), FREE, MAY) is rests


def test_what_cannot_rest_on_it_is_not_looked_at() -> None:
    world: Any = Told(minutes=found("clock", "date"))
    assert not rests_on_any(world, ("trip", "minutes"), FREE, MAY)
    assert world.asked == ["minutes"]
