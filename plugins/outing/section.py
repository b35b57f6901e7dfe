"""The cautions page of the briefing: fixed words, marked as not computed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import Section, _
from afield.plugins.outing.cautions import said_cautions

BACK_OF_THE_BRIEFING = 900


def sections() -> list[Section]:
    """The cautions."""
    return [
        Section(
            name="cautions",
            title="Not computed: cautions",
            order=BACK_OF_THE_BRIEFING,
            wants=(),
            data=cautions_data,
            schema=_schema(),
            template="cautions.html",
            package="afield.plugins.outing",
            text=cautions_text,
        )
    ]


def cautions_data(facts: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """The same JSON (schemas/sections/cautions.json) for every trip: it asks no fact."""
    return said_cautions()


def cautions_text(data: Mapping[str, Any]) -> str:
    """The cautions, a line each, and the sources that their letters stand for."""
    lines = [data["opening"]]
    for topic in data["topics"]:
        lines += ["", topic["title"].upper()]
        lines += [f"- {caution['text']}{_letters(caution['sources'])}" for caution in topic["cautions"]]
        lines += [f"    {figure['name']}: {figure['value']}" for figure in topic["figures"]]
        lines += [f"    {blank} ________" for blank in topic["blanks"]]
    return "\n".join([*lines, "", _("SOURCES OF THE FIGURES"), *map(_source_line, data["sources"])])


def _letters(keys: list[str]) -> str:
    return f" [{', '.join(keys)}]" if keys else ""


def _source_line(source: Mapping[str, Any]) -> str:
    named = [source["document"], source["section"], source["edition"]]
    return f"[{source['key']}] {', '.join(part for part in named if part)} ({_(source['grade'])})"


def _schema() -> dict[str, Any]:
    import json
    from importlib.resources import files

    text = files("afield.schemas").joinpath("sections", "cautions.json").read_text("utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema
