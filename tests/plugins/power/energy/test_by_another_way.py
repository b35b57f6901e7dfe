"""The same figures by another way: nodes and conductances, a quadratic, plain minutes, and draws at random."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest

from afield.plugins.power.dc.answers import left, loss
from afield.plugins.power.dc.net import Net, net_of

Json = dict[str, Any]
END_V = 12.0
LFP = {"chemistry": "lithium iron phosphate", "capacity": "10 Ah", "cells": 4, "end_voltage": "12 V"}
RHO = 17.241 * 1.05
"""Ohm mm2 per km: copper of 100 % IACS, 5 % for the stranding."""
PLUGS = 0.005


def thing(class_: str, **data: Any) -> Json:
    return {"name": "", "class": class_, "data": data}


def way(sink: str, *through: tuple[str, str, str]) -> Json:
    pieces = [dict(zip(("item", "in", "out"), piece, strict=True)) for piece in through]
    ends = {"from": {"item": "battery", "port": "out"}, "to": {"item": sink, "port": "dc"}}
    return {"role": "DC", **ends, "through": pieces, "fits": True, "inferred": False}


def lead(area: float, length: float) -> Json:
    return thing("lead", conductor={"area": f"{area} mm2", "length": f"{length} m"})


def wire_ohm(area: float, length: float) -> float:
    return RHO / area * 2 * length / 1000


def net(ways: list[Json], **things: Any) -> Net:
    whole = {"battery": thing("battery", battery=LFP), **things}
    return net_of(ways, {key: {**one, "name": key} for key, one in whole.items()}, None, 20.0)


def nodes(conductances: Mapping[tuple[int, int], float], drawn: Mapping[int, float], count: int) -> Any:
    """Voltages of nodes 1 to `count`, node 0 being held at the end voltage; Kirchhoff's law at each node."""
    matrix, right = np.zeros((count, count)), np.zeros(count)
    for (one, other), siemens in conductances.items():
        for here, there in ((one, other), (other, one)):
            if here:
                matrix[here - 1, here - 1] += siemens
                if there:
                    matrix[here - 1, there - 1] -= siemens
                else:
                    right[here - 1] += siemens * END_V
    for node, amperes in drawn.items():
        right[node - 1] -= amperes
    return np.linalg.solve(matrix, right)


def test_two_loads_on_a_shared_lead_and_splitter_are_as_kirchhoff_has_them() -> None:
    areas = {"trunk": (3.3, 4.0), "one": (1.3, 1.7), "two": (2.1, 0.9)}
    trunk, split = ("trunk", "in", "out"), thing("adapter")
    ways = [
        way("radio", trunk, ("split", "in", "a"), ("one", "in", "out")),
        way("amplifier", trunk, ("split", "in", "b"), ("two", "in", "out")),
    ]
    loads = {"radio": 6.0, "amplifier": 17.0}
    drawing = {name: thing("radio", loads=[{"state": "receive", "amperes": f"{a} A"}]) for name, a in loads.items()}
    found = net(ways, **{name: lead(*size) for name, size in areas.items()}, split=split, **drawing)
    # 0 battery, 1 splitter, 2 radio, 3 amplifier; plugs at both ends of each lead.
    ohms = {(0, 1): wire_ohm(3.3, 4.0) + 2 * PLUGS, (1, 2): wire_ohm(1.3, 1.7) + 2 * PLUGS,
            (1, 3): wire_ohm(2.1, 0.9) + 2 * PLUGS}  # fmt: skip
    volts = nodes({pair: 1 / ohm for pair, ohm in ohms.items()}, {2: 6.0, 3: 17.0}, 3)
    assert left(found, found.ways[0]).value == pytest.approx(volts[1], abs=1e-9)
    assert left(found, found.ways[1]).value == pytest.approx(volts[2], abs=1e-9)


@pytest.mark.parametrize("watts", [10.0, 60.0, 150.0, 200.0])
def test_a_load_of_constant_power_is_left_what_the_quadratic_says(watts: float) -> None:
    load = thing("radio", loads=[{"state": "receive", "watts": f"{watts} W"}])
    found = net([way("radio", ("lead", "in", "out"))], radio=load, lead=lead(2.2, 6.0))
    ohm = wire_ohm(2.2, 6.0) + 2 * PLUGS
    exact = (END_V + (END_V**2 - 4 * watts * ohm) ** 0.5) / 2
    assert left(found, found.ways[0]).value == pytest.approx(exact, abs=1e-6)


