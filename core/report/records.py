"""The World's records as JSON."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Measured, Reason
from afield.core.facts.resolver import Crash
from afield.core.facts.world import World
from afield.core.language import _
from afield.core.quantities import printed_interval, trimmed
from afield.core.report.values import fact_value, json_value

Json = dict[str, Any]


def reason_json(reason: Reason | None) -> Json | None:
    """A reason as JSON."""
    if reason is None:
        return None
    return {"code": reason.code, "text": reason.text, "settle": reason.settle, "subject": reason.subject}


def fact_records(world: World) -> list[Json]:
    """Every record found so far, by subject in the World's order, then by fact."""
    order = {key: index for index, key in enumerate(world.subjects)}
    found = sorted(world.known_records().items(), key=lambda item: (order[item[0][0]], item[0][1]))
    return [
        {"subject": subject, "fact": name, **_encoded(record, name, subject, world)}
        for (subject, name), record in found
    ]


def _encoded(record: Measured, name: str, subject: str, world: World) -> Json:
    """The record as JSON; where the fact's own encoder fails, the record without its value."""
    declared = world.facts.get(name)
    try:
        return record_json(record, declared)
    except Exception as error:
        plugin = world.owners.get(name, "an unnamed plugin")
        crash = Crash(plugin, f"the encoding of {name} of {subject}", f"{type(error).__name__}: {error}")
        world.crashes.append(crash)
        silent = replace(record, value=None, low=None, high=None, displaced=None)
        return record_json(replace(silent, reason=Reason("plugin failed", crash.text)), declared)


def record_json(record: Measured, declared: Fact | None) -> Json:
    """One record, with the weaker one that it displaces inside."""
    displaced = None if record.displaced is None else record_json(record.displaced, declared)
    numeric = is_number(record.value)
    return {
        "title": _(declared.title) if declared and declared.title else "",
        "unit": record.unit,
        "value": fact_value(record.value, declared),
        "low": json_value(record.low),
        "high": json_value(record.high),
        "uncertainty": json_value(record.uncertainty) if numeric else None,
        "printed": printed_record(record, declared),
        "parts": [
            {"origin": origin, "contribution": json_value(part)} for origin, part in sorted(record.parts.items())
        ],
        "method": record.method,
        "source": record.source,
        "place": str(record.place) if record.place else None,
        "inputs": [{"subject": subject, "fact": name} for subject, name in record.inputs],
        "rank": record.rank,
        "detail": json_value(record.detail),
        "notes": list(record.notes),
        "reason": reason_json(record.reason),
        "displaced": displaced,
        "tool": tool_json(declared),
    }


def is_number(value: Any) -> bool:
    """Whether it is a number, which truth is not."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def printed_record(record: Measured, declared: Fact | None) -> str:
    """The record for the reader: a number with its uncertainty, or why there is none."""
    if record.reason is not None:
        return record.reason.text
    if is_number(record.value):
        return printed_interval(
            record.value, record.low, record.high, record.uncertainty, record.unit or "", also_imperial=True
        )
    shown = fact_value(record.value, declared)
    if isinstance(shown, list) and all(isinstance(item, str | int | float) for item in shown):
        return ", ".join(_(str(item)) for item in shown)
    return {True: _("yes"), False: _("no")}[shown] if isinstance(shown, bool) else _structure(shown)


def _structure(shown: Any) -> str:
    if isinstance(shown, dict):
        plain = {key: inner for key, inner in shown.items() if not isinstance(inner, list | dict | bool | None)}
        return ", ".join(f"{key.replace('_', ' ')} {_plain(inner)}" for key, inner in plain.items())
    return "" if shown is None else _(str(shown))


def _plain(value: Any) -> str:
    return trimmed(value) if isinstance(value, float) else str(value)


def tool_json(declared: Fact | None) -> Json | None:
    """The tool with which the fact can be measured in the field."""
    if declared is None or declared.tool is None:
        return None
    return {"name": _(declared.tool.name), "uncertainty": declared.tool.uncertainty, "unit": declared.unit}
