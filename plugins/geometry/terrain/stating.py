"""The summit that a plan or pack describes: its point, its elevation, and its area by a terrain grid."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from afield.core.api import CannotTell, Estimate, InputError, Piece, _, marked
from afield.plugins.geometry.computations.accuracy import VERTICAL
from afield.plugins.geometry.places import DATUM_UNKNOWN, map_sigma
from afield.plugins.geometry.readers import GeoFileError
from afield.plugins.geometry.reference_facts import SUPPLY_GEOMETRY, Place
from afield.plugins.geometry.station_facts import DEFAULT_LEVEL, metres, percent
from afield.plugins.geometry.summit_facts import SummitZone
from afield.plugins.geometry.terrain.fitness import TooCoarse, TwoTops, WrongSummit
from afield.plugins.geometry.terrain.footing import NEAR_M, LatLon
from afield.plugins.geometry.terrain.grid import Grid
from afield.plugins.geometry.terrain.zone import Polygons, ZoneAreas, zone_areas

LEVELS = (68, 90, 95)
NO_LEVEL = marked("An accuracy of heights is stated without a level; it is taken as 68 %.")


def summit_point(piece: Piece) -> Place:
    """The summit's own point.

    Raises:
        InputError: the geometry does not say where it is.

    """
    lat, lon = _summit(piece)
    source = str(piece.data.get("source", _("source not stated")))
    layer = str(piece.data.get("file", _("listed summit")))
    return Place("summit", [], [], [(lat, lon)], layer, "lonlat", 0.0, 0.0, source)


def summit_elevation(piece: Piece) -> Estimate:
    """The listed elevation, metres.

    Raises:
        CannotTell: none is listed.

    """
    if "elevation" not in piece.data:
        raise CannotTell(_("the elevation of the summit is not listed"), f"{SUPPLY_GEOMETRY}.elevation", "not stated")
    value = metres(piece.data["elevation"])
    if "elevation_accuracy" not in piece.data:
        return Estimate(value, notes=(_("The summit's elevation is taken exactly as listed."),))
    around, notes = vertical_95_m(piece, "elevation_accuracy", "elevation_level")
    return Estimate(value, parts={marked("elevation of the summit"): around}, notes=notes)


def vertical_95_m(piece: Piece, accuracy: str, level: str) -> tuple[float, tuple[str, ...]]:
    """A stated accuracy of heights at 95 %, metres, and what the reader must know.

    Raises:
        InputError: a level that is not known.

    """
    stated = metres(piece.data[accuracy])
    share = percent(piece.data[level]) if level in piece.data else DEFAULT_LEVEL
    if share not in LEVELS:
        raise piece.problem(f"the level {piece.data[level]} is not known", "Write 68 %, 90 % or 95 %.", level)
    return stated * VERTICAL["z95"] / VERTICAL[f"z{share:.0f}"], () if level in piece.data else (_(NO_LEVEL),)


def summit_zone(piece: Piece, drop_m: float, connectivity: str | None) -> SummitZone:
    """The summit's area by the terrain grid that the piece names.

    Raises:
        InputError: the grid cannot be used, or does not fit the summit; the message points at where it is named.
        CannotTell: an accuracy is not stated, or the grid is too coarse.

    """
    if "height_accuracy" not in piece.data:
        raise CannotTell(
            _("the vertical accuracy of the terrain grid is not stated: add `height_accuracy:` to the geometry"),
            f"{SUPPLY_GEOMETRY}.height_accuracy", "no uncertainty stated",
        )  # fmt: skip
    error, notes = vertical_95_m(piece, "height_accuracy", "height_level")
    sigma, more_notes = map_sigma(piece, {})
    areas = _areas(piece, drop_m, error, connectivity)
    if areas.footing.step.accuracy_m is None:
        raise CannotTell(_(DATUM_UNKNOWN), f"{SUPPLY_GEOMETRY}.file", "no uncertainty stated")
    point = summit_point(piece)
    notes = (*areas.notes, *notes, *more_notes)

    def place(polygons: Polygons) -> Place:
        datum_m = areas.footing.step.accuracy_m or 0.0
        return Place("area", [], list(polygons), [], point.layer, "lonlat", sigma, datum_m, point.source, notes)

    return SummitZone(
        place(areas.likely), place(areas.sure), place(areas.possible), point.points[0], areas.level_m, areas.top_m,
        areas.spacing_m, areas.posts, areas.cut_off, areas.holds, notes,
    )  # fmt: skip


def _areas(piece: Piece, drop_m: float, error_m: float, connectivity: str | None) -> ZoneAreas:
    data = piece.data
    elevation = metres(data["elevation"]) if "elevation" in data else None
    try:
        grid = _grid(piece.file("file"), str(data["file"]), data.get("heights_in"))
        return zone_areas(grid, _summit(piece), elevation, drop_m, error_m, connectivity, _within_m(piece))
    except GeoFileError as error:
        raise piece.problem(error.what, error.advice, "file") from error
    except WrongSummit as error:
        advice = "Correct the elevation or the place of the summit, or name the grid that fits them."
        raise piece.problem(str(error), advice, "elevation") from error
    except TwoTops as error:
        raise CannotTell(str(error), f"{SUPPLY_GEOMETRY}.summit.within") from error
    except TooCoarse as error:
        raise CannotTell(str(error), f"{SUPPLY_GEOMETRY}.file") from error


def _summit(piece: Piece) -> LatLon:
    if "summit" not in piece.data:
        raise _no_summit(piece)
    return float(piece.data["summit"]["lat"]), float(piece.data["summit"]["lon"])


def _within_m(piece: Piece) -> float:
    stated = piece.data["summit"]
    return metres(stated["within"]) if "within" in stated else NEAR_M


def _no_summit(piece: Piece) -> InputError:
    advice = "Write `summit: {lat: 39.91, lon: -117.3}` in the geometry."
    return piece.problem("the geometry does not say where the summit is", advice)


@lru_cache(maxsize=4)
def _grid(path: Path, shown: str, heights_in: str | None) -> Grid:
    # Several summits of one grid: its head is read once, its heights where they are needed.
    from afield.plugins.geometry.terrain.reading import read_grid

    return read_grid(path, shown, heights_in)
