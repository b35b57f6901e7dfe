"""A placement in words: the lines that its text and its page print alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from afield.plugins.geometry.pacing import paced

Json = Mapping[str, Any]
SAME_M = 1.0
CAUTIONS = (
    "Places are found on the map only. Whether there is land there at all, ground, water, cliffs, power lines, fences "
    "and leave to be there are not looked at: judge them when you stand there.",
    "Only what the rules ask of the place is sought. The heights of trees, wires and masts are not in it.",
    "The uncertainty of the map and of a fix as stated above is taken off already; a worse fix needs more room.",
)
REGION = "with the operating position here and the station laid as for most room; uncertainty is taken off already"


def is_miss(found: Json) -> bool:
    """Whether the best that was found misses something."""
    best = found["best"]
    return best is not None and best["room_m"] < 0 and not best["verified"]


def headline(found: Json) -> str:
    """What was found, in a sentence or two."""
    count = len(found["claims"])
    all_count = "the claim counts" if count == 1 else f"all {count} claims count"
    if found["outcome"] == "fits" and found["best"]["room_m"] < 0:
        return f"Here {all_count}, but barely: with all uncertainty at its worst no place and bearing was found."
    if found["outcome"] == "fits":
        as_planned = "" if found["nearest"] else " Laid as planned the station fits nowhere in the window."
        return f"Here {all_count}.{as_planned}"
    if is_miss(found) and found["outcome"] == "cannot tell":
        return f"No place and bearing was found at which {all_count} for sure; at the nearest miss it cannot be told."
    if found["outcome"] == "cannot tell":
        return f"Whether {all_count} anywhere here cannot be told."
    return f"No place and bearing was found at which {all_count}."


def searched(found: Json) -> str:
    """Where was looked, and how well the place will be found."""
    window, fix = found["window"], found["accuracy"]
    level = fix["level"] or "68 %, as the plan does not say"
    return (
        f"Looked at {paced(window['half_m'])} to each side of {window['lat_deg']:.5f}, {window['lon_deg']:.5f}; "
        f"the place will be found to {fix['radius']} ({level})."
    )


def map_caption(found: Json) -> str:
    """How the map of all places is to be read."""
    squares = found["drawing"]["view"]["words"].capitalize()
    return f"{squares}; metres east and north of the middle of the window. Up is true north."


def station_caption(place: Json) -> str | None:
    """How the map of the station at one place is to be read; None where there is no such map."""
    if not place["map"]:
        return None
    squares = place["map"]["close"]["words"].capitalize()
    return f"{squares}; metres east and north of the operating position. Up is true north."


def hatched(words: str) -> str:
    """An area of the key, in words."""
    return f"{words}; hatched ground is outside it"


def places(found: Json) -> Iterator[tuple[str, Json]]:
    """The places to print, with their titles."""
    best, nearest = found["best"], found["nearest"]
    if is_miss(found):
        yield "Nearest miss", best
        return
    if best is not None and nearest is not None and _same(nearest, best):
        yield f"Most room, and nearest{_to_what(found)}, laid as planned", best
        return
    if nearest is not None:
        yield f"Nearest{_to_what(found)}, laid as planned", nearest
    if best is not None:
        yield "Most room" if found["outcome"] == "fits" else "Tried", best


def _to_what(found: Json) -> str:
    """The nearest is the one nearest to the middle of the window, which mostly is where the plan stands."""
    plan = found["drawing"]["plan"]
    return "" if plan is not None and max(map(abs, plan)) < SAME_M else " to the middle of the window"


def _same(one: Json, other: Json) -> bool:
    """Whether two places cannot be told apart on the ground."""
    apart = max(abs(one[axis] - other[axis]) for axis in ("east_m", "north_m"))
    return bool(apart < SAME_M and one["turn_deg"] == other["turn_deg"])


def position_words(place: Json) -> str:
    """To be typed into a phone."""
    return f"{place['lat_deg']:.6f}, {place['lon_deg']:.6f}"


def place_lines(place: Json) -> Iterator[str]:
    """The way there, how the station lies, and what is left."""
    if place["from_plan"] and place["from_plan"]["distance_m"] >= 0.1:
        yield f"from the position in the plan: {way(place['from_plan'])}"
    elif place["from_plan"]:
        yield "the position in the plan"
    if place["from_access"]:
        yield f"from the access point: {way(place['from_access'])}"
    yield from laid(place["parts"])
    yield from room_lines(place)


def way(told: Json) -> str:
    """Distance and bearing, true and by compass."""
    compass = "" if told["compass_deg"] is None else f", {told['compass_deg']:03d}° by compass"
    return f"{paced(told['distance_m'])} at {told['bearing_deg']:03d}° true{compass}"


def laid(parts: Iterable[Json]) -> Iterator[str]:
    """Which way each part runs, parts that run alike in one line."""
    by_words: dict[str, list[str]] = {}
    for part in parts:
        if part["bearing_deg"] is not None:
            compass = "" if part["compass_deg"] is None else f", {part['compass_deg']:03d}° by compass"
            by_words.setdefault(f"{part['bearing_deg']:03d}° true{compass}", []).append(part["part"])
    yield from (f"{' and '.join(names)}: {words}" for words, names in by_words.items())


def room_lines(place: Json) -> Iterator[str]:
    """By how much the rules are kept, or missed."""
    if place["room_m"] < 0 and not place["verified"]:
        yield f"too little by {paced(-place['room_m'])}, limits and uncertainty together"
    elif place["verified"]:
        more = "more than " if place["more_room"] else ""
        if place["room_m"] > 0:
            yield f"room beyond limits and uncertainty: {more}{paced(place['room_m'])}"
        if place["room_m"] < 0:
            yield "by the rules it counts; no room to move is certain"
            return
        yield f"laid so, the position may move by {paced(place['slack_m'])} before a claim is lost"


def open_verdicts(place: Json) -> Iterator[str]:
    """What keeps a place from counting, verdict by verdict."""
    for verdict in place["verdicts"]:
        if verdict["outcome"] not in ("passed", "not applicable"):
            why = verdict["reason"] or (f"margin {verdict['margin']}" if verdict["margin"] else "")
            yield f"{verdict['outcome']}: {verdict['title']} ({name_of(verdict['subject'])}){': ' if why else ''}{why}"


def claim_lines(found: Json) -> Iterator[str]:
    """Each claim alone."""
    for claim in found["claims"]:
        area = claim["area_as_laid_m2"]
        where = f"{area:,.0f} m² of the window".replace(",", " ") if area else "nowhere in the window for sure"
        yield f"{claim['label']}: {'cannot be told' if area is None else where}"
        yield from (f"  wherever the station stands: {text}" for text in claim["against"])


def set_lines(found: Json) -> Iterator[str]:
    """What can be had together where not all can."""
    if len(found["claims"]) > 1 and len(found["claims"]) not in map(len, found["sets"]):
        yield from (", ".join(name_of(claim) for claim in names) for names in found["sets"])


def bearing_lines(bearings: Json) -> Iterator[str]:
    """Which way the antenna may run."""
    if bearings["any"]:
        yield "No part has a bearing: each is taken by its full circle, so every bearing is the same."
        return
    part = bearings["part"]
    by_state: dict[str, list[Json]] = {}
    for arc in bearings["arcs"]:
        by_state.setdefault(arc["found"], []).append(arc)
    if by_state.keys() == {"fits"}:
        yield f"The {part} fits somewhere at every bearing that was tried, {bearings['step_deg']:.0f}° apart."
        return
    if by_state and "fits" not in by_state:
        yield f"At no bearing the {part} was found to fit for sure."
    told = [state for state in STATES if state in by_state] if by_state.keys() != {"does not fit"} else []
    for state in told:
        who = f"The {part} " if state == "fits" else ""
        yield f"{who}{STATES[state]}: {arc_words(by_state[state])}"


STATES = {
    "fits": "fits somewhere",
    "does not fit": "fits nowhere for sure",
    "cannot tell": "neither found to fit nor ruled out",
}
"""What was found at a bearing, in words."""


def arc_words(arcs: Iterable[Json]) -> str:
    """Arcs as bearings from and to."""
    ends = ((arc["from_deg"], arc["from_deg"] + arc["width_deg"]) for arc in arcs)
    return ", ".join(f"{round(start) % 360:03d}° to {round(end) % 360:03d}°" for start, end in ends) + " true"


def name_of(claim: str) -> str:
    """A subject's key as the reader knows it."""
    return claim.partition(":")[2] or claim
