"""Writes files whole or not at all, and never over another without being told to."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from pathlib import Path


class UsageError(Exception):
    """A command was asked for something that cannot be done; the text says what to do instead."""


def write_all(files: Mapping[Path, str], force: bool) -> None:
    """Write all the files, or none of them: each is written beside its place first, then all are put there.

    Raises:
        UsageError: a file stands already and `force` is off, or one cannot be written; nothing is changed then.

    """
    refuse_standing(files, force)
    waiting: dict[Path, str] = {}
    try:
        for path, text in files.items():
            waiting[path] = _written_beside(path, text)
        for path in files:
            os.replace(waiting[path], path)
            del waiting[path]
    except OSError as error:
        what = f"{path} cannot be written: {error.strerror}"
        raise UsageError(f"{what}\n    = Name another place, or make room there.") from error
    finally:
        for name in waiting.values():
            os.unlink(name)


def refuse_standing(paths: Iterable[Path], force: bool) -> None:
    """Refuse to write where a file stands already and `force` is off, or where a folder stands in any case.

    Raises:
        UsageError: naming the first such file.

    """
    for path in paths:
        if path.parent.exists() and not path.parent.is_dir():
            raise UsageError(f"{path.parent} is a file, not a folder; nothing was written\n    = Name another place.")
        if path.is_dir():
            raise UsageError(f"{path} is a folder; nothing was written\n    = Name another place.")
        if path.exists() and not force:
            raise UsageError(f"{path} stands already; nothing was written\n    = Name another place, or add --force.")


def _written_beside(path: Path, text: str) -> str:
    """The name of a new file in the folder of `path` that holds the text."""
    # Every start imports this module, few write.
    import tempfile

    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".afield-")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
        # mkstemp makes the file private; a briefing is meant to be passed on.
        os.chmod(name, 0o644)
    except OSError:
        os.unlink(name)
        raise
    return name
