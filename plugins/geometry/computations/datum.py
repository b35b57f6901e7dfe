"""Shifting a position from one datum to another, never without saying how well."""

from __future__ import annotations

import warnings
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.computations.positions import checked_position

if TYPE_CHECKING:
    from pyproj.transformer import Transformer, TransformerGroup


class DatumShift(NamedTuple):
    """A position on another datum.

    `accuracy_m` is that of the shift, as its publisher states it; `best_available` is False where a better method
    exists but its grid file is not installed; `shift_m` is how far the figures moved.
    """

    lat_deg: float
    lon_deg: float
    accuracy_m: float
    best_available: bool
    shift_m: float
    method: str


def datum_shift(
    lat_deg: float, lon_deg: float, from_crs: str, to_crs: str = "EPSG:4326", worst_accuracy_m: float = 100.0
) -> DatumShift:
    """The same place on another datum, by the most accurate method at hand that covers it.

    Formula: the coordinate operation of the EPSG dataset with the best stated accuracy whose area holds the position.
    Source: EPSG Geodetic Parameter Dataset as shipped with PROJ; axes are always latitude, longitude here.
    Valid: two geographic reference systems joined by an operation of known accuracy. NAD27 without grid files is good
    to 7 to 20 m only, and says so. Nothing is downloaded. A shift of unknown accuracy is refused.

    Args:
        lat_deg: latitude on the first datum.
        lon_deg: longitude on the first datum.
        from_crs: the first datum's reference system, such as EPSG:4267 (NAD27).
        to_crs: the second datum's.
        worst_accuracy_m: refuse if no method is at least as good as this.

    Raises:
        ValueError: a system is unknown or not geographic, or no method covers the position or is good enough.

    """
    position = checked_position(lat_deg, lon_deg)
    _check_geographic(from_crs)
    _check_geographic(to_crs)
    operations = _operations(from_crs, to_crs, *position)
    best = _most_accurate(operations.transformers)
    if best is None or best.accuracy > worst_accuracy_m:
        raise ValueError(_refusal(from_crs, to_crs, best, worst_accuracy_m))
    lon, lat = best.transform(position.lon_deg, position.lat_deg, errcheck=True)
    moved_m = geodesic_inverse(*position, lat, lon).distance_m
    method = best.description.replace("axis order change (2D) + ", "").replace(" + axis order change (2D)", "")
    return DatumShift(float(lat), float(lon), float(best.accuracy), operations.best_available, moved_m, method)


@lru_cache(maxsize=32)
def _check_geographic(system: str) -> None:
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        found = CRS.from_user_input(system)
    except CRSError:
        raise ValueError(f'reference system "{system}" is not known; name it as EPSG:4326') from None
    if not found.is_geographic:
        raise ValueError(f'reference system "{system}" ({found.name}) is not in latitude and longitude')


@lru_cache(maxsize=64)
def _operations(from_crs: str, to_crs: str, lat_deg: float, lon_deg: float) -> TransformerGroup:
    from pyproj.aoi import AreaOfInterest
    from pyproj.transformer import TransformerGroup

    with warnings.catch_warnings():
        # A better method without its grid file is reported in the result.
        warnings.simplefilter("ignore", UserWarning)
        point = AreaOfInterest(lon_deg, lat_deg, lon_deg, lat_deg)
        # The stub names the class by its private module.
        return TransformerGroup(from_crs, to_crs, always_xy=True, area_of_interest=point)  # type: ignore[arg-type]


def _most_accurate(operations: list[Transformer]) -> Transformer | None:
    # A negative accuracy marks a shift of unknown accuracy: a guess that leaves the figures as they are.
    return min((one for one in operations if one.accuracy >= 0), key=lambda one: one.accuracy, default=None)


def _refusal(from_crs: str, to_crs: str, best: Transformer | None, worst_accuracy_m: float) -> str:
    if best is None:
        return f"no shift of known accuracy from {from_crs} to {to_crs} covers this position"
    good = f"good to {best.accuracy:g} m, worse than {worst_accuracy_m:g} m"
    return f"the best shift from {from_crs} to {to_crs} here is {good}"
