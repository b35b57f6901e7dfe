"""The output of the radio itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, Estimate, _, marked
from afield.plugins.radio.figures import spread
from afield.plugins.radio.outputs import output_note, radio_output
from afield.plugins.radio.planned import Planned, planned_uses
from afield.plugins.radio.things import things_of
from afield.plugins.radio.walks import NO_ANTENNA_JOINED, Walk, legs_of, walks

METHODS = {
    "planned": marked("planned output of {name}"), "least": marked("least output of {name}"),
    "greatest": marked("greatest output of {name}"),
}  # fmt: skip
"""What sets the output -> the method in words."""


def least_output(
    ways: Sequence[Mapping[str, Any]], things: Mapping[str, Any], uses: Sequence[Mapping[str, Any]]
) -> Estimate:
    """The least that a radio is planned to put out.

    Raises:
        CannotTell: no radio is joined to anything, or its output is neither planned nor stated.

    """
    found = walks(legs_of(ways, things_of(things)))
    if not found:
        raise CannotTell(_(NO_ANTENNA_JOINED), "connections", "not stated", "trip")
    estimates = [_estimate(walk, planned) for walk in found for planned in planned_uses(uses)]
    return min(estimates, key=lambda one: float(one.value))


def _estimate(walk: Walk, planned: Planned) -> Estimate:
    leg = walk[0]
    found = spread(lambda draw: radio_output(leg, planned, draw))
    note = output_note(leg, planned, found.result, amplified=len(walk) > 1)
    return Estimate(
        found.result.watts,
        parts=found.parts(lambda one: one.watts),
        detail={"radio": leg.source.name},
        method=_(METHODS[found.result.because]).format(name=leg.source.name),
        notes=(note,) if note else (),
    )
