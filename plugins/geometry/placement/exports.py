"""A placement for the phone: GeoJSON (RFC 7946), GPX 1.1 waypoints and KML 2.2, made from its JSON alone."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any
from xml.sax.saxutils import escape

from afield.core.api import _

Json = Mapping[str, Any]


def geojson(found: Json) -> str:
    """The places named as points, and the region at the bearing with most room as an area."""
    points = [
        {
            "type": "Feature",
            "properties": {"name": name, "verified": place["verified"]},
            "geometry": {"type": "Point", "coordinates": [place["lon_deg"], place["lat_deg"]]},
        }
        for name, place in places(found)
    ]
    area = {
        "type": "Feature",
        "properties": {"name": _("operating positions at which all claims count")},
        "geometry": {"type": "MultiPolygon", "coordinates": [_wound(rings) for rings in cut_at_180(found["region"])]},
    }
    features = [*points, area] if found["region"] else points
    return json.dumps({"type": "FeatureCollection", "features": features}, indent=1, ensure_ascii=False) + "\n"


def gpx(found: Json) -> str:
    """The places named as waypoints."""
    points = [
        f'  <wpt lat="{place["lat_deg"]:.7f}" lon="{place["lon_deg"]:.7f}"><name>{escape(name)}</name></wpt>'
        for name, place in places(found)
    ]
    head = '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="afield" xmlns="http://www.topografix.com/GPX/1/1">'
    return "\n".join([head, *points, "</gpx>"]) + "\n"


def kml(found: Json) -> str:
    """The same as the GeoJSON."""
    marks = [
        f"  <Placemark><name>{escape(name)}</name><Point><coordinates>{place['lon_deg']:.7f},{place['lat_deg']:.7f}"
        "</coordinates></Point></Placemark>"
        for name, place in places(found)
    ]
    areas = "".join(_polygon(rings) for rings in cut_at_180(found["region"]))
    name = escape(_("all claims count"))
    region = f"  <Placemark><name>{name}</name><MultiGeometry>{areas}</MultiGeometry></Placemark>"
    head = '<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2"><Document>'
    return "\n".join([head, *marks, *([region] if areas else []), "</Document></kml>"]) + "\n"


def places(found: Json) -> Iterator[tuple[str, Json]]:
    """The places that may be gone to, with their names; a miss is none."""
    if found["nearest"] is not None:
        yield _("nearest place, laid as planned"), found["nearest"]
    if found["best"] is not None and (found["best"]["room_m"] >= 0 or found["best"]["verified"]):
        yield _("place with most room"), found["best"]


def cut_at_180(region: list[Any]) -> list[Any]:
    """The polygons with longitudes of -180 to 180 only, cut where they cross that meridian (RFC 7946, 3.1.9)."""
    if all(abs(lon) <= 180 for rings in region for ring in rings for lon, _ in ring):
        return region
    import shapely

    whole = shapely.multipolygons([shapely.Polygon(rings[0], rings[1:]) for rings in region])
    cut: list[Any] = []
    for turn in (-360, 0, 360):
        within = shapely.intersection(whole, shapely.box(turn - 180, -90, turn + 180, 90))
        polygons = [part for part in shapely.get_parts(within) if part.geom_type == "Polygon" and not part.is_empty]
        cut += [[_turned(ring, turn) for ring in (part.exterior, *part.interiors)] for part in polygons]
    return cut


def _turned(ring: Any, turn: int) -> list[list[float]]:
    return [[round(lon - turn, 7), lat] for lon, lat in ring.coords]


def _wound(rings: list[Any]) -> list[Any]:
    """Outer ring counterclockwise, holes clockwise (RFC 7946, 3.1.6)."""
    return [ring if (_doubled_area(ring) > 0) == (index == 0) else ring[::-1] for index, ring in enumerate(rings)]


def _doubled_area(ring: list[Any]) -> float:
    return float(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(ring)))


def _polygon(rings: list[Any]) -> str:
    sides = [("outerBoundaryIs" if index == 0 else "innerBoundaryIs", ring) for index, ring in enumerate(_wound(rings))]
    drawn = (
        f"<{side}><LinearRing><coordinates>{' '.join(f'{lon:.7f},{lat:.7f}' for lon, lat in ring)}</coordinates>"
        f"</LinearRing></{side}>"
        for side, ring in sides
    )
    return f"<Polygon>{''.join(drawn)}</Polygon>"
