"""What changed in a pack beside its rules: its header, what the program says of itself, its references and files."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from afield.core.authoring.difference.meaning import fact_meaning
from afield.core.authoring.difference.wording import header_resourced, header_reworded
from afield.core.frozen import frozen
from afield.core.packs.model import Pack

READ = ("pack.yaml", "rules.yaml", "rules.lock")
"""Files whose changes show elsewhere."""


@frozen
class PackChange:
    """One change outside of the rules.

    Attributes:
        kind: "header", "fact", "reference" or "file".
        name: of what changed.
        change: "added", "removed", "changed", "reworded" or "re-sourced".
        demands: what the version must say.

    """

    kind: str
    name: str
    change: str
    demands: str


def pack_changes(old: Pack, new: Pack) -> list[PackChange]:
    """Every change outside of the rules. Whether one of them is stricter or looser no replay of cases can tell."""
    return [*_header(old, new), *_facts(old, new), *_references(old, new), *_files(old, new)]


def _header(old: Pack, new: Pack) -> Iterator[PackChange]:
    for name, demands in (("judges", "major"), ("date_basis", "minor"), ("needs", "patch")):
        if getattr(old, name) != getattr(new, name):
            yield PackChange("header", name, "changed", demands)
    yield from (PackChange("header", name, "reworded", "patch") for name in header_reworded(old, new))
    yield from (PackChange("header", name, "re-sourced", "patch") for name in header_resourced(old, new))


def _facts(old: Pack, new: Pack) -> Iterator[PackChange]:
    for name in dict.fromkeys([*new.facts, *old.facts]):
        if name not in old.facts or name not in new.facts:
            yield PackChange("fact", name, "added" if name in new.facts else "removed", "minor")
        elif fact_meaning(old, old.facts[name]) != fact_meaning(new, new.facts[name]):
            yield PackChange("fact", name, "changed", "minor")
        elif _written_fact(old, name) != _written_fact(new, name):
            yield PackChange("fact", name, "re-sourced", "patch")


def _written_fact(pack: Pack, name: str) -> Any:
    return pack.fact_writer(name).documents["pack"].data.get("facts", {}).get(name)


def _references(old: Pack, new: Pack) -> Iterator[PackChange]:
    before, after = _entries(old), _entries(new)
    for name in dict.fromkeys([*after, *before]):
        if name not in before or name not in after:
            yield PackChange("reference", name, "added" if name in after else "removed", "minor")
        elif [_meaning(entry) for entry in before[name]] != [_meaning(entry) for entry in after[name]]:
            yield PackChange("reference", name, "changed", "minor")
        elif before[name] != after[name]:
            yield PackChange("reference", name, "reworded", "patch")


def _entries(pack: Pack) -> dict[str, list[Mapping[str, Any]]]:
    """The entries of each reference, in the order of the file."""
    document = pack.references_writer().documents.get("references")
    found: dict[str, list[Mapping[str, Any]]] = {}
    for entry in document.data["references"] if document is not None else ():
        found.setdefault(entry["id"], []).append(entry)
    return found


def _meaning(entry: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in entry.items() if key not in ("title", "notes", "source")}


def _files(old: Pack, new: Pack) -> Iterator[PackChange]:
    """Files that are not read above; those that references draw on are part of what they mean."""
    before, after = _hashes(old), _hashes(new)
    drawn = {*_drawn_on(_entries(old)), *_drawn_on(_entries(new))}
    for name in sorted({*before, *after}):
        if before.get(name) != after.get(name):
            change = "added" if name not in before else "changed" if name in after else "removed"
            yield PackChange("file", name, change, "minor" if name in drawn else "patch")


def _hashes(pack: Pack) -> dict[str, str]:
    writer = pack.documents.get("references")
    read = {*READ, writer.name.rsplit("/", 1)[-1]} if writer else {*READ}
    paths = {path.relative_to(pack.folder).as_posix(): path for path in _all_files(pack.folder)}
    return {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in paths.items() if name not in read}


def _all_files(folder: Path) -> Iterator[Path]:
    return (path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts)


def _drawn_on(data: Any) -> Iterator[str]:
    """The file names in entries of references."""
    if isinstance(data, Mapping):
        if isinstance(data.get("file"), str):
            yield data["file"]
        for inner in data.values():
            yield from _drawn_on(inner)
    elif isinstance(data, list):
        for inner in data:
            yield from _drawn_on(inner)
