"""Facts of summits: the area that belongs to one, how far inside it the station is, and how far below by its height."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, Tool, _, fact, frozen, local_digits, marked
from afield.plugins.geometry.margin_facts import DETAIL, GROUND
from afield.plugins.geometry.reference_facts import SUPPLY_GEOMETRY, Place, not_of_kind
from afield.plugins.geometry.station_facts import Outline, Position
from afield.plugins.geometry.summit_shapes import FACTS as SHAPES

if TYPE_CHECKING:
    from afield.plugins.geometry.computations.plane import Plane

CONNECTIVITY = (marked("edge"), marked("corner"), marked("surface"))
"""How a program joins two high posts of a grid that touch at a corner only: never, always, as the surface between."""
ALTIMETER = Tool("barometric altimeter, set on the summit the same hour", 5.0)
NOT_CONNECTED = marked("Height alone does not tell whether the ground is connected to the summit.")


@frozen(slots=False, eq=False)
class SummitZone:
    """The ground that belongs to a summit.

    Attributes:
        likely, sure, possible: areas, by the listed height; by every reading of it and the grid; by any.
        summit: latitude and longitude, degrees.
        level_m: lower limit of `likely`.
        top_m: the grid's own top near the summit.
        spacing_m: of the grid's posts, east-west and north-south.
        posts: of the grid in `likely`.
        cut_off: the ground that may belong to it reaches the edge of the grid, or posts without data.
        holds: (latitude, longitude) -> whether it lies well within the grid.
        notes: what the reader must know.

    """

    likely: Place
    sure: Place
    possible: Place
    summit: tuple[float, float]
    level_m: float
    top_m: float
    spacing_m: tuple[float, float]
    posts: int
    cut_off: bool
    holds: Callable[[float, float], bool]
    notes: tuple[str, ...] = ()


def _zone_json(zone: SummitZone | None) -> dict[str, Any] | None:
    if zone is None:
        return None
    return {
        "layer": zone.likely.layer,
        "level_m": round(zone.level_m, 2),
        "top_m": round(zone.top_m, 2),
        "spacing_m": [round(each, 2) for each in zone.spacing_m],
        "posts": zone.posts,
        "cut_off": zone.cut_off,
    }


@fact(
    "reference.zone", kind="claim", type="opaque", title="area of the summit", owns_uncertainty=True, encode=_zone_json,
    optional=["reference_listed_geometry", "claim_geometry", "program_summit_drop", "program_connectivity"],
)  # fmt: skip
def reference_zone(
    reference_kind: str,
    reference_listed_geometry: Piece | None,
    claim_geometry: Piece | None,
    program_summit_drop: float | None,
    program_connectivity: str | None,
) -> Estimate:
    """The connected ground that is not below the summit by more than the drop; none for other kinds of reference."""
    piece = claim_geometry or reference_listed_geometry
    if reference_kind != "summit" or piece is None or "file" not in piece.data:
        return Estimate(None)
    if program_summit_drop is None:
        raise CannotTell(_("the pack does not say how far below the summit counts"), "program.summit_drop")
    from afield.plugins.geometry.terrain.stating import summit_zone

    zone = summit_zone(piece, program_summit_drop, program_connectivity)
    method = _("contour of {layer} at {height} m")
    height = local_digits(f"{zone.level_m:g}")
    return Estimate(zone, method=method.format(layer=zone.likely.layer, height=height), notes=zone.notes)


@fact(
    "place.margin_inside_zone", kind="claim", unit="m", title="margin of the station inside the summit's area",
    below_zero=marked("outside"), owns_uncertainty=True, detail=DETAIL, stands_on=GROUND,
    inverse=lambda *asked: _inverse(*asked),
)  # fmt: skip
def place_margin_inside_zone(
    reference_kind: str,
    reference_zone: SummitZone | None,
    claim_footprint: list[Outline],
    station_plane: Plane,
    station_position: Position,
) -> Estimate:
    """Least signed distance of the station's counted parts to the outline of the summit's area."""
    if reference_kind != "summit":
        raise not_of_kind(reference_kind, "summit")
    if reference_zone is None:
        raise CannotTell(
            _("no terrain grid is named: give the summit's geometry `file:`, or judge by a measured height"),
            f"{SUPPLY_GEOMETRY}.file", "not stated",
        )  # fmt: skip
    from afield.plugins.geometry.summit_margins import zone_margin

    return zone_margin(claim_footprint, station_plane, station_position, reference_zone)


@fact("summit.elevation", kind="claim", unit="m", title="elevation of the summit", owns_uncertainty=True,
      optional=["reference_listed_geometry", "claim_geometry"])  # fmt: skip
def summit_elevation(
    reference_kind: str, reference_listed_geometry: Piece | None, claim_geometry: Piece | None
) -> Estimate:
    """The summit's elevation as the claim or the pack lists it."""
    from afield.plugins.geometry.terrain import stating

    if reference_kind != "summit":
        raise not_of_kind(reference_kind, "summit")
    piece = claim_geometry or reference_listed_geometry
    if piece is None:
        raise CannotTell(_("the elevation of the summit is not listed"), f"{SUPPLY_GEOMETRY}.elevation", "not stated")
    return stating.summit_elevation(piece)


@fact("station.height", kind="trip", unit="m", title="height of the station above mean sea level",
      owns_uncertainty=True, settle="station.height")  # fmt: skip
def station_height(station_height_reading: Piece) -> Estimate:
    """The measured height of the operating position."""
    from afield.plugins.geometry.measured_height import height_of

    return height_of(station_height_reading)


@fact(
    "station.height_measured", kind="trip", type="bool", title="whether a height of the station is stated", exact=True,
    optional=["station_height_reading"],
)  # fmt: skip
def station_height_measured(station_height_reading: Piece | None) -> bool:
    """Whether the plan states a height of the operating position: it may decide in place of a terrain grid."""
    return station_height_reading is not None


@fact("summit.height_below", kind="claim", unit="m", title="height of the station below the summit",
      below_zero=marked("above"), tool=ALTIMETER, stands_on=GROUND)  # fmt: skip
def summit_height_below(summit_elevation: float, station_height: float) -> Estimate:
    """The summit's elevation less the measured height of the station: needs no terrain grid."""
    return Estimate(summit_elevation - station_height, method=_("measured height"), notes=(_(NOT_CONNECTED),))


def _inverse(*asked: Any) -> Any:
    from afield.plugins.geometry.summit_margins import inside_zone

    return inside_zone(*asked)


PROGRAM_FACTS: list[Fact] = [
    Fact("program.summit_drop", "program", unit="m", title="how far below the summit its area goes", exact=True),
    Fact(
        "program.connectivity", "program", "text", title="how ground is joined", exact=True, choices=CONNECTIVITY
    ),
]  # fmt: skip

FACTS: list[Fact] = [
    reference_zone,
    place_margin_inside_zone,
    summit_elevation,
    station_height,
    station_height_measured,
    summit_height_below,
    *SHAPES,
    *PROGRAM_FACTS,
]
