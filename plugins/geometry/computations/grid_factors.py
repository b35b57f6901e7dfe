"""Scale and convergence of the transverse Mercator projection."""

from __future__ import annotations

from math import asinh, atan, atan2, atanh, cos, cosh, degrees, hypot, radians, sin, sinh, sqrt, tan
from typing import NamedTuple


class GridFactors(NamedTuple):
    """Bearing of grid north from true north, clockwise positive, and grid distance over ground distance."""

    grid_convergence_deg: float
    point_scale: float


def transverse_mercator_factors(
    lat_deg: float, lon_from_centre_deg: float, flattening: float, centre_scale: float = 0.9996
) -> GridFactors:
    """Grid convergence and point scale of the transverse Mercator projection.

    Formula: derivative of Krueger's series in the third flattening n, to the fourth order; PROJ gives the same figures
    from differences of coordinates, to 1e-10 only.
    Source: C. F. F. Karney, Transverse Mercator with an accuracy of a few nanometers, J. Geodesy 85 (2011), equations
    7 to 9, 14, 23 to 28 and 35.
    Valid: within 60 degrees of the central meridian, not at a pole; good to 1e-12 near UTM zones.

    Args:
        lat_deg: latitude, between -90 and 90.
        lon_from_centre_deg: longitude east of the central meridian.
        flattening: the ellipsoid's flattening.
        centre_scale: scale on the central meridian.

    """
    lam, tau = radians(lon_from_centre_deg), tan(radians(lat_deg))
    conformal = _conformal_tangent(tau, flattening)
    xi, eta = atan2(conformal, cos(lam)), asinh(sin(lam) / hypot(conformal, cos(lam)))
    n = flattening / (2 - flattening)
    p, q = _series(_coefficients(n), xi, eta)
    rectifying = (1 + n**2 / 4 + n**4 / 64) / (1 + n)
    spherical = _spherical_scale(lat_deg, tau, flattening) / hypot(conformal, cos(lam))
    convergence = atan(conformal / sqrt(1 + conformal**2) * tan(lam)) + atan2(q, p)
    return GridFactors(degrees(convergence), centre_scale * spherical * rectifying * hypot(p, q))


def _conformal_tangent(tau: float, flattening: float) -> float:
    eccentricity = sqrt(flattening * (2 - flattening))
    sigma = sinh(eccentricity * atanh(eccentricity * tau / hypot(1.0, tau)))
    return tau * hypot(1.0, sigma) - sigma * hypot(1.0, tau)


def _spherical_scale(lat_deg: float, tau: float, flattening: float) -> float:
    eccentricity_squared = flattening * (2 - flattening)
    return sqrt(1 - eccentricity_squared * sin(radians(lat_deg)) ** 2) * hypot(1.0, tau)


def _coefficients(n: float) -> tuple[float, float, float, float]:
    return (
        n / 2 - 2 / 3 * n**2 + 5 / 16 * n**3 + 41 / 180 * n**4,
        13 / 48 * n**2 - 3 / 5 * n**3 + 557 / 1440 * n**4,
        61 / 240 * n**3 - 103 / 140 * n**4,
        49561 / 161280 * n**4,
    )


def _series(coefficients: tuple[float, ...], xi: float, eta: float) -> tuple[float, float]:
    terms = [(2 * order, 2 * order * alpha) for order, alpha in enumerate(coefficients, start=1)]
    p = 1 + sum(weight * cos(times * xi) * cosh(times * eta) for times, weight in terms)
    return p, sum(weight * sin(times * xi) * sinh(times * eta) for times, weight in terms)
