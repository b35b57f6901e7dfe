"""Facts of a claim's reference: its kind, its geometry on the map, and the parts of the station that count for it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, _, fact, frozen, marked
from afield.plugins.geometry.station_facts import Outline, Position

if TYPE_CHECKING:
    from afield.plugins.geometry.computations.plane import Plane
    from afield.plugins.geometry.summit_facts import SummitZone

ROLES = (
    *(marked("operating position"), marked("antenna"), marked("feed line"), marked("counterpoise")),
    *(marked("mast"), marked("guy"), marked("supply"), marked("vehicle")),
)
"""The roles that a plan's parts may have; a pack that names another would wait for it in vain."""
LINE_MEANINGS = (
    *(marked("tread"), marked("centre line"), marked("nearer edge"), marked("bank"), marked("thread of stream")),
)
KINDS = (marked("line"), marked("area"), marked("point"), marked("summit"))
MEANS_EDGE = ("tread", "nearer edge", "bank")
"""Meanings by which distance counts from the edge of the thing, not from the line drawn along its middle."""

SUPPLY_GEOMETRY = "claims[].geometry"
KEYS = "`geometry: {file, source, map_accuracy}`"
"""What is written to supply it; braces of the plan's own, so no part of a sentence."""


@frozen(slots=False)
class Place:
    """The geometry of one reference.

    Attributes:
        kind: "line", "area", "point" or "summit" (of which only the point is here; its area is `reference.zone`).
        lines, areas, points: latitude and longitude in degrees.
        layer: file and layer; references of one layer share its errors.
        map_sigma_m: of the map, per axis; datum_m: 95 % of the datum's step, per axis.

    """

    kind: str
    lines: list[Any]
    areas: list[Any]
    points: list[Any]
    layer: str
    edge_model: str
    map_sigma_m: float
    datum_m: float
    source: str
    notes: tuple[str, ...] = ()


def _shape_json(shape: dict[str, Any]) -> dict[str, Any]:
    return shape


@fact(
    "reference.kind", kind="claim", type="text", title="kind of the reference",
    choices=KINDS, optional=["reference_listed_kind", "claim_geometry"],
    settle=f"{SUPPLY_GEOMETRY}.kind", exact=True,
)  # fmt: skip
def reference_kind(reference_listed_kind: str | None, claim_geometry: Piece | None) -> str:
    """Line, area, point or summit: as the claim says, else as the pack lists it."""
    stated = claim_geometry.data.get("kind") if claim_geometry else None
    kind = stated or reference_listed_kind
    if kind is None:
        raise CannotTell(_("the kind of the reference is not stated"), f"{SUPPLY_GEOMETRY}.kind", "not stated")
    return str(kind)


@fact(
    "reference.place", kind="claim", type="opaque", title="geometry of the reference", owns_uncertainty=True,
    optional=["reference_listed_kind", "reference_listed_geometry", "claim_geometry"],
    encode=lambda place: {"layer": place.layer},
)  # fmt: skip
def reference_place(
    reference_kind: str,
    reference_listed_kind: str | None,
    reference_listed_geometry: Piece | None,
    claim_geometry: Piece | None,
) -> Estimate:
    """The reference on the map: the claim's own geometry, else the pack's."""
    from afield.plugins.geometry.places import place_of

    piece = claim_geometry or reference_listed_geometry
    if piece is None:
        raise CannotTell(
            _("neither the pack nor the claim says where the reference lies: give the claim {keys}").format(keys=KEYS),
            SUPPLY_GEOMETRY, "not stated",
        )  # fmt: skip
    place = place_of(piece, reference_kind)
    own = _own_map_notes(claim_geometry, place, reference_listed_kind is not None, reference_listed_geometry)
    return Estimate(place, method=_("read from {layer}").format(layer=place.layer), notes=(*own, *place.notes))


