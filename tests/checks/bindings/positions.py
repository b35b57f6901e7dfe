"""Cases of geometry_time.yaml about positions, bearings and their accuracy, adapted to the computations."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.geometry.computations.accuracy import (
    accuracy_convert,
    decimal_places_to_metres,
    map_accuracy_nmas,
    three_way_decision,
)
from afield.plugins.geometry.computations.degrees import Form, dms_format, dms_parse
from afield.plugins.geometry.computations.geodesy import geodesic_direct, geodesic_inverse, polygon_perimeter_area
from afield.plugins.geometry.computations.locator import maidenhead_decode, maidenhead_encode, maidenhead_uncertainty
from afield.plugins.geometry.computations.magnetic import decimal_year, magnetic_declination, true_to_magnetic_bearing
from afield.plugins.geometry.computations.military_grid import (
    geographic_to_mgrs,
    geographic_to_utm_mgrs,
    mgrs_change_precision,
    mgrs_parse_precision,
    mgrs_to_geographic_centre,
    mgrs_to_geographic_southwest_corner,
    utm_to_mgrs,
)
from afield.plugins.geometry.computations.utm import transverse_mercator_airy, utm_to_geographic, utm_zone

CHECK_FILE = "geometry_time.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]

IGNORED: dict[str, set[str]] = {
    # The same point in both notations: the decimal one is read.
    "geodesic_inverse": {"p1.lat_dms", "p1.lon_dms", "p2.lat_dms", "p2.lon_dms"},
    # The reference system that the computation's name states.
    "transverse_mercator_airy": {"crs"},
    # The only model there is.
    "magnetic_declination": {"model"},
}

UTM_ZONES = {"UTM zone 18N": (18, "N")}
ELLIPSOIDS = {"WGS84": "WGS84", "GDA (GRS80), MGA zone 55": "GRS80"}
SHAPES: dict[str, tuple[float, ...]] = {"WGS84 (GRS80 in the manual; no effect at 0.1 mm here)": ()}
FORMS: dict[str, tuple[Form, int]] = {"d m s, 0 decimals": ("dms", 0)}


def _angle(point: Inputs, axis: str) -> float:
    return float(point[axis]) if axis in point else dms_parse(point[f"{axis}_dms"])


def _point(point: Inputs) -> tuple[float, float]:
    return _angle(point, "lat"), _angle(point, "lon")


def _shape(ellipsoid: Any) -> tuple[float, ...]:
    return SHAPES[ellipsoid] if isinstance(ellipsoid, str) else (ellipsoid["a_m"], ellipsoid["inverse_f"])


def _geodesic_inverse(inputs: Inputs) -> Answer:
    shape = _shape(inputs["ellipsoid"]) if "ellipsoid" in inputs else ()
    found = geodesic_inverse(*_point(inputs["p1"]), *_point(inputs["p2"]), *shape)
    return {**found._asdict(), "distance_km": found.distance_m / 1000}


def _geodesic_direct(inputs: Inputs) -> Answer:
    found = geodesic_direct(inputs["lat"], inputs["lon"], inputs["azimuth_deg"], inputs["distance_m"])
    return {"lat": found.lat_deg, "lon": found.lon_deg}


def _polygon_perimeter_area(inputs: Inputs) -> Answer:
    zone = UTM_ZONES[inputs["crs"]]
    corners = [utm_to_geographic(*zone, *corner) for corner in inputs["ring_en_m"]]
    lats, lons = [corner.lat_deg for corner in corners], [corner.lon_deg for corner in corners]
    return polygon_perimeter_area(lats, lons)._asdict()


def _geographic_to_utm_mgrs(inputs: Inputs) -> Answer:
    ellipsoid = ELLIPSOIDS[inputs["datum"]]
    return geographic_to_utm_mgrs(inputs["lat"], inputs["lon"], ellipsoid=ellipsoid)._asdict()


def _utm_zone(inputs: Inputs) -> Answer:
    return {"zones": [utm_zone(*point) for point in inputs["points_lat_lon"]]}


def _geographic_to_mgrs(inputs: Inputs) -> Answer:
    return {"mgrs": geographic_to_mgrs(inputs["lat"], inputs["lon"], inputs["precision_m"])}


def _mgrs_to_geographic_centre(inputs: Inputs) -> Answer:
    found = mgrs_to_geographic_centre(inputs["mgrs"])
    return {"lat": found.lat_deg, "lon": found.lon_deg, "utm_centre": found._asdict()}


def _mgrs_to_geographic_southwest_corner(inputs: Inputs) -> Answer:
    found = mgrs_to_geographic_southwest_corner(inputs["mgrs"])
    return {"lat": found.lat_deg, "lon": found.lon_deg}


def _mgrs_parse_precision(inputs: Inputs) -> Answer:
    parts = [mgrs_parse_precision(reference) for reference in inputs["references"]]
    letters = {part.column_row for part in parts}
    return {"precision_m": [part.precision_m for part in parts], "column_row": " ".join(sorted(letters))}


def _mgrs_change_precision(inputs: Inputs) -> Answer:
    utm = inputs["utm"]
    finest = utm_to_mgrs(utm["zone"], utm["hemisphere"], utm["easting_m"], utm["northing_m"])
    return {"mgrs": mgrs_change_precision(finest, inputs["to_precision_m"])}


def _transverse_mercator_airy(inputs: Inputs) -> Answer:
    return transverse_mercator_airy(*_point(inputs))._asdict()


def _maidenhead_encode(inputs: Inputs) -> Answer:
    return {"locator": maidenhead_encode(inputs["lat"], inputs["lon"], inputs["characters"])}


def _maidenhead_decode(inputs: Inputs) -> Answer:
    cell = maidenhead_decode(inputs["locator"])._asdict()
    return cell | {key.removesuffix("_deg"): value for key, value in cell.items()}


def _maidenhead_uncertainty(inputs: Inputs) -> Answer:
    return {"max_distance_centre_to_edge_km": maidenhead_uncertainty(inputs["locator"]) / 1000}


def _dms_parse(inputs: Inputs) -> Answer:
    return {"deg": [dms_parse(text) for text in inputs["texts"]]}


def _is_rejected(text: str) -> bool:
    try:
        dms_parse(text)
    except ValueError:
        return True
    return False


def _dms_parse_reject(inputs: Inputs) -> Answer:
    return {"all_rejected": all(_is_rejected(text) for text in inputs["texts"])}


def _dms_format(inputs: Inputs) -> Answer:
    form, decimals = FORMS[inputs["form"]]
    return {"text": dms_format(inputs["deg"], form, decimals, symbols=False)}


def _decimal_places_to_metres(inputs: Inputs) -> Answer:
    halves = [decimal_places_to_metres(decimals, inputs["lat"]) for decimals in inputs["decimals"]]
    return {
        "half_unit_north_south_m": [half.north_south_m for half in halves],
        "half_unit_east_west_m": [half.east_west_m for half in halves],
    }


def _magnetic_declination(inputs: Inputs) -> Answer:
    year = decimal_year(inputs["date"]) if "date" in inputs else inputs["decimal_year"]
    height_m = inputs["height_m"] if "height_m" in inputs else inputs["height_above_ellipsoid_km"] * 1000
    # One published value lies in the blackout zone, where the computation refuses unless it is told not to.
    return magnetic_declination(inputs["lat"], inputs["lon"], year, height_m, allow_blackout=True)._asdict()


def _true_to_magnetic_bearing(inputs: Inputs) -> Answer:
    pairs = zip(inputs["true_deg"], inputs["declination_deg"], strict=True)
    return {"magnetic_deg": [true_to_magnetic_bearing(*pair) for pair in pairs]}


def _map_accuracy_nmas(inputs: Inputs) -> Answer:
    return {"horizontal_90pct_m": [map_accuracy_nmas(scale) for scale in inputs["scale_denominator"]]}


def _accuracy_convert(inputs: Inputs) -> Answer:
    return {"rmse_m": accuracy_convert(inputs["le90_m"], "z90", "rmse_z")}


def _three_way_decision(inputs: Inputs) -> Answer:
    limit, error = inputs["limit_m"], inputs["error_95pct_m"]
    return {"decision": [three_way_decision(distance, limit, error) for distance in inputs["distance_m"]]}


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {
    "geodesic_inverse": _geodesic_inverse,
    "geodesic_direct": _geodesic_direct,
    "polygon_perimeter_area": _polygon_perimeter_area,
    "geographic_to_utm_mgrs": _geographic_to_utm_mgrs,
    "utm_zone": _utm_zone,
    "geographic_to_mgrs": _geographic_to_mgrs,
    "mgrs_to_geographic_centre": _mgrs_to_geographic_centre,
    "mgrs_to_geographic_southwest_corner": _mgrs_to_geographic_southwest_corner,
    "mgrs_parse_precision": _mgrs_parse_precision,
    "mgrs_change_precision": _mgrs_change_precision,
    "transverse_mercator_airy": _transverse_mercator_airy,
    "maidenhead_encode": _maidenhead_encode,
    "maidenhead_decode": _maidenhead_decode,
    "maidenhead_uncertainty": _maidenhead_uncertainty,
    "dms_parse": _dms_parse,
    "dms_parse_reject": _dms_parse_reject,
    "dms_format": _dms_format,
    "decimal_places_to_metres": _decimal_places_to_metres,
    "magnetic_declination": _magnetic_declination,
    "true_to_magnetic_bearing": _true_to_magnetic_bearing,
    "map_accuracy_nmas": _map_accuracy_nmas,
    "accuracy_convert": _accuracy_convert,
    "three_way_decision": _three_way_decision,
}
