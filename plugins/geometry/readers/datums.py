"""The step from a file's coordinate reference system to WGS 84 by PROJ, with the accuracy that PROJ states for it.

Nothing is fetched: a transformation whose grid file is not installed is not used, and the notes say so.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import ceil, hypot, isfinite
from typing import TYPE_CHECKING, Any

from afield.core.api import frozen, marked
from afield.plugins.geometry.notes import Note
from afield.plugins.geometry.readers.coordinates import CoordinateError, lat_lon_of, numbers_of, range_error
from afield.plugins.geometry.readers.layer import EdgeModel, GeoFileError, LatLon

if TYPE_CHECKING:
    from pyproj import CRS, Transformer
    from pyproj.transformer import TransformerGroup

WGS84 = "EPSG:4326"
WGS84_DATUM = "World Geodetic System 1984"
LONGEST_PIECE_M = (
    500.0  # a straight edge and a geodesic differ by 2 cm at most over 500 m, up to 70 degrees of latitude
)
MOST_PIECES = 1000

STEP = marked("{file}: coordinates rest on {datum}, not on WGS 84; they were taken to WGS 84 with no stated accuracy.")
STATED_STEP = marked(
    "{file}: coordinates rest on {datum}, not on WGS 84; they were taken to WGS 84 with a stated accuracy of "
    "{accuracy} m."
)

Positions = Sequence[Any]


@frozen(slots=False)
class DatumStep:
    """How positions of the file become WGS 84: the function, its stated accuracy (metres; None if none), the notes."""

    crs: str
    edge_model: EdgeModel
    accuracy_m: float | None
    to_lat_lon: Callable[[Positions], list[LatLon]]
    notes: list[str]


def crs_of(text: str, shown: str) -> "CRS":
    """The coordinate reference system that the text (a code, a URN or WKT) names. Raises GeoFileError."""
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        crs = CRS.from_user_input(text)
    except CRSError:
        what = f'{shown}: the coordinate reference system "{text[:60]}" is not known'
        raise GeoFileError(what, "Save the file in WGS 84 (EPSG:4326).") from None
    if crs.geodetic_crs is None:
        what = f'{shown}: the coordinate reference system "{crs.name}" is not tied to the earth'
        raise GeoFileError(what, "Save the file in WGS 84 (EPSG:4326).")
    return crs


def crs_label(crs: "CRS") -> str:
    """The name for the report, with the registry's code if it has one: "NAD83 (EPSG:4269)"."""
    code = crs.to_authority()
    return f"{crs.name} ({code[0]}:{code[1]})" if code else crs.name


def datum_name(crs: "CRS") -> str:
    """The name of the datum that the system rests on."""
    datum = crs.geodetic_crs.datum if crs.geodetic_crs else None
    return datum.name if datum else "an unnamed datum"


def operations_to_wgs84(crs: "CRS", area: Any) -> "TransformerGroup":
    """PROJ's operations to WGS 84, the best for the area first; with the network off and longitude before latitude."""
    import warnings

    from pyproj.network import set_network_enabled  # type: ignore[attr-defined]
    from pyproj.transformer import TransformerGroup

    set_network_enabled(False)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # "best not available" becomes a note instead
        return TransformerGroup(crs, WGS84, always_xy=True, area_of_interest=area)


def area_of(bounds: tuple[float, float, float, float], rough: "Transformer") -> Any:
    """The box of the data in degrees (a pyproj AreaOfInterest); None where it is no place on earth."""
    from pyproj.aoi import AreaOfInterest

    west, south, east, north = rough.transform_bounds(*bounds)
    if not all(isfinite(side) for side in (west, south, east, north)) or abs(south) > 90 or abs(north) > 90:
        return None
    return AreaOfInterest(west, south, east, north)


def stated_accuracy_m(operation: "Transformer") -> float | None:
    """The accuracy that PROJ states for the operation, metres; None where it states none (PROJ: -1)."""
    return float(operation.accuracy) if operation.accuracy >= 0 else None


