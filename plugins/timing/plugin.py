"""Registration of the plugin timing."""

from __future__ import annotations

from afield.core.api import Comparison, Document, Fact, Fragment, Kind, Section, Subject, hookimpl

COMPUTATIONS = {
    "zone_files": ("utc_offset_min",),
    "clock": ("local_to_utc", "utc_to_local", "local_time_validity", "elapsed_time", "utc_dates_touched"),
    "calendar": ("julian_day", "day_of_year", "season_start"),
    "sun": ("solar_apparent_equatorial", "equation_of_time", "sun_position"),
    "sun_events": ("sun_events_in_utc_window", "sunrise_sunset", "twilight_events"),
}


@hookimpl
def afield_kinds() -> list[Kind]:
    """UTC days, claims on them, and the zone that a position gives."""
    from afield.plugins.timing.subjects import KINDS

    return KINDS


@hookimpl
def afield_fragments() -> list[Fragment]:
    """Zone, times to set up and pack up and those of the way; hours and permits of references."""
    from afield.plugins.timing.fragments import fragments

    return fragments()


@hookimpl
def afield_facts() -> list[Fact]:
    """Facts of the place's clock, the schedule as instants, slots, UTC days, sun, light, and hours of references."""
    from afield.plugins.timing import (
        day_facts,
        light_facts,
        place_facts,
        reference_facts,
        schedule_facts,
        slot_facts,
        sun_facts,
    )

    modules = (place_facts, schedule_facts, slot_facts, day_facts, sun_facts, light_facts, reference_facts)
    return [declared for module in modules for declared in module.FACTS]


@hookimpl
def afield_subjects(plan: Document) -> list[Subject]:
    """The UTC days that the plan may touch, and each claim on each of them."""
    from afield.plugins.timing.subjects import subjects

    return subjects(plan)


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.timing.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]


@hookimpl
def afield_sections() -> list[Section]:
    """The timeline: local time and UTC side by side."""
    from afield.plugins.timing.section import timeline_section

    return [timeline_section()]


@hookimpl
def afield_comparisons() -> list[Comparison]:
    """The time on the air."""
    return [Comparison("schedule.minutes_on_air", "Time on the air", 400)]
