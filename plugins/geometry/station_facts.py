"""Facts of the station: its position in all its forms, and the outline of every part on the plane around it."""

from __future__ import annotations

from dataclasses import field
from typing import TYPE_CHECKING, Any

from afield.core.api import Estimate, Fact, Piece, Subject, _, convert, fact, frozen, parse_quantity

if TYPE_CHECKING:
    from afield.plugins.geometry.afloat_facts import Afloat
    from afield.plugins.geometry.computations.footprints import Part
    from afield.plugins.geometry.computations.plane import Plane

DEFAULT_LEVEL = 68.0
"""What a phone's accuracy circle is (common practice, no source); a level that the plan leaves out is taken as this."""


@frozen(slots=False)
class Position:
    """Where the operating position is.

    Attributes:
        lat_deg, lon_deg: WGS 84.
        accuracy_m, level: radius of the stated circle and its level in percent; None where the form itself bounds it.
        sigma_m: of the circle, per axis.
        bound_m: half sizes (east, north) of the box that the written digits, or the locator, leave open.

    """

    lat_deg: float
    lon_deg: float
    form: str
    accuracy_m: float | None
    level: float | None
    level_stated: bool
    sigma_m: float | None
    bound_m: tuple[float, float]
    notes: tuple[str, ...] = ()
    declination_deg: float | None = None


@frozen(slots=False)
class Outline:
    """A part of the station on the plane around the operating position, in metres east and north."""

    name: str
    role: str
    shape: str
    points: list[tuple[float, float]]
    part: Part
    radius_m: float | None = None
    inner_radius_m: float | None = None
    height_m: float | None = None
    full_circle: bool = False
    extra: dict[str, Any] = field(default_factory=dict)


def metres(text: str) -> float:
    """A length of the plan in metres."""
    quantity = parse_quantity(text, "m")
    return convert(float(quantity.digits), quantity.unit, "m")


def percent(text: str) -> float:
    """A level of the plan in percent."""
    quantity = parse_quantity(text, "%")
    return convert(float(quantity.digits), quantity.unit, "%")


def _position_json(position: Position) -> dict[str, Any]:
    from afield.plugins.geometry.forms import position_json

    return position_json(position)


def _outline_json(outline: Outline) -> dict[str, Any]:
    return {
        "name": outline.name,
        "role": outline.role,
        "shape": outline.shape,
        "points": [[round(east, 3), round(north, 3)] for east, north in outline.points],
        "radius_m": outline.radius_m,
        "height_m": outline.height_m,
        "full_circle": outline.full_circle,
    }


@fact(
    "station.position", kind="trip", type="opaque", title="position of the station", owns_uncertainty=True,
    encode=_position_json, settle="station.at",
)  # fmt: skip
def station_position(station_at: Piece) -> Estimate:
    """Latitude and longitude of the operating position with what its statement leaves open."""
    from afield.plugins.geometry.stated_position import position_of

    position = position_of(station_at)
    method = _("stated as {form}, WGS 84").format(form=position.form)
    return Estimate(position, method=method, notes=position.notes)


@fact("station.plane", kind="trip", type="opaque", title="plane around the station", encode=lambda plane: None)
def station_plane(station_position: Position) -> Plane:
    """The plane on which distances are measured, centred on the operating position."""
    from afield.plugins.geometry.computations.plane import plane_at

    return plane_at(station_position.lat_deg, station_position.lon_deg)


@fact(
    "station.declination", kind="trip", type="number", unit="deg", title="magnetic declination", owns_uncertainty=True,
)  # fmt: skip
def station_declination(station_position: Position, trip_date: str) -> Estimate:
    """Declination (east positive) at the station on the trip's date, by the World Magnetic Model."""
    from afield.plugins.geometry.stated_position import declination_on

    return declination_on(station_position, trip_date)


@fact(
    "station.bearing_shift", kind="trip", type="number", unit="deg", title="correction of bearings to true north",
    owns_uncertainty=True, optional=["station_bearings"],
)  # fmt: skip
def station_bearing_shift(station_bearings: str | None, station_position: Position, trip_date: str) -> Estimate:
    """Declination where the plan's bearings are magnetic, 0 where they are true (which is also taken if unsaid)."""
    if station_bearings != "magnetic":
        return Estimate(0.0, method=_("bearings are true"))
    from afield.plugins.geometry.stated_position import declination_on

    return declination_on(station_position, trip_date)


@fact(
    "part.outline", kind="part", type="opaque", title="outline of the part", encode=_outline_json,
    optional=["part_at", "part_from", "part_to", "part_length", "part_radials", "part_height"], owns_uncertainty=True,
)  # fmt: skip
def part_outline(
    subject: Subject,
    part_role: str,
    part_at: Piece | None,
    part_from: Piece | None,
    part_to: Piece | None,
    part_length: float | None,
    part_radials: Piece | None,
    part_height: float | None,
    station_bearing_shift: float,
    station_afloat: Afloat | None,
) -> Estimate:
    """Where the part lies: a point, a run, radials, or the full circle that a part without a bearing may lie in."""
    if station_afloat is not None:
        from afield.plugins.geometry.afloat_stated import afloat_outline

        on_board = afloat_outline(str(subject.data["name"]), part_role, station_afloat, part_height)
        return Estimate(on_board, method=on_board.extra["method"])
    from afield.plugins.geometry.outlines import Stated, outline_of

    stated = Stated(part_at, part_from, part_to, part_length, part_radials, station_bearing_shift)
    outline = outline_of(str(subject.data["name"]), part_role, stated, part_height)
    return Estimate(outline, method=outline.extra["method"])


@fact(
    "station.footprint", kind="trip", type="opaque", title="all parts of the station",
    encode=lambda outlines: [outline.name for outline in outlines], each={"outlines": ("part", "part.outline")},
)  # fmt: skip
def station_footprint(outlines: list[tuple[Subject, Outline]]) -> list[Outline]:
    """Outlines of all stated parts."""
    return [outline for _, outline in outlines]


FACTS: list[Fact] = [
    station_position,
    station_plane,
    station_declination,
    station_bearing_shift,
    part_outline,
    station_footprint,
]
