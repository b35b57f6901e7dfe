"""Which packs a plan calls for: its claims' programs and the trip packs that it lists."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from afield.core.documents import Document, InputError
from afield.core.documents import Path as Path_
from afield.core.host.registry import Registry
from afield.core.packs.finding import NoSuchPack, is_path, pack_folder, pinned_folder
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack


def packs_of_plan(document: Document, folder: Path, registry: Registry) -> list[Pack]:
    """The packs, those of programs in the order of the claims, then the trip packs as listed; each once.

    An entry of `packs` with a version pins it, and one with a path says where it is; such a pack of a program judges
    the claims of that program.

    Raises:
        InputError: an unknown program or pack, one used in the other's place, a version that is not there, or anything
            wrong inside a pack.

    """
    selecting = _Selecting(document, folder, registry)
    listed = list(range(len(document.data.get("packs", []))))
    pinned = [index for index in listed if selecting.is_pinned_program(index)]
    for index, claim in enumerate(document.data.get("claims", [])):
        selecting.add_program(claim["program"], ("claims", index, "program"))
    for index in pinned:
        selecting.refuse_without_claim(index)
    for index in listed:
        if index not in pinned:
            selecting.add_trip_pack(index)
    return list(selecting.found.values())


class _Selecting:
    def __init__(self, document: Document, folder: Path, registry: Registry) -> None:
        self.document, self.folder, self.registry = document, folder, registry
        self.found: dict[str, Pack] = {}
        self.loaded: dict[int, Pack] = {}
        self.programs: dict[str, Pack] = {}

    def is_pinned_program(self, index: int) -> bool:
        """Whether an entry pins a program's pack, or says where it is: that pack then judges the claims of it."""
        entry = self.document.data["packs"][index]
        if isinstance(entry, str) and not is_path(entry):
            return False
        pack = self.listed(index)
        if pack.judges != "program":
            return False
        if pack.id in self.programs:
            raise self.refused(("packs", index), f"the program {pack.id} is named twice", "Keep one of the two.")
        self.programs[pack.id] = pack
        return True

    def listed(self, index: int) -> Pack:
        """The pack of an entry of `packs`."""
        if index not in self.loaded:
            name, version = _named(self.document.data["packs"][index])
            self.loaded[index] = self.load(name, version, ("packs", index))
        return self.loaded[index]

    def load(self, name: str, version: str | None, path: Path_) -> Pack:
        try:
            found = pack_folder(name, self.folder) if version is None else pinned_folder(name, version, self.folder)
        except NoSuchPack as error:
            raise self.refused(path, error.what, error.advice) from error
        return load_pack(found, self.registry)

    def add_program(self, name: str, path: Path_) -> None:
        if name in self.found:
            return
        pack = self.programs[name] if name in self.programs else self.load(name, None, path)
        if pack.judges != "program":
            raise self.refused(path, *_misplaced(pack, "program"))
        self.found[pack.id] = pack

    def add_trip_pack(self, index: int) -> None:
        path = ("packs", index)
        pack = self.listed(index)
        if pack.judges != "trip":
            raise self.refused(path, *_misplaced(pack, "trip"))
        if pack.id in self.found:
            what = f"the pack {pack.id} is there already, under another name"
            raise self.refused(path, what, "Name it once.")
        for other in self.found.values():
            _refuse_judging_twice(pack, other, self.document, path)
        self.found[pack.id] = pack

    def refuse_without_claim(self, index: int) -> None:
        pack = self.listed(index)
        if pack.id not in self.found:
            what = f"{pack.id} judges a program, and the plan claims nothing of it"
            raise self.refused(("packs", index), what, "Claim a reference of it under `claims:`, or leave it out here.")

    def refused(self, path: Path_, what: str, advice: str) -> InputError:
        return InputError([self.document.problem(path, what, advice)])


def _named(entry: str | Mapping[str, str]) -> tuple[str, str | None]:
    """The pack's name or path, and the version that the plan asks for."""
    return (entry, None) if isinstance(entry, str) else (entry["pack"], entry["version"])


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
