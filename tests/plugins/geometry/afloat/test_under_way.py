"""Under way: the whole track counts against the references, and its time is shared out."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from .conftest import AREA, HALF_M, LINE, POINT, Fix, afloat, asked, complaint, drifting, gpx

STRAIGHT: list[Fix] = [(-100, 0, 0), (100, 0, 10), (300, 0, 20)]


def test_the_farthest_fix_decides_and_the_boat_reaches_around_it(outing: Path) -> None:
    drifting(outing, STRAIGHT)
    assert asked(outing, "station.on_water").value == "under way"
    # 4 m of boat and 0.1 m of simpler legs.
    assert asked(outing, "place.margin_inside_area", AREA).value == pytest.approx(-100 - 4.1, abs=0.01)
    assert asked(outing, "place.farthest_part_from_line", LINE).value == pytest.approx(10 + 4.1, abs=0.2)
    assert asked(outing, "place.farthest_part_from_point", POINT).value == pytest.approx(250 + 4.1, abs=0.01)


def test_a_turn_between_fixes_is_uncertain(outing: Path) -> None:
    drifting(outing, [(0, 0, 0), (10, 0, 1)], more=", turn_radius: 20 m")
    parts = asked(outing, "place.margin_inside_area", AREA).parts
    assert parts["turns between fixes"] == pytest.approx(10**2 / (8 * 20), abs=1e-6)


def test_time_goes_evenly_along_a_leg(outing: Path) -> None:
    drifting(outing, STRAIGHT, more=", turn_radius: 10 km")
    found = asked(outing, "place.minutes_inside", AREA)
    # Of the second leg the boat is wholly inside for 96 of 200 m.
    assert found.value == pytest.approx(10 + 10 * 96 / 200, abs=0.02)
    assert found.low is not None and found.high is not None
    assert found.low < found.value < found.high
    # Fix and map, 1 m each at 95 %, and 0.5 m of turns.
    assert found.high - found.low == pytest.approx(2 * (1 + 1 + 0.25) ** 0.5 / 200 * 10, abs=0.02)
    assert found.detail == {"longest_outside": pytest.approx(5.2, abs=0.02), "gaps": 0.0}
    share = asked(outing, "place.share_inside", AREA)
    assert (share.value, share.low) == pytest.approx((found.value * 5, found.low * 5))


def test_the_corridor_of_a_line_counts_like_an_area(outing: Path) -> None:
    drifting(outing, [(0, -110, 0), (0, 90, 20)], more=", turn_radius: 10 km")
    # 60 m to each side of a line, less 4 m of boat: 112 of 200 m.
    assert asked(outing, "place.minutes_inside", LINE).value == pytest.approx(11.2, abs=0.02)
    pack = outing.parent / "my-water/pack.yaml"
    pack.write_text(pack.read_text().replace("  program.corridor: 60 m\n", ""))
    found = asked(outing, "place.minutes_inside", LINE)
    assert found.reason is not None
    assert (found.reason.text, found.reason.settle) == (
        "the pack does not say how wide the line's corridor is", "program.corridor",
    )  # fmt: skip


def test_a_point_has_no_time(outing: Path) -> None:
    found = asked(drifting(outing, STRAIGHT), "place.minutes_inside", POINT)
    assert found.reason is not None
    assert found.reason.text == "the time in a reference of the kind point is not worked out"


def test_nothing_is_sure_where_nothing_was_recorded(outing: Path) -> None:
    drifting(outing, [(0, 0, 0), (10, 0, 5)], [(20, 0, 25), (30, 0, 30)])
    found = asked(outing, "place.minutes_inside", AREA)
    assert (found.low, found.value, found.high) == pytest.approx((10, 30, 30))
    assert found.detail["gaps"] == 20
    assert asked(outing, "station.afloat").notes[-1] == (
        "For 20.0 min nothing was recorded: a straight way is taken, and nothing there is sure."
    )


def test_it_wanders_from_its_first_to_its_farthest_fix(outing: Path) -> None:
    found = asked(drifting(outing, STRAIGHT), "station.wander")
    assert found.value == pytest.approx(400, abs=0.01)
    assert set(found.parts) == {"fixes of the track", "turns between fixes"}


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.floats(-290, 290), st.floats(-290, 290)), min_size=2, max_size=6))
def test_minutes_are_those_of_places_sampled_along_the_track(outing: Path, places: list[tuple[float, float]]) -> None:
    fixes: list[Fix] = [(round(east), round(north), 5.0 * number) for number, (east, north) in enumerate(places)]
    found = asked(drifting(outing, fixes), "place.minutes_inside", AREA)
    shares = (np.arange(400) + 0.5) / 400
    inside = 0.0
    for one, other in pairwise(fixes):
        path = [np.array(one[:2]) + share * (np.array(other[:2]) - np.array(one[:2])) for share in shares]
        inside += 5 * float(np.mean([np.abs(each).max() <= HALF_M - 4 for each in path]))
    assert found.value == pytest.approx(inside, abs=0.05 * (len(fixes) - 1))
    assert found.low is not None and found.high is not None
    assert 0 <= found.low <= found.value <= found.high <= 5 * (len(fixes) - 1) + 1e-9


TRACKS: dict[str, tuple[list[Fix], str]] = {
    "one fix": (
        [(0, 0, 0)],
        "drift.gpx: the track has 1 fix\nA track needs two or more; for a boat at anchor write `anchored:` instead.",
    ),
    "no fix": (
        [],
        "drift.gpx: the track has 0 fixes\nA track needs two or more; for a boat at anchor write `anchored:` instead.",
    ),
    "no times": (
        [(0, 0, 0), (1, 0, None)],
        "drift.gpx: fix 2 of the track has no time\n"
        "Record it with times: every <trkpt> needs a <time> such as 2026-06-27T22:30:00Z.",
    ),
    "back in time": (
        [(0, 0, 5), (1, 0, 4)],
        "drift.gpx: fix 2 of the track is earlier than the one before it\n"
        "Put the segments of the track in the order of their times.",
    ),
    "one time": (
        [(0, 0, 5), (1, 0, 5)],
        "drift.gpx: all fixes of the track have one time\n"
        "Record it with times: every <trkpt> needs a <time> such as 2026-06-27T22:30:00Z.",
    ),
}


@pytest.mark.parametrize("name", TRACKS)
def test_a_track_that_tells_nothing_is_refused_whole(outing: Path, name: str) -> None:
    fixes, text = TRACKS[name]
    assert complaint(drifting(outing, fixes)) == f"trip.yaml:5:26: {text}"


def test_other_files_are_refused_whole(outing: Path) -> None:
    afloat(outing, "{track: {file: drift.gpx, reach: 4 m}}")
    (outing.parent / "drift.gpx").write_text("<kml/>")
    assert complaint(outing) == (
        "trip.yaml:5:26: drift.gpx: this is not a GPX file\nSave the track as GPX, with its times."
    )
    path = gpx(outing.parent / "drift.gpx", STRAIGHT)
    path.write_text(path.read_text().replace("2026-06-27T22:10:00Z", "ten past"))
    assert complaint(outing) == (
        'trip.yaml:5:26: drift.gpx: fix 2 of the track has the time "ten past"\n'
        "Record it with times: every <trkpt> needs a <time> such as 2026-06-27T22:30:00Z."
    )
