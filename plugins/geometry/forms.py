"""A position in the forms that a rescuer or another operator asks for."""

from __future__ import annotations

from typing import Any

from afield.plugins.geometry.computations.accuracy import HORIZONTAL
from afield.plugins.geometry.station_facts import Position


def position_json(position: Position) -> dict[str, Any]:
    """The position for the report: as stated, its 95 % radius, what its digits leave open, and all its forms."""
    radius = None if position.sigma_m is None else round(position.sigma_m * HORIZONTAL["r95"], 2)
    return {
        "lat": position.lat_deg,
        "lon": position.lon_deg,
        "accuracy_m": position.accuracy_m,
        "level": position.level,
        "level_stated": position.level_stated,
        "radius_95_m": radius,
        "digits_leave_m": [round(side, 2) for side in position.bound_m],
        "form": position.form,
        "forms": position_forms(position.lat_deg, position.lon_deg),
    }


def position_forms(lat_deg: float, lon_deg: float) -> dict[str, str | None]:
    """Decimal degrees, degrees and minutes, UTM and MGRS (None outside their range), grid locator."""
    from afield.plugins.geometry.computations.degrees import position_text
    from afield.plugins.geometry.computations.locator import maidenhead_encode

    utm, mgrs = _grids(lat_deg, lon_deg)
    return {
        "decimal": f"{lat_deg:.5f}, {lon_deg:.5f}",
        "degrees_minutes": position_text(lat_deg, lon_deg),
        "utm": utm,
        "mgrs": mgrs,
        "locator": maidenhead_encode(lat_deg, lon_deg, 8),
    }


def _grids(lat_deg: float, lon_deg: float) -> tuple[str | None, str | None]:
    from afield.plugins.geometry.computations.military_grid import geographic_to_utm_mgrs, mgrs_parse_precision

    try:
        grid = geographic_to_utm_mgrs(lat_deg, lon_deg)
    except ValueError:
        return None, None  # near the poles there is neither
    parts = mgrs_parse_precision(grid.mgrs_1m)
    half = len(parts.digits) // 2
    mgrs = f"{parts.zone}{parts.band} {parts.column_row} {parts.digits[:half]} {parts.digits[half:]}"
    return f"{grid.zone}{parts.band} {int(grid.easting_m)} {int(grid.northing_m)}", mgrs
