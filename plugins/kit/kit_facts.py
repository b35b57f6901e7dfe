"""Facts of the kit as a whole."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, Subject, Tool, _, fact, marked
from afield.plugins.kit.words import CABLES

if TYPE_CHECKING:
    from afield.plugins.kit.model import Kit
    from afield.plugins.kit.wiring import ChainState, Wiring


SEARCH, DOMINATORS = marked("search along the joints that fit"), marked("dominators of the end of each chain")
NO_CHAINS = marked("nothing in the kit needs a chain: no radio is described, and no chains are stated")


@fact(
    "kit.list", kind="trip", type="opaque", title="what is in the kit", encode=lambda kit: encoded_kit(kit),
    optional=["kit_stated_connections", "kit_stated_chains"],
)  # fmt: skip
def kit_list(kit_files: Piece, kit_stated_connections: Piece | None, kit_stated_chains: Piece | None) -> Kit:
    """All kit files of the plan, with the connections and chains that the plan itself states."""
    from afield.plugins.kit.assembling import kit_of

    return kit_of(kit_files.origin.document, kit_files.origin.folder)


def encoded_kit(kit: Kit) -> dict[str, Any]:
    """The kit as JSON."""
    files = [{"file": document.name, "sha256": document.sha256} for document in kit.files]
    return {"items": [item.name for item in kit.items.values()], "files": files}


@fact("kit.wiring", kind="trip", type="opaque", title="how the kit is joined", encode=lambda found: encoded(found))
def kit_wiring(kit_list: Kit) -> Wiring:
    """What is joined, as stated and as inferred, and whether each chain is complete."""
    from afield.plugins.kit.wiring import wired

    return wired(kit_list)


def encoded(wiring: Wiring) -> dict[str, Any]:
    """The wiring as JSON."""
    from afield.plugins.kit.encoding import encoded_wiring

    return encoded_wiring(wiring)


@fact("kit.missing_pieces", kind="trip", type="list", title="pieces that are missing", exact=True)
def kit_missing_pieces(kit_wiring: Wiring) -> list[str]:
    """What would have to be packed, or put in another's place, for every chain to be complete."""
    refuse_unsure(kit_wiring.chains)
    return missing_pieces(kit_wiring)


def missing_pieces(wiring: Wiring) -> list[str]:
    """The same as far as it can be told."""
    return list(dict.fromkeys(piece for state in wiring.chains if state.complete is False for piece in state.pieces))


@fact(
    "kit.chains_complete", kind="trip", type="bool", title="whether all chains are complete", exact=True,
    detail={"why": "what breaks the first incomplete chain", "needs": "the missing pieces"},
)  # fmt: skip
def kit_chains_complete(kit_wiring: Wiring) -> Estimate:
    """Whether every required chain is complete; one that is broken decides, whatever else cannot be told."""
    broken = [state for state in kit_wiring.chains if state.complete is False]
    if not broken:
        refuse_unsure(kit_wiring.chains)
    _refuse_no_chains(kit_wiring)
    detail = {"why": broken[0].why if broken else "", "needs": "; ".join(missing_pieces(kit_wiring))}
    return Estimate(not broken, detail=detail, method=_(SEARCH))


def _refuse_no_chains(wiring: Wiring) -> None:
    if not wiring.chains:
        raise CannotTell(_(NO_CHAINS), "chains", "not stated", "trip")


def needed_chains(wiring: Wiring) -> list[ChainState]:
    """The chains that can end the outing: what charges a battery, or serves no planned mode, is left out."""
    return [state for state in wiring.chains if not state.chain.beside]


def refuse_incomplete(chains: Iterable[ChainState]) -> None:
    """Raise CannotTell for the first chain that is broken: what else would break it cannot be known."""
    for state in chains:
        if state.complete is False:
            needing = _("{chain} is not complete: {why}; it needs {needs}")
            what = needing if state.needs else _("{chain} is not complete: {why}")
            what = what.format(chain=state.chain.title, why=state.why, needs=state.needs)
            raise CannotTell(what, "kit", "cannot be computed", "trip")


def refuse_unsure(chains: Iterable[ChainState]) -> None:
    """Raise CannotTell for the first chain of which it cannot be told whether it is complete."""
    for state in chains:
        if state.complete is None:
            text = f"{state.chain.title}: {state.why}"
            raise CannotTell(text, state.settle or None, "not stated", f"chain:{state.chain.key}")


