"""The Military Grid Reference System: references to squares, of 100 km down to 1 m."""

from __future__ import annotations

import re
import warnings
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from afield.plugins.geometry.computations.utm import (
    checked_hemisphere,
    checked_zone,
    geographic_to_utm,
    utm_to_geographic,
)

if TYPE_CHECKING:
    from mgrs import MGRS

PRECISIONS_M = (100_000, 10_000, 1_000, 100, 10, 1)
"""Sides of the squares that a reference with 0, 2, 4, 6, 8 or 10 digits names."""

_REFERENCE = re.compile(r"(\d{1,2})([C-HJ-NP-X])([A-HJ-NP-Z])([A-HJ-NP-V])((?:\d\d){0,5})", re.ASCII)


class UtmMgrs(NamedTuple):
    """A position on the UTM grid and its MGRS square of 1 m; convergence and scale as in `geographic_to_utm`."""

    zone: int
    hemisphere: str
    easting_m: float
    northing_m: float
    grid_convergence_deg: float
    point_scale: float
    mgrs_1m: str


class GridPoint(NamedTuple):
    """A point of an MGRS square, as a position and on the UTM grid, and the side of the square."""

    lat_deg: float
    lon_deg: float
    zone: int
    hemisphere: str
    easting_m: float
    northing_m: float
    precision_m: int


class MgrsParts(NamedTuple):
    """What an MGRS reference consists of, and the side of the square that it names."""

    zone: int
    band: str
    column_row: str
    digits: str
    precision_m: int


def geographic_to_utm_mgrs(lat_deg: float, lon_deg: float, zone: int = 0, ellipsoid: str = "WGS84") -> UtmMgrs:
    """UTM coordinates of a position and the MGRS square of 1 m that it lies in.

    Formula: `geographic_to_utm`, then `utm_to_mgrs`.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), sections 3 and 4.
    Valid: 80 S to 84 N; no datum is shifted.

    Args:
        lat_deg: latitude.
        lon_deg: longitude.
        zone: number of the UTM zone; 0 takes the position's own.
        ellipsoid: PROJ's name of the ellipsoid, such as WGS84 or GRS80.

    Raises:
        ValueError: the position is outside UTM, or the zone or the ellipsoid does not exist.

    """
    utm = geographic_to_utm(lat_deg, lon_deg, zone, ellipsoid)
    return UtmMgrs(*utm, utm_to_mgrs(utm.zone, utm.hemisphere, utm.easting_m, utm.northing_m))


def geographic_to_mgrs(lat_deg: float, lon_deg: float, precision_m: int = 1) -> str:
    """The MGRS reference of the square that a position lies in.

    Formula: `geographic_to_utm`, then `utm_to_mgrs`: digits are cut off, never rounded.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 4.
    Valid: WGS 84, 80 S to 84 N.

    Args:
        lat_deg: latitude.
        lon_deg: longitude.
        precision_m: side of the square: 100000, 10000, 1000, 100, 10 or 1.

    Raises:
        ValueError: the position is outside UTM, or there is no such precision.

    """
    utm = geographic_to_utm(lat_deg, lon_deg)
    return utm_to_mgrs(utm.zone, utm.hemisphere, utm.easting_m, utm.northing_m, precision_m)


def utm_to_mgrs(zone: int, hemisphere: str, easting_m: float, northing_m: float, precision_m: int = 1) -> str:
    """The MGRS reference of the square that UTM coordinates lie in.

    Formula: latitude band, letters of the 100 km square, and the digits of easting and northing cut off (never
    rounded) at the precision; within 0.1 mm below a grid line counts as on the line. Coordinates in a neighbour's zone
    get the reference of the position's own zone.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 4; as in GEOTRANS.
    Valid: WGS 84, 80 S to 84 N.

    Args:
        zone: number of the UTM zone.
        hemisphere: N or S.
        easting_m: easting.
        northing_m: northing.
        precision_m: side of the square: 100000, 10000, 1000, 100, 10 or 1.

    Raises:
        ValueError: the coordinates are off the grid, or there is no such zone, hemisphere or precision.

    """
    checked_zone(zone), checked_hemisphere(hemisphere)
    level = PRECISIONS_M.index(_checked_precision(precision_m))
    from mgrs.core import MGRSError

    try:
        return str(_grid().UTMToMGRS(zone, hemisphere, float(easting_m), float(northing_m), level)).lstrip("0")
    except MGRSError:
        raise ValueError(f"easting {easting_m:g} m, northing {northing_m:g} m lies off the grid of UTM") from None


