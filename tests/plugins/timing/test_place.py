"""The zone of the place: as stated, or from the position, and when it cannot be told."""

from __future__ import annotations

import sys

import pytest

from .conftest import Outing

TIMES = 'arrive: "10:00", leave: "12:00"'


@pytest.mark.parametrize(
    ("place", "zone", "offset"),
    [
        ("desert", "America/Los_Angeles", -420),
        ("kathmandu", "Asia/Kathmandu", 345),
        ("chatham", "Pacific/Chatham", 765),
        ("svalbard", "Arctic/Longyearbyen", 120),
    ],
)
def test_the_position_tells_the_zone(outing_of: Outing, place: str, zone: str, offset: float) -> None:
    facts = outing_of.facts(outing_of.plan(place, "2026-06-27", TIMES))
    assert (facts["place.zone"], facts["place.utc_offset"]) == (zone, offset)
    assert facts.record("place.zone").method == "from the position"
    assert "OpenStreetMap contributors" in facts.record("position_zone.name", "position_zone:station").method


def test_a_stated_zone_counts_and_no_position_is_needed(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan(None, "2026-06-27", f"{TIMES}, zone: Asia/Tokyo"))
    assert facts["place.zone"] == "Asia/Tokyo"
    assert facts["schedule.instants"]["arrive"] == "2026-06-27T01:00:00Z"


def test_a_stated_zone_counts_where_the_position_is_of_no_known_accuracy(outing_of: Outing) -> None:
    plan = outing_of.plan("denver", "2026-06-27", f"{TIMES}, zone: America/Denver", accuracy="")
    assert outing_of.facts(plan)["place.zone"] == "America/Denver"


def test_at_sea_it_cannot_be_told(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("ocean", "2026-06-27", TIMES))
    text = "the position is at sea, where no time zone of a country holds"
    for name in ("place.zone", "schedule.instants", "schedule.minutes_there", "sun.set"):
        assert facts.reason(name) == ("missing input", text, "schedule.zone")


def test_without_a_position_it_cannot_be_told(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan(None, "2026-06-27", TIMES))
    assert facts.reason("place.zone") == ("missing input", "position is not stated", "station.at")


def test_near_the_boundary_of_two_zones_it_cannot_be_told(outing_of: Outing) -> None:
    """West Wendover keeps mountain time, the hills west of it Pacific time; 30 km of accuracy cover both."""
    folder = outing_of.plan("denver", "2026-06-27", TIMES)
    text = folder.read_text("utf-8").replace("lat: 39.7392, lon: -104.9903, accuracy: 5 m", "lat: 40.74, lon: -114.07, "
                                             "accuracy: 30 km")  # fmt: skip
    folder.write_text(text, encoding="utf-8")
    code, words, settle = outing_of.facts(folder).reason("place.zone")
    assert (code, settle) == ("within uncertainty", "schedule.zone")
    assert words.startswith("within its uncertainty the position is in America/")
    assert " or America/" in words


def test_the_position_is_not_looked_up_where_the_zone_is_stated(outing_of: Outing) -> None:
    plan = outing_of.plan("denver", "2026-06-27", f"{TIMES}, zone: America/Denver")
    facts = outing_of.facts(plan)
    assert facts["place.zone"] == "America/Denver"
    assert "position_zone:station" not in facts.world.subjects
    assert "afield.plugins.timing.plugin" in sys.modules
