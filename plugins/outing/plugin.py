"""Registration of the plugin outing."""

from __future__ import annotations

from afield.core.api import Document, Fact, Fragment, Question, Section, Subject, hookimpl

COMPUTATIONS = {
    "power_lines": (
        "power_line_clearance",
        "antenna_power_line_distance",
        "antenna_power_line_distance_fall_plus_10ft",
        "power_line_distance_greatest",
    ),
    "lightning": ("lightning_30_30",),
    "wind": ("wind_velocity_pressure", "wind_pressure_simple"),
    "heat_and_cold": ("wind_chill_f", "heat_index_f"),
}


@hookimpl
def afield_fragments() -> list[Fragment]:
    """The plan's neutral sections."""
    from afield.plugins.outing.fragments import fragments

    return fragments()


@hookimpl
def afield_facts() -> list[Fact]:
    """Counts over them, the schedule's timeline, and what holds in each slot."""
    from afield.plugins.outing import facts, schedule_facts, slot_facts

    return [*facts.FACTS, *schedule_facts.FACTS, *slot_facts.FACTS]


@hookimpl
def afield_subjects(plan: Document) -> list[Subject]:
    """The whole time on the air as a slot, where the plan states none; slots that cannot be meant are refused."""
    from afield.plugins.outing.slot_checks import refuse_wrong_slots
    from afield.plugins.outing.whole_slot import subjects

    refuse_wrong_slots(plan)
    return subjects(plan)


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.outing.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]


@hookimpl
def afield_sections() -> list[Section]:
    """The outing as planned, and the fixed page of cautions."""
    from afield.plugins.outing.outing_section import outing_section
    from afield.plugins.outing.section import sections

    return [outing_section(), *sections()]


@hookimpl
def afield_questions() -> list[Question]:
    """Where the station will be, and its antenna."""
    from afield.plugins.outing.questions import QUESTIONS

    return QUESTIONS
