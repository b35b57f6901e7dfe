"""The station's position in the forms that people ask for, with its accuracy said at its level."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import _, local_digits, marked
from afield.plugins.geometry.map_records import Facts, declination_deg, only
from afield.plugins.geometry.pacing import paced
from afield.plugins.geometry.position_form import coarse_words

WANTS = ("station.position", "station.declination")
DATUM = "WGS 84"
FORMS = (
    ("decimal", marked("Decimal degrees"), marked("latitude, longitude; most maps and phones take this")),
    ("degrees_minutes", marked("Degrees and minutes"), marked("for emergency services, boats and paper charts")),
    ("utm", marked("UTM"), marked("zone and band, metres east, metres north")),
    ("mgrs", marked("MGRS"), marked("grid square of 1 m; drop digits from the end of both halves for a coarser one")),
    ("locator", marked("Grid locator"), marked("Maidenhead; what is given on the air")),
)


def coordinates_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the coordinates (schemas/sections/coordinates.json); None if the plan states no position."""
    record = only(facts, "station.position")
    if record is None:
        return None
    position: Mapping[str, Any] = record["value"]
    forms = position["forms"]
    rows = [
        {"name": _(title), "value": forms[form], "use": _(use)}
        for form, title, use in FORMS
        if forms.get(form) is not None
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
    sizes, locator = _open(position), position["forms"].get("locator")
    clauses = [f"{position['forms']['decimal']} ({DATUM})"]
    clauses += [_("within {radius} (95 %)").format(radius=paced(radius))] if radius else []
    clauses += [_("its digits leave {sizes} open").format(sizes=sizes)] if sizes else []
    clauses += [_("grid locator {locator}").format(locator=locator)] if locator else []
    return ", ".join(clauses)


def _declination_words(needle_deg: float | None) -> str | None:
    if needle_deg is None:
        return None
    east = _("A compass needle points {degrees}° east of true north here.")
    west = _("A compass needle points {degrees}° west of true north here.")
    return (east if needle_deg >= 0 else west).format(degrees=local_digits(f"{abs(needle_deg):.1f}"))


def accuracy_words(position: Mapping[str, Any]) -> str:
    """How well the position is known, with the level that the figure holds at and who said so."""
    sizes = _open(position)
    besides = [_("The digits written leave {sizes} open besides.").format(sizes=sizes)] if sizes else []
    return " ".join([_circle_words(position), *besides])


def _open(position: Mapping[str, Any]) -> str | None:
    return coarse_words(*position.get("digits_leave_m", (0.0, 0.0)))


def _circle_words(position: Mapping[str, Any]) -> str:
    accuracy, radius = position.get("accuracy_m"), position.get("radius_95_m")
    if accuracy is None or radius is None:
        return _("The plan states no accuracy.")
    unstated = _("the level is not stated; 68 % is what phones mean")
    stated = _("as the plan states") if position.get("level_stated") else unstated
    level = local_digits(f"{position['level']:g}")
    if position["level"] == 95:
        return _("Within {radius} at {level} % ({stated}).").format(radius=paced(accuracy), level=level, stated=stated)
    sentence = _("Within {radius} at {level} % ({stated}), that is within {radius_95} at 95 %.")
    return sentence.format(radius=paced(accuracy), level=level, stated=stated, radius_95=paced(radius))
