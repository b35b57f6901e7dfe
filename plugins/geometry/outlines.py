"""Lays out the parts of a station: each as a point, a straight run, radials, or the full circle it may lie in."""

from __future__ import annotations

from math import hypot
from typing import Any

from afield.core.api import CannotTell, Piece, _, convert, frozen, parse_quantity
from afield.plugins.geometry.computations.footprints import (
    Part,
    circle_part,
    offset_m,
    point_part,
    radials_part,
    segment_part,
)
from afield.plugins.geometry.station_facts import Outline, metres

Offset = tuple[float, float]


@frozen(slots=False)
class Stated:
    """What the plan says of a part's place; None where it says nothing."""

    at: Piece | None = None
    start: Piece | None = None
    end: Piece | None = None
    length_m: float | None = None
    radials: Piece | None = None
    bearing_shift_deg: float = 0.0


@frozen(slots=False)
class End:
    """One stated place: an offset, or only its distance where the bearing is not stated."""

    offset: Offset | None
    distance_m: float


def outline_of(name: str, role: str, stated: Stated, height_m: float | None) -> Outline:
    """The part's outline.

    Raises:
        CannotTell: the plan does not say where the part lies.

    """
    shape, part, points, radius, method = _shape(name, role, stated)
    return Outline(
        name, role, shape, points, part, radius_m=radius, height_m=height_m, full_circle=shape == "circle",
        extra={"method": method},
    )  # fmt: skip


def _shape(name: str, role: str, stated: Stated) -> tuple[str, Part, list[Offset], float | None, str]:
    at = _end(stated.at, stated) if stated.at else None
    if stated.radials is not None:
        return _radials(name, at, stated.radials, stated)
    if stated.start is not None or stated.end is not None:
        return _run(name, stated, at)
    if at is not None and stated.length_m is not None:
        return _circle(name, at.offset or (0.0, 0.0), 0.0, stated.length_m + (0.0 if at.offset else at.distance_m))
    if at is not None:
        return _point(name, at)
    if stated.length_m is not None:
        return _circle(name, (0.0, 0.0), 0.0, stated.length_m)
    if role == "operating position":
        return "point", point_part(name, (0.0, 0.0)), [(0.0, 0.0)], None, _("at the operating position")
    why = _("where the part {part} lies is not stated").format(part=name)
    raise CannotTell(why, f"station.parts[{name}].at", "not stated")


def _point(name: str, at: End) -> tuple[str, Part, list[Offset], float | None, str]:
    if at.offset is None:
        return _circle(name, (0.0, 0.0), at.distance_m, at.distance_m)
    return "point", point_part(name, at.offset), [at.offset], None, _("as stated")


def _run(name: str, stated: Stated, at: End | None) -> tuple[str, Part, list[Offset], float | None, str]:
    start = _end(stated.start, stated) if stated.start else at or End((0.0, 0.0), 0.0)
    if stated.end is None:
        length = stated.length_m
        if length is None:
            why = _("where the part {part} ends is not stated").format(part=name)
            raise CannotTell(why, f"station.parts[{name}].to", "not stated")
        return _circle(name, start.offset or (0.0, 0.0), 0.0, length + (0.0 if start.offset else start.distance_m))
    end = _end(stated.end, stated)
    if start.offset is None or end.offset is None:
        near, far = sorted((start.distance_m, end.distance_m))
        return _circle(name, (0.0, 0.0), near, far)
    part = segment_part(name, start.offset, end.offset)
    return "line", part, [start.offset, end.offset], None, _("as stated")


def _radials(
    name: str, at: End | None, radials: Piece, stated: Stated
) -> tuple[str, Part, list[Offset], float | None, str]:
    centre = at.offset if at and at.offset else (0.0, 0.0)
    length = metres(radials.data["length"])
    if "bearing" not in radials.data:
        return _circle(name, centre, 0.0, length)
    first = _bearing(radials.data["bearing"], stated)
    count = int(radials.data["count"])
    bearings = [first + 360.0 * index / count for index in range(count)]
    tips = [offset_m(bearing, length) for bearing in bearings]
    points = [point for tip in tips for point in (centre, (centre[0] + tip[0], centre[1] + tip[1]))]
    return "radials", radials_part(name, centre, length, bearings), points, None, _("radials, evenly spread")


def _circle(name: str, centre: Offset, inner: float, outer: float) -> tuple[str, Part, list[Offset], float | None, str]:
    method = _("judged by its full circle: its bearing is not stated")
    return "circle", circle_part(name, centre, inner, outer), [centre], outer, method


def _end(piece: Piece, stated: Stated) -> End:
    data: Any = piece.data
    if isinstance(data, list):
        east, north = (metres(text) for text in data)
        return End((east, north), hypot(east, north))
    distance = metres(data["distance"])
    if "bearing" not in data and distance > 0:
        return End(None, distance)
    offset = offset_m(_bearing(data.get("bearing", "0 deg"), stated), distance)
    return End((float(offset[0]), float(offset[1])), distance)


def _bearing(text: str, stated: Stated) -> float:
    quantity = parse_quantity(text, "deg")
    return convert(float(quantity.digits), quantity.unit, "deg") + stated.bearing_shift_deg
