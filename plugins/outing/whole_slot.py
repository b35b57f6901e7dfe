"""The slot of a plan that states none: the whole time on the air, so that what is judged slot by slot is judged too."""

from __future__ import annotations

from afield.core.api import Document, Origin, Subject, _, marked

NAME = marked("on the air")


def subjects(plan: Document) -> list[Subject]:
    """One slot without times of its own, where the plan has time on the air and no slots; else none."""
    if plan.value(("schedule", "on_air")) is None or plan.value(("schedule", "slots")):
        return []
    origin = Origin(plan, ("schedule", "on_air"), plan.folder)
    return [Subject("slot:on-the-air", "slot", _(NAME), {"trip": "trip"}, {"whole": True}, origin)]


def is_whole(slot: Subject) -> bool:
    """Whether the slot is that of a plan that states none."""
    return bool(slot.data.get("whole"))
