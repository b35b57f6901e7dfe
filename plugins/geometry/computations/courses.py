"""What an edge between two vertices means: which curve of the ellipsoid it follows."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pyproj import Geod

from afield.core.api import frozen
from afield.plugins.geometry.computations.plane import Floats

Indices = NDArray[np.intp]
Course = Callable[[Indices, Floats], tuple[Floats, Floats]]
"""(numbers of edges, shares 0 to 1 along them) -> latitudes and longitudes, degrees."""

_E = 0.0818191908426215
"""Eccentricity of WGS 84."""
_GEOD = Geod(ellps="WGS84")


@frozen
class Vertices:
    """Both ends of edges, degrees, (m,) each; the second longitude lies within 180 degrees of the first."""

    lat0: Floats
    lon0: Floats
    lat1: Floats
    lon1: Floats


def course_of(edge_model: str, ends: Vertices) -> Course:
    """The curves that edges follow; raises ValueError for an edge model that does not exist."""
    if edge_model not in EDGE_MODELS:
        raise ValueError(f"edge model {edge_model!r} does not exist: use one of {', '.join(EDGE_MODELS)}")
    return EDGE_MODELS[edge_model](ends)


def _straight_in_degrees(ends: Vertices) -> Course:
    def course(edge: Indices, share: Floats) -> tuple[Floats, Floats]:
        return _between(ends.lat0, ends.lat1, edge, share), _between(ends.lon0, ends.lon1, edge, share)

    return course


def _geodesic(ends: Vertices) -> Course:
    azimuth, _, length = _GEOD.inv(ends.lon0, ends.lat0, ends.lon1, ends.lat1)

    def course(edge: Indices, share: Floats) -> tuple[Floats, Floats]:
        lon, lat, _ = _GEOD.fwd(ends.lon0[edge], ends.lat0[edge], azimuth[edge], length[edge] * share)
        return np.asarray(lat), np.asarray(lon)

    return course


def _rhumb(ends: Vertices) -> Course:
    start, end = _isometric(ends.lat0), _isometric(ends.lat1)

    def course(edge: Indices, share: Floats) -> tuple[Floats, Floats]:
        return _from_isometric(_between(start, end, edge, share)), _between(ends.lon0, ends.lon1, edge, share)

    return course


EDGE_MODELS: dict[str, Callable[[Vertices], Course]] = {
    "lonlat": _straight_in_degrees,
    "geodesic": _geodesic,
    "rhumb": _rhumb,
}
"""lonlat: straight in longitude and latitude (RFC 7946, 3.1.1); geodesic: shortest; rhumb: of constant bearing."""


def _between(start: Floats, end: Floats, edge: Indices, share: Floats) -> Floats:
    return np.asarray(start[edge] + share * (end[edge] - start[edge]))


def _isometric(lat_deg: Floats) -> Floats:
    """Isometric latitude (Snyder, USGS Professional Paper 1395, equation 7-7), held finite at the poles."""
    lat = np.radians(np.clip(lat_deg, -89.9999999999, 89.9999999999))
    return np.asarray(np.arcsinh(np.tan(lat)) - _E * np.arctanh(_E * np.sin(lat)))


def _from_isometric(isometric: Floats) -> Floats:
    """Latitude, degrees; each step gains more than two digits (Snyder, equation 7-9)."""
    lat: Any = np.arctan(np.sinh(isometric))
    for _ in range(7):
        lat = np.arctan(np.sinh(isometric + _E * np.arctanh(_E * np.sin(lat))))
    return np.asarray(np.degrees(lat))
