"""The section of the briefing that lists what goes into which bag, and how it is joined."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

from afield.core.api import Section, _, marked, ngettext
from afield.plugins.kit.packing_data import WANTS, packing_data
from afield.plugins.kit.picture.drawing import wiring_picture

SIGNS = {
    marked("joined"): "o---o", marked("inferred"): "o- -o", marked("does not fit"): "o-X-o",
    marked("missing"): "o   o", marked("cannot tell"): "o-?-o",
}  # fmt: skip


def packing_section() -> Section:
    """The section."""
    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath("sections", "packing.json").read_text("utf-8"))
    return Section(
        name="packing", title="Packing list", order=130, wants=WANTS, data=packing_data, schema=schema,
        template="packing.html", package="afield.plugins.kit", text=packing_text, figures={"wiring": wiring_picture},
    )  # fmt: skip


def packing_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    blocks = [_bag_lines(bag) for bag in data["bags"]]
    blocks += [
        iter([_total(data["total"])]),
        _wiring_lines(data),
        iter(data["cautions"]),
        _hand_lines(data),
    ]
    return "\n\n".join(text for block in blocks if (text := "\n".join(block)))


def _total(total: Mapping[str, Any]) -> str:
    count = total["items"]
    words = ngettext("In all {count} item, {mass}", "In all {count} items, {mass}", count)
    return words.format(count=count, mass=total["mass"])


def _bag_lines(bag: Mapping[str, Any]) -> Iterator[str]:
    yield f"{bag['name']}: {bag['mass']}"
    for item in bag["items"]:
        known = [text for text in (item["class"], item["mass"]) if text]
        yield f"[ ] {item['name']}" + (f" ({', '.join(known)})" if known else "")
        yield from (f"    {note}" for note in _notes(item))
        yield from (f"    [ ] {consumable}" for consumable in item["consumables"])


def _notes(item: Mapping[str, Any]) -> Iterator[str]:
    if item["essential"]:
        spared = _("essential; spare: {spare}").format(spare=item["spare"])
        yield spared if item["spare"] else _("ESSENTIAL, NO SPARE")
    if item["spare_of"]:
        yield _("spare of {item}").format(item=item["spare_of"])


def _wiring_lines(data: Mapping[str, Any]) -> Iterator[str]:
    for chain in data["chains"]:
        yield f"{_(chain['state']).upper()}: {chain['title']}" + (f" ({chain['note']})" if chain["note"] else "")
        yield from _steps(chain["steps"])
    if data["others"]:
        yield _("Also joined")
        yield from _steps(data["others"])


def _steps(steps: list[Mapping[str, Any]]) -> Iterator[str]:
    for step in steps:
        words = "" if step["mark"] == "joined" else f" [{_(step['mark']).upper()}]"
        yield f"  {SIGNS[step['mark']]}  {step['words']}{words}"
        if step["note"]:
            yield f"         {step['note']}"


def _hand_lines(data: Mapping[str, Any]) -> Iterator[str]:
    if data["hand_set_unknown"]:
        yield _("To be set by hand: cannot tell, {why}").format(why=data["hand_set_unknown"])
    elif data["hand_set"]:
        yield _("To be set by hand")
        yield from (f"[ ] {line}" for line in data["hand_set"])
