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
    found[name] = pack


def _misplaced(pack: Pack, due: str) -> tuple[str, str]:
    if due == "trip":
        return f"{pack.id} judges a program, not the trip", "It comes with a claim; list trip packs here only."
    return (
        f"{pack.id} judges the trip, not a program",
        f"Nothing can be claimed of it; list it under `packs: [{pack.id}]`.",
    )
