"""The packing list as JSON: bags with their items in order of setting up, masses, and how all of it is joined."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import sqrt
from typing import Any

from afield.core.api import _, marked, ngettext, printed
from afield.plugins.kit.joints import joined_words
from afield.plugins.kit.picture.data import picture_data
from afield.plugins.kit.words import class_words, setting_up

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]
Json = dict[str, Any]

WANTS = (
    "item.name", "item.class", "item.bag", "item.mass", "item.spare_of", "item.consumables", "item.has_spare",
    "item.is_essential", "kit.wiring", "kit.hand_set", "connection.fits",
)  # fmt: skip
NO_BAG = marked("Not yet in a bag")
MARKS = {True: marked("joined"), False: marked("does not fit"), None: marked("cannot tell")}
NOISE = marked("{name} makes RF noise: listen with it and without it joined, and keep it away from the antenna.")
STATES = {True: marked("complete"), False: marked("incomplete"), None: marked("cannot tell")}


def packing_data(facts: Facts) -> Json | None:
    """The JSON of the section (schemas/sections/packing.json); None for a plan without a kit."""
    if not facts["item.name"]:
        return None
    rows = [_item(key, facts) for key in facts["item.name"]]
    bags = list(dict.fromkeys(row["bag"] for row in rows))
    # What is not yet in a bag stands last, to be packed.
    ordered = sorted(bags, key=lambda bag: bag is None)
    wiring = _value(facts["kit.wiring"].get("trip")) or {"joints": [], "chains": [], "noisy": []}
    return {
        "bags": [_bag(bag, [row for row in rows if row["bag"] == bag]) for bag in ordered],
        "total": {"items": len(rows), "mass": _mass_words(rows)},
        "chains": [_chain(chain, wiring["joints"]) for chain in wiring["chains"]],
        "others": list(_others(wiring)),
        "picture": picture_data(wiring, MARKS),
        "cautions": [_(NOISE).format(name=name) for name in wiring["noisy"]],
        "hand_set": _value(facts["kit.hand_set"].get("trip")),
        "hand_set_unknown": _reason(facts["kit.hand_set"].get("trip")),
    }


def _value(record: Mapping[str, Any] | None) -> Any:
    return record["value"] if record and record["reason"] is None else None


def _reason(record: Mapping[str, Any] | None) -> str | None:
    return str(record["reason"]["text"]) if record and record["reason"] else None


def _item(key: str, facts: Facts) -> Json:
    told = {name: _value(facts[name].get(key)) for name in WANTS}
    spare = facts["item.has_spare"].get(key)
    mass = facts["item.mass"].get(key)
    return {
        "name": told["item.name"],
        "class": told["item.class"],
        "bag": told["item.bag"],
        "mass_kg": told["item.mass"],
        "uncertainty_kg": mass["uncertainty"] if mass and mass["reason"] is None else None,
        "essential": told["item.is_essential"],
        "spare": (spare["detail"].get("spare") or None) if spare and spare["reason"] is None else None,
        "spare_of": told["item.spare_of"],
        "consumables": told["item.consumables"] or [],
    }


def _bag(bag: str | None, rows: list[Json]) -> Json:
    ordered = sorted(rows, key=lambda row: setting_up(row["class"]))
    return {"name": bag or _(NO_BAG), "mass": _mass_words(rows), "items": [_printed(row) for row in ordered]}


def _printed(row: Json) -> Json:
    kept = ("name", "class", "essential", "spare", "spare_of", "consumables")
    mass = None if row["mass_kg"] is None else printed(row["mass_kg"], row["uncertainty_kg"], "kg")
    # The digits already say how well it is known; the ± stands at the sums.
    words = {
        "class": class_words(row["class"]) if row["class"] else None,
        "mass": mass.partition(" ±")[0] if mass else None,
    }
    return {**{key: row[key] for key in kept}, **words}


def _mass_words(rows: Iterable[Json]) -> str:
    """The sum of the masses with its uncertainty; of how many items it is not known."""
    found = list(rows)
    weighed = [row for row in found if row["mass_kg"] is not None]
    silent = len(found) - len(weighed)
    if not weighed:
        return _("no masses stated")
    around = sqrt(sum(row["uncertainty_kg"] ** 2 for row in weighed))
    total = printed(sum(row["mass_kg"] for row in weighed), around, "kg")
    if not silent:
        return total
    words = ngettext(
        "{mass} and {count} item without a stated mass", "{mass} and {count} items without a stated mass", silent
    )
    return words.format(mass=total, count=silent)


def _chain(chain: Json, joints: Iterable[Json]) -> Json:
    """A chain with its joints in order; a broken one with the piece that it lacks."""
    by_key = {joint["connection"]: joint for joint in joints}
    steps = [_step(by_key[key]) for key in chain["connections"]]
    if chain["complete"] is False and not steps:
        steps = [{"mark": "missing", "words": _("needs {piece}").format(piece=chain["needs"]), "note": chain["why"]}]
    note = chain["why"] if chain["complete"] is None else None
    return {"title": chain["title"], "state": STATES[chain["complete"]], "note": note, "steps": steps}


def _step(joint: Json) -> Json:
    inferred = joint["inferred"] and joint["fits"] is not False
    mark = "inferred" if inferred and joint["fits"] else MARKS[joint["fits"]]
    needing = _("{why}: needs {piece}").format(why=joint["why"], piece=joint["needs"])
    note = needing if joint["needs"] else joint["why"]
    return {"mark": mark, "words": joined_words(joint["from"], joint["to"]), "note": note or None}


def _others(wiring: Json) -> Iterator[Json]:
    """Joints that no required chain goes through."""
    used = {key for chain in wiring["chains"] for key in chain["connections"]}
    return (_step(joint) for joint in wiring["joints"] if joint["connection"] not in used)
