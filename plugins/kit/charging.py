"""What charges a battery: the chains of solar panels, and panels that are said to charge what is no battery.

A battery has one pair of terminals, which its port describes as giving. What charges it is joined to the same
terminals, directly or over a splitter; so such a port also takes, from a charger, a converter or a solar panel only.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from afield.core.api import Problem, did_you_mean, quoted_list, slug
from afield.plugins.kit.model import Chain, Item, Port
from afield.plugins.kit.words import CHARGES

OVER_A_BATTERY = 0.1
"""How far, of the highest volts of a battery, what charges it may exceed them (common practice, no source)."""


def charging_nothing(items: Mapping[str, Item]) -> Iterator[Problem]:
    """A problem for each panel whose `charges` names no item of the kit, or one without a battery."""
    for item in items.values():
        name = item.data.get("solar", {}).get("charges")
        charged = items.get(slug(name)) if name is not None else None
        if name is None or (charged is not None and charged.stores):
            continue
        what = f"{name} has no battery to be charged" if charged else f"there is no item {name} to be charged"
        yield item.origin.document.problem((*item.origin.path, "solar", "charges"), what, _advice(name, items))


def _advice(name: str, items: Mapping[str, Item]) -> str:
    names = [item.name for item in items.values() if item.stores]
    guess = did_you_mean(name, names)
    if guess and guess != name:
        return f'Did you mean "{guess}"?'
    return f"Name a battery of the kit: {quoted_list(names)}." if names else "Describe its battery, or remove the line."


def charges(giver: tuple[Item, Port], battery: tuple[Item, Port]) -> bool:
    """Whether one port charges the battery at whose terminals the other is: two outputs that may be joined."""
    both_dc = giver[1].role == battery[1].role == "DC"
    return both_dc and giver[0].class_ in CHARGES and giver[1].gives and _is_terminal(*battery)


def over_a_battery(giver: Port, battery: Port) -> bool:
    """Whether what charges gives more volts than a battery is charged with, as far as both are known."""
    if giver.volts is None or battery.volts is None:
        return False
    return giver.volts[1] > battery.volts[1] * (1 + OVER_A_BATTERY)


def _is_terminal(item: Item, port: Port) -> bool:
    return item.class_ == "battery" and port.role == "DC"


def charging_chains(items: Mapping[str, Item]) -> Iterator[Chain]:
    """The way of each solar panel to the battery that it charges: the one that it names, else any of the kit."""
    used = [item for item in items.values() if item.spare_of is None]
    for panel in used:
        if panel.class_ != "solar panel" and "solar" not in panel.data:
            continue
        name = panel.data.get("solar", {}).get("charges")
        named = items.get(slug(name)) if name is not None else None
        batteries = [named] if named is not None else [item for item in used if item.class_ == "battery"]
        if batteries:
            yield _chain(panel, batteries, named.name if named is not None else "a battery")


def _chain(panel: Item, batteries: Iterable[Item], end: str) -> Chain:
    starts = tuple(port for port in panel.with_role("DC") if port.gives)
    known = list(batteries)
    ends = tuple(port for item in known for port in item.with_role("DC") if port.takes or _is_terminal(item, port))
    blank = tuple(item for item in known if item.ports is None) if not ends else ()
    mine = (panel,) if panel.ports is None else ()
    return Chain(f"dc/{panel.key}/any.{slug(end)}", "DC", panel.name, end, starts, ends, mine, blank, end, beside=True)
