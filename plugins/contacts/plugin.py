"""Registration of the plugin contacts."""

from __future__ import annotations

from afield.core.api import Comparison, Fact, Fragment, Section, hookimpl

COMPUTATIONS = {
    "counts": ("prob_at_least_poisson", "prob_at_least_in_time", "prob_at_least_negative_binomial"),
    "times": ("hours_for_probability", "minutes_needed"),
    "utc_days": ("best_division",),
    "rates": ("rate_from_counts", "usual_rate"),
    "exchanges": ("greatest_rate", "prob_at_least_with_exchange"),
}


@hookimpl
def afield_fragments() -> list[Fragment]:
    """The operator's earlier counts, at `contacts`."""
    from afield.plugins.contacts.fragments import fragments

    return fragments()


@hookimpl
def afield_facts() -> list[Fact]:
    """What programs ask, the rate to expect, and the chance of a claim's minimum."""
    from afield.plugins.contacts import claim_facts, day_facts, program_facts, rate_facts

    modules = (program_facts, rate_facts, day_facts, claim_facts)
    return [declared for module in modules for declared in module.FACTS]


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.contacts.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]


@hookimpl
def afield_sections() -> list[Section]:
    """What the claims need, and how likely it is."""
    from afield.plugins.contacts.section import sections

    return sections()


@hookimpl
def afield_comparisons() -> list[Comparison]:
    """The contacts to expect."""
    from afield.plugins.contacts.comparing import COMPARISONS

    return COMPARISONS
