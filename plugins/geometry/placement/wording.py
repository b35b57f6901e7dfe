"""A placement in words: the lines that its text and its page print alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from afield.core.api import _, local_digits, marked, ngettext
from afield.plugins.geometry.pacing import paced, way_words

Json = Mapping[str, Any]
SAME_M = 1.0
CAUTIONS = (
    marked(
        "Places are found on the map only. Whether there is land there at all, ground, water, cliffs, power lines, "
        "fences and leave to be there are not looked at: judge them when you stand there."
    ),
    marked("Only what the rules ask of the place is sought. The heights of trees, wires and masts are not in it."),
    marked(
        "The uncertainty of the map and of a fix as stated above is taken off already; a worse fix needs more room."
    ),
)
REGION = marked(
    "with the operating position here and the station laid as for most room; uncertainty is taken off already"
)
OUTCOMES = (marked("failed"), marked("cannot tell"))
"""Of verdicts that keep a place from counting."""


def is_miss(found: Json) -> bool:
    """Whether the best that was found misses something."""
    best = found["best"]
    return best is not None and best["room_m"] < 0 and not best["verified"]


def headline(found: Json) -> str:
    """What was found, in a sentence or two."""
    count = len(found["claims"])
    if found["outcome"] == "fits":
        return _fitting_words(found, count)
    if is_miss(found) and found["outcome"] == "cannot tell":
        told = ngettext(
            "No place and bearing was found at which the claim counts for sure; at the nearest miss it cannot be told.",
            "No place and bearing was found at which all {count} claims count for sure; at the nearest miss it cannot "
            "be told.",
            count,
        )
    elif found["outcome"] == "cannot tell":
        told = ngettext(
            "Whether the claim counts anywhere here cannot be told.",
            "Whether all {count} claims count anywhere here cannot be told.",
            count,
        )
    else:
        told = ngettext(
            "No place and bearing was found at which the claim counts.",
            "No place and bearing was found at which all {count} claims count.",
            count,
        )
    return told.format(count=count)


def _fitting_words(found: Json, count: int) -> str:
    if found["best"]["room_m"] < 0:
        barely = ngettext(
            "Here the claim counts, but barely: with all uncertainty at its worst no place and bearing was found.",
            "Here all {count} claims count, but barely: with all uncertainty at its worst no place and bearing was "
            "found.",
            count,
        )
        return barely.format(count=count)
    told = ngettext("Here the claim counts.", "Here all {count} claims count.", count).format(count=count)
    as_planned = [] if found["nearest"] else [_("Laid as planned the station fits nowhere in the window.")]
    return " ".join([told, *as_planned])


def searched(found: Json) -> str:
    """Where was looked, and how well the place will be found."""
    window, fix = found["window"], found["accuracy"]
    level = fix["level"] or _("68 %, as the plan does not say")
    told = _("Looked at {length} to each side of {place}; the place will be found to {radius} ({level}).")
    place = f"{window['lat_deg']:.5f}, {window['lon_deg']:.5f}"
    return told.format(
        length=paced(window["half_m"]), place=place, radius=local_digits(fix["radius"]), level=local_digits(level)
    )


def map_caption(found: Json) -> str:
    """How the map of all places is to be read."""
    told = _("{square}; metres east and north of the middle of the window. Up is true north.")
    return told.format(square=_begun(found["drawing"]["view"]["words"]))


def _begun(words: str) -> str:
    """The words as a sentence begins."""
    return words[:1].upper() + words[1:]


def station_caption(place: Json) -> str | None:
    """How the map of the station at one place is to be read; None where there is no such map."""
    if not place["map"]:
        return None
    told = _("{square}; metres east and north of the operating position. Up is true north.")
    return told.format(square=_begun(place["map"]["close"]["words"]))


def hatched(words: str) -> str:
    """An area of the key, in words."""
    return _("{words}; hatched ground is outside it").format(words=words)


def places(found: Json) -> Iterator[tuple[str, Json]]:
    """The places to print, with their titles."""
    best, nearest = found["best"], found["nearest"]
    if is_miss(found):
        yield _("Nearest miss"), best
        return
    if best is not None and nearest is not None and _same(nearest, best):
        to_middle = _("Most room, and nearest to the middle of the window, laid as planned")
        yield _("Most room, and nearest, laid as planned") if _is_planned_middle(found) else to_middle, best
        return
    if nearest is not None:
        to_middle = _("Nearest to the middle of the window, laid as planned")
        yield _("Nearest, laid as planned") if _is_planned_middle(found) else to_middle, nearest
    if best is not None:
        yield _("Most room") if found["outcome"] == "fits" else _("Tried"), best


def _is_planned_middle(found: Json) -> bool:
    """The nearest is the one nearest to the middle of the window, which mostly is where the plan stands."""
    plan = found["drawing"]["plan"]
    return plan is not None and max(map(abs, plan)) < SAME_M


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
        yield _("from the position in the plan: {way}").format(way=way(place["from_plan"]))
    elif place["from_plan"]:
        yield _("the position in the plan")
    if place["from_access"]:
        yield _("from the access point: {way}").format(way=way(place["from_access"]))
    yield from laid(place["parts"])
    yield from room_lines(place)


def way(told: Json) -> str:
    """Distance and bearing, true and by compass."""
    return way_words(told["distance_m"], told["bearing_deg"], told["compass_deg"])


def laid(parts: Iterable[Json]) -> Iterator[str]:
    """Which way each part runs, parts that run alike in one line."""
    by_words: dict[str, list[str]] = {}
    for part in parts:
        if part["bearing_deg"] is not None:
            by_words.setdefault(_bearing_words(part["bearing_deg"], part["compass_deg"]), []).append(part["part"])
    yield from (f"{_all_of(names)}: {words}" for words, names in by_words.items())


def _bearing_words(bearing_deg: int, compass_deg: int | None) -> str:
    if compass_deg is None:
        return _("{bearing}° true").format(bearing=f"{bearing_deg:03d}")
    told = _("{bearing}° true, {compass}° by compass")
    return told.format(bearing=f"{bearing_deg:03d}", compass=f"{compass_deg:03d}")


def _all_of(names: list[str]) -> str:
    named = names[0]
    for name in names[1:]:
        named = _("{first} and {second}").format(first=named, second=name)
    return named


def room_lines(place: Json) -> Iterator[str]:
    """By how much the rules are kept, or missed."""
    if place["room_m"] < 0 and not place["verified"]:
        lack = _("too little by {length}, limits and uncertainty together")
        yield lack.format(length=paced(-place["room_m"]))
    elif place["verified"]:
        exactly, more = (
            _("room beyond limits and uncertainty: {length}"),
            _("room beyond limits and uncertainty: more than {length}"),
        )
        if place["room_m"] > 0:
            yield (more if place["more_room"] else exactly).format(length=paced(place["room_m"]))
        if place["room_m"] < 0:
            yield _("by the rules it counts; no room to move is certain")
            return
        slack = _("laid so, the position may move by {length} before a claim is lost")
        yield slack.format(length=paced(place["slack_m"]))


def open_verdicts(place: Json) -> Iterator[str]:
    """What keeps a place from counting, verdict by verdict."""
    for verdict in place["verdicts"]:
        if verdict["outcome"] not in ("passed", "not applicable"):
            margin = [_("margin {margin}").format(margin=verdict["margin"])] if verdict["margin"] else []
            why = [verdict["reason"]] if verdict["reason"] else margin
            told = f"{verdict['title']} ({name_of(verdict['subject'])})"
            yield ": ".join([_(verdict["outcome"]), told, *why])


def claim_lines(found: Json) -> Iterator[str]:
    """Each claim alone."""
    for claim in found["claims"]:
        yield f"{claim['label']}: {_where_words(claim['area_as_laid_m2'])}"
        against = _("wherever the station stands: {why}")
        yield from (f"  {against.format(why=text)}" for text in claim["against"])


def _where_words(area_m2: float | None) -> str:
    if area_m2 is None:
        return _("cannot be told")
    somewhere = _("{area} m² of the window").format(area=f"{area_m2:,.0f}".replace(",", " "))
    return somewhere if area_m2 else _("nowhere in the window for sure")


def set_lines(found: Json) -> Iterator[str]:
    """What can be had together where not all can."""
    if len(found["claims"]) > 1 and len(found["claims"]) not in map(len, found["sets"]):
        yield from (", ".join(name_of(claim) for claim in names) for names in found["sets"])


def bearing_lines(bearings: Json) -> Iterator[str]:
    """Which way the antenna may run."""
    if bearings["any"]:
        yield _("No part has a bearing: each is taken by its full circle, so every bearing is the same.")
        return
    part = bearings["part"]
    by_state: dict[str, list[Json]] = {}
    for arc in bearings["arcs"]:
        by_state.setdefault(arc["found"], []).append(arc)
    if by_state.keys() == {"fits"}:
        everywhere = _("The {part} fits somewhere at every bearing that was tried, {step}° apart.")
        yield everywhere.format(part=part, step=f"{bearings['step_deg']:.0f}")
        return
    if by_state and "fits" not in by_state:
        yield _("At no bearing the {part} was found to fit for sure.").format(part=part)
    told = [state for state in STATES if state in by_state] if by_state.keys() != {"does not fit"} else []
    for state in told:
        words = _("The {part} fits somewhere").format(part=part) if state == "fits" else _(STATES[state])
        yield f"{words}: {arc_words(by_state[state])}"


STATES = {
    "fits": marked("fits somewhere"),
    "does not fit": marked("fits nowhere for sure"),
    "cannot tell": marked("neither found to fit nor ruled out"),
}
"""What was found at a bearing, in words."""


def arc_words(arcs: Iterable[Json]) -> str:
    """Arcs as bearings from and to."""
    ends = ((arc["from_deg"], arc["from_deg"] + arc["width_deg"]) for arc in arcs)
    arc_told = _("{start}° to {end}°")
    told = (arc_told.format(start=f"{round(a) % 360:03d}", end=f"{round(b) % 360:03d}") for a, b in ends)
    return _("{arcs} true").format(arcs=", ".join(told))


def name_of(claim: str) -> str:
    """A subject's key as the reader knows it."""
    return claim.partition(":")[2] or claim
