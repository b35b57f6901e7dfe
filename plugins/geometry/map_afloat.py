"""A station afloat on the map: one swing circle, or one track, in place of every part lying in the same place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import _, marked
from afield.plugins.geometry.map_records import Facts, only
from afield.plugins.geometry.pacing import paced

AFLOAT = "station.afloat"
NAMES = {"at anchor": marked("swing circle"), "under way": marked("track")}
"""How a station on the water is held -> what is drawn."""
ANCHOR = marked("anchor")

Part = Mapping[str, Any]


def name_afloat(facts: Facts) -> str | None:
    """What stands for every part of a station on the water; None ashore."""
    record = only(facts, AFLOAT)
    return None if record is None else NAMES.get(record["value"]["state"])


def parts_afloat(parts: Sequence[Part], facts: Facts) -> list[Part]:
    """The parts as they are ashore; on the water the one circle or track that holds them all, and the anchor."""
    name = name_afloat(facts)
    if name is None or not parts:
        return list(parts)
    whole = {**parts[0], "name": _(name), "role": name, "height": None, "where": _where(name, parts)}
    return [_anchor(parts[0]), whole] if name == NAMES["at anchor"] else [whole]


def _anchor(part: Part) -> Part:
    return {
        **part, "name": _(ANCHOR), "role": ANCHOR, "shape": "point", "points": [[0.0, 0.0]], "radius_m": None,
        "full_circle": False, "height": None, "where": _("at the position"),
    }  # fmt: skip


def _where(name: str, parts: Sequence[Part]) -> str:
    boarded = ", ".join(_boarded(part) for part in parts)
    if name == NAMES["at anchor"]:
        sentence = _("each may be anywhere within {radius} of the anchor: {parts}")
        return sentence.format(radius=paced(parts[0]["radius_m"]), parts=boarded)
    return _("each may be anywhere along the whole track: {parts}").format(parts=boarded)


def _boarded(part: Part) -> str:
    high = _("{part} ({height} high)").format(part=part["name"], height=part["height"])
    return high if part["height"] else str(part["name"])
