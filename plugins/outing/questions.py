"""The questions that a new plan asks of the station: where it is, and how its antenna lies."""

from __future__ import annotations

import re

from afield.core.api import QuantityError, Question, parse_quantity

NUMBER = r"[-+]?\d+(?:\.\d+)?"
POSITION = "39.90412, -117.30288 within 5 m"
ANTENNA = "20 m at 40 deg"
BOUNDED = ("locator", "mgrs")
"""Forms that say themselves how far off they may be."""


def position_lines(answer: str) -> list[str]:
    """The station's position: latitude and longitude, UTM, MGRS or a grid locator, with `within` its accuracy.

    Raises:
        ValueError: the answer is in none of these forms; what is wrong, and what to do.

    """
    place, _, accuracy = (half.strip() for half in answer.partition("within"))
    fields = _position_fields(place)
    if accuracy:
        _refuse_no_length(accuracy)
    elif not fields.startswith(BOUNDED):
        raise ValueError("the accuracy of the position is missing", f"Write it after `within`, as in {POSITION}.")
    stated = f", accuracy: {accuracy}" if accuracy else ""
    return ["station:", f"  at: {{{fields}{stated}}}    # the accuracy that the phone shows: a 68 % circle"]


def _position_fields(place: str) -> str:
    degrees = re.fullmatch(rf"({NUMBER})\s*,\s*({NUMBER})", place)
    if degrees:
        return _degrees_fields(degrees[1], degrees[2])
    angles = re.fullmatch(r"([^,]*\d[^,]*[NSns])\s*,\s*([^,]*\d[^,]*[EWew])", place)
    if angles:
        lat, lon = (angle.replace('"', '\\"') for angle in angles.groups())
        return f'lat: "{lat}", lon: "{lon}"'
    if re.fullmatch(r"[A-Ra-r]{2}\d\d([A-Xa-x]{2}(\d\d([A-Xa-x]{2})?)?)?", place):
        return f"locator: {place}"
    if re.fullmatch(r"\d{1,2}\s*[A-Za-z]\s+\d+\s+\d+", place):
        return f'utm: "{place}"'
    if re.fullmatch(r"\d{1,2}[A-Za-z]\s*[A-Za-z]{2}\s*[\d ]+", place):
        return f'mgrs: "{place}"'
    what = f"{place or 'an empty answer'} is no position"
    raise ValueError(what, f"Write it as in {POSITION}; or in UTM, in MGRS, or as a grid locator.")


def _degrees_fields(lat: str, lon: str) -> str:
    if abs(float(lat)) > 90:
        advice = "Latitude comes first. Are the two swapped?" if abs(float(lon)) <= 90 else "It is -90 to 90."
        raise ValueError(f"latitude {lat} is outside -90 to 90", advice)
    if abs(float(lon)) > 180:
        raise ValueError(f"longitude {lon} is outside -180 to 180", "Write degrees, west of Greenwich below 0.")
    return f"lat: {lat}, lon: {lon}"


def _refuse_no_length(text: str) -> None:
    try:
        length = parse_quantity(text, "length")
    except QuantityError as error:
        raise ValueError(error.what, error.advice) from error
    if length.digits <= 0:
        raise ValueError(f"{text} is not more than 0 m", "Write a length above 0 m.")


def antenna_lines(answer: str) -> list[str]:
    """The antenna as a part: its length, and its true bearing if it is known; without one its full circle is judged.

    Raises:
        ValueError: the answer has no length with a unit; what is wrong, and what to do.

    """
    length, at, bearing = (half.strip() for half in answer.partition(" at "))
    _refuse_no_length(length)
    found = re.fullmatch(rf"({NUMBER})\s*(?:deg|degrees|°)?", bearing)
    if at and (not found or abs(float(found[1])) > 360):
        what = f"{bearing or 'nothing'} is no bearing"
        raise ValueError(what, f"Write degrees from true north, as in {ANTENNA}, or leave it out.")
    where = f"length: {length}"
    if found:
        near, far = f"{{bearing: {found[1]} deg, distance: 0 m}}", f"{{bearing: {found[1]} deg, distance: {length}}}"
        where = f"from: {near}, to: {far}"
    return [
        "  parts:                               # true bearings from the position; no bearing = its full circle",
        "    - {name: table, role: operating position, at: [0 m, 0 m]}",
        f"    - {{name: antenna, role: antenna, {where}}}",
    ]


QUESTIONS = [
    Question(
        "position", "Where will the operating position be, and within what accuracy?", POSITION,
        ("station.at",), position_lines, 10,
    ),
    Question(
        "antenna", "How long is the antenna, and at which true bearing does it run?", ANTENNA,
        ("part.role",), antenna_lines, 20,
    ),
]  # fmt: skip
