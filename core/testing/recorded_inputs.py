"""Inputs of a check case that remember which of them were read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from typing import Any


class RecordedInputs(Mapping[str, Any]):
    """A read-only mapping, nested ones included, that knows which of its values nobody asked for."""

    def __init__(self, inputs: Mapping[str, Any]) -> None:
        self._values = {key: _recorded(value) for key, value in inputs.items()}
        self._read: set[str] = set()

    def __getitem__(self, key: str) -> Any:
        value = self._values[key]
        self._read.add(key)
        return value

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)

    def __contains__(self, key: object) -> bool:
        # Asking whether an input is there is not yet using it.
        return key in self._values

    def unread(self, ignored: Set[str] = frozenset()) -> list[str]:
        """Dotted paths of the values that were not read and are not among the ignored ones."""
        return [path for path in self._unread_paths() if not _is_ignored(path, ignored)]

    def _unread_paths(self) -> list[str]:
        paths = []
        for key, value in self._values.items():
            if key not in self._read:
                paths.append(key)
                continue
            paths += [f"{key}.{path}" for nested in _nested(value) for path in nested._unread_paths()]
        return list(dict.fromkeys(paths))


def _recorded(value: Any) -> Any:
    if isinstance(value, Mapping):
        return RecordedInputs(value)
    if isinstance(value, list):
        return [_recorded(item) for item in value]
    return value


def _nested(value: Any) -> list[RecordedInputs]:
    if isinstance(value, RecordedInputs):
        return [value]
    return [nested for item in value for nested in _nested(item)] if isinstance(value, list) else []


def _is_ignored(path: str, ignored: Set[str]) -> bool:
    parts = path.split(".")
    return any(".".join(parts[:length]) in ignored for length in range(1, len(parts) + 1))
