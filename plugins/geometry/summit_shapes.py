"""The ground of a summit around the station as plain JSON, for drawing: what surely belongs to it, and what may."""

from __future__ import annotations

from typing import TYPE_CHECKING

from afield.core.api import Estimate, Fact, _, fact

if TYPE_CHECKING:
    from afield.plugins.geometry.computations.plane import Plane
    from afield.plugins.geometry.summit_facts import SummitZone


@fact(
    "reference.zone_shape", kind="claim", type="opaque", title="ground of the summit around the station",
    owns_uncertainty=True, encode=lambda shape: shape,
)  # fmt: skip
def reference_zone_shape(reference_zone: SummitZone | None, station_plane: Plane) -> Estimate:
    """Sure and possible ground, and the summit, in metres east and north of the station; nothing without terrain."""
    if reference_zone is None:
        return Estimate({})
    from afield.plugins.geometry.shapes_around import shape_around

    zone = reference_zone
    sure, possible = (shape_around(place, station_plane, 0.0)["areas"] for place in (zone.sure, zone.possible))
    east, north = station_plane.to_plane(*zone.summit)
    summit = [round(float(east), 2), round(float(north), 2)]
    method = _("by the error of the terrain grid")
    return Estimate({"sure": sure, "possible": possible, "summit": summit}, method=method)


FACTS: list[Fact] = [reference_zone_shape]
