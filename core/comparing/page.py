"""The comparison as one HTML file: no script, nothing fetched, every text escaped, nothing calculated in a template."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from afield.core.briefing.page import unbroken
from afield.core.comparing import blocks, wording
from afield.core.comparing.differences import DIFFERS
from afield.core.comparing.strips import mark_svg, strips
from afield.core.language import _, language, ngettext

if TYPE_CHECKING:
    from jinja2 import Template

Json = Mapping[str, Any]
STYLES = (("afield.core.briefing", "briefing.css"), ("afield.core.comparing", "comparison.css"))
MOST_COLUMNS = 4
"""Sides that stand beside each other on a sheet of paper; more stand one below the other."""


def comparison_html(comparison: Json) -> str:
    """The whole page, made from the comparison's JSON alone."""
    sides = comparison["sides"]
    base = sides[0]["label"]
    return _template().render(
        base=base,
        trip=sides[0]["trip"],
        headline=wording.headline(comparison),
        stacked=len(sides) > MOST_COLUMNS,
        sides=[
            {
                "label": side["label"],
                "mark": _markup(mark_svg(index)),
                "lines": list(wording.side_lines(side, sides[0])),
            }
            for index, side in enumerate(sides)
        ],
        rows=[_row(row, base) for row in comparison["rows"]],
        silent=[wording.silent_words(entry) for entry in comparison["silent"]],
        how_drawn=wording.how_drawn(),
        strips=[_strip(strip) for strip in strips(comparison)],
        changes=[_changes(changes, base) for changes in comparison["changes"]],
        grounds=list(wording.grounds(comparison)),
        warnings=[wording.warning_words(warning, sides) for warning in comparison["warnings"]],
        made=_made(comparison),
    )


def _side(index: int, side: Json, base: Json) -> dict[str, Any]:
    lines = list(wording.side_lines(side, base))
    return {"label": side["label"], "mark": _markup(mark_svg(index)), "lines": lines}


def _row(row: Json, base: str) -> dict[str, Any]:
    """A row with, for each side, its value and how it differs."""
    differences = {difference["label"]: difference for difference in row["differences"]}
    cells = [_cell(value, differences.get(value["label"]), row, base) for value in row["values"]]
    return {"title": row["title"], "cells": cells, "notes": [wording.note_words(note, row) for note in row["notes"]]}


def _cell(value: Json, difference: Json | None, row: Json, base: str) -> dict[str, Any]:
    return {
        "label": value["label"],
        "words": value["words"],
        "lines": wording.shown_lines(value, row),
        "difference": wording.difference_words(difference, value, base),
        "entries": difference["lines"] if difference else [],
        "differs": difference is not None and difference["finding"] == DIFFERS,
    }


def _strip(strip: Json) -> dict[str, Any]:
    """A strip whose drawings, which hold numbers alone, need no escaping."""
    lines = [{**line, "mark": _markup(line["mark"]), "drawing": _markup(line["drawing"])} for line in strip["lines"]]
    return {**strip, "lines": lines}


def _changes(changes: Json, base: str) -> dict[str, Any]:
    return {
        "title": blocks.changes_title(changes, base),
        "changed": blocks.changed_blocks(changes),
        "only": [
            {"label": group["label"], "lines": list(blocks.only_words(group)), "open": blocks.open_blocks(group)}
            for group in changes["only"]
        ],
        "checklist": blocks.tick_blocks(changes),
        "unchanged": blocks.counted(changes["unchanged"]),
    }


def _made(comparison: Json) -> list[tuple[str, str]]:
    """What it was made from, so that it can be had again."""
    run = comparison["run"]
    packs = {f"{pack['id']} {pack['version']}": None for side in comparison["sides"] for pack in side["packs"]}
    return [
        (_("Engine"), f"afield {run['engine']}"),
        (_("Plan"), f"{run['plan']['file']}, sha256 {run['plan']['sha256']}"),
        (_("Packs"), ", ".join(packs)),
        (_("Plugins"), ", ".join(f"{plugin['name']} {plugin['version']}" for plugin in run["plugins"])),
    ]


def _markup(drawn: str) -> Any:
    from markupsafe import Markup

    return Markup(drawn)


@lru_cache(maxsize=1)
def _template() -> Template:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(lambda name: _file("afield.core.comparing", name)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )
    # Both ask for the language that is spoken when the page is made, not now.
    environment.install_gettext_callables(_, ngettext, newstyle=True)  # type: ignore[attr-defined]
    environment.globals["language"] = language
    environment.filters["unbroken"] = unbroken
    environment.globals["style_sheets"] = lambda: _markup("\n".join(_file(*style) for style in STYLES))
    return environment.get_template("comparison.html")


def _file(package: str, name: str) -> str:
    from importlib.resources import files

    return files(package).joinpath("templates", name).read_text("utf-8")
