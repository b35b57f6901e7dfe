"""Days counted: the Julian day, the day of the year, the beginnings of the seasons."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from math import cos, floor, radians
from typing import NamedTuple

J2000 = 2451545.0
DELTA_T_S = 69.0
"""Terrestrial time less universal time, seconds: 69.2 since 2016, 64 in 2000 (IERS). An error of 10 s moves the sun by
0.4 arc seconds."""

_DAY = re.compile(r"(-?\d{1,4})-(\d\d)-(\d\d(?:\.\d+)?)(?:T(\d\d):(\d\d)(?::(\d\d(?:\.\d+)?))?Z?)?")


class Seasons(NamedTuple):
    """The beginnings of the four seasons of a year, in UTC to the minute."""

    march_equinox_utc: str
    june_solstice_utc: str
    september_equinox_utc: str
    december_solstice_utc: str


def julian_day(date: str) -> float:
    """Julian day of a date of the Gregorian calendar; the day begins at 00:00 as xxx.5.

    Args:
        date: "1987-06-19T12:00", or with a part of a day, "1957-10-04.81".

    Source: J. Meeus, Astronomical Algorithms, 2nd ed. (1998), formula 7.1.

    Raises:
        ValueError: it is no such date, or before the Gregorian calendar (15 October 1582).

    """
    found = _DAY.fullmatch(date)
    if not found:
        raise ValueError(f"{date} is no date: write 1987-06-19T12:00 or 1957-10-04.81")
    year, month, day = int(found[1]), int(found[2]), float(found[3])
    if (year, month, day) < (1582, 10, 15):
        raise ValueError(f"{date} is before the Gregorian calendar")
    if not (1 <= month <= 12 and 1 <= day < 32):
        raise ValueError(f"{date} is no date: the month or the day is out of range")
    hours, minutes, seconds = (float(found[group] or 0) for group in (4, 5, 6))
    return _gregorian_jd(year, month, day + hours / 24 + minutes / 1440 + seconds / 86400)


def _gregorian_jd(year: int, month: int, day: float) -> float:
    if month <= 2:
        year, month = year - 1, month + 12
    century = year // 100
    leap = 2 - century + century // 4
    return floor(365.25 * (year + 4716)) + floor(30.6001 * (month + 1)) + day + leap - 1524.5


def day_of_year(date: str) -> int:
    """Number of the day in its year; 1 January is 1.

    Args:
        date: "1978-11-14".

    Source: definition (Meeus 1998, chapter 7, "Day of the year").

    Raises:
        ValueError: no date.

    """
    return datetime.fromisoformat(date).timetuple().tm_yday


def jd_of(instant: datetime) -> float:
    """Julian day of an instant, by universal time; UTC is within 0.9 s of it."""
    return instant.timestamp() / 86400 + 2440587.5


_MEAN = (
    (2451623.80984, 365242.37404, 0.05169, -0.00411, -0.00057),
    (2451716.56767, 365241.62603, 0.00325, 0.00888, -0.00030),
    (2451810.21715, 365242.01767, -0.11575, 0.00337, 0.00078),
    (2451900.05952, 365242.74049, -0.06223, -0.00823, 0.00032),
)
"""Mean equinoxes and solstices as polynomials of (year - 2000) / 1000; Meeus (1998), table 27.B."""

_PERIODIC = (
    (485, 324.96, 1934.136), (203, 337.23, 32964.467), (199, 342.08, 20.186), (182, 27.85, 445267.112),
    (156, 73.14, 45036.886), (136, 171.52, 22518.443), (77, 222.54, 65928.934), (74, 296.72, 3034.906),
    (70, 243.58, 9037.513), (58, 119.81, 33718.147), (52, 297.17, 150.678), (50, 21.02, 2281.226),
    (45, 247.54, 29929.562), (44, 325.15, 31555.956), (29, 60.93, 4443.417), (18, 155.12, 67555.328),
    (17, 288.79, 4562.452), (16, 198.04, 62894.029), (14, 199.76, 31436.921), (12, 95.39, 14577.848),
    (12, 287.11, 31931.756), (12, 320.81, 34777.259), (9, 227.73, 1222.114), (8, 15.45, 16859.074),
)  # fmt: skip
"""Amplitude (0.00001 day), phase and rate (degrees, degrees a Julian century); Meeus (1998), table 27.C."""


def season_start(year: int) -> Seasons:
    """The equinoxes and solstices of a year in UTC, to the minute.

    Args:
        year: 1951 to 2050, where the method is within 51 s of the exact theory.

    Source: J. Meeus, Astronomical Algorithms, 2nd ed. (1998), chapter 27.

    Raises:
        ValueError: another year.

    """
    if not 1951 <= year <= 2050:
        raise ValueError(f"the year {year} is outside 1951 to 2050")
    return Seasons(*(_season(row, year) for row in _MEAN))


def _season(row: tuple[float, ...], year: int) -> str:
    millennia = (year - 2000) / 1000
    mean = sum(term * millennia**power for power, term in enumerate(row))
    centuries = (mean - J2000) / 36525
    turn = radians(35999.373 * centuries - 2.47)
    scale = 1 + 0.0334 * cos(turn) + 0.0007 * cos(2 * turn)
    periodic = sum(size * cos(radians(phase + rate * centuries)) for size, phase, rate in _PERIODIC)
    return _minute_of(mean + 0.00001 * periodic / scale - DELTA_T_S / 86400)


def _minute_of(jd_ut: float) -> str:
    instant = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(minutes=round((jd_ut - 2440587.5) * 1440))
    return instant.strftime("%Y-%m-%dT%H:%MZ")
