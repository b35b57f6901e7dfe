"""How sure a position is: decimals, stated accuracies, map standards, and a decision that admits doubt."""

from __future__ import annotations

from math import cos, log, radians, sin, sqrt
from typing import Literal, NamedTuple

from afield.plugins.geometry.computations.geodesy import WGS84_INVERSE_FLATTENING, WGS84_SEMI_MAJOR_M
from afield.plugins.geometry.computations.positions import checked_number, checked_position

Measure = Literal["sigma", "r68", "r90", "r95", "rmse_r", "z68", "z90", "z95", "rmse_z"]
"""What a stated accuracy means.

`sigma`: standard deviation of one axis. Horizontal, radius of a circle: `r68`, `r90` (also called CE90), `r95`, and
`rmse_r`, the root mean square of the radial error. Vertical: `z68`, `z90` (LE90), `z95` and `rmse_z`.
"""

ONE_SIGMA = 0.682689492137086
"""Share of a normal error within one standard deviation: the 68 % of receivers."""


def _radius(share: float) -> float:
    return sqrt(-2 * log(1 - share))


HORIZONTAL = {
    "sigma": 1.0,
    "r68": _radius(ONE_SIGMA),
    "r90": _radius(0.90),
    "r95": _radius(0.95),
    "rmse_r": sqrt(2),
}
"""Each horizontal measure in standard deviations of one axis: 1.515, 2.146, 2.448, 1.414."""

VERTICAL = {"sigma": 1.0, "z68": 1.0, "z90": 1.6448536269514722, "z95": 1.959963984540054, "rmse_z": 1.0}
"""Each vertical measure in standard deviations."""


class HalfUnit(NamedTuple):
    """Half a unit of the last decimal on the ground."""

    north_south_m: float
    east_west_m: float


class Distances(NamedTuple):
    """Length of one degree on the ground."""

    lat_degree_m: float
    lon_degree_m: float


def degree_lengths(lat_deg: float) -> Distances:
    """Length of a degree of latitude and of longitude at a latitude.

    Formula: M pi / 180 and N cos(lat) pi / 180, M and N the radii of curvature of WGS 84.
    Source: Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395 (1987), formulas 4-18 to 4-21.
    Valid: all latitudes.

    Args:
        lat_deg: latitude.

    Raises:
        ValueError: the latitude does not exist.

    """
    phi = radians(checked_position(lat_deg, 0.0).lat_deg)
    flattening = 1 / WGS84_INVERSE_FLATTENING
    eccentricity_squared = flattening * (2 - flattening)
    w = sqrt(1 - eccentricity_squared * sin(phi) ** 2)
    meridian, normal = WGS84_SEMI_MAJOR_M * (1 - eccentricity_squared) / w**3, WGS84_SEMI_MAJOR_M / w
    return Distances(meridian * radians(1), normal * cos(phi) * radians(1))


def decimal_places_to_metres(decimals: int, lat_deg: float) -> HalfUnit:
    """How far a position may be off because its degrees are printed to a number of decimals.

    Formula: half a unit of the last decimal times `degree_lengths`.
    Source: rounding; lengths as in `degree_lengths`.
    Valid: 0 to 15 decimals; figures that were rounded. Figures that were cut off may be wrong by twice as much.

    Args:
        decimals: number of decimals of the degrees.
        lat_deg: latitude.

    Raises:
        ValueError: the number of decimals is out of range or the latitude does not exist.

    """
    if decimals not in range(16):
        raise ValueError(f"{decimals} decimals: 0 to 15 are possible")
    lengths = degree_lengths(lat_deg)
    half = 0.5 * 10.0**-decimals
    return HalfUnit(lengths.lat_degree_m * half, lengths.lon_degree_m * half)


def accuracy_convert(accuracy_m: float, stated: Measure, wanted: Measure) -> float:
    """The same accuracy by another measure, in metres.

    Formula: circles of normal errors, equal on both axes: r = sigma sqrt(-2 ln(1 - p)), so sigma = r68 / 1.515 =
    r95 / 2.448 and r95 = 1.7308 RMSE_r; heights: z90 = 1.6449 sigma, z95 = 1.9600 sigma.
    Source: FGDC-STD-007.3-1998 (NSSDA), appendix 3-A; 68 % is the share within one standard deviation, 68.27 %.
    Valid: errors without bias; horizontal to horizontal and vertical to vertical only (`sigma` is either).

    Args:
        accuracy_m: the stated accuracy.
        stated: what it means: sigma, r68, r90, r95, rmse_r, z68, z90, z95 or rmse_z.
        wanted: what it shall mean.

    Raises:
        ValueError: negative, an unknown measure, or a horizontal measure from a vertical one.

    """
    accuracy = checked_number(accuracy_m, "accuracy")
    if accuracy < 0:
        raise ValueError(f"accuracy {accuracy:g} m is negative")
    for factors in (HORIZONTAL, VERTICAL):
        if stated in factors and wanted in factors:
            return accuracy * (factors[wanted] / factors[stated])
    raise ValueError(_no_conversion(stated, wanted))


def map_accuracy_nmas(scale_denominator: float) -> float:
    """Horizontal error of a map that 90 % of its well-defined points keep within, in metres.

    Formula: 1/30 inch at scales larger than 1:20,000, otherwise 1/50 inch, times the scale.
    Source: United States National Map Accuracy Standards, Bureau of the Budget, revised 1947, paragraph 1.
    Valid: maps that claim to keep the standard; data drawn at a scale, not shown at it.

    Args:
        scale_denominator: 24000 for 1:24,000.

    Raises:
        ValueError: the scale is not positive.

    """
    scale = checked_number(scale_denominator, "scale")
    if scale <= 0:
        raise ValueError(f"scale 1:{scale:g} is no scale")
    inches = 1 / 30 if scale < 20_000 else 1 / 50
    return inches * 0.0254 * scale


def three_way_decision(distance_m: float, limit_m: float, error_95pct_m: float) -> str:
    """Whether a distance keeps within a limit: `inside`, `outside`, or `uncertain` because of its error.

    Formula: inside if distance + error <= limit, outside if distance - error > limit, otherwise uncertain.
    Source: JCGM 106:2012, section 8 (guard bands), with the whole 95 % error as the band.
    Valid: an error that is not negative.

    Args:
        distance_m: the distance.
        limit_m: the greatest distance allowed.
        error_95pct_m: error of the distance at 95 %.

    Raises:
        ValueError: the error is negative, or a figure is not finite.

    """
    distance, limit = checked_number(distance_m, "distance"), checked_number(limit_m, "limit")
    error = checked_number(error_95pct_m, "error")
    if error < 0:
        raise ValueError(f"error {error:g} m is negative")
    if distance + error <= limit:
        return "inside"
    return "outside" if distance - error > limit else "uncertain"


def _no_conversion(stated: str, wanted: str) -> str:
    for measure in (stated, wanted):
        if measure not in HORIZONTAL and measure not in VERTICAL:
            known = ", ".join(dict.fromkeys([*HORIZONTAL, *VERTICAL]))
            return f'accuracy measure "{measure}" is not known; known are {known}'
    return f"{stated} and {wanted} are of different directions: one is horizontal, the other vertical"
