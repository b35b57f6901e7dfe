"""The section of the briefing that lays the outing on both clocks."""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from afield.core.api import Section, _
from afield.plugins.timing import timeline_figure
from afield.plugins.timing.calendar_file import NAME, calendar_text
from afield.plugins.timing.timeline_data import WANTS, timeline_data


def timeline_section() -> Section:
    """The section; it stands first, as the day is read from it."""
    text = files("afield.schemas").joinpath("sections", "timeline.json").read_text("utf-8")
    schema: dict[str, Any] = json.loads(text)
    return Section(
        name="timeline", title="Timeline", order=40, wants=WANTS, data=timeline_data, schema=schema,
        template="timeline.html", package="afield.plugins.timing",
        figures={"timeline": timeline_figure.timeline_figure, **timeline_figure.swatches()}, text=timeline_text,
        files={NAME: calendar_text},
    )  # fmt: skip


def timeline_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    if data["trouble"]:
        return str(data["trouble"])
    rows = [{"local": _("local"), "utc": "UTC", "words": _("what")}, *data["rows"]]
    local, utc = (max(len(row[key]) for row in rows) for key in ("local", "utc"))
    lines = [f"{row['local']:<{local}}  {row['utc']:<{utc}}  {row['words']}" for row in rows]
    return "\n".join([*lines, *data["light"], *data["places"], data["zone"], *data["notes"]])
