"""Rules of other packs whose verdicts a pack's rules ask for, checked when the pack is read."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path as Folder
from typing import Any

from afield.core.documents import Document, Path, Problem
from afield.core.packs.asking import asked_in, local
from afield.core.packs.fences import leak
from afield.core.packs.finding import NoSuchPack
from afield.core.packs.outlines import Outlines, RuleElsewhere
from afield.core.rules.complaint import meant


def read_elsewhere(
    document: Document, header: Mapping[str, Any], ids: tuple[str, ...], folder: Folder, outlines: Outlines
) -> tuple[dict[str, RuleElsewhere], list[Problem]]:
    """The rules of the other packs that a rules file names, all of each such pack, and what is wrong with the names.

    Args:
        document: the rules file.
        header: of the pack.
        ids: the pack's id, then those of the packs that it extends.
        folder: of the pack.
        outlines: of other packs.

    """
    reader = _Reader(document, ids, header["judges"] == "program", folder, outlines)
    for index, entry in enumerate(document.data.get("rules", [])):
        for key in ("where", "require"):
            for path, name in asked_in(entry.get(key), ("rules", index, key)):
                if "/" in local(name, ids):
                    reader.add(path, name)
    return reader.found, reader.problems


class _Reader:
    def __init__(self, document: Document, ids: tuple[str, ...], program: bool, folder: Folder, outlines: Outlines):
        self.document, self.ids, self.program, self.folder, self.outlines = document, ids, program, folder, outlines
        self.found: dict[str, RuleElsewhere] = {}
        self.problems: list[Problem] = []

    def add(self, path: Path, name: str) -> None:
        """The rule that a name means, and its pack's others; a name that means none becomes a problem."""
        pack, _, rule = name.partition("/")
        try:
            outline = self.outlines.named(pack, self.folder)
        except NoSuchPack as error:
            return self._absent(path, name, error)
        known = {f"{pack}/{one}": found for one, found in outline.rules.items()}
        if name not in known:
            what = f"the pack {pack} {outline.version} has no rule {rule}"
            return self._refuse(path, what, meant(name, known, f"rules of {pack}"))
        seen = self._leak(name, known[name], outline.folder)
        if seen is not None:
            return self._refuse(path, *seen)
        self.found |= known
        return None

    def _leak(self, name: str, rule: RuleElsewhere, beside: Folder) -> tuple[str, str] | None:
        if not self.program:
            return None
        return leak(name, rule, self.ids, lambda one: self.outlines.asked(one, beside))

    def _absent(self, path: Path, name: str, error: NoSuchPack) -> None:
        """A pack that is not here may be on the trip; a name that resembles one that is here is misspelt."""
        if error.guess is not None:
            return self._refuse(path, error.what, error.advice)
        pack, _, rule = name.partition("/")
        self.found[name] = RuleElsewhere(pack, rule, rule, "trip", "trip", self.document.place(path))
        return None

    def _refuse(self, path: Path, what: str, advice: str) -> None:
        self.problems.append(self.document.problem(path, what, advice))
