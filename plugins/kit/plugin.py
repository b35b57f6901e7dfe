"""Registration of the plugin kit."""

from __future__ import annotations

from afield.core.api import Comparison, Document, Fact, Fragment, Kind, Section, Subject, hookimpl


@hookimpl
def afield_kinds() -> list[Kind]:
    """Items, connections and chains."""
    from afield.plugins.kit.subjects import KINDS

    return KINDS


@hookimpl
def afield_fragments() -> list[Fragment]:
    """The plan's kit files, connections and chains."""
    from afield.plugins.kit.fragments import fragments

    return fragments()


@hookimpl
def afield_subjects(plan: Document) -> list[Subject]:
    """The items of the kit, what joins them, and the chains that must be complete."""
    from afield.plugins.kit.subjects import subjects

    return subjects(plan)


@hookimpl
def afield_facts() -> list[Fact]:
    """Facts of the kit, and of each item, connection and chain."""
    from afield.plugins.kit import item_facts, kit_facts, operating_facts

    return [*kit_facts.FACTS, *item_facts.FACTS, *operating_facts.FACTS]


@hookimpl
def afield_sections() -> list[Section]:
    """The packing list."""
    from afield.plugins.kit.packing_section import packing_section

    return [packing_section()]


@hookimpl
def afield_comparisons() -> list[Comparison]:
    """Price, mass, numbers of items, of cables and of essential items without a spare, and what is set by hand."""
    from afield.plugins.kit.comparing import COMPARISONS

    return COMPARISONS
