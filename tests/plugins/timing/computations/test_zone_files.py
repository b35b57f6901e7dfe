from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
import tzdata

from afield.plugins.timing.computations.zone_files import (
    UnknownZone,
    instant_of,
    iso,
    utc_offset_min,
    zone_data_version,
    zone_names,
    zone_of,
)

LYING = """
from datetime import UTC, datetime
from zoneinfo import ZoneInfo
from afield.plugins.timing.computations.zone_files import zone_of
at = datetime(2026, 7, 1, 12, tzinfo=UTC)
print(at.astimezone(ZoneInfo("America/Denver")).utcoffset(), at.astimezone(zone_of("America/Denver")).utcoffset())
"""


def test_the_zones_are_those_of_the_package_whatever_the_operating_system_says(tmp_path: Path) -> None:
    """The operating system's folder of zones calls Tokyo Denver; the standard library believes it."""
    tokyo = files("tzdata").joinpath("zoneinfo", "Asia", "Tokyo").read_bytes()
    (tmp_path / "America").mkdir()
    (tmp_path / "America" / "Denver").write_bytes(tokyo)
    done = subprocess.run(
        [sys.executable, "-c", LYING], env={"PYTHONTZPATH": str(tmp_path)}, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "9:00:00 -1 day, 18:00:00"


def test_the_release_is_that_of_the_package() -> None:
    assert zone_data_version() == tzdata.IANA_VERSION
    assert zone_data_version()[:4].isdigit()


def test_every_name_that_the_package_lists_can_be_read() -> None:
    at = datetime(2026, 1, 1, tzinfo=UTC)
    assert len(zone_names()) > 400
    assert all(at.astimezone(zone_of(name)).utcoffset() is not None for name in zone_names())


@pytest.mark.parametrize("name", ["Mars/Base", "", "../zones", "America", "america/denver"])
def test_a_name_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(UnknownZone, match="is no time zone"):
        zone_of(name)


@pytest.mark.parametrize(
    ("zone", "utc", "minutes"),
    [
        ("Asia/Kathmandu", "2026-01-01T00:00Z", 345),
        ("Pacific/Chatham", "2026-01-01T00:00Z", 825),
        ("Pacific/Chatham", "2026-07-01T00:00Z", 765),
        ("America/Los_Angeles", "2026-06-27T21:45Z", -420),
        ("Australia/Lord_Howe", "2026-01-01T00:00Z", 660),
        ("Australia/Lord_Howe", "2026-07-01T00:00Z", 630),
    ],
)
def test_offsets_of_quarters_and_halves_of_an_hour(zone: str, utc: str, minutes: float) -> None:
    assert utc_offset_min(zone, utc) == minutes


def test_an_instant_without_its_zone_is_refused() -> None:
    with pytest.raises(
        ValueError, match=r"2026-06-27T21:45 does not say its zone: write it in UTC with a Z at its end"
    ):
        instant_of("2026-06-27T21:45")


def test_an_instant_is_written_in_utc_to_the_second() -> None:
    assert iso(datetime(2026, 6, 27, 14, 45, 0, 600_000, ZoneInfo("America/Los_Angeles"))) == "2026-06-27T21:45:01Z"
