"""At anchor: every part of the station is judged by the swing circle."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import ANCHORED, AREA, HALF_M, LINE, POINT, afloat, asked, complaint, drifting

RADIUS_M = 38.352


def test_ashore_is_said_too(outing: Path) -> None:
    assert asked(outing, "station.on_water").value == "ashore"
    assert asked(outing, "station.wander").value == 0


def test_the_circle_counts_against_area_line_and_point(outing: Path) -> None:
    afloat(outing, ANCHORED)
    assert asked(outing, "place.margin_inside_area", AREA).value == pytest.approx(HALF_M - RADIUS_M, abs=0.01)
    assert asked(outing, "place.farthest_part_from_line", LINE).value == pytest.approx(10 + RADIUS_M, abs=0.01)
    assert asked(outing, "place.farthest_part_from_point", POINT).value == pytest.approx(50 + RADIUS_M, abs=0.01)


def test_it_stands_still_but_for_its_circle(outing: Path) -> None:
    afloat(outing, ANCHORED)
    assert asked(outing, "station.on_water").value == "at anchor"
    assert asked(outing, "station.wander").value == pytest.approx(2 * RADIUS_M, abs=0.001)


def test_what_is_assumed_is_said(outing: Path) -> None:
    found = asked(afloat(outing, ANCHORED), "place.margin_inside_area", AREA)
    assert found.known
    assert asked(outing, "station.afloat").notes == (
        "The stated position is taken as the anchor's. A taut, straight rode and an anchor that holds are assumed; "
        "stretch and dragging are not in the circle.",
    )


WRONG = {
    "rode shorter than the depth": (
        ANCHORED.replace("30 m", "6 m"),
        "trip.yaml:5:29: a rode of 6 m does not reach the bottom, 7 m of water and 1.2 m of bow above it\n"
        "State the length of chain and rope that is let out, from the bow.",
    ),
    "depths in disorder": (
        ANCHORED.replace("[5 m, 7 m]", "[7 m, 5 m]"),
        "trip.yaml:5:42: depths from 7 m to 5 m\nWrite the least depth of the stay first, then the greatest.",
    ),
    "anchor and track": (
        f"{ANCHORED[:-1]}, track: {{file: drift.gpx, reach: 4 m}}}}",
        "trip.yaml:5:103: anchored and track are both stated\nKeep the one that holds for this outing.",
    ),
    "neither": (
        "{mast_height: 8 m}",
        'trip.yaml:5:11: station afloat has none of the keys that are due\nAdd "anchored", or "track".',
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_wrong_input_is_told_whole(outing: Path, name: str) -> None:
    text, said = WRONG[name]
    assert complaint(afloat(outing, text)) == said


def test_the_lowest_line_over_the_water_less_the_mast(outing: Path) -> None:
    found = asked(afloat(outing, f"{ANCHORED[:-1]}, mast_height: 8 m, line_clearance: 12 m}}"), "afloat.line_room")
    assert found.value == pytest.approx(4)
    assert found.uncertainty == pytest.approx((1 + 0.3**2) ** 0.5)
    assert found.notes == (
        "This is no leave to pass or to stay below a line. A stated clearance holds for one level of the water; "
        "current jumps before anything touches. Ask the owner of the line how far to keep, and count every antenna and "
        "rod.",
    )


def test_without_a_stated_clearance_nothing_is_told(outing: Path) -> None:
    found = asked(afloat(outing, f"{ANCHORED[:-1]}, mast_height: 8 m}}"), "afloat.line_room")
    assert found.reason is not None
    assert found.reason.settle == "station.afloat.line_clearance"


def test_at_anchor_there_is_no_time_of_a_track(outing: Path) -> None:
    found = asked(afloat(outing, ANCHORED), "place.minutes_inside", AREA)
    assert found.reason is not None
    assert found.reason.text == "the station is at anchor: its time is not that of a track"


def test_placement_moves_the_circle_but_no_track(outing: Path) -> None:
    from afield.core.api import Engine, load
    from afield.core.placing import Asked
    from afield.plugins.geometry.computations.plane import plane_at
    from afield.plugins.geometry.placement.ground import Stance
    from afield.plugins.geometry.placement.inverses import inside_area

    from .conftest import LAT, LON

    def places(plan: Path) -> float:
        trip = load(plan, Engine())
        free = Stance(0.0, plane_at(LAT, LON), 400.0, 0.0)
        ground = inside_area(trip.subjects[AREA], Asked("at_least", 0.0, False), free, trip.world)
        return float(ground.places.area)

    assert places(afloat(outing, ANCHORED)) == pytest.approx((2 * (HALF_M - RADIUS_M)) ** 2, rel=0.01)
    from afield.core.api import CannotTell

    with pytest.raises(CannotTell) as caught:
        places(drifting(outing, [(0, 0, 0), (10, 0, 1)]))
    assert str(caught.value) == "the station is under way: its track says where it was"
