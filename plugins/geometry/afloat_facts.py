"""Facts of a station afloat: how it is held, how far it swings or wanders, its time in each place, lines overhead."""

from __future__ import annotations

from dataclasses import field
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, _, fact, frozen, marked

if TYPE_CHECKING:
    from afield.plugins.geometry.computations.plane import Plane
    from afield.plugins.geometry.reference_facts import Place
    from afield.plugins.geometry.station_facts import Position

ON_WATER = (marked("ashore"), marked("at anchor"), marked("under way"))
UNDER_WAY = marked("The accuracy of the position is taken for every fix of the track.")
LINES = marked(
    "This is no leave to pass or to stay below a line. A stated clearance holds for one level of the water; current "
    "jumps before anything touches. Ask the owner of the line how far to keep, and count every antenna and rod."
)


FIXES, TURNS = marked("fixes of the track"), marked("turns between fixes")
"""Origins of uncertainty."""


@frozen(slots=False, eq=False)
class Afloat:
    """Where a station afloat may be, around the stated position.

    Attributes:
        state: "at anchor" or "under way".
        radius_m: at anchor, how far any part of it may be from the anchor.
        points_m, minutes: under way, its fixes east and north, and their times.
        gaps: legs across which nothing was recorded.
        swell_m: how far any part may be from the receiver that recorded the track.
        turn_m: how far the boat may have been from the straight legs.
        notes: what the reader must know.

    """

    state: str
    radius_m: float | None = None
    points_m: list[tuple[float, float]] = field(default_factory=list)
    minutes: list[float] = field(default_factory=list)
    gaps: list[int] = field(default_factory=list)
    swell_m: float = 0.0
    turn_m: float = 0.0
    notes: tuple[str, ...] = ()


def _afloat_json(afloat: Afloat | None) -> dict[str, Any]:
    if afloat is None:
        return {"state": "ashore"}
    if afloat.radius_m is not None:
        return {"state": afloat.state, "radius_m": round(afloat.radius_m, 2)}
    return {"state": afloat.state, "fixes": len(afloat.points_m), "minutes": round(afloat.minutes[-1], 2)}


@fact(
    "station.afloat", kind="trip", type="opaque", title="how the station lies on the water", encode=_afloat_json,
    owns_uncertainty=True, optional=["station_anchored", "station_track"],
)  # fmt: skip
def station_afloat(station_anchored: Piece | None, station_track: Piece | None, station_plane: Plane) -> Estimate:
    """At anchor, under way, or (None) ashore."""
    if station_anchored is None and station_track is None:
        return Estimate(None)
    from afield.plugins.geometry import afloat_stated

    if station_anchored is not None:
        found = afloat_stated.anchored(station_anchored, station_track)
        return Estimate(found, method=_("swing circle around the anchor at the stated position"), notes=found.notes)
    assert station_track is not None
    found = afloat_stated.under_way(station_track, station_plane)
    method = _("track {file}").format(file=station_track.data["file"])
    return Estimate(found, method=method, notes=found.notes)


@fact("station.on_water", kind="trip", type="text", title="station ashore or on the water", choices=ON_WATER,
      exact=True)  # fmt: skip
def station_on_water(station_afloat: Afloat | None) -> str:
    """Ashore, at anchor or under way: for packs that want a station to stand still."""
    return station_afloat.state if station_afloat else "ashore"


@fact("station.wander", kind="trip", unit="m", title="how far the station moves", owns_uncertainty=True, least=0.0)
def station_wander(station_afloat: Afloat | None, station_position: Position) -> Estimate:
    """The greatest distance of any two places at which the same part of the station may be."""
    from afield.plugins.geometry.computations.doubt import TWO_SIDED_95

    if station_afloat is None:
        return Estimate(0.0, method=_("ashore"))
    if station_afloat.radius_m is not None:
        return Estimate(2 * station_afloat.radius_m, method=_("across the swing circle"))
    from afield.plugins.geometry.computations.afloat import greatest_distance

    wander = greatest_distance(station_afloat.points_m)
    fix = TWO_SIDED_95 * 2**0.5 * (station_position.sigma_m or 0.0)
    parts = {FIXES: fix, TURNS: station_afloat.turn_m}
    return Estimate(wander, parts=parts, method=_("between the farthest two fixes"), notes=(_(UNDER_WAY),))


MINUTES = {"longest_outside": "longest time outside without a break, minutes", "gaps": "minutes without a record"}


WIDTHS = ["program_corridor", "program_line_means", "program_line_width"]


@fact("place.minutes_inside", kind="claim", unit="min", title="time under way that counts", owns_uncertainty=True,
      least=0.0, detail=MINUTES, optional=WIDTHS)  # fmt: skip
def place_minutes_inside(
    station_afloat: Afloat | None,
    station_position: Position,
    station_plane: Plane,
    reference_place: Place,
    program_corridor: float | None,
    program_line_means: str | None,
    program_line_width: float | None,
) -> Estimate:
    """Minutes of the track for which all of the boat lies in the area, or in the corridor of the line."""
    from afield.plugins.geometry.afloat_time import minutes_inside
    from afield.plugins.geometry.reference_facts import half_width_m

    half = half_width_m(program_line_means, program_line_width)
    track = _under_way(station_afloat)
    return minutes_inside(track, station_position, station_plane, reference_place, program_corridor, half)


@fact("place.share_inside", kind="claim", unit="%", title="share of the time under way that counts",
      owns_uncertainty=True, least=0.0, detail=MINUTES, optional=WIDTHS)  # fmt: skip
def place_share_inside(
    station_afloat: Afloat | None,
    station_position: Position,
    station_plane: Plane,
    reference_place: Place,
    program_corridor: float | None,
    program_line_means: str | None,
    program_line_width: float | None,
) -> Estimate:
    """The same as a share of the whole track's time; worked out anew, so that it stays within 0 and 100 %."""
    from afield.plugins.geometry.afloat_time import minutes_inside, share_of
    from afield.plugins.geometry.reference_facts import half_width_m

    half = half_width_m(program_line_means, program_line_width)
    track = _under_way(station_afloat)
    found = minutes_inside(track, station_position, station_plane, reference_place, program_corridor, half)
    return share_of(found, track.minutes[-1])


def _under_way(afloat: Afloat | None) -> Afloat:
    if afloat is None or afloat.state != "under way":
        state = "ashore" if afloat is None else afloat.state
        why = _("the station is {state}: its time is not that of a track").format(state=_(state))
        raise CannotTell(why, "station.afloat.track")
    return afloat


@fact("afloat.line_room", kind="trip", unit="m", title="room between the mast and the line over the water",
      below_zero=marked("above the line"))  # fmt: skip
def afloat_line_room(afloat_line_clearance: float, afloat_mast_height: float) -> Estimate:
    """The stated clearance of the lowest line over the water less the height of the highest thing on board."""
    return Estimate(afloat_line_clearance - afloat_mast_height, method=_("difference"), notes=(_(LINES),))


FACTS: list[Fact] = [
    station_afloat,
    station_on_water,
    station_wander,
    place_minutes_inside,
    place_share_inside,
    afloat_line_room,
]
