"""Opens a catalogue for reading, after making sure that it is one, of this version, and whole."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from afield.plugins.geometry.catalogue.layout import APPLICATION_ID, VERSION, CatalogueError
from afield.plugins.geometry.catalogue.packing import Damaged

MAGIC = b"SQLite format 3\x00"
_HEADER = 100
BUILD_AGAIN = "Build it again: `afield catalogue build FILES... -o {file} --force`."
DAMAGED = "the catalogue is damaged"


def header_fields(header: bytes) -> tuple[int, int, int]:
    """Bytes that the file ought to have (0 if it does not say), user version and application id.

    Source: SQLite, Database File Format, 1.3 (The Database Header): page size at 16, change counter at 24, pages at 28,
    user version at 60, application id at 68, the change counter for which the page count holds at 92; big-endian.
    """

    def number(at: int, size: int = 4) -> int:
        return int.from_bytes(header[at : at + size], "big")

    page = 65536 if number(16, 2) == 1 else number(16, 2)
    pages = number(28) if number(24) == number(92) else 0
    return page * pages, number(60), number(68)


def is_catalogue(header: bytes) -> bool:
    """Whether the first 100 bytes of a file are those of a catalogue, of whatever version."""
    return header.startswith(MAGIC) and header_fields(header.ljust(_HEADER, b"\0"))[2] == APPLICATION_ID


def refuse_unusable(path: Path, shown: str) -> None:
    """Refuse what is no whole catalogue of this version.

    Raises:
        CatalogueError: the file is absent, a folder, cannot be read, no catalogue, of another version, or cut short.

    """
    header, size = _header(path, shown)
    if not is_catalogue(header):
        made = "Name a file that `afield catalogue build` has written."
        raise CatalogueError(shown, "this is not a catalogue of references", made)
    due, version, _ = header_fields(header)
    again = BUILD_AGAIN.format(file=shown)
    if version != VERSION:
        raise CatalogueError(shown, f"this catalogue is of version {version}; version {VERSION} is read", again)
    if len(header) < _HEADER or size < due:
        raise CatalogueError(shown, f"the catalogue is cut short: it has {size} bytes of {due}", again)


def _header(path: Path, shown: str) -> tuple[bytes, int]:
    if path.is_dir():
        raise CatalogueError(shown, "this is a folder", "Name the catalogue in it.")
    try:
        with path.open("rb") as stream:
            return stream.read(_HEADER), path.stat().st_size
    except FileNotFoundError:
        build = "Build one: `afield catalogue build FILES... -o refs.sqlite`; or name another with --catalogue."
        raise CatalogueError(shown, "there is no such catalogue", build) from None
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise CatalogueError(shown, f"the catalogue cannot be read ({reason})", "Check its permissions.") from None


@contextmanager
def opened(path: Path, shown: str) -> Iterator[sqlite3.Connection]:
    """A connection that can only read.

    Raises:
        CatalogueError: as `refuse_unusable`; also where SQLite, or what its rows hold, shows damage while it is used.

    """
    refuse_unusable(path, shown)
    # "immutable" spares locks and side files: a catalogue is replaced whole, never written in place.
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
    try:
        # Nothing that a stranger's file brings along, such as a trigger or a view, may call a function.
        connection.execute("PRAGMA trusted_schema = OFF")
        yield connection
    except (sqlite3.DatabaseError, Damaged, UnicodeDecodeError) as error:
        why = "a text in it is not UTF-8" if isinstance(error, UnicodeDecodeError) else str(error)
        raise CatalogueError(shown, f"{DAMAGED} ({why})", BUILD_AGAIN.format(file=shown)) from error
    finally:
        connection.close()
