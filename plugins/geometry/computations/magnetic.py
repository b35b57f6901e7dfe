"""The compass: declination by the World Magnetic Model, and bearings by compass and by true north."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from math import hypot
from typing import TYPE_CHECKING, NamedTuple

from afield.plugins.geometry.computations.positions import checked_number, checked_position, wrapped_360

if TYPE_CHECKING:
    from pygeomag import GeoMag

VALID_FROM, VALID_UNTIL = 2025.0, 2030.0
"""Decimal years between which WMM2025 holds."""

BLACKOUT_BELOW_NT, CAUTION_BELOW_NT = 2000.0, 6000.0
"""Horizontal intensities below which a compass is useless, and doubtful."""


class MagneticField(NamedTuple):
    """The Earth's magnetic field at a place and time.

    Declination is the bearing of magnetic north from true north, east positive; inclination is positive downward;
    `zone` is normal, caution or blackout.
    """

    declination_deg: float
    declination_error_95pct_deg: float
    inclination_deg: float
    horizontal_nt: float
    total_nt: float
    zone: str


def magnetic_declination(
    lat_deg: float, lon_deg: float, decimal_year: float, height_m: float = 0.0, allow_blackout: bool = False
) -> MagneticField:
    """Declination, inclination and intensity of the Earth's magnetic field by WMM2025.

    Formula: spherical harmonics to degree 12 with linear change; declination's error is 1.96 times the model's
    standard deviation sqrt(0.26^2 + (5417 / H)^2) degrees, H the horizontal intensity in nT.
    Source: NOAA NCEI and British Geological Survey, World Magnetic Model 2025, technical report (2025), sections 1, 3.
    Valid: 2025.0 to 2030.0, 1 km below to 850 km above the ellipsoid. Rocks, iron and storms are not in the model.

    Args:
        lat_deg: latitude.
        lon_deg: longitude.
        decimal_year: time as from `decimal_year`.
        height_m: height above the ellipsoid.
        allow_blackout: answer even where the horizontal field is below 2000 nT.

    Raises:
        ValueError: the position, time or height is outside the model, or the place is in a blackout zone.

    """
    position = checked_position(lat_deg, lon_deg)
    year, height_km = _checked_year(decimal_year), _checked_height_km(height_m)
    found = _model().calculate(position.lat_deg, position.lon_deg, height_km, year)
    zone = _zone(found.h)
    if zone == "blackout" and not allow_blackout:
        raise ValueError(
            f"a compass is of no use at {position.lat_deg:g}, {position.lon_deg:g}: the horizontal field is"
            f" {found.h:.0f} nT, below 2000 nT"
        )
    error = 1.96 * hypot(0.26, 5417 / found.h)
    return MagneticField(found.d, min(error, 180.0), found.i, found.h, found.f, zone)


def decimal_year(date_iso: str) -> float:
    """The decimal year of the beginning of a date.

    Formula: year + (day of the year - 1) / days of the year.
    Source: World Magnetic Model 2025, technical report, software conventions.
    Valid: dates of the Gregorian calendar.

    Args:
        date_iso: the date, such as 2026-06-27.

    Raises:
        ValueError: it is no date.

    """
    try:
        day = date.fromisoformat(date_iso)
    except ValueError:
        raise ValueError(f'"{date_iso}" is no date; write it as 2026-06-27') from None
    first, following = date(day.year, 1, 1), date(day.year + 1, 1, 1)
    return day.year + (day - first).days / (following - first).days


def true_to_magnetic_bearing(true_deg: float, declination_deg: float) -> float:
    """The bearing that a compass shows, 0 up to 360 degrees.

    Formula: magnetic = true - declination, east positive.
    Source: definition of declination; grid convergence is another correction and is not in it.
    Valid: all bearings; the compass's own deviation is not in it.

    Args:
        true_deg: bearing from true north, clockwise.
        declination_deg: declination, east positive.

    Raises:
        ValueError: a figure is not finite.

    """
    return wrapped_360(checked_number(true_deg, "bearing") - checked_number(declination_deg, "declination"))


def magnetic_to_true_bearing(magnetic_deg: float, declination_deg: float) -> float:
    """The bearing from true north of a bearing read from a compass, 0 up to 360 degrees.

    Formula: true = magnetic + declination, east positive.
    Source: definition of declination; grid convergence is another correction and is not in it.
    Valid: all bearings; the compass's own deviation is not in it.

    Args:
        magnetic_deg: bearing by compass.
        declination_deg: declination, east positive.

    Raises:
        ValueError: a figure is not finite.

    """
    return wrapped_360(checked_number(magnetic_deg, "bearing") + checked_number(declination_deg, "declination"))


def _checked_year(decimal_year: float) -> float:
    year = checked_number(decimal_year, "year")
    if not VALID_FROM <= year < VALID_UNTIL:
        raise ValueError(f"year {year:g} is outside WMM2025, which holds from 2025.0 to 2030.0")
    return year


def _checked_height_km(height_m: float) -> float:
    height_km = checked_number(height_m, "height") / 1000
    if not -1 <= height_km <= 850:
        raise ValueError(f"height {height_m:g} m is outside WMM2025, which holds from -1 km to 850 km")
    return height_km


def _zone(horizontal_nt: float) -> str:
    if horizontal_nt < BLACKOUT_BELOW_NT:
        return "blackout"
    return "caution" if horizontal_nt < CAUTION_BELOW_NT else "normal"


@lru_cache(maxsize=1)
def _model() -> GeoMag:
    from pygeomag import GeoMag

    return GeoMag(coefficients_file="wmm/WMM_2025.COF")
