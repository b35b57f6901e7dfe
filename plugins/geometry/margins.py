"""Margins with their uncertainty: the station's position, the map, the edges, and how well the parts are laid out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import atan2, degrees, hypot, radians
from typing import TypeVar

from afield.core.api import CannotTell, Estimate, _, local_digits, marked
from afield.plugins.geometry.afloat_facts import TURNS
from afield.plugins.geometry.computations.areas import area_around, least_inside
from afield.plugins.geometry.computations.doubt import margin_parts
from afield.plugins.geometry.computations.footprints import Part, reach_m
from afield.plugins.geometry.computations.lines import farthest_from_line, farthest_from_point, line_around
from afield.plugins.geometry.computations.plane import Plane
from afield.plugins.geometry.computations.worst import Worst
from afield.plugins.geometry.linearity import bounded_parts, spread_m
from afield.plugins.geometry.notes import said
from afield.plugins.geometry.reference_facts import Place
from afield.plugins.geometry.station_facts import Outline, Position

BEARING_95_DEG = 5.0
"""95 % uncertainty of a bearing paced out with a hand compass (common practice, no source)."""
LAYING_OUT_95_M = 0.1
"""95 % uncertainty of a stated distance between parts, as by tape (common practice, no source)."""
FAR_M = 20_000.0
"""Nobody moves a station so far to make it count (our choice)."""
COMPASS_WORDS = (
    *(marked("north"), marked("north-east"), marked("east"), marked("south-east")),
    *(marked("south"), marked("south-west"), marked("west"), marked("north-west")),
)
"""Data of the margins' detail; whoever shows one says it in the reader's language."""

Measure = Callable[[Sequence[Part]], Worst]
Laid = TypeVar("Laid")


def line_distance(
    outlines: Sequence[Outline], plane: Plane, position: Position, place: Place, half_width_m: float
) -> Estimate:
    """Distance of the farthest part from the line, less the half width of the thing that the line stands for."""
    parts = _parts(outlines)
    line = _laid(lambda: line_around(place.lines, plane, _reach(parts, position, place), place.edge_model))
    off = _("{width} m are taken off: half the width of what the line means.")
    notes = () if half_width_m == 0 else (off.format(width=local_digits(f"{half_width_m:g}")),)
    shift = swell_m(outlines) - half_width_m
    return _far_told(_estimate(lambda at: farthest_from_line(at, line), outlines, position, place, shift, notes))


def area_margin(outlines: Sequence[Outline], plane: Plane, position: Position, place: Place) -> Estimate:
    """Margin of the station inside the area."""
    parts = _parts(outlines)
    area = _laid(lambda: area_around(place.areas, plane, _reach(parts, position, place), place.edge_model))
    inside = _estimate(
        lambda at: least_inside(at, area), outlines, position, place, -swell_m(outlines), said(area.notes)
    )
    return _far_told(inside) if inside.value < 0 else inside


def point_distance(outlines: Sequence[Outline], plane: Plane, position: Position, place: Place) -> Estimate:
    """Distance of the farthest part from the point."""
    if len(place.points) != 1:
        why = _("the reference has {count} points; one is due").format(count=len(place.points))
        raise CannotTell(why, "claims[].geometry.name")
    east, north = plane.to_plane(*place.points[0])
    centre = (float(east), float(north))
    apart = _estimate(lambda at: farthest_from_point(at, centre), outlines, position, place, swell_m(outlines), ())
    return _far_told(apart)


def _far_told(margin: Estimate) -> Estimate:
    """Of a station that is nowhere near the reference, the position is more likely wrong than the place to move to."""
    apart = abs(margin.value)
    if apart < FAR_M:
        return margin
    told = _("The station stands {distance} km away: look whether its position, or the reference, is the right one.")
    return replace(margin, notes=(told.format(distance=f"{apart / 1000:.0f}"), *margin.notes))


def swell_m(outlines: Sequence[Outline]) -> float:
    """How far a station under way reaches around its track, metres; 0 for others. Safe: a distance may be less."""
    return max((float(outline.extra.get("swell_m", 0.0)) for outline in outlines), default=0.0)


def _laid(lay: Callable[[], Laid]) -> Laid:
    try:
        return lay()
    except ValueError as error:
        why = _("the reference cannot be laid out around the station: {error}").format(error=error)
        raise CannotTell(why) from error


def _parts(outlines: Sequence[Outline]) -> list[Part]:
    if any("swell_m" in outline.extra for outline in outlines):
        return [outlines[0].part]  # under way all parts have one and the same track
    return [outline.part for outline in outlines]


def _reach(parts: Sequence[Part], position: Position, place: Place) -> float:
    # The station is also tried where it, or the map under it, may really be; three sigma leave room for that.
    return reach_m(parts) + 3 * spread_m(position, place) + 1.0


def _estimate(
    measure: Measure,
    outlines: Sequence[Outline],
    position: Position,
    place: Place,
    shift_m: float,
    notes: tuple[str, ...],
) -> Estimate:
    parts = _parts(outlines)
    worst = measure(parts)
    outline = next(outline for outline in outlines if outline.name == worst.part)
    contributions = {
        **margin_parts(worst.direction, position.sigma_m or 0.0, {place.layer: place.map_sigma_m}, worst.edge_doubt_m),
        **_digit_parts(worst, position),
        **_datum_parts(worst, place),
        **_laying_out_parts(worst, outline),
        **_turn_parts(outline),
    }
    found, more_notes = bounded_parts(contributions, worst, measure, parts, position, place)
    method = _("plane around the station, {model} edges; map: {source}").format(
        model=place.edge_model, source=place.source
    )
    return Estimate(
        worst.value_m + shift_m, parts=found, detail=_detail(worst, outline),
        notes=(*notes, *said(worst.notes), *more_notes), method=method,
    )  # fmt: skip


def _digit_parts(worst: Worst, position: Position) -> dict[str, float]:
    """What the written digits (or the locator's box) leave open: a uniform error, its 95 % half width is 0.95 of it."""
    east, north = position.bound_m
    east_part, north_part = worst.direction[0] * 0.95 * east, worst.direction[1] * 0.95 * north
    return {"station.at/digits east": east_part, "station.at/digits north": north_part}


def _datum_parts(worst: Worst, place: Place) -> dict[str, float]:
    if not place.datum_m:
        return {}
    east, north = worst.direction
    return {f"datum:{place.layer}/east": -east * place.datum_m, f"datum:{place.layer}/north": -north * place.datum_m}


def _laying_out_parts(worst: Worst, outline: Outline) -> dict[str, float]:
    east, north = worst.point_m
    reach = hypot(east, north)
    if reach == 0:
        return {}
    along = (worst.direction[0] * east + worst.direction[1] * north) / reach
    parts = {f"part:{outline.name}/distance": along * LAYING_OUT_95_M}
    if not outline.full_circle:
        across = (worst.direction[0] * north - worst.direction[1] * east) / reach
        parts[f"part:{outline.name}/bearing"] = across * reach * radians(BEARING_95_DEG)
    return parts


def _turn_parts(outline: Outline) -> dict[str, float]:
    """What a boat may have strayed from the straight legs of its track."""
    turn = float(outline.extra.get("turn_m", 0.0))
    return {TURNS: turn} if turn else {}


def _detail(worst: Worst, outline: Outline) -> dict[str, object]:
    east, north = (near - point for near, point in zip(worst.nearest_m, worst.point_m, strict=True))
    bearing = degrees(atan2(east, north)) % 360
    return {
        "part": outline.name,
        "role": outline.role,
        "bearing": round(bearing),
        "towards": COMPASS_WORDS[round(bearing / 45) % 8],
        "point": [round(coordinate, 2) for coordinate in worst.point_m],
        "nearest": [round(coordinate, 2) for coordinate in worst.nearest_m],
    }
