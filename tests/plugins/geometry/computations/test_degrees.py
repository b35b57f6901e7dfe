from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.degrees import (
    Axis,
    Form,
    dms_format,
    dms_parse,
    position_parse,
    position_text,
)

UNITS_A_DEGREE = {"d": 1, "dm": 60, "dms": 3600}
NO_ANGLE = "is no angle; write it as 39.90412, 39 54.247 N or 39 54 14.8 N"


@given(
    st.floats(min_value=-90, max_value=90),
    st.sampled_from(["d", "dm", "dms"]),
    st.integers(min_value=0, max_value=9),
    st.sampled_from(["", "lat", "lon"]),
)
def test_what_is_written_reads_back_to_within_half_a_unit(angle: float, form: Form, decimals: int, axis: Axis) -> None:
    text = dms_format(angle, form, decimals, axis)
    assert abs(dms_parse(text, axis) - angle) <= (0.5 / 10**decimals / UNITS_A_DEGREE[form]) + 1e-13
    assert not re.search(r"(?<![.\d])60\b", " ".join(re.split(r"[°'\"]", text)[1:]))


@given(st.floats(min_value=-90, max_value=90), st.floats(min_value=-180, max_value=180))
def test_a_position_read_out_in_minutes_is_good_to_two_metres(lat: float, lon: float) -> None:
    found = position_parse(position_text(lat, lon))
    assert found == pytest.approx((lat, lon), abs=0.0005 / 60 + 1e-12)


@pytest.mark.parametrize(
    ("arguments", "text"),
    [
        ((39.90412, "dm", 3, "lat"), "39° 54.247' N"),
        ((-117.30288, "dm", 3, "lon"), "117° 18.173' W"),
        ((39.90412, "dms", 1, "lat"), "39° 54' 14.8\" N"),
        ((-0.5, "dms", 0), "-0° 30' 00\""),
        ((59.9999999, "dm", 3, "lat"), "60° 00.000' N"),
        ((-179.9999999, "dms", 1, "lon"), "180° 00' 00.0\" W"),
        ((-1e-9, "dm", 3, "lat"), "0° 00.000' N"),
        ((-1e-9, "dms", 0), "0° 00' 00\""),
        ((12.5, "d", 0), "13°"),
        ((0.125, "d", 2), "0.13°"),
        ((51.99999999999999, "dms", 0, "", False), "52 00 00"),
    ],
)
def test_written_angles(arguments: tuple[float, Form, int, Axis], text: str) -> None:
    assert dms_format(*arguments) == text


def test_a_position_as_a_rescue_call_gives_it() -> None:
    assert position_text(39.90412, -117.30288) == "39° 54.247' N 117° 18.173' W"


@pytest.mark.parametrize(
    ("text", "angle"),
    [
        ("5d30", 5.5),
        (" 12° W ", -12.0),
        ("w 12.5", -12.5),
        ("-33 51 30", -33.858333333333334),
        ("\N{MINUS SIGN}33.5", -33.5),
        ("+7", 7.0),
        ("45:30", 45.5),
        ("45 30'N", 45.5),
        ("45° 30’ 36”", 45.51),
        ("45° 30' 36''", 45.51),
        ("359.9", 359.9),
    ],
)
def test_read_angles(text: str, angle: float) -> None:
    assert dms_parse(text) == angle


@pytest.mark.parametrize(
    ("text", "axis", "message"),
    [
        ("", "", f'"" {NO_ANGLE}'),
        ("45,5", "", f'"45,5" {NO_ANGLE}'),
        ("4 5 6 7", "", f'"4 5 6 7" {NO_ANGLE}'),
        ("1e3", "", f'"1e3" {NO_ANGLE}'),
        ("٣", "", f'"٣" {NO_ANGLE}'),
        ("-45 S", "", '"-45 S" gives its direction twice; write one hemisphere letter or one sign'),
        ("N 45 N", "", '"N 45 N" gives its direction twice; write one hemisphere letter or one sign'),
        ("45.5 30", "", '"45.5 30" has decimals before its last part'),
        ("5d60", "", '"5d60" has 60 or more minutes or seconds'),
        ("45 10 60.0", "", '"45 10 60.0" has 60 or more minutes or seconds'),
        ("91 N", "", '"91 N" is beyond 90 degrees'),
        ("90 00 00.1", "lat", '"90 00 00.1" is beyond 90 degrees'),
        ("180.1 W", "", '"180.1 W" is beyond 180 degrees'),
        ("360", "", '"360" is beyond 360 degrees'),
        ("45 E", "lat", '"45 E" has the letter E where a latitude is due: N or S'),
        ("45 N", "lon", '"45 N" has the letter N where a longitude is due: E or W'),
    ],
)
def test_a_text_that_is_no_angle_is_refused(text: str, axis: Axis, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        dms_parse(text, axis)
    assert str(refused.value) == message


@pytest.mark.parametrize(
    "text",
    [
        "39.90412, -117.30288",
        "39.90412 N 117.30288 W",
        "N39.90412 W117.30288",
        "N 39.90412, W 117.30288",
        "39.90412N,117.30288W",
        "39° 54' 14.832\" N 117° 18' 10.368\" W",
    ],
)
def test_ways_to_write_a_position(text: str) -> None:
    assert position_parse(text) == pytest.approx((39.90412, -117.30288), abs=1e-12)


@pytest.mark.parametrize("text", ["", "39.9", "1, 2, 3", "39 N 40 N", "117 W 39 N"])
def test_a_text_that_is_no_position_is_refused(text: str) -> None:
    with pytest.raises(ValueError) as refused:
        position_parse(text)
    wanted = "is no position; write it as 39.90412, -117.30288 or 39 54.247 N 117 18.173 W"
    assert str(refused.value) == f'"{text}" {wanted}'


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((1.0, "dd"), 'form "dd" with 0 decimals: form is d, dm or dms, decimals 0 to 9'),
        ((1.0, "d", 10), 'form "d" with 10 decimals: form is d, dm or dms, decimals 0 to 9'),
        ((90.5, "d", 0, "lat"), "latitude 90.5 is beyond 90 degrees"),
        ((-180.5, "d", 0, "lon"), "longitude -180.5 is beyond 180 degrees"),
        ((float("nan"),), "angle nan is not a finite number"),
    ],
)
def test_an_angle_that_cannot_be_written_is_refused(arguments: tuple[float, Form, int, Axis], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        dms_format(*arguments)
    assert str(refused.value) == message
