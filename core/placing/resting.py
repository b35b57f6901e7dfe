"""Whether a value that was found rests on facts that are to be chosen."""

from __future__ import annotations

from collections.abc import Collection

from afield.core.facts.world import Key, World


def rests_on_any(world: World, key: Key, free: Collection[str], may: Collection[str]) -> bool:
    """Whether the value was found from any of the facts, by the inputs that it, and each of them, took.

    A function that did not ask a fact cannot change with it: what it asks follows from what it got. What is not known,
    or was read where the station stands, counts as resting on all.

    Args:
        world: with the value.
        key: subject and name of the fact.
        free: names of the facts to be chosen.
        may: names of these, and of all facts that could be found from them.

    """
    waiting, seen = [key], set[Key]()
    while waiting:
        each = waiting.pop()
        if each in seen or each[1] not in may:
            continue
        seen.add(each)
        record = world.value(*each)
        if each[1] in free or not record.known or record.rank in ("measured", "logged"):
            return True
        waiting += record.inputs
    return False
