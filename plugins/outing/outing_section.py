"""The outing as the plan states it: who, when, how, under which conditions; printed for the bag, not judged."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from importlib.resources import files
from typing import Any

from afield.core.api import Section, slug

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]

ROWS = (
    ("schedule.arrive", "Arrive"),
    ("schedule.on_air", "On the air"),
    ("schedule.leave", "Leave"),
    ("schedule.mode", "Mode"),
    ("schedule.band", "Band"),
    ("schedule.frequency", "Frequency"),
    ("schedule.power", "Power"),
    ("schedule.transmit_share", "Transmitting"),
    ("station.call_used_of", "Call used of"),
    ("travel.by", "Travel by"),
    ("travel.country", "Country"),
    ("conditions.temperature", "Air temperature"),
    ("conditions.wind", "Wind"),
    ("conditions.issued", "Forecast issued"),
)
LISTED = {
    "Operators": ("operator", ("operator.call", "operator.class")),
    "Slots": (
        "slot",
        (
            "slot.start",
            "slot.end",
            "slot.band",
            "slot.frequency",
            "slot.mode",
            "slot.power",
            "slot.transmit_share",
            "slot.operator",
        ),
    ),
    "Station": ("part", ("part.role", "part.height")),
}
WANTS = (*(name for name, _ in ROWS), *(name for _, names in LISTED.values() for name in names))
SPAN = ("slot.start", "slot.end")
TIMED = ("schedule.arrive", "schedule.on_air", "schedule.leave", *SPAN)
TIMES = "Times are local, those that end in Z are UTC."


def outing_section() -> Section:
    """The section."""
    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath("sections", "outing.json").read_text("utf-8"))
    return Section(
        name="outing", title="The outing as planned", order=120, wants=WANTS, data=outing_data, schema=schema,
        template="outing.html", package="afield.plugins.outing", text=outing_text,
    )  # fmt: skip


def outing_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/outing.json); None if the plan states nothing of it."""
    rows = [{"name": title, "values": [value]} for name, title in ROWS for value in _told(facts, name)]
    rows += [{"name": title, "values": values} for title in LISTED if (values := list(_listed(facts, title)))]
    return {"rows": rows, "notes": list(_notes(facts))} if rows else None


def _told(facts: Facts, name: str) -> list[str]:
    known = [record for record in facts[name].values() if record["reason"] is None]
    return [" to ".join(one["value"]) if name == "schedule.on_air" else one["printed"] for one in known]


def _notes(facts: Facts) -> Iterator[str]:
    if any(_told(facts, name) for name in TIMED):
        yield TIMES
    named = {slug(who) for who in _told(facts, "slot.operator")}
    idle = [name for name in map(_name, facts["operator.class"]) if name not in named]
    if named and idle:
        yield f"No slot names the operator{'s' * (len(idle) > 1)} {', '.join(idle)}."


def _name(subject: str) -> str:
    return subject.split(":", 1)[1]


def _listed(facts: Facts, title: str) -> Iterator[str]:
    _, names = LISTED[title]
    subjects = dict.fromkeys(subject for name in names for subject in facts[name])
    for subject in subjects:
        told = {name: facts[name][subject] for name in names if subject in facts[name]}
        values = {name: record["printed"] for name, record in told.items() if record["reason"] is None}
        yield ": ".join(part for part in (_name(subject), ", ".join(_spanned(values))) if part)


def _spanned(values: Mapping[str, str]) -> Iterator[str]:
    """The values, a start and an end as one: "22:30 to 01:00"."""
    both = all(name in values for name in SPAN)
    if both:
        yield " to ".join(values[name] for name in SPAN)
    yield from (value for name, value in values.items() if not (both and name in SPAN))


def outing_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    lines = [line for row in data["rows"] for line in _lines(row["name"], row["values"])]
    return "\n".join([*lines, *data["notes"]])


def _lines(name: str, values: Sequence[str]) -> list[str]:
    first, *rest = values
    return [f"{name + ':':<18}{first}", *(f"{'':<18}{value}" for value in rest)]
