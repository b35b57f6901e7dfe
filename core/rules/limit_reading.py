"""Limits as a pack writes them -> `Limit`s; for data that the pack's schema has let through or not."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from afield.core.documents import Path
from afield.core.rules.complaint import Complaint, as_written, unknown_keys
from afield.core.rules.limit_checks import complaints_about
from afield.core.rules.limits import Limit, Source, Version

_VERSION_KEYS = ("from", "until", "value", "unit", "also_printed", "none", "source", "announced", "corrects")
_SOURCE_KEYS = ("document", "section", "edition", "grade", "last_checked")
_NUMBER = 'Write digits in quotes, for example "24.4".'


def read_limits(data: Mapping[str, Any], path: Path = ("limits",)) -> tuple[dict[str, Limit], list[Complaint]]:
    """The pack's limits by name, and every complaint about them; a limit with a complaint is still there."""
    limits: dict[str, Limit] = {}
    complaints: list[Complaint] = []
    for name, entries in data.items():
        reader = _Reader(complaints)
        limits[name] = Limit(name, reader.versions(entries, (*path, name)))
        complaints.extend(complaints_about(limits[name]))
    return limits, complaints


def read_source(data: Any, path: Path) -> tuple[Source | None, list[Complaint]]:
    """The source of a rule, limit or value; None where nothing is written or what is written is no source."""
    reader = _Reader([])
    return reader.source(data, path), reader.complaints


class _Reader:
    """Reads one piece after the other and gathers complaints."""

    def __init__(self, complaints: list[Complaint]) -> None:
        self.complaints = complaints

    def versions(self, entries: Any, path: Path) -> tuple[Version, ...]:
        if not isinstance(entries, list) or not entries:
            self._complain(path, "a limit is a list of dated values", "Write `- {from: 2024-01-01, value: ..., ...}`.")
            return ()
        read = [self._version(entry, (*path, index)) for index, entry in enumerate(entries)]
        return tuple(version for version in read if version is not None)

    def source(self, data: Any, path: Path) -> Source | None:
        if data is None:
            return None
        if not isinstance(data, Mapping) or not {"document", "section"} <= set(data):
            self._complain(path, "a source names its document and section", 'Write `{document: ..., section: "4.2"}`.')
            return None
        self.complaints.extend(unknown_keys(data, _SOURCE_KEYS, path))
        texts = {key: str(data[key]) for key in _SOURCE_KEYS[:4] if data.get(key) is not None}
        return Source(**texts, last_checked=self._day(data.get("last_checked"), (*path, "last_checked")))

    def _version(self, entry: Any, path: Path) -> Version | None:
        if not isinstance(entry, Mapping):
            self._complain(path, "a dated value is a mapping", 'Write `{from: 2024-01-01, value: "80", unit: ft}`.')
            return None
        before = len(self.complaints)
        self.complaints.extend(unknown_keys(entry, _VERSION_KEYS, path))
        version = self._fields(entry, path)
        return version if len(self.complaints) == before else None

    def _fields(self, entry: Mapping[str, Any], path: Path) -> Version:
        days = {key: self._day(entry.get(key), (*path, key)) for key in ("from", "until", "announced")}
        return Version(
            from_=days["from"],
            until=days["until"],
            announced=days["announced"],
            value=self._figure(entry["value"], (*path, "value")) if "value" in entry else None,
            unit=str(entry.get("unit") or ""),
            also_printed=self._equivalents(entry.get("also_printed") or [], (*path, "also_printed")),
            none=entry.get("none"),
            source=self.source(entry.get("source"), (*path, "source")),
            corrects=entry.get("corrects"),
            path=path,
        )

    def _equivalents(self, entries: Any, path: Path) -> tuple[tuple[Decimal, str], ...]:
        if not isinstance(entries, list) or not all(
            isinstance(entry, Mapping) and "value" in entry for entry in entries
        ):
            self._complain(path, "printed equivalents are a list", 'Write `[{value: "24.4", unit: m}]`.')
            return ()
        figures = [self._figure(entry["value"], (*path, index, "value")) for index, entry in enumerate(entries)]
        units = [str(entry.get("unit") or "") for entry in entries]
        return tuple((figure, unit) for figure, unit in zip(figures, units, strict=True) if figure is not None)

    def _figure(self, written: Any, path: Path) -> Decimal | None:
        if isinstance(written, str | int) and not isinstance(written, bool):
            try:
                return Decimal(written)
            except InvalidOperation:
                self._complain(path, f'"{written}" is not a number', _NUMBER)
                return None
        self._complain(path, f"{as_written(written)} is not a figure as printed", _NUMBER)
        return None

    def _day(self, written: Any, path: Path) -> date | None:
        if written is None or isinstance(written, date):
            return written
        try:
            return date.fromisoformat(str(written))
        except ValueError:
            self._complain(path, f"{written} is no date", "Write year-month-day, for example 2026-06-27.")
            return None

    def _complain(self, path: Path, what: str, advice: str) -> None:
        self.complaints.append(Complaint(path, what, advice))
