"""`afield near` in words, from its JSON alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import printed, printed_both

Json = Mapping[str, Any]
PACED_M = 1000.0
"""Distances below this are paced out: printed in both systems of units."""
LEAST_APART_M = 0.5
LINE_OR_POINT = {"line": "the line", "point": "the point"}


def near_text(found: Json) -> str:
    """The answer as lines of text."""
    lines = [*_heading(found), *_references(found), *_together(found), *_trip(found), *_notes(found)]
    return "".join(f"{printable(line)}\n" for line in lines)


def printable(line: str) -> str:
    """The line without characters that could steer a terminal: names come from strangers' files."""
    return "".join(character if character.isprintable() else "\N{REPLACEMENT CHARACTER}" for character in line)


def _heading(found: Json) -> Iterator[str]:
    at, catalogue = found["position"], found["catalogue"]
    yield f"{at['lat']:.5f}, {at['lon']:.5f} (WGS 84, from {at['form']})"
    count = f"{catalogue['references']:,} reference{'' if catalogue['references'] == 1 else 's'}"
    yield f"References within {_length(found['within_m'])}, of {count} in {catalogue['file']}:"


def _length(metres: float) -> str:
    return f"{metres / 1000:g} km" if metres >= 1000 else f"{metres:g} m"


def _references(found: Json) -> Iterator[str]:
    for each in found["references"]:
        program = f"{each['program']}, " if each["program"] else ""
        yield f"  {each['name']} ({program}{each['kind']})"
        yield f"    {_where(each)}"
        if each["reach"]:
            yield f"    {_reach(each, found['reach_m'])}"
    if not found["references"]:
        yield "  none"


def _where(each: Json) -> str:
    distance = _distance(each)
    # A bearing to what one stands on says nothing.
    is_apart = each["distance_m"] >= LEAST_APART_M
    towards = f", at {round(each['bearing_deg']) % 360:03d} deg true ({each['towards']})" if is_apart else ""
    if each["inside"] is None:
        return f"{distance} to {LINE_OR_POINT[each['kind']]}{towards}"
    side = "inside" if each["inside"] else "outside"
    if each["unknown_because"]:
        side = f"{side} as drawn"
    elif not each["sure"]:
        side = "cannot tell whether inside"
    return f"{side}: {distance} to the boundary{towards}"


def _distance(each: Json) -> str:
    metres, half = each["distance_m"], each["uncertainty_m"]
    if half is None:
        return f"{_about(metres)} (± not known: {each['unknown_because']})"
    if metres < PACED_M:
        return printed(metres, half, "m", also_imperial=True)
    return printed(metres / 1000, half / 1000, "km")


def _about(metres: float) -> str:
    return printed_both(round(metres), "m") if metres < PACED_M else f"{metres / 1000:.2f} km"


def _reach(each: Json, reach_m: float) -> str:
    station = f"a station that reaches {printed_both(reach_m)} from there"
    if each["reach"]["finding"] is None:
        return f"{station} has no part farther than {_about(each['reach']['farthest_m'])} from it, as drawn"
    return {
        "inside": f"{station} is inside as a whole, whatever its bearing",
        "outside": f"{station} has no part inside",
        "by bearing": f"{station} may cross the boundary: it depends on its bearing",
        "cannot tell": f"cannot tell whether {station} is inside as a whole",
    }[each["reach"]["finding"]]


def _together(found: Json) -> Iterator[str]:
    if found["whole_inside"] is None:
        return
    names = [found["references"][number]["name"] for number in found["whole_inside"]]
    yield f"Hold such a station as a whole, all at once: {', '.join(names) if names else 'none'}"
    if not found["trip"]:
        yield "What counts is for each program's rules to say: judge it with --trip."


def _trip(found: Json) -> Iterator[str]:
    trip = found["trip"]
    if not trip:
        return
    yield f"Judged with the station and the packs of {trip['file']}:"
    for claim in trip["claims"]:
        because = f" ({claim['because']})" if claim["because"] else ""
        margin = f", {claim['worst_margin']}" if claim["worst_margin"] and not because else ""
        yield f"  {claim['label']}: {claim['words']}{margin}{because}"
    yield from (f"  {each['label']}: not judged: {each['why']}" for each in trip["not_judged"])
    yield f"  {trip['together']}" if trip["together"] else "  no reference here is of a program that can be judged"


def _notes(found: Json) -> Iterator[str]:
    yield from (f"note: {note}" for note in found["position"]["notes"])
    if found["position"]["accuracy_m"] is None and found["position"]["form"] != "locator":
        yield "note: how accurate the position is, is not stated and not in the ±: give --accuracy."
    for layer in found["layers"]:
        if layer["map_accuracy_m"] is not None and layer["level"] is None:
            yield f"note: the accuracy of {layer['file']} is stated without a level; it is taken as 68 %."
        yield f"source: {layer['file']}#{layer['name']}: {layer['source'] or 'source not stated'}{_more(layer)}"


def _more(layer: Json) -> str:
    stated = [layer["dated"], layer["licence"], f"{layer['edge_model']} edges"]
    return "".join(f", {word}" for word in stated if word)
