"""Reads a pack's folder, checks every file against its schema, and everything in it against what plugins declare."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from afield.core.documents import (
    Document,
    InputError,
    OutsideFolder,
    Problem,
    check_schema,
    inside_folder,
    read_document,
)
from afield.core.host.composition import references_schema, shipped_schema
from afield.core.host.registry import Registry
from afield.core.language import in_language, language
from afield.core.packs.asking import asked_in, local
from afield.core.packs.checking import problems_of_pack
from afield.core.packs.dated import dated_facts, references_in
from afield.core.packs.extending import Trail, base_of, extended
from afield.core.packs.finding import linked_problem, pack_hash
from afield.core.packs.model import Pack
from afield.core.packs.origins import LimitOrigin, PackName
from afield.core.packs.overriding import problems_without_base
from afield.core.packs.rules_file import problem_of, read_rules
from afield.core.quantities import convert, parse_quantity
from afield.core.rules.limit_reading import read_limits

if TYPE_CHECKING:
    from afield.core.packs.outlines import Outlines, RuleElsewhere


def load_pack(folder: Path, registry: Registry, shown: str | None = None, trail: Trail = ()) -> Pack:
    """The pack in a folder, with what it takes over from the pack that it extends.

    Args:
        folder: holds pack.yaml and what it names.
        registry: what plugins declare.
        shown: how messages call the folder; `pack:ID` if left out.
        trail: folders of the packs that extend it.

    Raises:
        InputError: anything wrong in any of its files; every problem found is listed.

    """
    return _Loading(folder, registry, shown or f"pack:{folder.name}").pack(trail)


@lru_cache(maxsize=1)
def common_schemas() -> dict[str, dict[str, Any]]:
    """The schemas that others refer to, by their $id."""
    common = shipped_schema("common")
    return {common["$id"]: common}


class _Loading:
    def __init__(self, folder: Path, registry: Registry, shown: str) -> None:
        self.folder, self.registry, self.shown = folder, registry, shown

    def pack(self, trail: Trail) -> Pack:
        documents = {"pack": _in_language(self.read("pack.yaml", shipped_schema("pack")))}
        data = documents["pack"].data
        self.refuse_other_id(documents["pack"])
        base = base_of(documents["pack"], self.folder, trail, self.other)
        written = self.read("rules.yaml", shipped_schema("rules"))
        documents["rules"] = _in_language(written)
        _raise_if_any(problems_without_base(documents["rules"]) if base is None else [])
        if "references" in data:
            self.refuse_outside(documents["pack"], ("references",), data["references"])
            needs = [*data["needs"], *(base.needs if base else ())]
            documents["references"] = self.read(data["references"], self.references_schema(needs))
        pack = self.assembled(data, documents, base)
        _raise_if_any([*problems_of_pack(pack, self.registry, written), *self.rings(pack)])
        return pack

    def other(self, folder: Path, trail: Trail) -> Pack:
        """A pack that this one extends."""
        return load_pack(folder, self.registry, trail=trail)

    def read(self, name: str, schema: Mapping[str, Any]) -> Document:
        if (self.folder / name).is_symlink():
            raise InputError([linked_problem(f"{self.shown}/{name}")])
        document = read_document(self.folder / name, f"{self.shown}/{name}")
        _raise_if_any(check_schema(document, schema, common_schemas()))
        return document

    def refuse_outside(self, document: Document, path: tuple[str | int, ...], name: str) -> None:
        """Refuse a file name that leads out of the pack's folder."""
        try:
            inside_folder(self.folder, name)
        except OutsideFolder as error:
            raise InputError([document.problem(path, error.what, error.advice)]) from error

    def refuse_other_id(self, document: Document) -> None:
        name = document.data["id"]
        if name == self.folder.resolve().name:
            return
        place = document.place(("id",))
        what = f"the pack calls itself {name}, but its folder is {self.folder.resolve().name}"
        raise InputError([Problem(place, what, "Give both the same name.", document.line(place))])

    def references_schema(self, needs: Iterable[str]) -> Mapping[str, Any]:
        """Open where a plugin that the pack needs is not there to say what it adds."""
        incomplete = self.registry.incomplete or any(self.is_absent(name) for name in needs)
        return references_schema(self.registry.fragments, incomplete)

    def is_absent(self, name: str) -> bool:
        """Whether a plugin is not there, or failed to declare what it has; what is not declared may be its own."""
        return name not in self.registry.host.plugins or name in self.registry.broken

    def elsewhere(
        self, document: Document, header: Mapping[str, Any], ids: tuple[str, ...]
    ) -> Mapping[str, RuleElsewhere]:
        """The rules of the other packs that the rules name; most name none."""
        if not any("/" in local(name, ids) for _, name in asked_in(document.data.get("rules", []))):
            return {}
        from afield.core.packs.elsewhere import read_elsewhere

        found, wrong = read_elsewhere(document, header, ids, self.folder, self.outlines)
        _raise_if_any(wrong)
        return found

    @cached_property
    def outlines(self) -> Outlines:
        """Those of the other packs that the rules name."""
        from afield.core.packs.outlines import Outlines

        return Outlines(self.registry, common_schemas())

    def rings(self, pack: Pack) -> list[Problem]:
        """Rules that wait for themselves by way of other packs."""
        if not pack.elsewhere:
            return []
        from afield.core.packs.rings import problems_of_rings

        return problems_of_rings(pack, self.outlines)

    def assembled(self, data: Mapping[str, Any], documents: Mapping[str, Document], base: Pack | None) -> Pack:
        needs = tuple(dict.fromkeys([*data["needs"], *(base.needs if base else ())]))
        absent = tuple(name for name in needs if self.is_absent(name))
        own, complaints = read_limits(documents["rules"].data.get("limits", {}))
        _raise_if_any([problem_of(documents["rules"], complaint) for complaint in complaints])
        limits = {**(base.limits if base else {}), **own}
        name = PackName(data["id"], data["version"])
        ids = (name.id, *(each.id for each in (base.lineage() if base else ())))
        elsewhere = self.elsewhere(documents["rules"], data, ids)
        rules = read_rules(
            name, documents["rules"], self.registry, limits, absent, data["judges"] == "program",
            base.rules if base else (), elsewhere, ids,
        )  # fmt: skip
        facts = {name: dated_facts(value, ("facts", name)) for name, value in data.get("facts", {}).items()}
        references = references_in(documents["references"].data["references"]) if "references" in documents else None
        origins = {limit: LimitOrigin(name, documents["rules"].key_place(("limits", limit))) for limit in own}
        pack = Pack(
            id=data["id"], version=data["version"], title=data["title"], publisher=data["publisher"],
            licence=data["licence"], judges=data["judges"], date_basis=data["date_basis"],
            review_days=_days(data["review_every"]), folder=self.folder, shown=self.shown,
            sha256=pack_hash(self.folder), documents=documents, notice=data.get("notice", ""), needs=needs,
            absent=absent, sources=tuple(data.get("sources", ())), rules=rules, limits=limits, facts=facts,
            references=references, origins=origins, elsewhere=elsewhere,
        )  # fmt: skip
        return extended(pack, base) if base else pack


def _in_language(document: Document) -> Document:
    """The document with one language's texts; places stay as they are, so that messages point at the text written."""
    return replace(document, data=in_language(document.data, language()))


def _raise_if_any(problems: list[Problem]) -> None:
    if problems:
        raise InputError(problems)


def _days(text: str) -> float:
    quantity = parse_quantity(text, "day")
    return convert(float(quantity.digits), quantity.unit, "day")
