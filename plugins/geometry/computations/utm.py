"""Universal Transverse Mercator: zones, coordinates and back."""

from __future__ import annotations

from functools import lru_cache
from math import floor
from typing import TYPE_CHECKING, NamedTuple

from afield.plugins.geometry.computations.grid_factors import transverse_mercator_factors
from afield.plugins.geometry.computations.positions import Position, checked_number, checked_position

if TYPE_CHECKING:
    from pyproj import Proj

_SVALBARD = ((9, 31), (21, 33), (33, 35), (42, 37))
"""Eastern limits of the wide zones of 72 to 84 N, 0 to 42 E, and their numbers."""

EQUATOR_DEG = 1e-8
"""So near to the equator, 1 mm, a southern latitude counts as on it."""


class Utm(NamedTuple):
    """A position on the UTM grid.

    Convergence is the bearing of grid north from true north, clockwise positive; the point scale is grid distance
    over ground distance.
    """

    zone: int
    hemisphere: str
    easting_m: float
    northing_m: float
    grid_convergence_deg: float
    point_scale: float


class GridCoordinates(NamedTuple):
    """A position on a national grid."""

    easting_m: float
    northing_m: float


def utm_zone(lat_deg: float, lon_deg: float) -> int:
    """The number of the UTM zone of a position.

    Formula: floor((lon + 180) / 6) + 1, with longitude 180 in zone 1; zone 32 reaches from 3 E between 56 and 64 N,
    and zones 31, 33, 35, 37 alone cover 0 to 42 E from 72 to 84 N.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 3; an edge belongs to the zone east of it.
    Valid: 80 S to 84 N.

    Args:
        lat_deg: latitude.
        lon_deg: longitude.

    Raises:
        ValueError: the position is not on the Earth, or nearer to a pole than UTM reaches.

    """
    lat, lon = checked_position(lat_deg, lon_deg)
    if not -80 <= lat <= 84:
        raise ValueError(f"latitude {lat:g} is outside UTM, which reaches from -80 to 84")
    if 56 <= lat < 64 and 3 <= lon < 12:
        return 32
    if lat >= 72 and 0 <= lon < 42:
        return next(zone for limit, zone in _SVALBARD if lon < limit)
    return floor((lon + 180) / 6) % 60 + 1


def geographic_to_utm(lat_deg: float, lon_deg: float, zone: int = 0, ellipsoid: str = "WGS84") -> Utm:
    """UTM coordinates of a position.

    Formula: transverse Mercator, scale 0.9996 on the central meridian, 500 km false easting, 10,000 km false northing
    south of the equator; the extended series of Poder and Engsager, good to 1 mm over the zone and its neighbours.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 3; as in PROJ. A neighbour's zone may be forced.
    Valid: 80 S to 84 N; no datum is shifted.

    Args:
        lat_deg: latitude.
        lon_deg: longitude.
        zone: number of the zone; 0 takes the position's own.
        ellipsoid: PROJ's name of the ellipsoid, such as WGS84 or GRS80.

    Raises:
        ValueError: the position is outside UTM, or the zone or the ellipsoid does not exist.

    """
    lat, lon = checked_position(lat_deg, lon_deg)
    # Just south of the equator the northing would round to 10,000 km, which names no square.
    lat = 0.0 if -EQUATOR_DEG < lat < 0 else lat
    number = checked_zone(zone) if zone else utm_zone(lat, lon)
    hemisphere = "N" if lat >= 0 else "S"
    projection = _projection(number, hemisphere, ellipsoid)
    easting, northing = projection(lon, lat, errcheck=True)
    factors = transverse_mercator_factors(lat, _from_centre(lon, number), _flattening(ellipsoid))
    return Utm(number, hemisphere, float(easting), float(northing), *factors)


def utm_to_geographic(
    zone: int, hemisphere: str, easting_m: float, northing_m: float, ellipsoid: str = "WGS84"
) -> Position:
    """The position that UTM coordinates name.

    Formula: inverse of `geographic_to_utm`.
    Source: NGA.STND.0037_2.0.0_GRIDS (2014), section 3; as in PROJ.
    Valid: eastings of 0 to 1,000 km, northings of 0 to 10,000 km: the zone and some way beyond it.

    Args:
        zone: number of the zone, 1 to 60.
        hemisphere: N or S; not the latitude band, in which S lies in the north.
        easting_m: easting.
        northing_m: northing.
        ellipsoid: PROJ's name of the ellipsoid.

    Raises:
        ValueError: the zone, the hemisphere or the ellipsoid does not exist, or the figures are off the grid.

    """
    easting, northing = checked_number(easting_m, "easting"), checked_number(northing_m, "northing")
    if not 0 <= easting <= 1e6 or not 0 <= northing <= 1e7:
        raise ValueError(f"easting {easting:g} m, northing {northing:g} m lies off the grid of UTM")
    projection = _projection(checked_zone(zone), checked_hemisphere(hemisphere), ellipsoid)
    lon, lat = projection(easting, northing, inverse=True, errcheck=True)
    return Position(float(lat), float(lon))


def transverse_mercator_airy(lat_deg: float, lon_deg: float) -> GridCoordinates:
    """Easting and northing on the British National Grid of a position on OSGB36 (Airy 1830).

    Formula: transverse Mercator from 49 N 2 W, scale 0.9996012717, false origin 400 km west and 100 km north of it.
    Source: Ordnance Survey, A guide to coordinate systems in Great Britain, annexe C; EPSG:27700.
    Valid: Great Britain (49 to 62 N, 9 W to 3 E). Input on OSGB36: a WGS 84 position is off by 100 m or so.

    Args:
        lat_deg: latitude on OSGB36.
        lon_deg: longitude on OSGB36.

    Raises:
        ValueError: the position is outside that range.

    """
    lat, lon = checked_position(lat_deg, lon_deg)
    if not (49 <= lat <= 62 and -9 <= lon <= 3):
        raise ValueError(f"{lat:g}, {lon:g} is outside the British National Grid")
    from pyproj import Proj

    easting, northing = Proj("EPSG:27700")(lon, lat, errcheck=True)
    return GridCoordinates(float(easting), float(northing))


def checked_zone(zone: int) -> int:
    """The same zone.

    Raises:
        ValueError: there is no such zone.

    """
    if zone not in range(1, 61):
        raise ValueError(f"zone {zone} does not exist; UTM zones are 1 to 60")
    return int(zone)


def checked_hemisphere(hemisphere: str) -> str:
    """N or S.

    Raises:
        ValueError: neither.

    """
    if hemisphere not in ("N", "S"):
        raise ValueError(f'hemisphere "{hemisphere}" is neither N nor S')
    return hemisphere


def _from_centre(lon_deg: float, zone: int) -> float:
    return (lon_deg - (6 * zone - 183) + 180) % 360 - 180


@lru_cache(maxsize=8)
def _flattening(ellipsoid: str) -> float:
    from pyproj import Geod

    return float(Geod(ellps=ellipsoid).f)


@lru_cache(maxsize=64)
def _projection(zone: int, hemisphere: str, ellipsoid: str) -> Proj:
    from pyproj import Proj
    from pyproj.exceptions import CRSError

    south = " +south" if hemisphere == "S" else ""
    try:
        return Proj(f"+proj=utm +zone={zone}{south} +ellps={ellipsoid} +units=m")
    except CRSError:
        raise ValueError(f'ellipsoid "{ellipsoid}" is not known; WGS84 and GRS80 are') from None
