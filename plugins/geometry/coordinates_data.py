"""The station's position in the forms that people ask for, with its accuracy said at its level."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.plugins.geometry.map_records import Facts, declination_deg, only
from afield.plugins.geometry.pacing import paced
from afield.plugins.geometry.position_form import coarse_words

WANTS = ("station.position", "station.declination")
DATUM = "WGS 84"
FORMS = (
    ("decimal", "Decimal degrees", "latitude, longitude; most maps and phones take this"),
    ("degrees_minutes", "Degrees and minutes", "for emergency services, boats and paper charts"),
    ("utm", "UTM", "zone and band, metres east, metres north"),
    ("mgrs", "MGRS", "grid square of 1 m; drop digits from the end of both halves for a coarser one"),
    ("locator", "Grid locator", "Maidenhead; what is given on the air"),
)


def coordinates_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the coordinates (schemas/sections/coordinates.json); None if the plan states no position."""
    record = only(facts, "station.position")
    if record is None:
        return None
    position: Mapping[str, Any] = record["value"]
    forms = position["forms"]
    rows = [
        {"name": title, "value": forms[form], "use": use} for form, title, use in FORMS if forms.get(form) is not None
    ]
    return {
        "headline": _headline(position),
        "datum": DATUM,
        "stated_as": position.get("form"),
        "rows": rows,
        "accuracy": accuracy_words(position),
        "declination": _declination_words(declination_deg(facts)),
    }


def _headline(position: Mapping[str, Any]) -> str:
    radius = position.get("radius_95_m")
    within = f", within {paced(radius)} (95 %)" if radius else ""
    sizes = _open(position)
    within += f", its digits leave {sizes} open" if sizes else ""
    locator = position["forms"].get("locator")
    return f"{position['forms']['decimal']} ({DATUM}){within}" + (f", grid locator {locator}" if locator else "")


def _declination_words(needle_deg: float | None) -> str | None:
    if needle_deg is None:
        return None
    side = "east" if needle_deg >= 0 else "west"
    return f"A compass needle points {abs(needle_deg):.1f}° {side} of true north here."


def accuracy_words(position: Mapping[str, Any]) -> str:
    """How well the position is known, with the level that the figure holds at and who said so."""
    sizes = _open(position)
    return _circle_words(position) + (f" The digits written leave {sizes} open besides." if sizes else "")


def _open(position: Mapping[str, Any]) -> str | None:
    return coarse_words(*position.get("digits_leave_m", (0.0, 0.0)))


def _circle_words(position: Mapping[str, Any]) -> str:
    accuracy, radius = position.get("accuracy_m"), position.get("radius_95_m")
    if accuracy is None or radius is None:
        return "The plan states no accuracy."
    stated = (
        "as the plan states" if position.get("level_stated") else "the level is not stated; 68 % is what phones mean"
    )
    words = f"Within {paced(accuracy)} at {position['level']:g} % ({stated})"
    return words + (f", that is within {paced(radius)} at 95 %." if position["level"] != 95 else ".")
