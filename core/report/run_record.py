"""What was run on what, as JSON: the footer by which a report can be had again."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from importlib.metadata import PackageNotFoundError, requires, version
from pathlib import Path
from typing import Any

from afield import core
from afield.core.documents import Document
from afield.core.packs.model import Pack
from afield.core.packs.trip import Trip
from afield.core.report.records import reason_json

Json = dict[str, Any]


def run_json(trip: Trip, now: date | None) -> Json:
    """What was run on what: versions and hashes, so that the same run can be had again."""
    return {
        "engine": core.__version__,
        "now": now.isoformat() if now else None,
        "plan": {"file": trip.document.name, "sha256": trip.document.sha256},
        "variant": trip.variant,
        "failed_kinds": [
            {"kind": kind, "reason": reason_json(reason)} for kind, reason in sorted(trip.world.failed_kinds.items())
        ],
        "packs": [_pack_json(pack, trip) for pack in trip.packs],
        "plugins": [
            {"name": plugin.name, "distribution": plugin.distribution, "version": plugin.version}
            for plugin in trip.registry.plugins
        ],
        "files": _files_json(trip),
        "libraries": library_versions({plugin.distribution for plugin in trip.registry.plugins}),
    }


def _documents(packs: Iterable[Pack]) -> list[Document]:
    """What was read of the packs and of those that they extend, each file once."""
    read = [document for pack in packs for each in pack.lineage() for document in each.documents.values()]
    return list({document.name: document for document in read}.values())


def _beside(trip: Trip) -> list[Document]:
    """What else the subjects were made from: files that the plan names, such as lists of its kit, each file once."""
    origins = [origin for subject in trip.subjects.values() for origin in (subject.origin, *subject.extra.values())]
    known = {trip.document.name, *(document.name for document in _documents(trip.packs))}
    found = {origin.document.name: origin.document for origin in origins if origin is not None}
    return [document for name, document in found.items() if name not in known]


def library_versions(distributions: Iterable[str]) -> dict[str, str]:
    """Name -> version of the libraries that the engine's and the plugins' distributions need, extras left out."""
    found: dict[str, str] = {}
    for distribution in sorted({"afield", *distributions}):
        try:
            needed = [need for need in requires(distribution) or () if "extra ==" not in need]
        except PackageNotFoundError:
            continue  # a plugin that was registered by hand
        names = [re.split(r"[^A-Za-z0-9._-]", need, maxsplit=1)[0] for need in needed]
        found |= {name: installed for name in names if (installed := _version_of(name)) is not None}
    return dict(sorted(found.items()))


def _version_of(name: str) -> str | None:
    try:
        return version(name)
    except PackageNotFoundError:
        return None  # for another machine, by its marker


def _pack_json(pack: Pack, trip: Trip) -> Json:
    return {
        "id": pack.id,
        "version": pack.version,
        "title": pack.title,
        "publisher": pack.publisher,
        "licence": pack.licence,
        "notice": pack.notice,
        "judges": pack.judges,
        "date_basis": pack.date_basis,
        "days": [day.isoformat() for day in trip.days_for(pack)],
        "needs": list(pack.needs),
        "sha256": pack.sha256,
        "extends": [_base_json(base) for base in list(pack.lineage())[1:]],
    }


def _base_json(base: Pack) -> Json:
    return {
        "id": base.id,
        "version": base.version,
        "publisher": base.publisher,
        "licence": base.licence,
        "sha256": base.sha256,
    }


def _files_json(trip: Trip) -> list[Json]:
    """Every document read, then what else the plan names and facts were found from: maps, tracks and logs."""
    read = [_file_json(document) for document in [*_documents(trip.packs), *_beside(trip)]]
    listed = {entry["file"] for entry in read}
    more = [(name, path) for name, path in sorted(trip.document.opened.items()) if name not in listed]
    return read + [{"file": name, "sha256": _sha256(path)} for name, path in more if path.is_file()]


def _sha256(path: Path) -> str:
    from hashlib import file_digest

    with path.open("rb") as stream:
        return file_digest(stream, "sha256").hexdigest()


def _file_json(document: Document) -> Json:
    return {"file": document.name, "sha256": document.sha256}
