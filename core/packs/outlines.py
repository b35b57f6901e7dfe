"""Packs in outline: what others, whose rules ask for verdicts of theirs, need to know of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path as Folder
from typing import Any

from afield.core.documents import Document, InputError, Place, check_schema, read_document
from afield.core.frozen import frozen
from afield.core.host.composition import shipped_schema
from afield.core.host.registry import Registry
from afield.core.language import in_language, language
from afield.core.packs.asking import asked_in, local
from afield.core.packs.fences import gathers_claims
from afield.core.packs.finding import NoSuchPack, base_folder, linked_problem, pack_folder


@frozen
class RuleElsewhere:
    """A rule of another pack, as far as one that asks for its verdict must know it.

    Attributes:
        pack: id of the pack that judges by it.
        kind: of the subjects that it judges.
        judges: "program" or "trip".
        asks: the rules whose verdicts it asks for, those of other packs as "pack/rule".
        gathers_claims: whether it counts claims, or asks a fact that does.

    """

    pack: str
    id: str
    title: str
    kind: str
    judges: str
    place: Place
    asks: tuple[str, ...] = ()
    gathers_claims: bool = False

    @property
    def key(self) -> str:
        """The name by which its verdicts go."""
        return f"{self.pack}/{self.id}"


@frozen
class Outline:
    """What of a pack others need to know.

    Attributes:
        ids: its id, then those of the packs that it extends.
        rules: by id, those of the packs that it extends included.

    """

    version: str
    judges: str
    ids: tuple[str, ...]
    folder: Folder
    rules: Mapping[str, RuleElsewhere]


@dataclass
class Outlines:
    """The outlines of packs, each read once.

    Attributes:
        registry: what plugins declare.
        common: the schemas that others refer to.

    """

    registry: Registry
    common: Mapping[str, dict[str, Any]]
    read: dict[Folder, Outline] = field(default_factory=dict)

    def named(self, name: str, beside: Folder) -> Outline:
        """The outline of a pack by its id: one beside another pack, or an installed one.

        Raises:
            NoSuchPack: there is none.
            InputError: it cannot be read.

        """
        return self.at(pack_folder(name, beside.resolve().parent, "the pack that asks for its rule"))

    def at(self, folder: Folder, waiting: tuple[Folder, ...] = ()) -> Outline:
        """The outline of the pack in a folder; a ring of packs that extend each other is cut where it closes."""
        key = folder.resolve()
        if key not in self.read:
            self.read[key] = self._outline(folder, (*waiting, key))
        return self.read[key]

    def _outline(self, folder: Folder, waiting: tuple[Folder, ...]) -> Outline:
        header = self._document(folder, "pack").data
        written = self._document(folder, "rules")
        base = self._base(header, folder, waiting)
        ids = (header["id"], *(base.ids if base else ()))
        mine = {
            entry["id"]: self._rule(entry, written.place(("rules", index)), header, ids)
            for index, entry in enumerate(written.data.get("rules", []))
        }
        inherited = {name: replace(rule, pack=header["id"]) for name, rule in (base.rules if base else {}).items()}
        return Outline(header["version"], header["judges"], ids, folder, {**inherited, **mine})

    def _document(self, folder: Folder, name: str) -> Document:
        path, shown = folder / f"{name}.yaml", f"pack:{folder.name}/{name}.yaml"
        if path.is_symlink():
            raise InputError([linked_problem(shown)])
        document = read_document(path, shown)
        problems = check_schema(document, shipped_schema(name), self.common)
        if problems:
            raise InputError(problems)
        return document

    def _base(self, header: Mapping[str, Any], folder: Folder, waiting: tuple[Folder, ...]) -> Outline | None:
        if "extends" not in header:
            return None
        try:
            found = base_folder(header["extends"], folder.resolve())
        except NoSuchPack:
            return None  # that pack's own fault, told where it is read itself
        return None if found.resolve() in waiting else self.at(found, waiting)

    def _rule(
        self, entry: Mapping[str, Any], place: Place, header: Mapping[str, Any], ids: Iterable[str]
    ) -> RuleElsewhere:
        conditions = [entry[key] for key in ("where", "require") if key in entry]
        asks = tuple(local(name, ids) for _, name in asked_in(conditions))
        gathers = gathers_claims(conditions, self.registry)
        title = in_language(entry["title"], language())
        return RuleElsewhere(
            header["id"], entry["id"], title, entry["for_each"], header["judges"], place, asks, gathers
        )

    def asked_by(self, rule: RuleElsewhere, name: str, beside: Folder) -> RuleElsewhere | None:
        """The rule of that name, as a rule of another pack has it; None where there is none."""
        pack, _, rule_id = (name if "/" in name else f"{rule.pack}/{name}").partition("/")
        try:
            return self.named(pack, beside).rules.get(rule_id)
        except NoSuchPack:
            return None

    def asked(self, rule: RuleElsewhere, beside: Folder) -> list[RuleElsewhere]:
        """The rules whose verdicts a rule of another pack asks for, those that are there."""
        found = [self.asked_by(rule, name, beside) for name in rule.asks]
        return [other for other in found if other is not None]
