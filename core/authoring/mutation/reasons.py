"""Reasons that a pack gives for changes that its cases need not catch: the file mutants.yaml in its folder."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from afield.core.authoring.mutation.mutants import Mutant
from afield.core.documents import Document, InputError, Place, Problem, check_schema, read_document
from afield.core.frozen import frozen
from afield.core.host.composition import shipped_schema
from afield.core.packs.loading import common_schemas
from afield.core.packs.model import Pack
from afield.core.rules.complaint import meant

FILE = "mutants.yaml"
KINDS = ("rule", "limit", "fact")

Key = tuple[str, str, str]
"""Kind, name and change of a mutant."""


@frozen
class Reason:
    """Why a change may survive, with where that is written."""

    text: str
    place: Place


def key_of(mutant: Mutant) -> Key:
    """By what a reason names the change."""
    return mutant.kind, mutant.name, mutant.change


def read_reasons(pack: Pack, mutants: Sequence[Mutant]) -> dict[Key, Reason]:
    """The reasons by the changes that they are for; none where the pack has no such file.

    Raises:
        InputError: the file does not fit its schema, or gives a reason twice, or for a change that is not made.

    """
    path = pack.folder / FILE
    if not path.is_file():
        return {}
    document = read_document(path, f"{pack.shown}/{FILE}")
    problems = check_schema(document, shipped_schema("mutants"), common_schemas())
    if problems:
        raise InputError(problems)
    entries = [(index, _key(entry), entry["reason"]) for index, entry in enumerate(document.data["survivors"])]
    problems = [*_twice(document, [key for _, key, _ in entries]), *_unknown(document, entries, mutants)]
    if problems:
        raise InputError(problems)
    return {key: Reason(text, document.place(("survivors", index))) for index, key, text in entries}


def _key(entry: Mapping[str, Any]) -> Key:
    kind = next(kind for kind in KINDS if kind in entry)
    return kind, entry[kind], entry["change"]


Entry = tuple[int, Key, str]
"""Index in the file, what is changed, why it may survive."""


def _twice(document: Document, keys: Sequence[Key]) -> Iterator[Problem]:
    for index, key in enumerate(keys):
        first = keys.index(key)
        if first < index:
            advice = f"The first is at {document.place(('survivors', first))}. Keep one of the two."
            yield document.problem(("survivors", index), f"a second reason for the same change of {key[1]}", advice)


def _unknown(document: Document, entries: Iterable[Entry], mutants: Sequence[Mutant]) -> Iterator[Problem]:
    made = {key_of(mutant) for mutant in mutants}
    for index, (kind, name, change), _ in entries:
        names = {other for each, other, _ in made if each == kind}
        if name not in names:
            advice = meant(name, names, f"{kind}s that are changed")
            yield document.problem(("survivors", index, kind), f"no {kind} {name} is changed", advice)
        elif (kind, name, change) not in made:
            changes = [other for each, whose, other in made if (each, whose) == (kind, name)]
            what = f"the {kind} {name} is not changed so"
            yield document.problem(("survivors", index, "change"), what, meant(change, changes, "changes"))
