"""Slots that cannot be meant as they are written, refused as soon as the plan is read: no clock is needed to see it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import Document, InputError, Problem, did_you_mean, quoted_list

ENDS = {"from": ("a start", "end", "to"), "to": ("an end", "start", "from")}
"""A time that is stated -> what it is, what is missing then, and the key of that."""


def refuse_wrong_slots(plan: Document) -> None:
    """Refuse slots with one of their two times only, and slots of an operator whom the plan does not list.

    Raises:
        InputError: all such slots, each at its place.

    """
    slots = plan.value(("schedule", "slots")) or []
    problems = [found for index, slot in enumerate(slots) for found in _problems(plan, index, slot)]
    if problems:
        raise InputError(problems)


def _problems(plan: Document, index: int, slot: Mapping[str, Any]) -> Iterator[Problem]:
    stated = [key for key in ENDS if slot.get(key)]
    if len(stated) == 1:
        yield _half(plan, index, slot, stated[0])
    names = [str(one["name"]) for one in plan.value(("operators",)) or []]
    if names and slot.get("operator") and slot["operator"] not in names:
        yield _stranger(plan, index, slot, names)


def _half(plan: Document, index: int, slot: Mapping[str, Any], key: str) -> Problem:
    is_there, is_missing, other = ENDS[key]
    what = f"slot {slot['name']} has {is_there}, {slot[key]}, and no {is_missing}"
    advice = f"Write its `{other}` too; only a slot that is the only one may leave both out."
    return plan.problem(("schedule", "slots", index, key), what, advice)


def _stranger(plan: Document, index: int, slot: Mapping[str, Any], names: list[str]) -> Problem:
    who = slot["operator"]
    guess = did_you_mean(who, names)
    hint = f'Did you mean "{guess}"? ' if guess else ""
    what = f"slot {slot['name']} is of the operator {who}, whom `operators` does not list"
    advice = f"{hint}Name one of {quoted_list(names)}, or add {who} to `operators`."
    return plan.problem(("schedule", "slots", index, "operator"), what, advice)
