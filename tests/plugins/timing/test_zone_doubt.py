"""A stated zone against the longitude: by hand, in every form of a position, and on the page."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from afield.plugins.timing.computations.zone_files import zone_of
from afield.plugins.timing.section import timeline_text
from afield.plugins.timing.zone_doubt import rough_longitude_deg, zone_doubt

from .conftest import Outing

DAY = date(2026, 7, 11)
NEW_YORK = (
    "On 2026-07-11 the clocks of the stated zone America/New_York show UTC-04:00; the place is at 11.5 degrees east, "
    "where the sun's time is UTC+00:46: 4 h 46 min apart. Local times stay in the stated zone: see that "
    "`schedule.zone` and `station.at` are right."
)


@pytest.mark.parametrize(
    ("at", "degrees"),
    [
        ({"lat": 39.9, "lon": -117.3}, -117.3),
        ({"lat": "39 54 14.8 N", "lon": "117 18 10.8 W"}, -117.303),
        ({"lat": "39.9", "lon": "-117.3"}, -117.3),
        ({"lat": "48 N", "lon": "11 30 E"}, 11.5),
        ({"utm": "11S 473915 4417214"}, -117),
        ({"mgrs": "32UPU9160235"}, 9),
        ({"locator": "JN58sc"}, 11),
        ({"locator": "dm09hv"}, -119),
        ({"file": "points.gpx", "point": "table"}, None),
        ({"lon": "west", "lat": 1}, None),
        ({"mgrs": "ZAH"}, None),
        ({}, None),
    ],
)
def test_the_longitude_of_every_form_to_a_few_degrees(at: dict[str, Any], degrees: float | None) -> None:
    found = rough_longitude_deg(at)
    assert found == (None if degrees is None else pytest.approx(degrees, abs=1e-9))


@pytest.mark.parametrize(
    ("zone", "lon", "doubted"),
    [
        # 11.5 degrees east: 46 min ahead of UTC; New York is 240 min behind it in summer.
        ("America/New_York", 11.5, True),
        ("Europe/Berlin", 11.5, False),
        # -52.5 degrees: 210 min behind UTC, so that UTC itself is 210 min apart, and one degree further 214.
        ("Etc/UTC", -52.5, False),
        ("Etc/UTC", -53.5, True),
        # The widest that countries' clocks are from the sun.
        ("Asia/Shanghai", 73.5, False),
        ("America/Nome", -171.7, False),
        # Across the date line a day is no doubt: -157.4 degrees is 630 min behind UTC, the zone 840 ahead.
        ("Pacific/Kiritimati", -157.4, False),
        ("Pacific/Tongatapu", -175.2, False),
        ("Pacific/Auckland", -0.1, True),
    ],
)
def test_a_zone_is_doubted_above_three_hours_and_a_half(zone: str, lon: float, doubted: bool) -> None:
    assert (zone_doubt({"lat": 0, "lon": lon}, zone_of(zone), DAY) is not None) == doubted


def test_the_sentence() -> None:
    assert zone_doubt({"lat": 48.1, "lon": 11.5}, zone_of("America/New_York"), DAY) == NEW_YORK
    assert zone_doubt(None, zone_of("America/New_York"), DAY) is None


def munich(outing: Outing, zone: str) -> Any:
    path = outing.plan("berlin", "2026-07-11", f'arrive: "15:00", on_air: ["16:00", "18:00"]{zone}')
    path.write_text(path.read_text("utf-8").replace("lat: 52.5, lon: 13.4", "lat: 48.1, lon: 11.5"), encoding="utf-8")
    return path


def test_the_note_stands_with_the_facts_on_the_timeline_and_in_the_check(outing_of: Outing) -> None:
    from afield.core.engine import judge, load, report
    from afield.core.report.formats.text import report_text

    outing_of.rules(
        "  - id: long\n    title: Long enough\n    why: It is.\n    severity: required\n    for_each: trip\n"
        "    require: {fact: schedule.minutes_on_air, at_least: 60 min}"
    )
    path = munich(outing_of, ", zone: America/New_York")
    assert outing_of.facts(path).record("schedule.instants").notes == (NEW_YORK,)
    assert outing_of.facts(path)["schedule.instants"]["zone"] == "America/New_York"
    data = outing_of.section(path)
    assert data["notes"][0] == NEW_YORK
    assert NEW_YORK in timeline_text(data)
    checked = report_text(report(judge(load(path, outing_of.engine), outing_of.engine), outing_of.engine))
    assert f"note: {NEW_YORK}" in checked


def test_a_zone_that_fits_or_that_is_found_has_no_note(outing_of: Outing) -> None:
    for zone in (", zone: Europe/Berlin", ""):
        path = munich(outing_of, zone)
        assert outing_of.facts(path).record("schedule.instants").notes == ()
