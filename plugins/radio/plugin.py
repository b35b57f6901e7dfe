"""Registration of the plugin radio."""

from __future__ import annotations

from afield.core.api import hookimpl

COMPUTATIONS = {
    "decibels": ("power_ratio_db", "percent_lost", "pep_from_vpp", "erp", "dbi_to_dbd", "erp_to_eirp"),
    "s_units": ("s_unit_to_dbm",),
    "mismatch": ("swr_quantities", "swr_from_powers", "forward_power_for_delivered", "quarter_wave_transformer"),
    "lines": ("line_total_loss", "input_swr_of_lossy_line", "coax_matched_loss"),
    "lengths": ("half_wave_dipole_rule", "quarter_wave_rule"),
}


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.radio.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]
