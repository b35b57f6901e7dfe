"""Monthly medians of the International Reference Ionosphere, by PyIRI."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date as calendar_date
from functools import lru_cache
from math import radians, sin
from typing import Any, NamedTuple

from afield.core.api import _, marked
from afield.plugins.ionosphere.computations.checked import within

MHZ_PER_NT = 2.7992490e-5
"""Electron gyrofrequency of a magnetic field: e / (2 pi m)."""
FIRST_YEAR, LAST_YEAR = 1965, 2034
LEAST_F107, GREATEST_F107 = 63.75, 250.0
GREATEST_LATITUDE = 80.0
F2_KM, D_KM = 300.0, 100.0
MAPS = marked("CCIR maps, monthly median")


class NotInstalled(ValueError):
    """The library that knows the ionosphere is not there."""


class IonospherePoint(NamedTuple):
    """What an ionosonde would show at one place and hour, as the median of the month."""

    foF2_mhz: float  # noqa: N815 - the field's symbols
    m3000: float
    foE_mhz: float  # noqa: N815


class IonosphereDay(NamedTuple):
    """24 hours of UTC over one place.

    Attributes:
        hours: what an ionosonde would show at 00, 01, ... 23 h UTC.
        zenith_deg: the sun's distance from the zenith at each of them.
        noon_zenith_deg: the same at local noon.
        fH_mhz: gyrofrequency at 300 km.
        dip_deg: the magnetic field's angle from the horizontal at 100 km, downwards positive.
        longitudinal_mhz: gyrofrequency at 100 km times the sine of the dip.
        model: what it comes from.

    """

    hours: list[IonospherePoint]
    zenith_deg: list[float]
    noon_zenith_deg: float
    fH_mhz: float  # noqa: N815
    dip_deg: float
    longitudinal_mhz: float
    model: str


def iri_point(date: str, ut_h: float, lat: float, lon: float, f107: float) -> IonospherePoint:
    """What an ionosonde would show at one place and hour, as the median of the month: foF2, M(3000)F2, foE.

    Formula: the CCIR maps of foF2 and M(3000)F2, between two months and between two levels of solar activity.
    Source: PyIRI (Forsythe and others, Space Weather 22, 2024), of IRI (Bilitza and others, Reviews of Geophysics 60,
    2022); maps of ITU-R P.1239.
    Valid: quiet days of 1965 to 2034, to 80 degrees of latitude. Builds of IRI differ by up to a quarter in foF2, and
    days from their median by as much: take +- 20 %. In a magnetic storm it does not hold.

    Args:
        date: as 2026-06-27, in UTC.
        ut_h: hour of UTC, 0 to 24.
        lat: degrees, north positive.
        lon: degrees, east positive.
        f107: solar radio flux at 10.7 cm, mean over 81 days or 12 months, 63.75 to 250; not that of one day.

    Raises:
        ValueError: a figure out of range, no date, or PyIRI is not installed.

    """
    hour = within(0, 24, ut_h, "UTC", "h")
    f2, e = _layers(_date(date), (hour,), _points([lat], [lon]), _flux(f107))
    return _at(f2, e, 0, 0)


def iri_days(date: str, lats: Sequence[float], lons: Sequence[float], f107: float) -> list[IonosphereDay]:
    """24 hours of UTC over each of some places, in one call of the library.

    Formula and validity: `iri_point`. Source: as there; gyrofrequency and dip from IGRF, as PyIRI ships it.

    Args:
        date: as 2026-06-27, in UTC.
        lats: degrees, north positive.
        lons: degrees, east positive; as many.
        f107: solar radio flux at 10.7 cm, mean over 81 days or 12 months.

    Raises:
        ValueError: as `iri_point`.

    """
    day, points = _date(date), _points(lats, lons)
    f2, e = _layers(day, tuple(float(hour) for hour in range(24)), points, _flux(f107))
    return [_day(f2, e, place, day, point) for place, point in enumerate(points)]


def _day(f2: Any, e: Any, place: int, day: calendar_date, point: tuple[float, float]) -> IonosphereDay:
    zenith = [float(row[place]) for row in e["solzen"]]
    _dip, total_300 = _field(day, point, F2_KM)
    dip, total_100 = _field(day, point, D_KM)
    hours = [_at(f2, e, hour, place) for hour in range(24)]
    along = abs(total_100 * sin(radians(dip)))
    return IonosphereDay(hours, zenith, min(zenith), total_300, dip, along, model_name())


def model_name() -> str:
    """Library and version, and which maps."""
    from importlib.metadata import version

    return f"PyIRI {version('PyIRI')}, {MAPS}"


def model_words(model: str) -> str:
    """Library and version, and which maps, in the language of the reader."""
    return model.replace(MAPS, _(MAPS))


@lru_cache(maxsize=32)
def _layers(
    day: calendar_date, hours: tuple[float, ...], points: tuple[tuple[float, float], ...], f107: float
) -> tuple[Any, Any]:
    import numpy as np

    library = _library()
    lats, lons = (np.array(column, dtype=float) for column in zip(*points, strict=True))
    found = library.main_library.IRI_density_1day(
        day.year, day.month, day.day, np.array(hours), lons, lats, np.array([]), f107, library.coeff_dir, 0
    )
    return found[0], found[2]


def _field(day: calendar_date, point: tuple[float, float], height_km: float) -> tuple[float, float]:
    """Dip in degrees, and the gyrofrequency in MHz."""
    import numpy as np

    library = _library()
    year = day.year + (day.timetuple().tm_yday - 1) / 365.25
    lat, lon = (np.array([value]) for value in point)
    found = library.igrf_library.inclination(library.coeff_dir, year, lon, lat, alt=height_km, only_inc=False)
    return float(found[0][0]), float(found[6][0]) * MHZ_PER_NT


def _library() -> Any:
    try:
        import PyIRI
    except ImportError as error:
        raise NotInstalled("PyIRI is not installed; install afield[ionosphere]") from error
    return PyIRI


def _at(f2: Any, e: Any, hour: int, place: int) -> IonospherePoint:
    return IonospherePoint(*(float(table[hour][place]) for table in (f2["fo"], f2["M3000"], e["fo"])))


def _date(text: str) -> calendar_date:
    try:
        day = calendar_date.fromisoformat(str(text))
    except ValueError as error:
        raise ValueError(f'date "{text}" is not a date; write it as 2026-06-27') from error
    within(FIRST_YEAR, LAST_YEAR, day.year, "year")
    return day


def _points(lats: Sequence[float], lons: Sequence[float]) -> tuple[tuple[float, float], ...]:
    return tuple((_latitude(lat), within(-180, 360, lon, "lon", "deg")) for lat, lon in zip(lats, lons, strict=True))


def _latitude(lat: float) -> float:
    degrees = within(-90, 90, lat, "lat", "deg")
    if abs(degrees) > GREATEST_LATITUDE:
        beyond = f"lat {degrees:g} deg is beyond {GREATEST_LATITUDE:g}, where the maps say little"
        raise ValueError(f"{beyond}; look at an ionosonde near there")
    return degrees


def _flux(f107: float) -> float:
    flux = float(f107)
    if not LEAST_F107 <= flux <= GREATEST_F107:
        bounds = f"{LEAST_F107:g} to {GREATEST_F107:g}"
        raise ValueError(f"F10.7 {flux:g} is outside {bounds}; give the mean over 81 days or 12 months")
    return flux
