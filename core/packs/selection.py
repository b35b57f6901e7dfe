"""Which packs a plan calls for: its claims' programs and the trip packs that it lists."""

from __future__ import annotations

from pathlib import Path

from afield.core.documents import Document, InputError, Problem
from afield.core.host.registry import Registry
from afield.core.packs.finding import NoSuchPack, pack_folder
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack


def packs_of_plan(document: Document, folder: Path, registry: Registry) -> list[Pack]:
    """The packs, those of programs in the order of the claims, then the trip packs as listed; each once.

    Raises:
        InputError: an unknown program or pack, one used in the other's place, or anything wrong inside a pack.

    """
    found: dict[str, Pack] = {}
    for index, claim in enumerate(document.data.get("claims", [])):
        path: tuple[str | int, ...] = ("claims", index, "program")
        _add(found, document, path, claim["program"], folder, registry, "program")
    for index, name in enumerate(document.data.get("packs", [])):
        _add(found, document, ("packs", index), name, folder, registry, "trip")
    return list(found.values())


def _add(
    found: dict[str, Pack],
    document: Document,
    path: tuple[str | int, ...],
    name: str,
    folder: Path,
    registry: Registry,
    judges: str,
) -> None:
    place = document.place(path)
    try:
        pack = found[name] if name in found else load_pack(pack_folder(name, folder), registry)
    except NoSuchPack as error:
        raise InputError([Problem(place, error.what, error.advice, document.line(place))]) from error
    if pack.judges != judges:
        raise InputError([Problem(place, *_misplaced(pack, judges), document.line(place))])
    if any(pack.id == other.id and pack is not other for other in found.values()):
        what = f"the pack {pack.id} is there already, under another name"
        raise InputError([Problem(place, what, "Name it once.", document.line(place))])
    if judges == "trip":
        for other in found.values():
            _refuse_judging_twice(pack, other, document, path)
    found[name] = pack


def _refuse_judging_twice(pack: Pack, other: Pack, document: Document, path: tuple[str | int, ...]) -> None:
    """Two trip packs with one base would judge the same things by its rules twice, with two sets of limits.

    Programs may share a base: each judges its own claims only.
    """
    if pack is other or other.judges != "trip":
        return
    extended = {each.id for each in pack.lineage()} & {each.id for each in other.lineage()}
    shared = next((each.id for each in pack.lineage() if each.id in extended), None)
    if shared is None:
        return
    if shared in (pack.id, other.id):
        whole = other if shared == pack.id else pack
        what = f"{whole.id} extends {shared}, and the plan names both"
        advice = f"Name {whole.id} only: it judges by the rules of {shared} already, with its own limits."
    else:
        what = f"{other.id} and {pack.id} both extend {shared}, whose rules would be judged twice"
        advice = "Name one of them, or a pack that extends one and takes over the limits of the other."
    raise InputError([document.problem(path, what, advice)])


def _misplaced(pack: Pack, due: str) -> tuple[str, str]:
    if due == "trip":
        return f"{pack.id} judges a program, not the trip", "It comes with a claim; list trip packs here only."
    return (
        f"{pack.id} judges the trip, not a program",
        f"Nothing can be claimed of it; list it under `packs: [{pack.id}]`.",
    )
