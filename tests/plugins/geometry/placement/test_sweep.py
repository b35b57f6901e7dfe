"""The sweep over turns, against bearings tried one by one."""

from itertools import combinations

import numpy as np
import pytest
import shapely

from afield.plugins.geometry.computations.erosion import capsules, shrunk
from afield.plugins.geometry.computations.footprints import segment_part
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.placement.ground import Ground, Stance, turned
from afield.plugins.geometry.placement.sets import maximal
from afield.plugins.geometry.placement.sweep import ENOUGH_M, Sweep

STANCE = Stance(0.0, plane_at(47.0, 11.0), 200.0, 3.0)
WIRE = segment_part("wire", (0, 0), (0, 40))


def sweep_of(*rooms, wire=WIRE, any_turn=False):
    def grounds(stance, room_m):
        parts = (turned(wire, stance.turn_deg),)
        return {f"claim {index}": Ground(shrunk(room, room_m), parts) for index, room in enumerate(rooms)}

    return Sweep(grounds, STANCE, 40.0, any_turn)


def slot(bearing_deg, width_m, length_m=60.0):
    """A narrow yard whose long side lies at a bearing."""
    yard = shapely.box(-width_m / 2, -length_m / 2, width_m / 2, length_m / 2)
    return shapely.affinity.rotate(yard, -bearing_deg, origin=(0, 0))


@pytest.mark.parametrize(("bearing", "width"), [(7.3, 3.0), (32.0, 2.0), (118.7, 4.0)])
def test_a_bearing_that_fits_only_between_the_steps_is_found(bearing, width):
    found = sweep_of(slot(bearing, width)).turns()
    assert found.fitting
    for turn in found.fitting:
        assert min(abs((turn - bearing + 90) % 180 - 90) for _ in (0,)) < 6


def test_where_no_bearing_fits_that_is_certified():
    found = sweep_of(slot(20, 3.0, length_m=38)).turns()
    assert (found.fitting, found.undecided) == ((), ())


def test_arcs_of_all_turns_follow_each_other_round_the_circle():
    arcs = sweep_of(slot(7.3, 3.0)).turns().arcs
    assert sum(arc.width_deg for arc in arcs) == pytest.approx(360)
    ends = [((arc.middle_deg - arc.width_deg / 2) % 360, (arc.middle_deg + arc.width_deg / 2) % 360) for arc in arcs]
    for (_, end), (start, _) in zip(ends, [*ends[1:], ends[0]], strict=True):
        assert (end - start + 180) % 360 - 180 == pytest.approx(0, abs=1e-6)


def test_no_more_room_than_the_bound_and_no_less_than_by_steps():
    """Around a closed trail the room is less than the position may move: there the bound alone would say too much."""
    trail = np.array([[-25, -25], [25, -25], [25, 25], [-25, 25], [-25, -25]], float)

    def grounds(stance, room_m):
        return {"claim": Ground(capsules(trail[:-1], trail[1:], 30 - room_m), (turned(WIRE, stance.turn_deg),))}

    sweep = Sweep(grounds, STANCE, 40.0)
    turn, room = sweep.best(sweep.turns().fitting)
    by_steps = [
        (bearing, step) for bearing in range(0, 360, 30) for step in np.arange(0, 30, 1.0) if sweep.fits(bearing, step)
    ]
    assert room >= max(step for _, step in by_steps) - 0.04
    assert sweep.fits(turn, room)
    assert not any(sweep.fits(bearing, room + 0.3) for bearing in range(0, 360, 6))


def test_enough_room_ends_the_search_as_planned():
    found = sweep_of(shapely.box(-500, -500, 500, 500)).best([15.0 * step for step in range(24)])
    assert found == (0.0, ENOUGH_M)


def test_a_slot_too_narrow_to_decide_is_said_to_be_undecided():
    found = sweep_of(slot(7.3, 0.05)).turns()
    assert found.fitting == ()
    assert found.undecided
    assert all(abs((turn - 7.3 + 90) % 180 - 90) < 3 for turn in found.undecided)


def test_the_best_turn_and_room_against_a_fine_grid():
    yard = slot(33.0, 20.0, 70.0)
    sweep = sweep_of(yard)
    turn, room = sweep.best(sweep.turns().fitting)
    by_grid = max(
        room_m
        for bearing in np.arange(0, 360, 3)
        for room_m in np.arange(0, 11, 0.5)
        if not sweep_of(yard).grounds_of(Stance(float(bearing), STANCE.plane, 200, 3), float(room_m))["claim 0"]
        .places.is_empty
    )  # fmt: skip
    assert room >= by_grid - 0.04
    assert room == pytest.approx(10, abs=0.3)
    assert abs((turn - 33 + 90) % 180 - 90) < 2


def test_the_nearest_miss_is_by_how_much_the_yard_is_too_short():
    sweep = sweep_of(slot(0.0, 1.0, 36.0))
    turn, room = sweep.best([0.0])
    assert room == pytest.approx(-2.0, abs=0.05)
    assert abs((turn + 90) % 180 - 90) < 4


def test_a_yard_far_beyond_the_window_is_missed_by_its_distance():
    found = sweep_of(shapely.box(700, -50, 800, 50)).best([15.0 * step for step in range(24)])
    # From the window's edge at 200 m the far end of the wire reaches 40 m towards the yard, its near end none.
    assert found[1] == pytest.approx(-500, abs=0.5)


def test_nothing_at_all_is_a_lookup_error():
    with pytest.raises(LookupError):
        sweep_of(shapely.Polygon()).best([0.0])


def test_a_station_without_bearings_is_tried_once():
    assert sweep_of(shapely.box(0, 0, 100, 100), any_turn=True).turns().fitting == (0.0,)


def test_three_that_meet_in_pairs_but_not_together():
    a, b, c = shapely.box(0, 0, 10, 2), shapely.box(0, 0, 2, 10), shapely.Polygon([(9, 0), (10, 1), (1, 10), (0, 9)])
    places = {"a": a, "b": b, "c": c}
    assert all(shapely.intersects(places[x], places[y]) for x, y in combinations(places, 2))
    assert maximal(places) == [frozenset("ab"), frozenset("ac"), frozenset("bc")]


def test_largest_sets_against_the_whole_power_set():
    rng = np.random.default_rng(3)
    for _ in range(60):
        corners = rng.uniform(0, 60, (5, 2))
        places = {str(k): shapely.box(x, y, x + 30, y + 25) for k, (x, y) in enumerate(corners)}
        meeting = [
            frozenset(names)
            for size in range(1, 6)
            for names in combinations(places, size)
            if shapely.intersection_all([places[name] for name in names]).area > 1e-4
        ]
        largest = {one for one in meeting if not any(one < other for other in meeting)}
        assert set(maximal(places)) == largest
    assert maximal({"gone": shapely.Polygon()}) == []
