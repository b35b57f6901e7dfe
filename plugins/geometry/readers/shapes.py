"""Raw shapes of a file, in its own coordinates, made into features: rings closed, stubs dropped, kinds kept apart."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import field
from typing import Any

from afield.core.api import frozen, marked
from afield.plugins.geometry.notes import Note
from afield.plugins.geometry.readers.coordinates import CoordinateError
from afield.plugins.geometry.readers.layer import Feature, GeoFileError, Kind, LatLon

XY = Sequence[Any]
ToLatLon = Callable[[Sequence[XY]], list[LatLon]]

SHORTEST_LINE = 2
SHORTEST_RING = 4


@frozen(slots=False)
class Shape:
    """One simple shape: `strings` is one list of one position (point) or more (line), or the rings of a polygon."""

    kind: Kind
    strings: list[Sequence[XY]]


@frozen(slots=False)
class RawFeature:
    """A feature as the file holds it: shapes in the file's own coordinates, x (or longitude) first."""

    id: str | None
    name: str | None
    shapes: list[Shape]
    properties: dict[str, Any] = field(default_factory=dict)
    is_collection: bool = False

    def label(self, number: int) -> str:
        """How messages call it: its place in the file, and its name if it has one."""
        return f'feature {number} ("{self.name}")' if self.name else f"feature {number}"


def line_of(string: Sequence[XY], to_lat_lon: ToLatLon, seen: Counter[str]) -> list[LatLon]:
    """The line in latitude and longitude; empty (and counted) where the file gives fewer than two points."""
    if len(string) >= SHORTEST_LINE:
        return to_lat_lon(string)
    seen["stub"] += 1
    return []


def ring_of(string: Sequence[XY], to_lat_lon: ToLatLon, seen: Counter[str]) -> list[LatLon]:
    """The ring, closed if it was open (counted); empty (and counted) where fewer than three points are left of it."""
    ring = to_lat_lon(string)
    is_open = bool(ring) and ring[0] != ring[-1]
    if len(string) + is_open < SHORTEST_RING:
        seen["collapsed ring"] += 1
        return []
    seen["open ring"] += is_open
    return [*ring, ring[0]] if is_open else ring


def polygon_of(strings: list[Sequence[XY]], to_lat_lon: ToLatLon, seen: Counter[str]) -> list[list[LatLon]]:
    """The polygon without its collapsed rings; empty where the outer ring is one of them."""
    rings = [ring_of(string, to_lat_lon, seen) for string in strings]
    return [ring for ring in rings if ring] if rings and rings[0] else []


def added(feature: Feature, shape: Shape, to_lat_lon: ToLatLon, seen: Counter[str]) -> None:
    """Put the shape, in latitude and longitude, on the feature's list of its kind."""
    if shape.kind == "point":
        feature.points.extend(to_lat_lon(shape.strings[0]))
    elif shape.kind == "line" and (line := line_of(shape.strings[0], to_lat_lon, seen)):
        feature.lines.append(line)
    elif shape.kind == "area" and (polygon := polygon_of(shape.strings, to_lat_lon, seen)):
        feature.areas.append(polygon)


def features_by_kind(raw: RawFeature, to_lat_lon: ToLatLon, seen: Counter[str]) -> list[Feature]:
    """One feature for each kind of shape that the raw feature holds, without those of which nothing is left."""
    kinds: dict[Kind, Feature] = {}
    for shape in raw.shapes:
        made = kinds.setdefault(shape.kind, Feature(raw.id, raw.name, shape.kind, properties=raw.properties))
        added(made, shape, to_lat_lon, seen)
    seen["no geometry"] += not raw.shapes
    seen["collection"] += raw.is_collection
    return [made for made in kinds.values() if made.points or made.lines or made.areas]


NOTES: list[tuple[str, str, str]] = [
    (
        "collection",
        marked("{file}: {count} GeometryCollection was taken apart into points, lines and areas."),
        marked("{file}: {count} GeometryCollections were taken apart into points, lines and areas."),
    ),
    (
        "no geometry",
        marked("{file}: {count} feature without a geometry was left out."),
        marked("{file}: {count} features without a geometry were left out."),
    ),
    (
        "stub",
        marked("{file}: {count} line of fewer than two points was left out."),
        marked("{file}: {count} lines of fewer than two points were left out."),
    ),
    (
        "open ring",
        marked("{file}: {count} ring that did not end where it began was closed."),
        marked("{file}: {count} rings that did not end where they began were closed."),
    ),
    (
        "collapsed ring",
        marked("{file}: {count} ring of fewer than three points was left out."),
        marked("{file}: {count} rings of fewer than three points were left out."),
    ),
]
"""What was seen -> the sentence for one, and for several."""


def notes_of(shown: str, seen: Counter[str]) -> list[str]:
    """A sentence for everything that was mended or left out."""
    return [Note(one if seen[key] == 1 else many, file=shown, count=seen[key]) for key, one, many in NOTES if seen[key]]


def made_features(raws: Iterable[RawFeature], to_lat_lon: ToLatLon, shown: str) -> tuple[list[Feature], list[str]]:
    """All features, and the notes. Raises GeoFileError for positions that are no place on earth, or no features."""
    features: list[Feature] = []
    seen: Counter[str] = Counter()
    for number, raw in enumerate(raws, start=1):
        try:
            features.extend(features_by_kind(raw, to_lat_lon, seen))
        except CoordinateError as error:
            raise GeoFileError(f"{shown}: {raw.label(number)}: {error.what}", error.advice) from None
    if not features:
        advice = "Save the file again with the points, lines or areas in it."
        raise GeoFileError(f"{shown}: there are no features in it", advice)
    return features, notes_of(shown, seen)
