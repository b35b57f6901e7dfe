"""Registration of the plugin contacts."""

from __future__ import annotations

from afield.core.api import Fact, Fragment, hookimpl

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
    """The rate to expect, and the chance of a claim's minimum on each UTC day."""
    from afield.plugins.contacts.facts import FACTS

    return FACTS


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.contacts.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]
