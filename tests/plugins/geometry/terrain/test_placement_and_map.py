"""A summit's area turned round for placement, and on the map."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from afield.core.api import CannotTell, Engine, load
from afield.core.placing import Asked
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.placement.ground import Stance
from afield.plugins.geometry.summit_margins import inside_zone

from .conftest import CLAIM, LAT, LON, asked, edit
from .test_summits import RADIUS_M, radius_m, references


def ground(plan: Path, asked_for: Asked, window_m: float = 250.0) -> float:
    """Square metres where the operating position may be."""
    trip = load(plan, Engine())
    free = Stance(0.0, plane_at(LAT, LON), window_m, 0.0)
    return float(inside_zone(trip.subjects[CLAIM], asked_for, free, trip.world).places.area)


def test_by_value_it_is_the_area_itself(outing: Path) -> None:
    assert ground(outing, Asked("at_least", 0.0, False)) == pytest.approx(pi * RADIUS_M**2, rel=0.01)
    assert ground(outing, Asked("at_least", 20.0, False)) == pytest.approx(pi * (RADIUS_M - 20) ** 2, rel=0.01)


def test_for_sure_it_is_the_area_by_every_reading_of_the_heights(outing: Path) -> None:
    sure = radius_m(16) - 2.448 * 3 / 2.448
    assert ground(outing, Asked("at_least", 0.0, True)) == pytest.approx(pi * sure**2, rel=0.02)


def test_outside_for_sure_is_outside_by_any(outing: Path) -> None:
    possible = radius_m(18) + 3
    left = ground(outing, Asked("below", 0.0, True))
    assert left == pytest.approx(500**2 - pi * possible**2, rel=0.02)


def test_where_nothing_is_sure_there_is_nowhere(outing: Path) -> None:
    edit(references(outing), "height_accuracy: 1 m", "height_accuracy: 18 m")
    assert ground(outing, Asked("at_least", 0.0, True)) == 0


def test_without_terrain_it_is_not_searched(outing: Path) -> None:
    edit(references(outing), "      file: butte.tif\n", "")
    with pytest.raises(CannotTell) as caught:
        ground(outing, Asked("at_least", 0.0, True))
    assert str(caught.value) == "no terrain grid is named"


def test_the_map_shows_the_area(outing: Path) -> None:
    shape = asked(outing, "reference.shape").value
    assert (shape["kind"], len(shape["areas"]), shape["file"]) == ("area", 1, "butte.tif")
    assert max(east for east, _ in shape["areas"][0][0]) == pytest.approx(RADIUS_M, abs=0.5)


def test_without_terrain_the_map_shows_the_summit(outing: Path) -> None:
    edit(references(outing), "      file: butte.tif\n", "")
    shape = asked(outing, "reference.shape").value
    assert (shape["kind"], shape["points"]) == ("point", [[0.0, 0.0]])
