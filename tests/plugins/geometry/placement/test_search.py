"""Searches on whole plans, against the unchanged rules asked point by point."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.computations.erosion import boundary_edges, polygons_of
from afield.plugins.geometry.placement.sweep import ENOUGH_M

from .conftest import LAT, TABLE, WIRE, Land

SQUARE = [(-60, -60), (60, -60), (60, 60), (-60, 60)]
HOLE = [(-8, -8), (8, -8), (8, 8), (-8, 8)]


def passes(search: Any, point: Any, turn: float = 0.0) -> bool:
    """Whether every claim counts with the station there, by the rules."""
    return bool(search.judged(shapely.Point(point), turn, 0.0).verified)


def samples(region: Any, rng: np.random.Generator, count: int) -> Iterator[Any]:
    """Points in the region, half of them at its boundary, 1 mm within."""
    edges = boundary_edges(region)
    for _ in range(count // 2):
        edge = edges[rng.integers(len(edges))]
        yield edge[0] + rng.random() * (edge[1] - edge[0])
    west, south, east, north = region.bounds
    drawn = shapely.points(rng.uniform((west, south), (east, north), (400, 2)))
    yield from (shapely.get_coordinates(point)[0] for point in drawn[shapely.covers(region, drawn)][: count // 2])


def assert_safe(search: Any, turn: float, rng: np.random.Generator, count: int = 8) -> Any:
    """No sampled point of the region fails a required rule; the region itself."""
    region = search.sweep.together(turn)
    for point in samples(region, rng, count) if not region.is_empty else ():
        assert passes(search, point, turn), (point, turn)
    return region


def star(rng: np.random.Generator, count: int, least: float, most: float, at: tuple[float, float]) -> Any:
    turns = np.sort(rng.uniform(0, 2 * np.pi, count)) + np.arange(count) * 1e-3
    reach = rng.uniform(least, most, count)
    return np.stack([at[0] + reach * np.cos(turns), at[1] + reach * np.sin(turns)], axis=1).tolist()


def some_land(land: Land, rng: np.random.Generator) -> None:
    """Places of all kinds: areas with holes and islands; trails that are open, closed or cross themselves."""
    kinds = rng.choice(["area", "line", "point"], size=int(rng.integers(1, 4)), replace=False)
    if "area" in kinds:
        size = float(rng.uniform(25, 150))
        rings = [star(rng, int(rng.integers(5, 14)), 0.4 * size, size, (0, 0))]
        islands = [[star(rng, 6, 10, 40, (110, 60))]] if rng.random() < 0.4 else []
        land.area("wood", [*rings, *([star(rng, 5, 1, 6, (10, 5))] if rng.random() < 0.5 else [])], *islands)
    if "line" in kinds:
        trail = rng.uniform(-120, 120, (int(rng.integers(3, 6)), 2)).tolist()
        land.line("trail", trail + (trail[:1] if rng.random() < 0.5 else []))
    if "point" in kinds:
        land.point("spring", rng.uniform(-60, 60, 2))
    spread = float(rng.uniform(5, 25))
    land.parts = [TABLE, {**WIRE, "to": {"bearing": "40 deg", "distance": f"{spread:.1f} m"}}]
    if rng.random() < 0.4:
        radials = {"count": 3, "length": "6 m", "bearing": "10 deg"}
        land.parts.append({"name": "radials", "role": "counterpoise", "at": ["2 m", "1 m"], "radials": radials})


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.integers(0, 2**32 - 1))
def test_no_place_of_the_region_fails_and_the_best_passes(new_land: Callable[[], Land], seed: int) -> None:
    rng = np.random.default_rng(seed)
    land = new_land()
    some_land(land, rng)
    search = land.search(120.0)
    turn = float(rng.choice([0.0, 15.0 * rng.integers(24)]))
    assert_safe(search, turn, rng, 6)
    found = search.candidates
    if search.turns.fitting:
        assert found[-1].verified
        assert found[-1].room_m >= 0
        near = search.nearest()
        assert near is None or near.verified
    else:
        # Nothing fits for sure at any bearing: so says the judgement of any place, too.
        points = rng.uniform(-120, 120, (12, 2))
        assert not any(passes(search, point, 15.0 * rng.integers(24)) and inside(search, point) for point in points)


def inside(search: Any, point: Any) -> bool:
    """Whether a place that passes lies deeper than the bounds that the search takes for what may be uneven."""
    return all(ground.places.distance(shapely.Point(point)) > 6 for ground in search.sweep.grounds(0.0).values())


@settings(max_examples=4, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.integers(0, 2**32 - 1))
def test_no_place_tried_has_more_room_than_the_best(new_land: Callable[[], Land], seed: int) -> None:
    rng = np.random.default_rng(seed)
    land = new_land()
    land.area("wood", [star(rng, 9, 50, 110, (0, 0))])
    land.area("park", [star(rng, 7, 50, 110, (20, 0))])
    search = land.search(100.0)
    if not search.turns.fitting:
        return
    best = search.candidates[0]
    for turn in rng.uniform(0, 360, 4):
        assert not search.sweep.fits(float(turn), best.room_m + 0.6)


def test_a_hole_an_island_and_the_ground_between_are_told_apart(land: Land) -> None:
    land.area("wood", [SQUARE, HOLE], [[(90, -40), (160, -40), (160, 40), (90, 40)]])
    search = land.search()
    region = assert_safe(search, 0.0, np.random.default_rng(1), 12)
    assert len(polygons_of(region)) == 2
    assert not shapely.intersects(region, shapely.Polygon(HOLE))
    assert passes(search, (100, -25))
    assert not passes(search, (0, 0))
    assert not passes(search, (75, 0))


def test_a_closed_trail_that_crosses_itself_has_its_whole_corridor(land: Land) -> None:
    land.line("loop", [(-100, -100), (100, 100), (100, -100), (-100, 100), (-100, -100)])
    land.parts = [TABLE, {**WIRE, "from": {"bearing": "45 deg", "distance": "0 m"},
                          "to": {"bearing": "45 deg", "distance": "8 m"}}]  # fmt: skip
    search = land.search()
    region = assert_safe(search, 0.0, np.random.default_rng(2), 16)
    for place in [(-50, -50), (0, 0), (60, 60), (100, 0), (-100, 20), (50, -50)]:
        assert shapely.covers(region, shapely.Point(place)), place
    assert not shapely.covers(region, shapely.Point(0, 60))


def test_three_that_meet_in_pairs_but_not_together(land: Land) -> None:
    land.area("south", [[(0, 0), (150, 0), (150, 50), (0, 50)]])
    land.area("west", [[(0, 0), (50, 0), (50, 150), (0, 150)]])
    land.area("slope", [[(100, -20), (170, 20), (20, 170), (-20, 100)]])
    search = land.search()
    assert search.turns.fitting == ()
    sets = search.sweep.sets([15.0 * step for step in range(24)])
    names = [tuple(claim.rpartition("/")[2] for claim in claims) for claims in sets]
    assert sorted(names) == [("slope", "south"), ("slope", "west"), ("south", "west")]
    best = search.candidates[0]
    assert best.room_m < 0
    assert not best.verified


def test_a_place_smaller_than_the_station_is_missed_by_what_is_lacking(land: Land) -> None:
    land.area("yard", [[(-8, -8), (8, -8), (8, 8), (-8, 8)]])
    search = land.search(60.0)
    assert (search.turns.fitting, search.turns.undecided) == ((), ())
    assert search.nearest() is None
    (best,) = search.candidates
    # 20 m of wire and 1 m to it along the diagonal of 22.6 m, with about 7 m of uncertainty at either end.
    assert -9.5 < best.room_m < -6.5


def test_more_room_than_would_serve_is_not_looked_for_and_the_nearest_is_taken(land: Land) -> None:
    land.area("desert", [[(-900, -900), (900, -900), (900, 900), (-900, 900)]])
    best = land.search(300.0).candidates[0]
    assert (best.room_m, best.turn_deg) == (ENOUGH_M, 0.0)
    assert (best.east_m, best.north_m) == pytest.approx((0, 0), abs=0.01)


def test_a_place_beyond_the_window_is_none(land: Land) -> None:
    land.area("corner", [[(110, 110), (200, 110), (200, 200), (110, 200)]])
    search = land.search(100.0)
    assert search.turns.fitting == ()
    best = search.candidates[0]
    assert max(abs(best.east_m), abs(best.north_m)) <= 100
    assert best.room_m < 0


def test_another_continent_is_told_at_once(land: Land) -> None:
    land.area("wood", [SQUARE])
    ring = [[151, -33], [151.2, -33], [151, -33.2], [151, -33]]
    land.add("area", "overseas", {"type": "Polygon", "coordinates": [ring]})
    search = land.search()
    assert search.turns.arcs == ()
    assert search.candidates == []
    assert search.nearest() is None
    (words,) = search.against["claim:basin-preserves/overseas"]
    assert words == "it is 16 300 km from the middle of the window: no position in it can count for it"


def test_a_large_area_around_is_not_far(land: Land) -> None:
    corners = [(-2e5, -2e5), (2e5, -2e5), (2e5, 2e5), (-2e5, 2e5)]
    land.area("basin", [corners])
    search = land.search()
    assert search.stance.far == {}
    assert search.candidates[0].verified


def test_a_station_without_bearings_is_swept_once(land: Land) -> None:
    land.area("wood", [SQUARE])
    land.parts = [TABLE, {"name": "whip", "role": "antenna", "length": "5 m"}]
    search = land.search()
    assert search.turns.fitting == (0.0,)
    assert_safe(search, 0.0, np.random.default_rng(3))


def test_a_mast_beside_the_position_makes_turns_differ(land: Land) -> None:
    land.area("wood", [SQUARE])
    land.parts = [TABLE, {"name": "mast", "role": "antenna", "at": ["30 m", "0 m"]}]
    search = land.search()
    assert not search.sweep.any_turn
    assert len(search.turns.fitting) == 24
    assert_safe(search, 90.0, np.random.default_rng(4))


def test_a_plan_without_antenna_cannot_be_told(land: Land) -> None:
    land.area("wood", [SQUARE])
    land.parts = [TABLE]
    search = land.search()
    (found,) = search.candidates
    assert not found.verified
    assert {verdict.word for verdict in found.verdicts} == {"cannot tell", "not applicable"}
    assert search.untold == {"claim:basin-preserves/wood"}


def test_far_north_the_window_turns_and_is_still_safe(land: Land) -> None:
    assert LAT < 60
    land.area("wood", [[(-3000, -3000), (3000, -3000), (3000, 3000), (-3000, 3000)]])
    search = land.search(4000.0)
    region = search.sweep.together(0.0)
    for point in [(-2985, -2985), (2970, 2970), (2985, -2985)]:
        assert not shapely.covers(region, shapely.Point(point)) or passes(search, point)
    assert_safe(search, 0.0, np.random.default_rng(5), 8)
