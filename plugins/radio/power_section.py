"""The section of the briefing with the power at the antenna, band by band."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

from afield.core.api import Section, _
from afield.plugins.radio.power_data import WANTS, power_data


def power_section() -> Section:
    """The section."""
    path = files("afield.schemas").joinpath("sections", "radio-power.json")
    schema: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return Section(
        name="radio-power", title="Power at the antenna", order=135, wants=WANTS, data=power_data, schema=schema,
        template="radio-power.html", package="afield.plugins.radio", text=power_text,
    )  # fmt: skip


def power_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    blocks = ["\n".join(_row_lines(row)) for row in data["rows"]]
    if data["notes"]:
        blocks.append("\n".join([_("Taken for granted"), *(f"- {note}" for note in data["notes"])]))
    return "\n\n".join(blocks)


def _row_lines(row: Mapping[str, Any]) -> Iterator[str]:
    yield f"{row['frequency']}: {row['way']}"
    if row["unknown"]:
        yield _("CANNOT TELL: {reason}").format(reason=row["unknown"])
        return
    output = _("{power} out, {set_by}") if row["set_by"] else _("{power} out")
    yield output.format(power=row["output"], set_by=row["set_by"])
    yield from (_("less {decibels} {where}").format(decibels=part["db"], where=part["where"]) for part in row["parts"])
    yield _("{power} AT THE ANTENNA, {loss} lost in all").format(power=row["at_antenna"], loss=row["loss"])
