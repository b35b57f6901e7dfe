"""The margin inside a summit's area: three outlines, one interval; and the same turned round for placement."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Any

from afield.core.api import CannotTell, Estimate, Measured, Subject, _, frozen, local_digits, marked
from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.computations.plane import Plane
from afield.plugins.geometry.margins import area_margin
from afield.plugins.geometry.reference_facts import SUPPLY_GEOMETRY
from afield.plugins.geometry.station_facts import Outline, Position
from afield.plugins.geometry.summit_facts import SummitZone

HEIGHTS = marked("heights of the terrain grid")
NOTHING_SURE = marked("Within the error of the heights no ground but the summit itself is surely in the area.")


def zone_margin(outlines: Sequence[Outline], plane: Plane, position: Position, zone: SummitZone) -> Estimate:
    """Margin inside the area by the listed height; at worst inside the sure one, at best inside the possible one.

    Raises:
        CannotTell: the station stands where the grid ends, and the area goes on there.

    """
    if zone.cut_off and not zone.holds(position.lat_deg, position.lon_deg):
        raise CannotTell(
            _("the station is at the edge of the terrain grid or beyond it, and the summit's area goes on there"),
            f"{SUPPLY_GEOMETRY}.file",
        )  # fmt: skip
    likely = area_margin(outlines, plane, position, zone.likely)
    possible = area_margin(outlines, plane, position, zone.possible)
    around = hypot(*likely.parts.values())
    least, notes = _least(outlines, plane, position, zone)
    low = min(least, likely.value - around)
    high = max(possible.value + hypot(*possible.parts.values()), likely.value + around)
    heights = max(likely.value - least - around, possible.value - likely.value, 0.0)
    return Estimate(
        likely.value, low, high, {**likely.parts, HEIGHTS: heights}, likely.detail,
        f"{likely.method}; {_contour_words(zone.level_m)}", (*likely.notes, *zone.notes, *notes),
    )  # fmt: skip


def _contour_words(level_m: float) -> str:
    return _("contour of the terrain at {height} m").format(height=local_digits(f"{level_m:g}"))


def _least(
    outlines: Sequence[Outline], plane: Plane, position: Position, zone: SummitZone
) -> tuple[float, tuple[str, ...]]:
    """The least that the margin can be."""
    if zone.sure.areas:
        sure = area_margin(outlines, plane, position, zone.sure)
        return sure.value - hypot(*sure.parts.values()), ()
    away = geodesic_inverse(*zone.summit, position.lat_deg, position.lon_deg).distance_m
    return -away, (_(NOTHING_SURE),)


def inside_zone(subject: Subject, asked: Any, free: Any, world: Any) -> Any:
    """Where the margin inside a summit's area compares with a limit as asked."""
    import shapely

    from afield.plugins.geometry.placement.ground import Ground
    from afield.plugins.geometry.placement.inverses import inside_area

    record = world.value(subject.key, "reference.zone")
    if record.reason is not None or record.value is None:
        reason = record.reason.text if record.reason else _("no terrain grid is named")
        raise CannotTell(reason, f"{SUPPLY_GEOMETRY}.file")
    zone: SummitZone = record.value
    keeping = asked.comparison in ("at_least", "above")
    place = (zone.sure if keeping else zone.possible) if asked.sure else zone.likely
    if not place.areas:
        return Ground(shapely.Polygon()) if keeping else Ground(free.window)
    return inside_area(subject, asked, free, _WithPlace(world, subject.key, Measured(place)))


@frozen(slots=False)
class _WithPlace:
    """The world, but for the claim's place: one of the outlines of its summit's area."""

    world: Any
    claim: str
    place: Measured

    def value(self, key: str, fact: str) -> Any:
        """The record of a fact."""
        return self.place if (key, fact) == (self.claim, "reference.place") else self.world.value(key, fact)
