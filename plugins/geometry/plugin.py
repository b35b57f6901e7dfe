"""Registration of the plugin geometry."""

from __future__ import annotations

from afield.core.api import Command, Fact, Fragment, Section, hookimpl

COMPUTATIONS = {
    "geodesy": ("geodesic_inverse", "geodesic_direct", "polygon_perimeter_area"),
    "locator": ("maidenhead_encode", "maidenhead_decode", "maidenhead_uncertainty"),
    "utm": ("utm_zone", "geographic_to_utm", "utm_to_geographic", "transverse_mercator_airy"),
    "military_grid": (
        "geographic_to_utm_mgrs",
        "geographic_to_mgrs",
        "utm_to_mgrs",
        "mgrs_to_geographic_centre",
        "mgrs_to_geographic_southwest_corner",
        "mgrs_parse_precision",
        "mgrs_change_precision",
    ),
    "degrees": ("dms_parse", "dms_format", "position_text", "position_parse"),
    "accuracy": ("decimal_places_to_metres", "accuracy_convert", "map_accuracy_nmas", "three_way_decision"),
    "magnetic": ("magnetic_declination", "decimal_year", "true_to_magnetic_bearing", "magnetic_to_true_bearing"),
    "datum": ("datum_shift",),
    "lines": ("point_to_polyline_distance",),
    "membership": ("point_in_polygon", "point_in_polygon_class", "point_in_polygons"),
    "repair": ("polygon_validity",),
    "edges": ("edge_doubt_m",),
    "terrain_zone": ("dem_zone_below_summit",),
    "afloat": ("anchor_swing_radius", "turn_between_fixes"),
    "altimeter": ("isa_pressure", "altimeter_error"),
}


@hookimpl
def afield_fragments() -> list[Fragment]:
    """A claim's own geometry, and a reference's kind and geometry."""
    from afield.plugins.geometry.fragments import fragments

    return fragments()


@hookimpl
def afield_facts() -> list[Fact]:
    """Facts of the station, of each reference, and of how far one keeps within the other."""
    from afield.plugins.geometry import afloat_facts, margin_facts, reference_facts, station_facts, summit_facts

    modules = (station_facts, reference_facts, margin_facts, summit_facts, afloat_facts)
    return [fact for module in modules for fact in module.FACTS]


@hookimpl
def afield_computations() -> list[str]:
    """The computations, imported when first used."""
    base = "afield.plugins.geometry.computations"
    return [f"{base}.{module}:{name}" for module, names in COMPUTATIONS.items() for name in names]


@hookimpl
def afield_sections() -> list[Section]:
    """The map and the coordinates; where the station can stand, where that is asked for."""
    from afield.plugins.geometry.placement.section import placement_section
    from afield.plugins.geometry.section import sections

    return [*sections(), placement_section()]


@hookimpl
def afield_commands() -> list[Command]:
    """Where the station can stand; references by position."""
    sentence = "Say where the station can stand, and which way it can lie, so that all claims count."
    listing = "List the references of a catalogue that hold a position or come near it."
    building = "Build a catalogue of references from GIS files, or show what is in one."
    return [
        Command("place", "afield.plugins.geometry.placement.command:place", sentence),
        Command("near", "afield.plugins.geometry.catalogue.near_command:near", listing),
        Command("catalogue", "afield.plugins.geometry.catalogue.build_command:catalogue", building),
    ]