def better_note(group: "TransformerGroup", accuracy_m: float | None, shown: str) -> list[str]:
    """The note on a more accurate operation whose grid file is not installed."""
    limit = float("inf") if accuracy_m is None else accuracy_m
    better = [op for op in group.unavailable_operations if 0 <= op.accuracy < limit]
    if not better:
        return []
    best = min(better, key=lambda op: op.accuracy)
    grids = [grid.short_name for grid in best.grids if not grid.available]
    named: str = grids[0] if grids else ""
    for grid in grids[1:]:
        named = Note(marked("{first} and {second}"), first=named, second=grid)
    needs = marked("{file}: a better step ({accuracy} m) needs the grid file {grids}, which is not installed.")
    return [Note(needs, file=shown, accuracy=float(best.accuracy), grids=named)]


def datum_notes(crs: "CRS", group: "TransformerGroup", accuracy_m: float | None, shown: str) -> list[str]:
    """What the report has to say of the step: nothing where the file rests on WGS 84 itself."""
    if WGS84_DATUM in datum_name(crs) and accuracy_m == 0.0:
        return []
    values = {"file": shown, "datum": datum_name(crs)}
    first = Note(STEP, **values) if accuracy_m is None else Note(STATED_STEP, **values, accuracy=float(accuracy_m))
    return [first, *better_note(group, accuracy_m, shown)]


def along(start: tuple[float, float], end: tuple[float, float], piece: float) -> list[tuple[float, float]]:
    """The points that cut the straight edge into equal pieces no longer than `piece`, without its end."""
    count = min(MOST_PIECES, max(1, ceil(hypot(end[0] - start[0], end[1] - start[1]) / piece)))
    shares = [index / count for index in range(count)]
    return [(start[0] + (end[0] - start[0]) * at, start[1] + (end[1] - start[1]) * at) for at in shares]


def cut_edges(points: list[tuple[float, float]], piece: float) -> list[tuple[float, float]]:
    """The same path with its long edges cut: straight on the map, which the earth's edges are not."""
    if not all(isfinite(x) and isfinite(y) for x, y in points):
        raise range_error(float("nan"), 0.0)
    cut = [point for start, end in pairwise(points) for point in along(start, end, piece)]
    return [*cut, points[-1]] if points else []


def lat_lons_by(operation: "Transformer", piece: float | None) -> Callable[[Positions], list[LatLon]]:
    """The function from the file's positions to (latitude, longitude); `piece` (file's unit) is set for map planes."""

    def to_lat_lon(positions: Positions) -> list[LatLon]:
        points = [numbers_of(position) for position in positions]
        points = cut_edges(points, piece) if piece else points
        xs, ys = operation.transform([x for x, _ in points], [y for _, y in points])
        if not all(isfinite(x) for x in xs):
            raise outside_crs(points)
        return [lat_lon_of(x, y) for x, y in zip(xs, ys, strict=True)]

    return to_lat_lon


def outside_crs(points: list[tuple[float, float]]) -> CoordinateError:
    """The error for positions that the file's own reference system does not cover."""
    if not all(isfinite(x) and isfinite(y) for x, y in points):
        return range_error(float("nan"), 0.0)
    what = f"position {points[0][0]:g}, {points[0][1]:g} lies outside the file's coordinate reference system"
    return CoordinateError(what, "The stated system is probably not the one of the coordinates: save the file again.")


def step_to_wgs84(text: str, bounds: tuple[float, float, float, float] | None, shown: str) -> DatumStep:
    """The step for a named system. `bounds` (west, south, east, north in the file's unit) lets PROJ choose by area."""
    crs = crs_of(text, shown)
    group = operations_to_wgs84(crs, None)
    if bounds and group.transformers and (area := area_of(bounds, group.transformers[0])):
        group = operations_to_wgs84(crs, area)
    if not group.transformers:
        what = f'{shown}: no way is known from "{crs.name}" to WGS 84'
        raise GeoFileError(what, "Save the file in WGS 84 (EPSG:4326).")
    operation = group.transformers[0]
    accuracy_m = stated_accuracy_m(operation)
    piece = LONGEST_PIECE_M / crs.axis_info[0].unit_conversion_factor if crs.is_projected else None
    edge_model: EdgeModel = "geodesic" if piece else "lonlat"
    notes = datum_notes(crs, group, accuracy_m, shown)
    return DatumStep(crs_label(crs), edge_model, accuracy_m, lat_lons_by(operation, piece), notes)
