"""Builds a catalogue: files in, one SQLite file out, whole or not at all."""

from __future__ import annotations

import gc
import os
import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from afield.core.api import frozen
from afield.plugins.geometry.catalogue.layout import APPLICATION_ID, INDEXES, TABLES, VERSION, CatalogueError
from afield.plugins.geometry.catalogue.naming import Naming
from afield.plugins.geometry.catalogue.rows import Counts, Provenance, Writer
from afield.plugins.geometry.catalogue.sources import sources_of

Progress = Callable[[str, int, float], None]
"""Told of each batch: which file, how many of its features are in, and how much of it has been read (0 to 1)."""

_SETTINGS = ("journal_mode = OFF", "synchronous = OFF", "locking_mode = EXCLUSIVE", "cache_size = -65536")
"""The file is thrown away if anything goes wrong, so nothing needs a journal."""


@frozen(slots=False)
class Wanted:
    """One file that goes into the catalogue: where it is, how messages call it, and what is known of it."""

    path: Path
    shown: str
    provenance: Provenance


def build(
    files: Sequence[Wanted], target: Path, naming: Naming, join: bool = False, progress: Progress | None = None
) -> Counts:
    """Write the catalogue of some files to `target`; what stood there is replaced once the new one is whole.

    Args:
        files: at least one.
        target: where to.
        naming: how references are named.
        join: whether features of one layer, kind and name are parts of one reference.
        progress: told how far it is.

    Raises:
        GeoFileError: a file cannot be read, or its references cannot be named.
        CatalogueError: no file, two references of one name in one program, or the catalogue cannot be written.

    """
    if not files:
        raise CatalogueError(target.name, "there is nothing to build it from", "Name one or more files.")
    with _replaced(target) as waiting, _connection(waiting, target.name) as connection, _without_sweeping():
        writer = Writer(connection, naming, join, progress or (lambda *_: None))
        for wanted in files:
            for source in sources_of(wanted.path, wanted.shown):
                writer.add(source, wanted.provenance)
        connection.executescript(INDEXES)
        return writer.counts


@contextmanager
def _connection(path: Path, shown: str) -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(path, isolation_level=None)
    try:
        for setting in _SETTINGS:
            connection.execute(f"PRAGMA {setting}")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {VERSION}")
        connection.execute("BEGIN")
        for statement in filter(str.strip, TABLES.split(";")):
            connection.execute(statement)
        yield connection
        if connection.in_transaction:
            connection.execute("COMMIT")
    except sqlite3.OperationalError as error:
        what = f"the catalogue cannot be written ({error}); nothing was changed"
        raise CatalogueError(shown, what, "Make room there, or name another place with -o.") from error
    finally:
        connection.close()


@contextmanager
def _replaced(target: Path) -> Iterator[Path]:
    """A new file beside the target, put in its place if all goes well, and taken away if not."""
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=".afield-")
        os.close(handle)
    except OSError as error:
        what = f"the catalogue cannot be written ({error.strerror}); nothing was changed"
        raise CatalogueError(str(target), what, "Name another place with -o.") from error
    try:
        yield Path(name)
        _make_lasting(name)
        os.replace(name, target)
    finally:
        Path(name).unlink(missing_ok=True)


def _make_lasting(name: str) -> None:
    """The file on the disk itself, readable by others as other files are: mkstemp makes it private."""
    os.chmod(name, 0o644)
    with open(name, "rb") as stream:
        os.fsync(stream.fileno())


@contextmanager
def _without_sweeping() -> Iterator[None]:
    """Millions of lists are made and dropped: sweeping them for cycles would double the time and find none."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
