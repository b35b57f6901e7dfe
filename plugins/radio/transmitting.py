"""The output of the radio itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, Estimate
from afield.plugins.radio.figures import spread
from afield.plugins.radio.outputs import output_note, radio_output
from afield.plugins.radio.planned import Planned, planned_uses
from afield.plugins.radio.things import things_of
from afield.plugins.radio.walks import NOTHING_JOINS, Walk, legs_of, walks


def least_output(
    ways: Sequence[Mapping[str, Any]], things: Mapping[str, Any], uses: Sequence[Mapping[str, Any]]
) -> Estimate:
    """The least that a radio is planned to put out.

    Raises:
        CannotTell: no radio is joined to anything, or its output is neither planned nor stated.

    """
    found = walks(legs_of(ways, things_of(things)))
    if not found:
        raise CannotTell(NOTHING_JOINS + "an antenna", "connections", "not stated", "trip")
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
        method=f"{found.result.because} output of {leg.source.name}",
        notes=(note,) if note else (),
    )
