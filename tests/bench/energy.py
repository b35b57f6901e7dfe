"""The balance of 48 hours in steps of a minute for five variants, against plain array sums of the same run.

Run: python tests/bench/energy.py

Each variant is a station of a radio and a laptop behind a converter on one battery, with all that its answers need: the
balance at the figures' own values and at both ends of each, the least capacity and the longest time on the air. The
floor is one running sum over the same steps for every balance.
"""

from __future__ import annotations

from time import perf_counter
from typing import Any

import numpy as np

from afield.plugins.power.energy.balances import balances_of
from afield.plugins.power.energy.sun import Place

HOURS, VARIANTS, BUDGET_S = 48, 5, 1.0
LOADS = [{"state": "receive", "amperes": "0.4 A"}, {"state": "transmit", "at": "10 W", "amperes": "2.5 A"}]
WORK = [{"state": "working", "watts": "15 W"}, {"state": "charging", "watts": "45 W"}]


def _way(role: str, giver: str, taker: str) -> dict[str, Any]:
    ends = [{"item": end, "port": role} for end in (giver, taker)]
    return {"role": role, "from": ends[0], "to": ends[1], "through": [], "fits": True, "inferred": False}


WAYS = [_way("DC", "battery", "radio"), _way("DC", "battery", "converter"), _way("USB", "converter", "laptop")]


def _thing(name: str, class_: str, **data: Any) -> dict[str, Any]:
    return {"name": name, "class": class_, "data": data}


def things(variant: int) -> dict[str, dict[str, Any]]:
    """The kit of a variant: batteries of 40 Ah and more."""
    battery = {
        "chemistry": "lead acid",
        "capacity": f"{40 * (variant + 1)} Ah",
        "nominal": "12 V",
        "rated_hours": "20 h",
    }
    return {
        "battery": _thing("battery", "battery", battery=battery),
        "radio": _thing("radio", "radio", loads=LOADS, transmitter={"power": ["1 W", "10 W"]}),
        "converter": _thing("converter", "converter", converter={"efficiency": "88 %", "idle": "0.3 W"}),
        "laptop": _thing("laptop", "computer", loads=WORK),
        "panel": _thing("panel", "solar panel", solar={"harvest": "20 W", "charges": "battery"}),
    }


def timeline() -> dict[str, Any]:
    """On the air for 46 of 48 hours, in speech."""
    slot = {"name": "on air", "from_h": 1.0, "to_h": HOURS - 1.0, "mode": "SSB", "power_w": 7.0}
    clock = {"arrive": "14:00", "leave": "14:00"}
    return {"leave_h": float(HOURS), "clock": clock, "on_air": [[1.0, HOURS - 1.0]], "slots": [slot]}


def all_variants() -> list[dict[str, Any]]:
    """The balance of each variant."""
    line, place = timeline(), Place(None, "2026-06-27", "14:00", 10.0)
    return [balances_of(WAYS, things(variant), line, place)["battery"] for variant in range(VARIANTS)]


def sums(balances: int) -> None:
    """The floor: one running sum over all steps for each balance."""
    load = np.linspace(1, 2, HOURS * 60)
    for _ in range(balances):
        np.cumsum(load)


def best_seconds(work: Any, times: int = 5) -> float:
    """The least of several timings."""
    spans = []
    for _ in range(times):
        start = perf_counter()
        work()
        spans.append(perf_counter() - start)
    return min(spans)


def main() -> None:
    """Prints the figures."""
    found = all_variants()
    assert all("cannot" not in balance and balance["hours"][-1] == HOURS for balance in found)
    sides = 1 + 2 * max(len(balance["answers"]["reserve"]["parts"]) for balance in found)
    took, floor = best_seconds(all_variants), best_seconds(lambda: sums(VARIANTS * sides))
    print(f"{HOURS} h in steps of a minute, {VARIANTS} variants, {sides} balances each with least capacity and end")
    print(f"time of all:                    {took:12.3f} s (budget {BUDGET_S:g} s)")
    print(f"ratio to the sums alone:        {took / floor:12.1f} x")


if __name__ == "__main__":
    main()