def mgrs_to_geographic_centre(mgrs: str) -> GridPoint:
    """The centre of the square that an MGRS reference names: the best guess where nothing more is known.

    Formula: south-west corner plus half a side, on the grid, then `utm_to_geographic`.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 4; the centre as in GeoConvert of GeographicLib.
    Valid: WGS 84, 80 S to 84 N.

    Args:
        mgrs: the reference, with or without blanks.

    Raises:
        ValueError: the text is no reference, or names no square.

    """
    return _grid_point(mgrs, 0.5)


def mgrs_to_geographic_southwest_corner(mgrs: str) -> GridPoint:
    """The south-west corner of the square that an MGRS reference names: the point that its digits state.

    Formula: letters and digits as easting and northing, then `utm_to_geographic`.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 4.
    Valid: WGS 84, 80 S to 84 N.

    Args:
        mgrs: the reference, with or without blanks.

    Raises:
        ValueError: the text is no reference, or names no square.

    """
    return _grid_point(mgrs, 0.0)


def mgrs_parse_precision(mgrs: str) -> MgrsParts:
    """What an MGRS reference consists of, with the side of its square.

    Formula: 2 n digits name a square of 10^(5 - n) m.
    Source: DMA TM 8358.1 (1990), section 3-4.
    Valid: references of the UTM area (bands C to X); upper and lower case are the same.

    Args:
        mgrs: the reference, with or without blanks.

    Raises:
        ValueError: the text is no reference.

    """
    found = _REFERENCE.fullmatch("".join(mgrs.split()).upper())
    if found is None:
        raise ValueError(
            f'"{mgrs}" is no MGRS reference; one looks like 11S NA 12345 67890, with an even number of digits'
        )
    zone, band, column, row, digits = found.groups()
    return MgrsParts(checked_zone(int(zone)), band, column + row, digits, PRECISIONS_M[len(digits) // 2])


def mgrs_change_precision(mgrs: str, precision_m: int) -> str:
    """The reference of the larger square that the square of an MGRS reference lies in.

    Formula: the last digits of easting and northing are cut off, never rounded.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 4.
    Valid: to the same or a coarser precision.

    Args:
        mgrs: the reference, with or without blanks.
        precision_m: side of the larger square: 100000, 10000, 1000, 100, 10 or 1.

    Raises:
        ValueError: the text is no reference, or it is coarser than that precision already.

    """
    parts = mgrs_parse_precision(mgrs)
    if _checked_precision(precision_m) < parts.precision_m:
        raise ValueError(f'"{mgrs}" names a square of {parts.precision_m} m; it does not know {precision_m} m')
    half, kept = len(parts.digits) // 2, PRECISIONS_M.index(precision_m)
    digits = parts.digits[:half][:kept] + parts.digits[half:][:kept]
    return f"{parts.zone}{parts.band}{parts.column_row}{digits}"


def _grid_point(mgrs: str, share: float) -> GridPoint:
    parts = mgrs_parse_precision(mgrs)
    zone, hemisphere, centre_easting, centre_northing = _centre(mgrs, parts)
    offset = (share - 0.5) * parts.precision_m
    easting, northing = centre_easting + offset, centre_northing + offset
    position = utm_to_geographic(zone, hemisphere, easting, northing)
    return GridPoint(*position, zone, hemisphere, easting, northing, parts.precision_m)


def _centre(mgrs: str, parts: MgrsParts) -> tuple[int, str, float, float]:
    from mgrs.core import MGRSError

    text = f"{parts.zone}{parts.band}{parts.column_row}{parts.digits}"
    try:
        with warnings.catch_warnings():
            # A square across the edge of its band has its centre in the next one; that is no fault.
            warnings.simplefilter("ignore", RuntimeWarning)
            zone, hemisphere, easting, northing = _grid().MGRSToUTM(text)
    except MGRSError:
        raise ValueError(
            f'"{mgrs}" names no square: {parts.column_row} does not occur in {parts.zone}{parts.band}'
        ) from None
    return int(zone), str(hemisphere), float(easting), float(northing)


def _checked_precision(precision_m: int) -> int:
    if precision_m not in PRECISIONS_M:
        raise ValueError(f"precision {precision_m} m: 100000, 10000, 1000, 100, 10 and 1 are possible")
    return int(precision_m)


@lru_cache(maxsize=1)
def _grid() -> MGRS:
    from mgrs import MGRS

    return MGRS()
