"""A placement in the words and keys that page, briefing and text print: made from its JSON, drawn with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import _
from afield.plugins.geometry.placement import wording
from afield.plugins.geometry.placement.figures import names_of

Json = Mapping[str, Any]
AREAS = 4
"""Hatchings that are told apart."""


def section_data(found: Json) -> dict[str, Any]:
    """The data of the section, by schemas/sections/place.json."""
    return {
        "answer": wording.headline(found),
        "places": [_place(found, title, place) for title, place in wording.places(found)],
        "searched": wording.searched(found),
        "cautions": [_(caution) for caution in wording.CAUTIONS],
        "map": {"caption": wording.map_caption(found), "key": [*_marks(found), *_references(found), *_zones(found)]},
        "bearings": {"lines": list(wording.bearing_lines(found["bearings"])), "key": list(_states(found))},
        "sets": list(wording.set_lines(found)),
        "claims": list(wording.claim_lines(found)),
        "unsearched": list(found["unsearched"]),
    }


def _place(found: Json, title: str, place: Json) -> Json:
    return {
        "which": "best" if place is found["best"] else "nearest",
        "title": title,
        "position": wording.position_words(place),
        "forms": [form for name, form in place["forms"].items() if name != "decimal" and form],
        "lines": list(wording.place_lines(place)),
        "open": [] if place["verified"] else list(wording.open_verdicts(place)),
        "caption": wording.station_caption(place),
    }


def _row(name: str | None, words: str, *samples: str) -> Json:
    return {"samples": list(samples), "name": name, "words": words}


def _marks(found: Json) -> Iterator[Json]:
    """What the map shows besides the claimed places."""
    drawing = found["drawing"]
    if found["region"]:
        yield _row(_("all claims count"), _(wording.REGION), "region")
    yield _row(None, _("where the search ends, not a boundary"), "window")
    if drawing["stations"]:
        yield _row(None, _("a place found, with the station as it is laid there"), "place")
    if drawing["plan"]:
        yield _row(None, _("the position in the plan"), "plan")
    if drawing["access"]:
        yield _row(None, _("the access point"), "access")


def _references(found: Json) -> Iterator[Json]:
    areas = 0
    for reference in found["drawing"]["references"]:
        words, samples = reference["words"], [reference["kind"]]
        if reference["kind"] == "area":
            words, samples = wording.hatched(words), [f"area {areas % AREAS}"]
            areas += 1
        yield _row(reference["title"], words, *samples, *(["corridor"] if reference["corridor_m"] else []))


def _zones(found: Json) -> Iterator[Json]:
    """On the maps of the station, the ground of each summit once."""
    maps = [place["map"] for _, place in wording.places(found) if place["map"]]
    zones = {each["title"]: each["zone"]["words"] for drawn in maps for each in drawn["references"] if each["zone"]}
    yield from (_row(title, words, "zone") for title, words in zones.items())


def _states(found: Json) -> Iterator[Json]:
    """What the rose shows; nothing where there is none."""
    bearings = found["bearings"]
    states = {arc["found"] for arc in bearings["arcs"]}
    yield from (_row(None, _(words), state) for state, words in wording.STATES.items() if state in states)
    if states:
        yield _row(None, _("as planned"), "planned")
    if states and bearings["best_deg"] is not None:
        yield _row(None, names_of(found)["best"], "best")
