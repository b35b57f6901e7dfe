"""References and program facts that are in force on some days only."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TypeVar

from afield.core.facts.measured import Reason
from afield.core.facts.subjects import Subject
from afield.core.facts.world import World
from afield.core.language import _
from afield.core.packs.model import Pack
from afield.core.rules.limits import Dated, in_force

D = TypeVar("D", bound=Dated)


def versions_on(versions: Sequence[D], days: Sequence[date]) -> list[D | None]:
    """The different versions in force on the days, None among them where a day has none."""
    found: list[D | None] = []
    for day in days:
        version = in_force(versions, day)
        if version not in found:
            found.append(version)
    return found


def lapse_of(claim: Subject, pack: Pack, day: date) -> Reason | None:
    """Why the claim's reference is none on the day, though the pack lists it on others; None if it is one.

    A claim of a reference that is not in force cannot be told by any rule, whatever was measured there.
    """
    name = claim.data.get("reference")
    entries = [entry for entry in pack.references or () if entry.id == name]
    if not entries or in_force(entries, day) is not None:
        return None
    text = _("{reference} is no reference of {pack} on {day}").format(reference=name, pack=pack.id, day=day)
    return Reason("no value in force", text, "date", "trip")


def lapses(world: World, pack: Pack, subjects: Sequence[Subject], day: date) -> list[Reason | None]:
    """The lapse of each subject's claim on the day; None where there is no claim, or its reference is in force."""
    claims = [world.subjects.get(subject.within("claim") or "") for subject in subjects]
    return [lapse_of(claim, pack, day) if claim is not None else None for claim in claims]