@fact("kit.hand_set", kind="trip", type="list", title="what must be set by hand", exact=True)
def kit_hand_set(kit_wiring: Wiring) -> list[str]:
    """What no item does by itself, as it follows from their features."""
    from afield.plugins.kit.hand_set import hand_set

    return hand_set(kit_wiring)


@fact(
    "kit.mass", kind="trip", unit="kg", title="mass of the kit", tool=Tool("luggage scales", 0.1),
    each={"masses": ("item", "item.mass")},
    detail={"items": "how many items it is the mass of"},
)  # fmt: skip
def kit_mass(kit_list: Kit, masses: list[tuple[Subject, float]]) -> Estimate:
    """The sum of the masses of all items."""
    return Estimate(
        float(sum(mass for _, mass in masses)), detail={"items": len(masses)}, method=_("sum of the masses")
    )


@fact(
    "kit.price", kind="trip", unit="", title="price of the kit", exact=True, each={"prices": ("item", "item.price")}
)  # fmt: skip
def kit_price(kit_list: Kit, prices: list[tuple[Subject, float]]) -> float:
    """The sum of the prices of all items."""
    return float(sum(price for _, price in prices))


@fact("kit.items", kind="trip", unit="", title="number of items", exact=True)
def kit_items(kit_list: Kit) -> int:
    """How many items there are, spares included."""
    return len(kit_list.items)


@fact(
    "kit.cables", kind="trip", unit="", title="number of leads, feed lines and adapters", exact=True,
    detail={"names": "which they are"},
)  # fmt: skip
def kit_cables(kit_list: Kit) -> Estimate:
    """How many items of the classes lead, feed line and adapter there are, spares included."""
    names = [item.name for item in kit_list.items.values() if item.class_ in CABLES]
    return Estimate(len(names), detail={"names": ", ".join(names)}, method=_("count by class"))


@fact(
    "kit.essential_without_spare", kind="trip", unit="", title="essential items without a spare", exact=True,
    detail={"names": "which they are"},
)  # fmt: skip
def kit_essential_without_spare(kit_wiring: Wiring) -> Estimate:
    """How many items there are without which the outing ends, and which no other item is stated to be a spare of."""
    from afield.plugins.kit.essential import essential_without_spare

    _refuse_no_chains(kit_wiring)
    refuse_unsure(needed_chains(kit_wiring))
    refuse_incomplete(needed_chains(kit_wiring))
    names = [item.name for item in essential_without_spare(kit_wiring)]
    return Estimate(len(names), detail={"names": ", ".join(names)}, method=_(DOMINATORS))


@fact(
    "kit.ways",
    kind="trip",
    type="opaque",
    title="ways from what gives to what takes",
    encode=lambda ways: {"ways": ways},
)
def kit_ways(kit_wiring: Wiring) -> list[dict[str, Any]]:
    """Every way over joints from an output to an input, with the pieces that it goes through and whether all fits."""
    from afield.plugins.kit.flows import ways_of

    return ways_of(kit_wiring)


@fact(
    "kit.things",
    kind="trip",
    type="opaque",
    title="what is stated of each item",
    encode=lambda things: {"things": things},
)
def kit_things(kit_list: Kit) -> dict[str, dict[str, Any]]:
    """Name, class, file and all that is stated of each item, the catalogue's figures included, by the item's key."""
    return {
        item.key: {
            "name": item.name, "class": item.class_, "data": dict(item.data), "file": item.origin.document.name,
        }
        for item in kit_list.items.values()
    }  # fmt: skip


@fact(
    "kit.undecided", kind="trip", type="opaque", title="chains that are not decided",
    encode=lambda found: {"chains": found},
)  # fmt: skip
def kit_undecided(kit_wiring: Wiring) -> list[dict[str, Any]]:
    """The chains of which it cannot be told how they run: what may give, take or stand between, and what settles it.

    Items whose ports are not known stand among them, by what their class may give or take.
    """
    from afield.plugins.kit.undecided import undecided_in

    return undecided_in(kit_wiring)


FACTS: list[Fact] = [
    kit_list, kit_wiring, kit_missing_pieces, kit_chains_complete, kit_hand_set, kit_mass, kit_price, kit_items,
    kit_cables, kit_essential_without_spare, kit_ways, kit_things, kit_undecided,
]  # fmt: skip
