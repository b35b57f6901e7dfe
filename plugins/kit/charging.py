"""Solar panels that are said to charge what is no battery."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from afield.core.api import Problem, did_you_mean, quoted_list, slug
from afield.plugins.kit.model import Item


def charging_nothing(items: Mapping[str, Item]) -> Iterator[Problem]:
    """A problem for each panel whose `charges` names no item of the kit, or one without a battery."""
    for item in items.values():
        name = item.data.get("solar", {}).get("charges")
        charged = items.get(slug(name)) if name is not None else None
        if name is None or (charged is not None and _has_battery(charged)):
            continue
        what = f"{name} has no battery to be charged" if charged else f"there is no item {name} to be charged"
        yield item.origin.document.problem((*item.origin.path, "solar", "charges"), what, _advice(name, items))


def _has_battery(item: Item) -> bool:
    return item.class_ == "battery" or "battery" in item.data


def _advice(name: str, items: Mapping[str, Item]) -> str:
    names = [item.name for item in items.values() if _has_battery(item)]
    guess = did_you_mean(name, names)
    if guess and guess != name:
        return f'Did you mean "{guess}"?'
    return f"Name a battery of the kit: {quoted_list(names)}." if names else "Describe its battery, or remove the line."
