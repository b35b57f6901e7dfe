"""Writes files whole or not at all, and never over another without being told to."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from afield.core.cli.running import UsageError


def write_all(files: Mapping[Path, str], force: bool) -> None:
    """Write the files; if one of them stands already and `force` is off, none is written.

    Raises:
        UsageError: a file stands already, or cannot be written.

    """
    standing = [path for path in files if path.exists()]
    if standing and not force:
        raise UsageError(
            f"{standing[0]} stands already; nothing was written\n    = Name another place, or add --force."
        )
    for path, text in files.items():
        _write(path, text)


def _write(path: Path, text: str) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, waiting = tempfile.mkstemp(dir=path.parent, prefix=".afield-", text=False)
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
        # mkstemp makes the file private; a briefing is meant to be passed on.
        os.chmod(waiting, 0o644)
        os.replace(waiting, path)
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {error.strerror}\n    = Name another place.") from error
