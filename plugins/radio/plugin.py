"""Registration of the plugin radio."""

from __future__ import annotations

from afield.core.api import Comparison, Fact, Section, hookimpl

COMPUTATIONS = {
    "decibels": ("power_ratio_db", "percent_lost", "pep_from_vpp", "erp", "dbi_to_dbd", "erp_to_eirp"),
    "s_units": ("s_unit_to_dbm",),
    "mismatch": ("swr_quantities", "swr_from_powers", "forward_power_for_delivered", "quarter_wave_transformer"),
    "lines": ("line_total_loss", "input_swr_of_lossy_line", "coax_matched_loss"),
    "paths": ("feed_path_loss",),
    "exposure": ("mode_duty_factor", "time_averaged_power"),
    "band_names": ("band_of_frequency",),
    "lengths": ("half_wave_dipole_rule", "quarter_wave_rule"),
}


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.radio.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]


@hookimpl
def afield_facts() -> list[Fact]:
    """Facts of the power at the antenna, of amplifiers and of antennas."""
    from afield.plugins.radio import amplifier_facts, antenna_facts, power_facts, wire_facts

    return [*power_facts.FACTS, *amplifier_facts.FACTS, *antenna_facts.FACTS, *wire_facts.FACTS]


@hookimpl
def afield_comparisons() -> list[Comparison]:
    """The power at the antenna, in decibels and S-units."""
    from afield.plugins.radio.comparing import COMPARISONS

    return COMPARISONS


@hookimpl
def afield_sections() -> list[Section]:
    """Power at the antenna, band by band, and the antenna's length on each."""
    from afield.plugins.radio.power_section import power_section
    from afield.plugins.radio.wire_section import wire_section

    return [power_section(), wire_section()]