def _own_map_notes(own: Piece | None, place: Place, is_listed: bool, listed: Piece | None) -> tuple[str, ...]:
    """The note that the plan's own map stands in for the pack's, which the program may not accept."""
    if own is None:
        return ()
    another = _("Judged by the plan's own map {file} ({source}); the pack lists another map for it.")
    none = _("Judged by the plan's own map {file} ({source}); the pack lists no map for it.")
    unlisted = _("Judged by the plan's own map {file} ({source}); the pack does not list this reference.")
    told = (another if listed else none) if is_listed else unlisted
    return (told.format(file=own.data["file"], source=place.source),)


@fact(
    "reference.shape", kind="claim", type="opaque", title="the reference around the station", encode=_shape_json,
    optional=["program_line_means", "program_line_width"],
)  # fmt: skip
def reference_shape(
    reference_place: Place,
    reference_zone: SummitZone | None,
    station_plane: Plane,
    program_line_means: str | None,
    program_line_width: float | None,
) -> dict[str, Any]:
    """The part of the reference around the station, in metres east and north, for drawing."""
    from afield.plugins.geometry.shapes_around import shape_around

    place = drawn_as(reference_place, reference_zone)
    return shape_around(place, station_plane, half_width_m(program_line_means, program_line_width))


def not_of_kind(kind: str, due: str) -> CannotTell:
    """Why a reference of one kind has no answer that is one for another kind."""
    why = _("the reference is of the kind {kind}, not {due}")
    return CannotTell(why.format(kind=_(kind), due=_(due)), "reference.kind")


def drawn_as(place: Place, zone: SummitZone | None) -> Place:
    """The place as a map shows it: a summit is its area, or a point where no terrain is known."""
    if zone is not None:
        return zone.likely
    return replace(place, kind="point") if place.kind == "summit" else place


def half_width_m(means: str | None, width_m: float | None) -> float:
    """What to take off a distance to the drawn line: half the width where distance counts from the thing's edge."""
    return (width_m or 0.0) / 2 if means in MEANS_EDGE else 0.0


@fact(
    "claim.footprint", kind="claim", type="opaque", title="parts of the station that count", owns_uncertainty=True,
    encode=lambda outlines: [outline.name for outline in outlines],
    each={"outlines": ("part", "part.outline")}, optional=["program_counted_roles", "program_required_roles"],
)  # fmt: skip
def claim_footprint(
    outlines: list[tuple[Any, Outline]],
    station_position: Position,
    program_counted_roles: list[str] | None,
    program_required_roles: list[str] | None,
) -> Estimate:
    """The outlines that the program counts; a required role that no part has = cannot tell."""
    present = {outline.role for _, outline in outlines}
    for role in program_required_roles or ("antenna",):
        if role not in present:
            why = _("the plan has no {part}: add a part with `role: {role}` and where it lies")
            raise CannotTell(why.format(part=_(role), role=role), "station.parts", code="not stated", subject="trip")
    counted = [outline for _, outline in outlines if not program_counted_roles or outline.role in program_counted_roles]
    if not counted:
        raise CannotTell(_("no stated part has a role that the program counts"), "station.parts", "not stated", "trip")
    notes = () if program_counted_roles else (_("The pack does not say which roles count: every part does."),)
    return Estimate(counted, notes=notes)


PROGRAM_FACTS: list[Fact] = [
    Fact("program.counted_roles", "program", "list", title="roles that count", exact=True, choices=ROLES),
    Fact(
        "program.required_roles",
        "program",
        "list",
        title="roles that must be in the plan",
        exact=True,
        choices=ROLES,
    ),
    Fact("program.line_means", "program", "text", title="what the line means", exact=True, choices=LINE_MEANINGS),
    Fact("program.line_width", "program", unit="m", title="width of the thing that the line stands for", exact=True),
    Fact("program.corridor", "program", unit="m", title="half width of the corridor", exact=True),
]

FACTS: list[Fact] = [reference_kind, reference_place, reference_shape, claim_footprint, *PROGRAM_FACTS]