def test_the_loss_at_random_lies_within_its_interval_in_nineteen_of_twenty() -> None:
    load = thing("radio", loads=[{"state": "receive", "amperes": "8 A"}])
    ways = [way("radio", ("lead", "in", "out"))]
    things = {"battery": thing("battery", battery=LFP), "radio": load, "lead": lead(2.2, 3.0)}
    found = net_of(ways, {key: {**one, "name": key} for key, one in things.items()}, None, None)
    told = loss(found, found.ways[0])
    around = sum(part**2 for part in told.parts.values()) ** 0.5
    dice, many = np.random.default_rng(7), 40_000
    drawn = {"wire": 0.10, "amperes": 0.05}
    wire, amperes = (1 + share / 1.96 * dice.standard_normal(many) for share in drawn.values())
    plugs = 2 * (PLUGS + 0.004 / 1.96 * dice.standard_normal(many))
    warmth = 1 + 0.00393 * (15 / 1.96 * dice.standard_normal(many))
    lost = 8 * amperes * (wire_ohm(2.2, 3.0) * wire * warmth + plugs)
    inside = float(np.mean(np.abs(lost - told.value) <= around))
    assert 0.94 <= inside <= 0.97


Draw = Callable[[str], float]


def by_minutes(draw: Draw) -> tuple[float, float]:
    """Watt-hours used, and per cent left, of an outing of 6 h with 4 h of SSB; every minute on its own.

    The radio draws 0.5 A in receive and, at 10 W, 2.5 A in transmit; the battery has 10 Ah of 12 V, lead acid.
    """
    share, duty = min(max(draw("share"), 0), 1), min(max(draw("duty"), 0), 1)
    law, factor = draw("law"), draw("draw")
    amperes = factor * (0.5 * (1 - share) + share * (0.5 + 2.0 * duty**law))
    capacity, peukert = draw("capacity"), min(max(draw("peukert"), 1.0), 2.0)
    usable_ah = capacity * min(draw("usable"), 1.0)
    held = min(draw("charged"), 1.0) * capacity - (capacity - usable_ah)
    rated = capacity / 20
    out = rated * (amperes / rated) ** peukert if amperes > rated else amperes
    for _ in range(4 * 60):
        held -= out / 60
    return 12 * amperes * 4, 100 * held / usable_ah


def test_the_energy_at_random_lies_within_its_intervals_in_nineteen_of_twenty(
    energy: Any, slot_of: Any, timeline_of: Any, answer: Any
) -> None:
    loads = [{"state": "receive", "amperes": "0.5 A"}, {"state": "transmit", "at": "10 W", "amperes": "2.5 A"}]
    energy.kit.thing("radio", "radio", loads=loads, transmitter={"power": ["0.5 W", "10 W"]})
    stated = {"chemistry": "lead acid", "capacity": "10 Ah", "nominal": "12 V", "rated_hours": "20 h"}
    energy.kit.thing("battery", "battery", battery=stated)
    line = timeline_of(slot_of(mode="SSB", power_w=10.0, transmit_share=0.4, transmit_share_around=0.1))
    balance = energy.balance(line)
    figures = {  # value and 95 % half-width: of the mode, of common practice for lead acid, and as stated
        "share": (0.4, 0.1), "duty": mode_figures("SSB"), "law": (0.75, 0.25), "draw": (1.0, 0.05),
        "capacity": (10.0, 0.5), "peukert": (1.2, 0.15), "usable": (0.5, 0.1), "charged": (1.0, 0.05),
    }  # fmt: skip
    used, reserve = by_minutes(lambda name: figures[name][0])
    assert answer(balance, "used") == pytest.approx(used, rel=1e-6)
    assert answer(balance, "reserve") == pytest.approx(reserve, abs=1e-3)
    dice = np.random.default_rng(11)
    drawn = [
        by_minutes(lambda name: figures[name][0] + figures[name][1] / 1.96 * dice.standard_normal())
        for _ in range(4000)
    ]
    for place, name in enumerate(("used", "reserve")):
        around = sum(part**2 for part in balance["answers"][name]["parts"].values()) ** 0.5
        off = np.abs(np.array([one[place] for one in drawn]) - answer(balance, name))
        assert float(np.mean(off <= around)) >= 0.94, name


def mode_figures(name: str) -> tuple[float, float]:
    from afield.plugins.power.computations.duty import MODES

    return MODES[name].duty, MODES[name].duty_around


@pytest.mark.parametrize(("amperes", "k"), [(2.0, 1.2), (5.0, 1.3), (0.6, 1.1)])
def test_a_constant_load_ends_when_peukert_s_law_says(energy: Any, answer: Any, amperes: float, k: float) -> None:
    loads = [{"state": "receive", "amperes": f"{amperes} A"}]
    energy.kit.thing("radio", "receiver", loads=loads)
    energy.battery(peukert=k, capacity="10 Ah", rated_hours="20 h")
    hours = 20 * (10 / (amperes * 20)) ** k
    # It is switched on 1 h after arrival.
    assert answer(energy.balance(), "lasts") == pytest.approx(1 + hours, abs=0.02)
