"""What a reader of a GIS file hands back: a layer of features in WGS 84, and the error that it raises."""

from dataclasses import field
from typing import Any, Literal

from afield.core.api import frozen

EdgeModel = Literal["lonlat", "geodesic"]
Kind = Literal["point", "line", "area"]
LatLon = tuple[float, float]
Ring = list[LatLon]
Polygon = list[Ring]

MANY: dict[str, str] = {"point": "points", "line": "lines", "area": "areas"}
ONE: dict[str, str] = {"point": "a point", "line": "a line", "area": "an area"}


class GeoFileError(Exception):
    """A file that cannot be used: what is wrong, and what to do about it.

    The file's shown name is in `what`; the place in the plan that named the file is added by whoever asked for it.
    """

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}\n{advice}")
        self.what = what
        self.advice = advice


@frozen(slots=False)
class Feature:
    """One thing on the map, of one kind.

    `points`, `lines` and `areas` hold (latitude, longitude) in degrees, WGS 84; only the list of its kind is filled.
    A polygon is a list of rings, the outer one first, each closed (its first point is repeated as its last).
    """

    id: str | None
    name: str | None
    kind: Kind
    lines: list[list[LatLon]] = field(default_factory=list)
    areas: list[Polygon] = field(default_factory=list)
    points: list[LatLon] = field(default_factory=list)
    properties: dict[str, Any] = field(default_factory=dict)


@frozen(slots=False)
class Layer:
    """The features of one layer of one file, in WGS 84.

    `edge_model` says what joins two vertices: a straight line in longitude and latitude, or a geodesic.
    `datum_accuracy_m` is the stated accuracy of the step from the file's datum to WGS 84 in metres: 0 where the file is
    in WGS 84 itself, None where none is stated. `sha256` is the named file's. `notes` are sentences for the report.
    """

    name: str
    file: str
    sha256: str
    edge_model: EdgeModel
    crs: str
    datum_accuracy_m: float | None
    features: list[Feature]
    notes: list[str]
