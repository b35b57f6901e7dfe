"""Registration of the plugin ionosphere."""

from __future__ import annotations

from afield.core.api import Document, Fact, Fragment, Section, Subject, hookimpl

COMPUTATIONS = {
    "hops": ("secant_law_ratio", "hop_elevation", "hop_length", "incidence", "slant_range"),
    "muf": (
        "muf_from_m3000",
        "longest_hop",
        "mirror_height",
        "e_layer_muf",
        "e_layer_screening",
    ),
    "near_vertical": ("nvis_frequency", "near_vertical_band"),
    "noise": ("external_noise_figure",),
    "solar_index": ("f107_from_sunspot", "sunspot_from_f107"),
    "iri": ("iri_point", "iri_days"),
    "absorption": ("hop_absorption",),
    "signals": ("signal_margin",),
    "outlook": ("band_outlook",),
    "antennas": ("upright_dipole_over_ground", "level_dipole_over_ground"),
    "ground": ("ground_constants", "fresnel_reflection", "pseudo_brewster_angle", "ground_gain"),
}


@hookimpl
def afield_fragments() -> list[Fragment]:
    """How active the sun is, at `conditions`, and the ground, at `station`."""
    from afield.plugins.ionosphere.fragments import fragments

    return fragments()


@hookimpl
def afield_subjects(plan: Document) -> list[Subject]:
    """No subject; but a plan with two figures for the sun is refused before anything is judged."""
    from afield.plugins.ionosphere.fragments import refuse_both

    refuse_both(plan)
    return []


@hookimpl
def afield_facts() -> list[Fact]:
    """The solar flux, the band outlook, and the ground in front of the antenna."""
    from afield.plugins.ionosphere import facts, ground_facts

    return [*facts.FACTS, *ground_facts.FACTS]


@hookimpl
def afield_sections() -> list[Section]:
    """The band outlook."""
    from afield.plugins.ionosphere.section import sections

    return sections()


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.ionosphere.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]
