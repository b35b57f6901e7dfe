"""Which checklist items the plan confirms."""

from __future__ import annotations

from collections.abc import Iterable

from afield.core.documents import Document, InputError, Problem, quoted_list
from afield.core.packs.model import Pack
from afield.core.rules.complaint import meant


def confirmed_rules(document: Document, packs: Iterable[Pack]) -> set[str]:
    """Keys of the confirmed checklist rules, given in the plan as `pack/rule` or, if no other pack has it, as the rule.

    Raises:
        InputError: a name that is no checklist rule of the trip's packs.

    """
    known = [rule.key for pack in packs for rule in pack.rules if rule.confirm]
    names = document.data.get("confirmed", [])
    return {_key(document, index, name, known) for index, name in enumerate(names)}


def _key(document: Document, index: int, name: str, known: list[str]) -> str:
    matches = [key for key in known if key == name or key.split("/", 1)[1] == name]
    if len(matches) == 1:
        return matches[0]
    place = document.place(("confirmed", index))
    if matches:
        what, advice = f"{name} is a checklist item of several packs", f"Write one of {quoted_list(matches)}."
    else:
        what, advice = f"no checklist item is called {name}", meant(name, known, "checklist items")
    raise InputError([Problem(place, what, advice, document.line(place))])
