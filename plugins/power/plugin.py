"""Registration of the plugin power."""

from __future__ import annotations

from afield.core.api import Comparison, Fact, Section, hookimpl

COMPUTATIONS = {
    "wire_sizes": ("awg_diameter", "awg_circular_mils", "awg_area"),
    "conductors": (
        "nec_table8_dc_resistance",
        "resistance_temperature_correction",
        "iec60228_class5_resistance",
        "iec60228_kt",
        "copper_temperature_factor",
        "copper_resistance",
    ),
    "voltage_drop": (
        "dc_voltage_drop",
        "dc_voltage_drop_metric",
        "required_circular_mils",
        "select_awg_for_drop",
    ),
    "fuses": ("small_conductor_max_fuse", "fuse_for_continuous_load", "copper_ampacity_60c"),
    "batteries": ("watt_hours", "average_current_and_runtime", "lfp_charge_limit", "lfp_pack_voltages"),
    "peukert": ("peukert_one_hour_form", "peukert_rated_form", "peukert_exponent_from_two_points"),
    "air_transport": ("air_transport_class", "air_transport_spare_limit"),
    "usb_power": ("usb_pd_fixed_supplies", "usb_pd_match", "usb_epr_fixed_voltage", "usb_cable_power_limit"),
    "usb_signalling": ("usb_fixed_pdo_encode", "usb_5v_mode_power", "legacy_high_voltage_usb"),
    "converters": ("inverter_ac_power", "conversion_chain"),
    "duty": ("transmit_current", "average_transmit_current"),
    "balance": ("energy_balance", "least_capacity", "longest_on_air"),
    "clear_sky": ("clear_sky_ineichen", "clear_sky_haurwitz"),
    "solar": (
        "pv_dc_power",
        "pv_system_losses",
        "pv_clear_day_energy",
        "clear_sky_output",
    ),
}


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.power.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]


@hookimpl
def afield_facts() -> list[Fact]:
    """Facts of batteries, of loads on direct current and their leads, of what USB feeds, and of the energy."""
    from afield.plugins.power import station_facts
    from afield.plugins.power.battery import air_facts, charging
    from afield.plugins.power.battery import facts as battery_facts
    from afield.plugins.power.dc import facts as dc_facts
    from afield.plugins.power.dc import lead_facts
    from afield.plugins.power.energy import facts as energy_facts
    from afield.plugins.power.energy import trip_facts as energy_trip_facts
    from afield.plugins.power.usb import facts as usb_facts

    modules = (
        battery_facts,
        charging,
        air_facts,
        dc_facts,
        lead_facts,
        usb_facts,
        station_facts,
        energy_facts,
        energy_trip_facts,
    )
    return [fact for module in modules for fact in module.FACTS]


@hookimpl
def afield_comparisons() -> list[Comparison]:
    """Voltage at the radio, and what is left for the computer."""
    from afield.plugins.power.comparing import COMPARISONS

    return COMPARISONS


@hookimpl
def afield_sections() -> list[Section]:
    """The charge of each battery against time."""
    from afield.plugins.power.energy.section import energy_section

    return [energy_section()]
