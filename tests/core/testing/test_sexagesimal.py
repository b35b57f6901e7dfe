from __future__ import annotations

import pytest

from afield.core.testing.sexagesimal import time_or_angle_error


@pytest.mark.parametrize(
    ("expected", "got", "seconds"),
    [
        ("05:27", "05:28:30", 90),
        ("23:59", "00:01", 120),
        ("2026-07-04T23:59:30Z", "2026-07-05T00:00:00Z", 30),
        ("2026-07-04T11:37:21Z", "2026-07-04T13:37:21+0200", 0),
        ("2020-03-20T03:49Z", "2020-03-20T03:50:00Z", 60),
        ("10:42 astronomical dawn", "10:42:26 astronomical dawn", 26),
        ("10:42 astronomical dawn", "10:42 nautical dawn", None),
        ("05:27", "2026-07-04T05:27Z", None),
        ("05:27", "05:27Z", None),
        ("05:27", "half past five", None),
    ],
)
def test_differences_of_clock_times(expected: str, got: str, seconds: float | None) -> None:
    assert time_or_angle_error(expected, got, "s", of_time=False) == seconds


@pytest.mark.parametrize(
    ("expected", "got", "unit", "of_time", "error"),
    [
        ("13 13 31.4", "13 13 30.4", "s", True, 1),
        ("13 13 31.4", "13 13 30.4", "arcsec", True, 15),
        ("-7 47 06", "-7 47 16", "arcsec", False, 10),
        ("-0 00 01", "0 00 01", "arcsec", False, 2),
        ("-7 47 06", "-7.785", "arcsec", False, None),
    ],
)
def test_differences_of_sexagesimal_angles(
    expected: str, got: str, unit: str, of_time: bool, error: float | None
) -> None:
    found = time_or_angle_error(expected, got, unit, of_time)
    assert found == (None if error is None else pytest.approx(error))
