"""What reading a position gives: degrees with the half unit of the digits written, or an error."""

from dataclasses import field
from math import cos, hypot, pi, radians, sin, sqrt

from afield.core.api import _, frozen, local_digits

SEMI_MAJOR_M = 6378137.0  # WGS 84 (NGA.STND.0036, table 3.1)
ECCENTRICITY_SQUARED = 0.00669437999014
COARSE_M = 50.0
"""What digits may leave open before the reader is told."""


class PositionError(Exception):
    """A position that cannot be read: what is wrong, and what to do about it."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}\n{advice}")
        self.what = what
        self.advice = advice


@frozen(slots=False)
class PositionForm:
    """Where the plan's words point to: degrees, WGS 84.

    `resolution_m` is half a unit of the last digit written, (east, north) in metres; for a locator and MGRS half the
    box, which is a bound: the true position is nowhere else. `form` is lat/lon, utm, mgrs, locator or file.
    """

    lat_deg: float
    lon_deg: float
    form: str
    resolution_m: tuple[float, float]
    notes: list[str] = field(default_factory=list)

    @property
    def bound_m(self) -> float:
        """The farthest that the digits let the true position be from this one, metres: the half diagonal."""
        return hypot(*self.resolution_m)


def metres_per_degree(lat_deg: float) -> tuple[float, float]:
    """Metres in a degree of longitude and in a degree of latitude at this latitude, on the ellipsoid of WGS 84."""
    shape = 1.0 - ECCENTRICITY_SQUARED * sin(radians(lat_deg)) ** 2
    east = SEMI_MAJOR_M / sqrt(shape) * cos(radians(lat_deg))
    north = SEMI_MAJOR_M * (1.0 - ECCENTRICITY_SQUARED) / shape**1.5
    return (east * pi / 180.0, north * pi / 180.0)


def length_text(metres: float) -> str:
    """The length to two figures: "12 m", "4.2 km"."""
    in_km = metres >= 1000.0
    two_figures = float(f"{metres / 1000.0 if in_km else metres:.2g}")
    return local_digits(f"{two_figures:g} {'km' if in_km else 'm'}")


def coarse_words(east_m: float, north_m: float) -> str | None:
    """Half the box that the digits or the locator leave open; None where it is too small to matter to a reader."""
    if max(east_m, north_m) <= COARSE_M:
        return None
    sentence = _("{east} east or west and {north} north or south")
    return sentence.format(east=length_text(east_m), north=length_text(north_m))
