"""Facts of one item, of one connection, and of one chain."""

from __future__ import annotations

from typing import TYPE_CHECKING

from afield.core.api import CannotTell, Estimate, Fact, Subject, Tool, _, amount_in, fact, marked
from afield.plugins.kit.kit_facts import DOMINATORS, SEARCH, needed_chains, refuse_incomplete, refuse_unsure
from afield.plugins.kit.words import JOINS, POWERS, key_of, silent_ports

if TYPE_CHECKING:
    from afield.plugins.kit.model import Item, Kit
    from afield.plugins.kit.wiring import Wiring

OF_A_STATED_MASS, OF_A_TYPICAL_MASS, LEAST_KG = 0.05, 0.2, 0.001
"""95 %, of the mass: as weighed at home or read from a data sheet, and as the catalogue has it; and never less."""

IN_CHAINS = frozenset(
    (*JOINS, *POWERS, "antenna", "counterpoise", "ground", "radio", "receiver", "solar panel", "charger", "fuse", "key",
     "microphone", "headphones", "computer", "phone")
)  # fmt: skip
"""Classes of items that a chain can go through."""
ONLY_A_NAME = marked("Items without ports, whose class stands in no chain, are boxes to tick: no chain needs them.")


NOT_STATED = {
    "class": marked("the class of {name} is not stated"), "bag": marked("the bag of {name} is not stated"),
    "price": marked("the price of {name} is not stated"), "mass": marked("the mass of {name} is not stated"),
}  # fmt: skip
MASS_ORIGIN = marked("mass of {name}")
STATED_MASS = marked("Masses stated without an uncertainty are taken as good to ± {percent} % (95 %).")
TYPICAL_MASS = marked("Masses of the catalogue's items are taken as good to ± {percent} % (95 %).")


def _stated(subject: Subject, key: str) -> str:
    if key not in subject.data:
        file = subject.origin.document.name if subject.origin else _("the kit")
        what = _(NOT_STATED[key]).format(name=subject.label)
        raise CannotTell(what, key_of(key, subject.label, file), "not stated")
    return str(subject.data[key])


@fact("item.name", kind="item", type="text", title="name of the item", exact=True)
def item_name(subject: Subject) -> str:
    """As written."""
    return subject.label


@fact("item.class", kind="item", type="text", title="class of the item", exact=True)
def item_class(subject: Subject) -> str:
    """What it is: radio, lead, mast, ..."""
    return _stated(subject, "class")


@fact("item.bag", kind="item", type="text", title="bag of the item", exact=True)
def item_bag(subject: Subject) -> str:
    """Where it is packed."""
    return _stated(subject, "bag")


@fact("item.price", kind="item", unit="", title="price of the item", exact=True)
def item_price(subject: Subject) -> float:
    """Without a currency."""
    return float(_stated(subject, "price"))


@fact("item.spare_of", kind="item", type="text", title="item that it is a spare of", exact=True)
def item_spare_of(subject: Subject) -> str:
    """As written."""
    if "spare_of" not in subject.data:
        raise CannotTell(_("{name} is not stated to be a spare").format(name=subject.label), code="not stated")
    return str(subject.data["spare_of"])


@fact("item.consumables", kind="item", type="list", title="consumables to pack with it", exact=True)
def item_consumables(subject: Subject) -> list[str]:
    """What it uses up; none where none is stated."""
    return list(subject.data.get("consumables", ()))


@fact(
    "item.mass", kind="item", unit="kg", title="mass of the item", owns_uncertainty=True,
    tool=Tool("kitchen scales", 0.005),
)  # fmt: skip
def item_mass(kit_list: Kit, subject: Subject) -> Estimate:
    """As stated, or as the catalogue has it."""
    mass = amount_in(_stated(subject, "mass"), "kg")
    typical = _item(kit_list, subject).catalogue
    share = OF_A_TYPICAL_MASS if typical else OF_A_STATED_MASS
    note = _(TYPICAL_MASS if typical else STATED_MASS).format(percent=f"{100 * share:g}")
    around = max(share * mass, LEAST_KG) if mass else 0.0
    origin = {MASS_ORIGIN.format(name=subject.label): around} if around else {}
    return Estimate(mass, parts=origin, method=_("catalogue") if typical else _("as stated"), notes=(note,))


def _item(kit: Kit, subject: Subject) -> Item:
    return kit.items[subject.key.partition(":")[2]]


