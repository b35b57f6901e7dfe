"""Ways of RF from the radio onward."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.plugins.radio.things import things_of
from afield.plugins.radio.walks import Walk, legs_of, to_antennas, up_to, walks


def found(bench: Any) -> list[Walk]:
    return walks(legs_of(bench.ways, things_of(bench.items)))


def names(walk: Walk) -> list[str]:
    return [walk[0].source.name, *(leg.target.name for leg in walk)]


def test_a_walk_goes_through_amplifiers(make_amplified: Any) -> None:
    bench = make_amplified()
    (walk,) = to_antennas(found(bench))
    assert names(walk) == ["radio", "linear", "wire"]
    assert [piece.name for piece in walk[-1].pieces] == ["coax"]
    part = up_to(found(bench), "linear")
    assert part is not None
    assert names(part) == ["radio", "linear"]
    assert up_to(found(bench), "coax") is None


def test_a_loop_of_amplifiers_is_walked_once_round(make_amplified: Any) -> None:
    bench = make_amplified().item("driver", "amplifier").way("linear.output", "driver").way("driver.output", "linear")
    assert [names(walk) for walk in found(bench)] == [
        ["radio", "linear", "wire"],
        ["radio", "linear", "driver", "linear"],
    ]


def test_other_roles_and_spares_are_no_ways_of_rf(low: Any) -> None:
    low.item("spare", "antenna", spare_of="wire").way("radio", "spare", "coax").way("radio", "wire", role="ground")
    assert [names(walk) for walk in found(low)] == [["radio", "wire"]]


def test_a_way_that_fits_goes_before_one_that_does_not(low: Any) -> None:
    low.ways[0]["fits"] = False
    low.item("whip", "antenna").way("radio.two", "whip", fits=None)
    assert [names(walk) for walk in to_antennas(found(low))] == [["radio", "whip"]]


def test_a_way_that_does_not_fit_leads_nowhere(low: Any) -> None:
    low.ways[0]["fits"] = False
    with pytest.raises(CannotTell) as silence:
        to_antennas(found(low))
    assert silence.value.reason.text == "what joins radio to wire does not fit (see its connections)"


def test_a_radio_that_is_joined_to_nothing(low: Any) -> None:
    low.ways.clear()
    with pytest.raises(CannotTell) as silence:
        to_antennas(found(low))
    reason = silence.value.reason
    assert reason.text == "no connection that is stated or can be inferred joins a radio to an antenna"
    assert (reason.settle, reason.subject) == ("connections", "trip")
