"""How far the whole station keeps within each reference: the facts that rules compare with their limits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from afield.core.api import Estimate, Fact, Tool, fact, marked
from afield.plugins.geometry.reference_facts import Place, half_width_m, not_of_kind
from afield.plugins.geometry.station_facts import Outline, Position

if TYPE_CHECKING:
    from afield.plugins.geometry.computations.plane import Plane

DETAIL = {
    "part": "name of the part of the station that decides",
    "role": "its role",
    "bearing": "bearing from the deciding point to the nearest point of the reference, degrees",
    "towards": "the same as a compass word",
    "point": "east and north of the deciding point from the station, metres",
    "nearest": "east and north of the nearest point of the reference, metres",
}
TAPE = Tool("tape measure", 0.1)
GROUND = ("claim.footprint", "reference.kind")
"""A plan with no antenna never passes a whole-station rule, not even by a reading: nobody knows of which station."""


@fact(
    "place.farthest_part_from_line", kind="claim", unit="m", least=0.0,
    title="distance of the farthest part from the line",
    owns_uncertainty=True, detail=DETAIL, tool=TAPE, stands_on=GROUND,
    optional=["program_line_means", "program_line_width"], inverse=lambda *asked: _inverse("near_line", *asked),
)  # fmt: skip
def place_farthest_part_from_line(
    claim_footprint: list[Outline],
    station_plane: Plane,
    station_position: Position,
    reference_place: Place,
    program_line_means: str | None,
    program_line_width: float | None,
) -> Estimate:
    """Directed distance from the station's counted parts to a line reference."""
    from afield.plugins.geometry.margins import line_distance

    _due("line", reference_place)
    half_width = half_width_m(program_line_means, program_line_width)
    return line_distance(claim_footprint, station_plane, station_position, reference_place, half_width)


@fact(
    "place.margin_inside_area", kind="claim", unit="m", title="margin of the whole station inside the boundary",
    below_zero=marked("outside"), inverse=lambda *asked: _inverse("inside_area", *asked),
    owns_uncertainty=True, detail=DETAIL, tool=TAPE, stands_on=GROUND,
)  # fmt: skip
def place_margin_inside_area(
    claim_footprint: list[Outline], station_plane: Plane, station_position: Position, reference_place: Place
) -> Estimate:
    """Least signed distance of the station's counted parts to the boundary; above 0 all of it is inside."""
    from afield.plugins.geometry.margins import area_margin

    _due("area", reference_place)
    return area_margin(claim_footprint, station_plane, station_position, reference_place)


@fact(
    "place.farthest_part_from_point", kind="claim", unit="m", least=0.0,
    title="distance of the farthest part from the point",
    owns_uncertainty=True, detail=DETAIL, tool=TAPE, stands_on=GROUND,
    inverse=lambda *asked: _inverse("near_point", *asked),
)  # fmt: skip
def place_farthest_part_from_point(
    claim_footprint: list[Outline], station_plane: Plane, station_position: Position, reference_place: Place
) -> Estimate:
    """Distance from a point reference to the farthest point of the station's counted parts."""
    from afield.plugins.geometry.margins import point_distance

    _due("point", reference_place)
    return point_distance(claim_footprint, station_plane, station_position, reference_place)


def _inverse(name: str, *asked: Any) -> Any:
    """The fact turned round, for placement; imported only when it is asked."""
    from afield.plugins.geometry.placement import inverses

    return getattr(inverses, name)(*asked)


def _due(kind: str, place: Place) -> None:
    if place.kind != kind:
        raise not_of_kind(place.kind, kind)


FACTS: list[Fact] = [place_farthest_part_from_line, place_margin_inside_area, place_farthest_part_from_point]
