"""Degrees, minutes and seconds: reading them and writing them."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal

from afield.plugins.geometry.computations.positions import Position, checked_number, checked_position

Form = Literal["d", "dm", "dms"]
"""Decimal degrees; degrees and decimal minutes; degrees, minutes and decimal seconds."""

Axis = Literal["", "lat", "lon"]
"""Which way the angle runs: latitude (N, S), longitude (E, W), or unsaid (a sign)."""

_FIGURE = r"\d+(?:\.\d*)?"
_ANGLE = re.compile(
    rf"""(?P<before>[NSEW])? \s* (?P<sign>[-+])? \s* (?P<degrees>{_FIGURE})
    (?: (?:\s*[°ºd:]\s*|\s+) (?P<minutes>{_FIGURE})
        (?: (?:\s*['′’:]\s*|\s+) (?P<seconds>{_FIGURE}) \s* (?:''|["″”])? | \s*['′’]? )
      | \s*[°ºd]? )
    \s* (?P<after>[NSEW])?""",
    re.VERBOSE | re.IGNORECASE | re.ASCII,
)
_LIMIT = {"N": 90, "S": 90, "lat": 90, "E": 180, "W": 180, "lon": 180, "": 360}
_LETTERS = {"lat": "NS", "lon": "EW", "": "NSEW"}
_HALVES = re.compile(r"(.*[NS])\s*,?\s*(.*[EW])|([NS].*?)\s*,?\s*([EW].*)|([^,]*),([^,]*)", re.IGNORECASE)


def dms_parse(text: str, axis: Axis = "") -> float:
    """The angle that a text states, in degrees; south and west are negative.

    Read are decimal degrees, degrees and minutes, and degrees, minutes and seconds, parted by blanks, colons or the
    signs for degree (also the letter d), minute and second; a hemisphere letter before or after, or a sign before.
    Formula: d + m / 60 + s / 3600 in exact arithmetic, rounded once; a minus on 0 degrees is kept.
    Source: ISO 6709:2022, annex D (human interface); minutes and seconds of 60 are refused.
    Valid: to 90 degrees with N or S, 180 with E or W, below 360 without a letter.

    Args:
        text: the angle as written.
        axis: `lat` or `lon` if the letter must be N, S or E, W and the limit 90 or 180.

    Raises:
        ValueError: the text is no angle, or is out of range; says why.

    """
    found = _ANGLE.fullmatch(text.strip().replace("\N{MINUS SIGN}", "-"))
    if found is None:
        raise ValueError(f'"{text}" is no angle; write it as 39.90412, 39 54.247 N or 39 54 14.8 N')
    letter = _letter(text, found, axis)
    magnitude = _magnitude(text, [part for part in found.group("degrees", "minutes", "seconds") if part])
    _check_limit(text, magnitude, _LIMIT[letter or axis])
    return float(-magnitude if found["sign"] == "-" or letter in ("S", "W") else magnitude)


def dms_format(angle_deg: float, form: Form = "dms", decimals: int = 0, axis: Axis = "", symbols: bool = True) -> str:
    """The angle as text, such as `39° 54' 14.8" N`, `39° 54.247' N` or `-0° 30' 00"`; 60 is never printed.

    Formula: the whole angle is rounded first, half away from zero, in units of the last figure, then split.
    Source: ISO 6709:2022, annex D, with a blank between the parts.
    Valid: any finite angle; with an axis 90 or 180 degrees at most.

    Args:
        angle_deg: the angle, in degrees.
        form: `d`, `dm` or `dms`.
        decimals: decimals of the last part, 0 to 9.
        axis: `lat` or `lon` for a hemisphere letter in place of the sign.
        symbols: False leaves out the signs for degree, minute and second.

    Raises:
        ValueError: the angle is not finite or beyond its axis, or form or decimals are none of the above.

    """
    if form not in ("d", "dm", "dms") or decimals not in range(10):
        raise ValueError(f'form "{form}" with {decimals} decimals: form is d, dm or dms, decimals 0 to 9')
    angle = _within_axis(angle_deg, axis)
    figures = _figures(abs(angle), form, int(decimals))
    signs = ("°", "'", '"') if symbols else ("", "", "")
    written = " ".join(figure + sign for figure, sign in zip(figures, signs, strict=False))
    return _with_direction(written, angle < 0 and any(c in "123456789" for c in written), axis)


def position_text(lat_deg: float, lon_deg: float, form: Form = "dm", decimals: int = 3) -> str:
    """A position as it is read out, by default in degrees and decimal minutes: `39° 54.247' N 117° 18.173' W`.

    Formula: `dms_format` of latitude and longitude.
    Source: degrees and decimal minutes as charts, receivers and rescue services use them; 0.001' is 1.9 m or less.
    Valid: every position.

    Args:
        lat_deg: latitude.
        lon_deg: longitude.
        form: `d`, `dm` or `dms`.
        decimals: decimals of the last part, 0 to 9.

    Raises:
        ValueError: the position is not on the Earth.

    """
    position = checked_position(lat_deg, lon_deg)
    latitude = dms_format(position.lat_deg, form, decimals, "lat")
    return f"{latitude} {dms_format(position.lon_deg, form, decimals, 'lon')}"


def position_parse(text: str) -> Position:
    """The position that a text with two hemisphere letters or one comma states, latitude first.

    Formula: `dms_parse` of each half.
    Source: ISO 6709:2022, annex D (latitude stands before longitude).
    Valid: `39° 54.247' N 117° 18.173' W`, `N39 54.247 W117 18.173`, `39.90412, -117.30288`.

    Args:
        text: the position as written.

    Raises:
        ValueError: the text does not fall into a latitude and a longitude, or one of them is no angle.

    """
    latitude, longitude = _halves(text)
    return Position(dms_parse(latitude, "lat"), dms_parse(longitude, "lon"))


def _letter(text: str, found: re.Match[str], axis: Axis) -> str:
    written = [mark for mark in found.group("before", "after", "sign") if mark]
    if len(written) > 1:
        raise ValueError(f'"{text}" gives its direction twice; write one hemisphere letter or one sign')
    letter = (found["before"] or found["after"] or "").upper()
    if letter and letter not in _LETTERS[axis]:
        wanted = "latitude is due: N or S" if axis == "lat" else "longitude is due: E or W"
        raise ValueError(f'"{text}" has the letter {letter} where a {wanted}')
    return letter


def _magnitude(text: str, parts: list[str]) -> Fraction:
    if any("." in part for part in parts[:-1]):
        raise ValueError(f'"{text}" has decimals before its last part')
    values = [Fraction(part) for part in parts]
    if any(value >= 60 for value in values[1:]):
        raise ValueError(f'"{text}" has 60 or more minutes or seconds')
    return sum((value / 60**place for place, value in enumerate(values)), Fraction(0))


def _check_limit(text: str, magnitude: Fraction, limit: int) -> None:
    if magnitude > limit or magnitude == limit == 360:
        raise ValueError(f'"{text}" is beyond {limit} degrees')


def _within_axis(angle_deg: float, axis: Axis) -> Decimal:
    angle = Decimal(repr(checked_number(angle_deg, "angle")))
    if abs(angle) > _LIMIT[axis] and axis:
        raise ValueError(f"{'latitude' if axis == 'lat' else 'longitude'} {angle} is beyond {_LIMIT[axis]} degrees")
    return angle


def _figures(angle: Decimal, form: Form, decimals: int) -> list[str]:
    units_a_degree = 60 ** (len(form) - 1) * 10**decimals
    units = int((angle * units_a_degree).to_integral_value(ROUND_HALF_UP))
    whole, fraction = divmod(units, 10**decimals)
    figures = [f".{fraction:0{decimals}d}" if decimals else ""]
    for _ in form[1:]:
        whole, sixtieths = divmod(whole, 60)
        figures[0] = f"{sixtieths:02d}{figures[0]}"
        figures.insert(0, "")
    return [f"{whole}{figures[0]}", *figures[1:]]


def _with_direction(written: str, negative: bool, axis: Axis) -> str:
    if axis:
        letter = _LETTERS[axis][negative]
        return f"{written} {letter}"
    return f"-{written}" if negative else written


def _halves(text: str) -> tuple[str, str]:
    found = _HALVES.fullmatch(text.strip())
    if found is None:
        raise ValueError(f'"{text}" is no position; write it as 39.90412, -117.30288 or 39 54.247 N 117 18.173 W')
    first, second = (half for half in found.groups() if half is not None)
    return first.strip(), second.strip()
