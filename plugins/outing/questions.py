"""The questions that a new plan asks of the station: where it is, and how its antenna lies."""

from __future__ import annotations

import re

from afield.core.api import Question

NUMBER = r"[-+]?\d+(?:\.\d+)?"
LENGTH = rf"{NUMBER}\s*[a-zA-Z]+"
POSITION = "39.90412, -117.30288 within 5 m"
ANTENNA = "20 m at 40 deg"


def position_lines(answer: str) -> list[str]:
    """The station's position: latitude and longitude, UTM, MGRS or a grid locator, with `within` its accuracy.

    Raises:
        ValueError: the answer is in none of these forms.

    """
    place, _, accuracy = (half.strip() for half in answer.partition("within"))
    fields = _position_fields(place)
    if accuracy and not re.fullmatch(LENGTH, accuracy):
        raise ValueError(f"{accuracy} is no length; write it with its unit, as in {POSITION}")
    if not accuracy and not fields.startswith("locator"):
        raise ValueError(f"how accurate is that? Write it after `within`, as in {POSITION}")
    stated = f", accuracy: {accuracy}" if accuracy else ""
    return ["station:", f"  at: {{{fields}{stated}}}    # the accuracy that the phone shows: a 68 % circle"]


def _position_fields(place: str) -> str:
    degrees = re.fullmatch(rf"({NUMBER})\s*,\s*({NUMBER})", place)
    if degrees:
        return f"lat: {degrees[1]}, lon: {degrees[2]}"
    if re.fullmatch(r"[A-Ra-r]{2}\d\d([A-Xa-x]{2}(\d\d([A-Xa-x]{2})?)?)?", place):
        return f"locator: {place}"
    if re.fullmatch(r"\d{1,2}\s*[A-Za-z]\s+\d+\s+\d+", place):
        return f'utm: "{place}"'
    if re.fullmatch(r"\d{1,2}[A-Za-z]\s*[A-Za-z]{2}\s*(\d+\s*)+", place):
        return f'mgrs: "{place}"'
    raise ValueError(f"{place or 'an empty answer'} is no position; write it as in {POSITION}, or UTM, MGRS, a locator")


def antenna_lines(answer: str) -> list[str]:
    """The antenna as a part: its length, and its true bearing if it is known; without one its full circle is judged.

    Raises:
        ValueError: the answer has no length with a unit.

    """
    found = re.fullmatch(rf"({LENGTH})(?:\s+at\s+({NUMBER})\s*(?:deg|degrees|°)?)?", answer.strip())
    if not found:
        raise ValueError(f"{answer} is no antenna; write its length and bearing, as in {ANTENNA}")
    where = f"length: {found[1]}"
    if found[2]:
        near, far = f"{{bearing: {found[2]} deg, distance: 0 m}}", f"{{bearing: {found[2]} deg, distance: {found[1]}}}"
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
