"""What must be set by hand: what an item needs and no feature of any item does by itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from afield.core.api import CannotTell, _
from afield.plugins.kit.model import Item
from afield.plugins.kit.wiring import Wiring
from afield.plugins.kit.words import CHANGES_BAND, KEEPS_TIME, WITH_FEATURES, key_of


def hand_set(wiring: Wiring) -> list[str]:
    """Each thing that must be set by hand, in words, in the order of the kit.

    Raises:
        CannotTell: an item of which it matters what it does by itself, and of which that is not stated.

    """
    items = [item for item in wiring.kit.items.values() if item.spare_of is None]
    for item in items:
        if item.class_ in WITH_FEATURES and item.features is None:
            settle = key_of("features", item.name, item.origin.document.name)
            why = _("the features of {name} are not stated").format(name=item.name)
            raise CannotTell(why, settle, "not stated", f"item:{item.key}")
    return [line for item in items for line in _lines(item, wiring)]


def _lines(item: Item, wiring: Wiring) -> Iterator[str]:
    features = item.features or ()
    if item.class_ in CHANGES_BAND and not set(features) & {"covers all bands", "follows the band", "needs tuning"}:
        yield _("set the band of {name}").format(name=item.name)
    if "needs tuning" in features and "tunes" not in features:
        yield from _tuning(item, wiring)
    if item.class_ in KEEPS_TIME and "sets its clock" not in features:
        yield from _clock(item, wiring)


def _tuning(item: Item, wiring: Wiring) -> Iterator[str]:
    beside = joined_with(item, wiring, "RF")
    if any("tunes" in (other.features or ()) for other in beside):
        return
    tuner = next((other for other in beside if other.class_ == "tuner"), None)
    by = _("tune {name} with {tuner}") if tuner else _("tune {name}; no tuner is joined to it")
    yield by.format(name=item.name, tuner=tuner.name if tuner else "")


def _clock(item: Item, wiring: Wiring) -> Iterator[str]:
    beside = [*joined_with(item, wiring, "data"), *joined_with(item, wiring, "USB")]
    if any(_gives_time(other) for other in beside):
        return
    source = next(filter(_gives_time, wiring.kit.items.values()), None)
    alone = _("set the clock of {name}; nothing in the kit gives the time")
    by = _("set the clock of {name} by {source}") if source else alone
    yield by.format(name=item.name, source=source.name if source else "")


def _gives_time(item: Item) -> bool:
    return "gives the time" in (item.features or ())


def joined_with(item: Item, wiring: Wiring, role: str) -> list[Item]:
    """The other items that joints of a role join it to, directly or through others."""
    groups: dict[str, set[str]] = {}
    for one, other in _pairs(wiring, role):
        whole = groups.get(one, {one}) | groups.get(other, {other})
        groups.update(dict.fromkeys(whole, whole))
    return [wiring.kit.items[key] for key in sorted(groups.get(item.key, set()) - {item.key})]


def _pairs(wiring: Wiring, role: str) -> Iterable[tuple[str, str]]:
    for joint in wiring.joints:
        if len(joint.ports) == 2 and joint.ports[0].role == role:
            yield joint.ports[0].item, joint.ports[1].item
