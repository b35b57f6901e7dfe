"""Makes the plan's `station.afloat` into a swing circle or a track, and its parts into outlines."""

from __future__ import annotations

from afield.core.api import Piece, _, local_digits, marked
from afield.plugins.geometry.afloat_facts import UNDER_WAY, Afloat
from afield.plugins.geometry.afloat_track import Track, read_track
from afield.plugins.geometry.computations.afloat import anchor_swing_radius, turn_between_fixes
from afield.plugins.geometry.computations.footprints import circle_part, path_part
from afield.plugins.geometry.computations.planar import lengths
from afield.plugins.geometry.computations.plane import Floats, Plane
from afield.plugins.geometry.readers import GeoFileError
from afield.plugins.geometry.station_facts import Outline, metres

TURN_RADIUS_M = 30.0
"""Of the tightest turn where the plan states none (a judgement: a drifting or rowed boat)."""
SIMPLER_M = 0.1
"""The legs are drawn with fewer points by this much; it is added to how far a part may be from them."""
DRAGS = marked(
    "The stated position is taken as the anchor's. A taut, straight rode and an anchor that holds are assumed; stretch "
    "and dragging are not in the circle."
)


def anchored(stated: Piece, track: Piece | None) -> Afloat:
    """The swing circle.

    Raises:
        InputError: a track is stated too, the depths are in disorder, or the rode does not reach the bottom.

    """
    if track is not None:
        raise track.problem("anchored and track are both stated", "Keep the one that holds for this outing.")
    least, most = (metres(text) for text in stated.data["depth"])
    rode, bow = metres(stated.data["rode"]), metres(stated.data["bow_height"])
    if least > most:
        advice = "Write the least depth of the stay first, then the greatest."
        raise stated.problem(f"depths from {least:g} m to {most:g} m", advice, "depth")
    if rode < most + bow:
        what = f"a rode of {rode:g} m does not reach the bottom, {most:g} m of water and {bow:g} m of bow above it"
        raise stated.problem(what, "State the length of chain and rope that is let out, from the bow.", "rode")
    radius = anchor_swing_radius(rode, least, bow, metres(stated.data["bow_to_farthest"]))
    return Afloat("at anchor", radius_m=radius, notes=(_(DRAGS),))


def under_way(stated: Piece, plane: Plane) -> Afloat:
    """The track, in the plane around the stated position.

    Raises:
        InputError: the file holds no track with times.

    """
    try:
        track = read_track(stated.file("file"), str(stated.data["file"]))
    except GeoFileError as error:
        raise stated.problem(error.what, error.advice, "file") from error
    points = _points(track, plane)
    radius = metres(stated.data["turn_radius"]) if "turn_radius" in stated.data else TURN_RADIUS_M
    longest = float(lengths(points[1:] - points[:-1]).max())
    return Afloat(
        "under way", None, [(float(east), float(north)) for east, north in points], track.minutes, track.gaps,
        metres(stated.data["reach"]), turn_between_fixes(longest, radius), tuple(_notes(stated, track, radius)),
    )  # fmt: skip


def _points(track: Track, plane: Plane) -> Floats:
    import numpy as np

    lat, lon = zip(*track.lat_lon, strict=True)
    return np.stack(plane.to_plane(lat, lon), axis=1)


def _notes(stated: Piece, track: Track, radius_m: float) -> list[str]:
    notes = [_(UNDER_WAY)]
    if "turn_radius" not in stated.data:
        tighter = _("No turn tighter than {radius} m between two fixes is assumed.")
        notes.append(tighter.format(radius=local_digits(f"{radius_m:g}")))
    if track.gaps:
        unknown = sum(track.minutes[leg + 1] - track.minutes[leg] for leg in track.gaps)
        gap = _("For {time} min nothing was recorded: a straight way is taken, and nothing there is sure.")
        notes.append(gap.format(time=local_digits(f"{unknown:.1f}")))
    return notes


def afloat_outline(name: str, role: str, afloat: Afloat, height_m: float | None) -> Outline:
    """A part of a station afloat: anywhere in the swing circle, or along the whole track."""
    if afloat.radius_m is not None:
        part = circle_part(name, (0.0, 0.0), 0.0, afloat.radius_m)
        extra = {"method": _("anywhere in the swing circle around the anchor")}
        return Outline(
            name, role, "circle", [(0.0, 0.0)], part, afloat.radius_m, height_m=height_m, full_circle=True, extra=extra
        )
    points = _simpler(afloat.points_m)
    track = {"method": _("along the whole track"), "swell_m": afloat.swell_m + SIMPLER_M, "turn_m": afloat.turn_m}
    part = path_part(name, points)
    return Outline(name, role, "line", points, part, height_m=height_m, full_circle=True, extra=track)


def _simpler(points_m: list[tuple[float, float]]) -> list[tuple[float, float]]:
    import shapely

    line = shapely.simplify(shapely.LineString(points_m), SIMPLER_M, preserve_topology=False)
    return [(float(east), float(north)) for east, north in shapely.get_coordinates(line)]
