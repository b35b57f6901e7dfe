"""`afield near` in words, from its JSON alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import _, local_digits, marked, ngettext, printed, printed_both

Json = Mapping[str, Any]
PACED_M = 1000.0
"""Distances below this are paced out: printed in both systems of units."""
LEAST_APART_M = 0.5
LINE_OR_POINT = {"line": marked("{distance} to the line"), "point": marked("{distance} to the point")}
SIDES = {True: marked("inside: {distance} to the boundary"), False: marked("outside: {distance} to the boundary")}
SIDES_AS_DRAWN = {
    True: marked("inside as drawn: {distance} to the boundary"),
    False: marked("outside as drawn: {distance} to the boundary"),
}
NO_SIDE = marked("cannot tell whether inside: {distance} to the boundary")
REACHES = {
    "inside": marked("a station that reaches {reach} from there is inside as a whole, whatever its bearing"),
    "outside": marked("a station that reaches {reach} from there has no part inside"),
    "by bearing": marked("a station that reaches {reach} from there may cross the boundary: it depends on its bearing"),
    "cannot tell": marked("cannot tell whether a station that reaches {reach} from there is inside as a whole"),
}
"""What was found of a station's reach -> the sentence."""


def near_text(found: Json) -> str:
    """The answer as lines of text."""
    lines = [*_heading(found), *_references(found), *_together(found), *_trip(found), *_notes(found)]
    return "".join(f"{printable(line)}\n" for line in lines)


def printable(line: str) -> str:
    """The line without characters that could steer a terminal: names come from strangers' files."""
    return "".join(character if character.isprintable() else "\N{REPLACEMENT CHARACTER}" for character in line)


def _heading(found: Json) -> Iterator[str]:
    at, catalogue = found["position"], found["catalogue"]
    place = f"{at['lat']:.5f}, {at['lon']:.5f}"
    yield _("{place} (WGS 84, from {form})").format(place=place, form=at["form"])
    told = ngettext(
        "References within {distance}, of {count} reference in {file}:",
        "References within {distance}, of {count} references in {file}:",
        catalogue["references"],
    )
    count, distance = _thousands(catalogue["references"]), _length(found["within_m"])
    yield told.format(distance=distance, count=count, file=catalogue["file"])


def _thousands(count: int) -> str:
    """With commas, but where a comma is the decimal sign with spaces."""
    return f"{count:,}".replace(",", " " if local_digits(".") == "," else ",")


def _length(metres: float) -> str:
    return local_digits(f"{metres / 1000:g} km" if metres >= 1000 else f"{metres:g} m")


def _references(found: Json) -> Iterator[str]:
    for each in found["references"]:
        program = f"{each['program']}, " if each["program"] else ""
        yield f"  {each['name']} ({program}{_(each['kind'])})"
        yield f"    {_where(each)}"
        if each["reach"]:
            yield f"    {_reach(each, found['reach_m'])}"
    if not found["references"]:
        yield _("  none")


def _where(each: Json) -> str:
    towards = _("at {bearing} deg true ({towards})").format(
        bearing=f"{round(each['bearing_deg']) % 360:03d}", towards=_(each["towards"])
    )
    # A bearing to what one stands on says nothing.
    return ", ".join([_side_words(each), *([towards] if each["distance_m"] >= LEAST_APART_M else [])])


def _side_words(each: Json) -> str:
    distance = _distance(each)
    if each["inside"] is None:
        return _(LINE_OR_POINT[each["kind"]]).format(distance=distance)
    if each["unknown_because"]:
        return _(SIDES_AS_DRAWN[each["inside"]]).format(distance=distance)
    return _(SIDES[each["inside"]] if each["sure"] else NO_SIDE).format(distance=distance)


def _distance(each: Json) -> str:
    metres, half = each["distance_m"], each["uncertainty_m"]
    if half is None:
        told = _("{distance} (± not known: {why})")
        return told.format(distance=_about(metres), why=_(each["unknown_because"]))
    if metres < PACED_M:
        return printed(metres, half, "m", also_imperial=True)
    return printed(metres / 1000, half / 1000, "km")


def _about(metres: float) -> str:
    return printed_both(round(metres), "m") if metres < PACED_M else local_digits(f"{metres / 1000:.2f} km")


def _reach(each: Json, reach_m: float) -> str:
    reach = printed_both(reach_m)
    if each["reach"]["finding"] is None:
        told = _("a station that reaches {reach} from there has no part farther than {distance} from it, as drawn")
        return told.format(reach=reach, distance=_about(each["reach"]["farthest_m"]))
    return _(REACHES[each["reach"]["finding"]]).format(reach=reach)


def _together(found: Json) -> Iterator[str]:
    if found["whole_inside"] is None:
        return
    names = [found["references"][number]["name"] for number in found["whole_inside"]]
    holding = _("Hold such a station as a whole, all at once: {names}").format(names=", ".join(names))
    yield holding if names else _("Hold such a station as a whole, all at once: none")
    if not found["trip"]:
        yield _("What counts is for each program's rules to say: judge it with --trip.")


def _trip(found: Json) -> Iterator[str]:
    trip = found["trip"]
    if not trip:
        return
    yield _("Judged with the station and the packs of {file}:").format(file=trip["file"])
    for claim in trip["claims"]:
        because = f" ({claim['because']})" if claim["because"] else ""
        margin = f", {claim['worst_margin']}" if claim["worst_margin"] and not because else ""
        yield f"  {claim['label']}: {claim['words']}{margin}{because}"
    unjudged = _("{reference}: not judged: {why}")
    yield from (f"  {unjudged.format(reference=each['label'], why=each['why'])}" for each in trip["not_judged"])
    yield f"  {trip['together'] or _('no reference here is of a program that can be judged')}"


def _notes(found: Json) -> Iterator[str]:
    yield from (_("note: {note}").format(note=note) for note in found["position"]["notes"])
    if found["position"]["accuracy_m"] is None and found["position"]["form"] != "locator":
        yield _("note: how accurate the position is, is not stated and not in the ±: give --accuracy.")
    for layer in found["layers"]:
        if layer["map_accuracy_m"] is not None and layer["level"] is None:
            unlevelled = _("note: the accuracy of {file} is stated without a level; it is taken as 68 %.")
            yield unlevelled.format(file=layer["file"])
        yield _("source: {layer}: {stated}").format(layer=f"{layer['file']}#{layer['name']}", stated=_stated(layer))


def _stated(layer: Json) -> str:
    edges = _("{model} edges").format(model=layer["edge_model"])
    stated = [layer["source"] or _("source not stated"), layer["dated"], layer["licence"], edges]
    return ", ".join(word for word in stated if word)
