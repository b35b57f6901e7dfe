"""The outing as the plan states it: who, when, how, under which conditions; printed for the bag, not judged."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from importlib.resources import files
from typing import Any

from afield.core.api import Section, _, in_context, marked, ngettext, slug

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]

ROWS = (
    ("schedule.arrive", marked("row|Arrive")),
    ("schedule.on_air", marked("row|On the air")),
    ("schedule.leave", marked("row|Leave")),
    ("schedule.mode", marked("Mode")),
    ("schedule.band", marked("Band")),
    ("schedule.frequency", marked("Frequency")),
    ("schedule.power", marked("row|Power")),
    ("schedule.transmit_share", marked("row|Transmitting")),
    ("station.call_used_of", marked("Call used of")),
    ("travel.by", marked("Travel by")),
    ("travel.country", marked("Country")),
    ("conditions.temperature", marked("Air temperature")),
    ("conditions.wind", marked("Wind")),
    ("conditions.issued", marked("Forecast issued")),
)
LISTED = {
    marked("Operators"): ("operator", ("operator.call", "operator.class")),
    marked("Slots"): (
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
    marked("Station"): ("part", ("part.role", "part.height")),
}
WANTS = (*(name for name, _ in ROWS), *(name for _, names in LISTED.values() for name in names))
LEFT = 18
"""Characters of the left column as text, where no name is longer."""
SPAN = ("slot.start", "slot.end")
TIMED = ("schedule.arrive", "schedule.on_air", "schedule.leave", *SPAN)
TIMES = marked("Times are local, those that end in Z are UTC.")
WHOLE = {"slot:on-the-air": marked("on-the-air")}
"""The slot of a plan that states none has no name of the plan's (whole_slot)."""


def outing_section() -> Section:
    """The section."""
    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath("sections", "outing.json").read_text("utf-8"))
    return Section(
        name="outing", title="The outing as planned", order=120, wants=WANTS, data=outing_data, schema=schema,
        template="outing.html", package="afield.plugins.outing", text=outing_text,
    )  # fmt: skip


def outing_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/outing.json); None if the plan states nothing of it."""
    rows = [{"name": in_context(title), "values": [value]} for name, title in ROWS for value in _told(facts, name)]
    rows += [
        {"name": in_context(title), "values": values} for title in LISTED if (values := list(_listed(facts, title)))
    ]
    return {"rows": rows, "notes": list(_notes(facts))} if rows else None


def _told(facts: Facts, name: str) -> list[str]:
    known = [record for record in facts[name].values() if record["reason"] is None]
    return [_span(*one["value"]) if name == "schedule.on_air" else one["printed"] for one in known]


def _span(start: str, end: str) -> str:
    return _("{start} to {end}").format(start=start, end=end)


def _notes(facts: Facts) -> Iterator[str]:
    if any(_told(facts, name) for name in TIMED):
        yield _(TIMES)
    named = {slug(who) for who in _told(facts, "slot.operator")}
    idle = [name for name in map(_name, facts["operator.class"]) if name not in named]
    if named and idle:
        text = ngettext("No slot names the operator {names}.", "No slot names the operators {names}.", len(idle))
        yield text.format(names=", ".join(idle))


def _name(subject: str) -> str:
    return _(WHOLE[subject]) if subject in WHOLE else subject.split(":", 1)[1]


def _listed(facts: Facts, title: str) -> Iterator[str]:
    names = LISTED[title][1]
    subjects = dict.fromkeys(subject for name in names for subject in facts[name])
    for subject in subjects:
        told = {name: facts[name][subject] for name in names if subject in facts[name]}
        values = {name: _printed(name, record) for name, record in told.items() if record["reason"] is None}
        yield ": ".join(part for part in (_name(subject), ", ".join(_spanned(values))) if part)


def _printed(name: str, record: Mapping[str, Any]) -> str:
    """As printed; the role of a part is one of a list (fragments.ROLES), and said in the reader's language."""
    printed = str(record["printed"])
    return _(printed) if name == "part.role" else printed


def _spanned(values: Mapping[str, str]) -> Iterator[str]:
    """The values, a start and an end as one: "22:30 to 01:00"."""
    both = all(name in values for name in SPAN)
    if both:
        yield _span(*(values[name] for name in SPAN))
    yield from (value for name, value in values.items() if not (both and name in SPAN))


def outing_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    wide = max([LEFT, *(len(row["name"]) + 2 for row in data["rows"])])
    lines = [line for row in data["rows"] for line in _lines(row["name"], row["values"], wide)]
    return "\n".join([*lines, *data["notes"]])


def _lines(name: str, values: Sequence[str], wide: int) -> list[str]:
    first, *rest = values
    return [f"{name + ':':<{wide}}{first}", *(f"{'':<{wide}}{value}" for value in rest)]
