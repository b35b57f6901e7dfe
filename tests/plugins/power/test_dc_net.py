"""The net of wires: shared leads, loads of constant power, and what grows with what."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.api import CannotTell
from afield.plugins.power.dc.answers import current, left, loss, worst_way
from afield.plugins.power.dc.net import Net, net_of, planned_power

LFP = {"chemistry": "lithium iron phosphate", "capacity": "10 Ah", "cells": 4, "end_voltage": "12 V"}


def thing(class_: str, **data: Any) -> dict[str, Any]:
    return {"name": "", "class": class_, "data": data}


def way(sink: str, *through: str, source: str = "battery") -> dict[str, Any]:
    pieces = [{"item": key, "in": "in", "out": "out"} for key in through]
    ends = {"from": {"item": source, "port": "out"}, "to": {"item": sink, "port": "dc"}}
    return {"role": "DC", **ends, "through": pieces, "fits": True, "inferred": False}


def lead(area: float = 2.5, length: float = 2.0) -> dict[str, Any]:
    return thing("lead", conductor={"area": f"{area} mm2", "length": f"{length} m", "contacts": "4 mohm"})


def net(ways: list[dict[str, Any]], air_c: float | None = 20.0, **things: Any) -> Net:
    whole = {"battery": thing("battery", battery=LFP), **things}
    return net_of(ways, {key: {**one, "name": key} for key, one in whole.items()}, None, air_c)


def load(amperes: float) -> dict[str, Any]:
    return thing("radio", loads=[{"state": "transmit", "at": "10 W", "amperes": f"{amperes} A"}])


def one(amperes: float, area: float, length: float, air_c: float = 20.0) -> float:
    found = net([way("radio", "lead")], air_c, radio=load(amperes), lead=lead(area, length))
    return loss(found, found.ways[0]).value


@given(st.floats(0.1, 50), st.floats(0.5, 50), st.floats(0.1, 30), st.floats(1.05, 3))
def test_the_loss_grows_with_current_and_length_and_falls_with_area(
    amperes: float, area: float, length: float, factor: float
) -> None:
    before = one(amperes, area, length)
    assert one(amperes * factor, area, length) > before
    assert one(amperes, area, length * factor) > before
    # Areas between the nominal ones are taken by their copper, so that only a clearly thicker one is sure to lose less.
    assert one(amperes, area * factor * 1.2, length) < before


@given(st.floats(-40, 60), st.floats(1, 30))
def test_warm_wires_lose_more(air_c: float, step: float) -> None:
    assert one(10, 2.5, 3, air_c + step) > one(10, 2.5, 3, air_c)


@given(st.floats(0.5, 30), st.floats(0.5, 30))
def test_a_shared_lead_carries_both_and_an_own_one_only_its_own(first: float, second: float) -> None:
    shared = [way("radio", "lead", "one"), way("tuner", "lead", "two")]
    things = {"lead": lead(), "one": lead(), "two": lead(), "radio": load(first), "tuner": load(second)}
    found = net(shared, **things)
    alone = net([shared[0]], **things)
    solved = found.solve(found.ways, {name: figure.value for name, figure in found.inputs(found.ways).items()})
    losses = solved.losses[found.ways[0]]
    assert losses["wire:lead"] == pytest.approx(losses["wire:one"] * (first + second) / first)
    assert loss(found, found.ways[0]).value > loss(alone, alone.ways[0]).value
    assert current(found, found.ways).value == pytest.approx(first + second)


def test_a_load_of_constant_power_draws_more_the_lower_its_voltage() -> None:
    box = thing("converter", loads=[{"state": "working", "watts": "60 W"}])
    found = net([way("box", "lead")], box=box, lead=lead(1.0, 5.0))
    (only,) = found.ways
    volts, amperes = left(found, only).value, current(found, [only]).value
    assert volts * amperes == pytest.approx(60)
    assert volts == pytest.approx(12 - loss(found, only).value)


def test_a_power_that_the_wires_cannot_bring_is_refused() -> None:
    box = thing("converter", loads=[{"state": "working", "watts": "600 W"}])
    found = net([way("box", "lead")], box=box, lead=lead(0.5, 10.0))
    with pytest.raises(CannotTell, match="the wires to box cannot bring the power that it draws"):
        loss(found, found.ways[0])


def test_a_load_beside_that_states_nothing_makes_the_loss_unknown() -> None:
    found = net([way("radio", "lead"), way("tuner", "lead")], radio=load(2), tuner=thing("tuner"), lead=lead())
    with pytest.raises(CannotTell, match="the draw of tuner is not stated"):
        loss(found, found.ways[0])


def test_what_does_not_share_a_piece_does_not_matter() -> None:
    things = {"radio": load(2), "tuner": thing("tuner"), "lead": lead(), "other": lead()}
    found = net([way("radio", "lead"), way("tuner", "other")], **things)
    assert loss(found, found.ways[0]).value > 0


def test_of_two_sources_the_worse_way_counts() -> None:
    car = thing("supply", ports=[{"name": "out", "role": "DC", "direction": "source", "volts": ["11 V", "14 V"]}])
    found = net([way("radio", "lead"), way("radio", "lead", source="car")], car=car, radio=load(2), lead=lead())
    assert worst_way(found, "radio").source == "car"


def test_what_charges_a_battery_is_no_load_of_it() -> None:
    assert net([way("battery", source="car")], car=thing("supply")).ways == []
    assert net([way("radio", source="panel")], panel=thing("solar panel"), radio=load(1)).ways == []


def test_the_planned_power_is_the_greatest_that_is_stated() -> None:
    assert planned_power([], None) is None
    assert planned_power([("a", 5.0), ("b", None)], 10.0) == 10
    assert planned_power([("a", 50.0)], 10.0) == 50