@fact("item.ports_known", kind="item", type="bool", title="whether its ports are known", exact=True)
def item_ports_known(kit_list: Kit, subject: Subject) -> bool:
    """Whether it is described deeply enough for its wiring to be judged; a name alone is a box to tick."""
    return _item(kit_list, subject).ports is not None


@fact(
    "item.has_spare", kind="item", type="bool", title="whether it has a spare", exact=True,
    detail={"spare": "the items that are spares of it"},
)  # fmt: skip
def item_has_spare(kit_list: Kit, subject: Subject) -> Estimate:
    """Whether another item is stated to be its spare."""
    key = _item(kit_list, subject).key
    spares = [item.name for item in kit_list.items.values() if item.spare_of == key]
    return Estimate(bool(spares), detail={"spare": ", ".join(spares)})


@fact(
    "item.is_essential", kind="item", type="bool", title="whether the outing ends without it", exact=True,
    detail={"chains": "the chains that break without it"},
)  # fmt: skip
def item_is_essential(kit_wiring: Wiring, subject: Subject) -> Estimate:
    """Whether every way of some required chain goes through it."""
    from afield.plugins.kit.essential import essential_by_chain

    item = _item(kit_wiring.kit, subject)
    if item.ports is None and not _may_be_joined(item, kit_wiring):
        return Estimate(False, detail={"chains": ""}, method=_("no chain"), notes=(_(ONLY_A_NAME),))
    if item.ports is None:
        raise CannotTell(silent_ports(item.name), item.supply_ports, "not stated")
    broken = [title for title, keys in essential_by_chain(kit_wiring).items() if item.key in keys]
    if not broken and item.ports:
        refuse_unsure(needed_chains(kit_wiring))
        refuse_incomplete(needed_chains(kit_wiring))
    return Estimate(bool(broken), detail={"chains": "; ".join(broken)}, method=_(DOMINATORS))


def _may_be_joined(item: Item, wiring: Wiring) -> bool:
    """Whether a chain may go through an item of unknown ports: by its class, or because somebody joined it."""
    return item.class_ in IN_CHAINS or any(joint.blank is item for joint in wiring.joints)


@fact(
    "connection.fits", kind="connection", type="bool", title="whether the connection fits", exact=True,
    detail={
        "why": "what does not fit", "needs": "the missing piece", "not_compared": "limits that nobody states",
        "inferred": "whether it is inferred: yes or no",
    },
)  # fmt: skip
def connection_fits(kit_wiring: Wiring, subject: Subject) -> Estimate:
    """Whether both ports match in kind, gender, role, volts, amperes, watts, level and polarity."""
    fit = kit_wiring.fits[subject.key.partition(":")[2]]
    if fit.fits is None:
        raise CannotTell(fit.why, fit.settle, "not stated")
    inferred = "yes" if subject.data["inferred"] else "no"
    silent = "; ".join(fit.not_compared)
    detail = {"why": fit.why, "needs": fit.needs, "not_compared": silent, "inferred": inferred}
    method = _("inferred: exactly one way fits") if subject.data["inferred"] else _("stated")
    return Estimate(fit.fits, detail=detail, method=method)


@fact("chain.role", kind="chain", type="text", title="what goes through the chain", exact=True)
def chain_role(subject: Subject) -> str:
    """RF, DC, keying, ..."""
    return str(subject.data["role"])


@fact(
    "chain.complete", kind="chain", type="bool", title="whether the chain is complete", exact=True,
    detail={"why": "what breaks it", "needs": "the missing piece", "way": "the items that it goes through"},
)  # fmt: skip
def chain_complete(kit_wiring: Wiring, subject: Subject) -> Estimate:
    """Whether there is a way from its start to its end over joints that fit."""
    state = next(state for state in kit_wiring.chains if subject.key == f"chain:{state.chain.key}")
    if state.complete is None:
        refuse_unsure([state])
    way = ", ".join(joint.words for joint in kit_wiring.joints if joint.key in state.joints)
    detail = {"why": state.why, "needs": state.needs, "way": way}
    return Estimate(bool(state.complete), detail=detail, method=_(SEARCH))


FACTS: list[Fact] = [
    item_name, item_class, item_bag, item_price, item_spare_of, item_consumables, item_mass, item_ports_known,
    item_has_spare, item_is_essential, connection_fits, chain_role, chain_complete,
]  # fmt: skip
