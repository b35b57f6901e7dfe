"""Packs in zip files: looked through whole, then unpacked into a folder of this run; nothing in them is trusted."""

from __future__ import annotations

import atexit
import re
import shutil
import stat
import struct
import tempfile
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath

from afield.core.documents import InputError, quoted_list, read_text

MEBIBYTE = 1 << 20
MOST_ZIPPED = 20 * MEBIBYTE
"""Bytes of the zip file."""
MOST_UNPACKED = 64 * MEBIBYTE
"""Bytes of all files in it together."""
MOST_FILES = 1000
LONGEST_NAME = 200
LEFT_OUT = ("__MACOSX", ".DS_Store", "Thumbs.db", "desktop.ini")
"""What desktops put into a zip file unasked: a folder or file of such a name is no part of the pack."""

_UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2066-\u2069]")
_ID = re.compile("[a-z][a-z0-9]*(-[a-z0-9]+)*")
_AGAIN = "Zip the pack's folder again, or ask its publisher for it."
_DAMAGED = (zipfile.BadZipFile, zlib.error, struct.error, EOFError, OSError, RuntimeError, ValueError, OverflowError)
"""What reading a damaged zip file may raise; a way of packing that is not known is a RuntimeError."""
_unpacked: dict[tuple[Path, int, int], Path] = {}


class UnfitZip(Exception):
    """A zip file that holds no pack, or that is not to be unpacked.

    Attributes:
        what: what is wrong, without a full stop.
        advice: what to do about it, a sentence.

    """

    def __init__(self, what: str, advice: str = _AGAIN) -> None:
        super().__init__(f"{what}: {advice}")
        self.what, self.advice = what, advice


def unzipped(path: Path, shown: str) -> Path:
    """The folder of the pack in a zip file, unpacked once a run and removed at its end.

    Args:
        path: the zip file. It holds the pack's folder or the pack's files; of several folders the one of its own name.
        shown: how messages call it.

    Raises:
        UnfitZip: no zip file, a damaged one, one without a pack, or one with a name that leads out of it, a link, an
            encrypted file, a name twice, or more files or bytes than a pack has.

    """
    state = path.stat()
    key = (path.resolve(), state.st_mtime_ns, state.st_size)
    if key not in _unpacked:
        if state.st_size > MOST_ZIPPED:
            raise UnfitZip(f"{shown} is larger than {MOST_ZIPPED // MEBIBYTE} MiB")
        _unpacked[key] = _unpacked_folder(_contents(path, shown), path.stem, shown)
    return _unpacked[key]


def _contents(path: Path, shown: str) -> dict[str, bytes]:
    """Name -> content of every file of the pack."""
    try:
        with zipfile.ZipFile(path) as archive:
            entries = [entry for entry in archive.infolist() if not _is_left_out(entry.orig_filename)]
            _refuse_unfit(entries, shown)
            return _read(archive, [entry for entry in entries if not entry.is_dir()], shown)
    except _DAMAGED:
        raise UnfitZip(f"{shown} is no zip file, or a damaged one") from None


def _is_left_out(name: str) -> bool:
    parts = re.split(r"[/\\]", name)
    return any(part in LEFT_OUT for part in (parts[0], parts[-1]))


def _refuse_unfit(entries: Iterable[zipfile.ZipInfo], shown: str) -> None:
    names: set[str] = set()
    for count, entry in enumerate(entries, 1):
        name = entry.orig_filename
        fault = _fault_of_name(name) or _fault_of_kind(entry)
        if fault is not None:
            raise UnfitZip(f'{shown} holds "{_seen(name)}", {fault}')
        if count > MOST_FILES:
            raise UnfitZip(f"{shown} holds more than {MOST_FILES} files")
        # On some systems names that differ in capitals only are one file.
        if name.casefold() in names:
            raise UnfitZip(f'{shown} holds "{_seen(name)}" twice')
        names.add(name.casefold())


def _fault_of_name(name: str) -> str | None:
    if _UNSEEN.search(name) or len(name) > LONGEST_NAME:
        return "whose name is no file name"
    if "\\" in name:
        return "whose name has \\ between folders where / is due"
    if name.startswith("/") or ":" in name:
        return "which is an absolute path"
    if any(part in ("", ".", "..") for part in name.removesuffix("/").split("/")):
        return "which leads out of the pack"
    return None


def _fault_of_kind(entry: zipfile.ZipInfo) -> str | None:
    mode = stat.S_IFMT(entry.external_attr >> 16)
    if mode == stat.S_IFLNK:
        return "a symbolic link; a pack holds its own files"
    if mode not in (0, stat.S_IFREG, stat.S_IFDIR):
        return "which is no plain file"
    return "which is encrypted" if entry.flag_bits & 1 else None


def _seen(name: str) -> str:
    return _UNSEEN.sub("�", name)[:LONGEST_NAME]


def _read(archive: zipfile.ZipFile, entries: Iterable[zipfile.ZipInfo], shown: str) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    left = MOST_UNPACKED
    for entry in entries:
        found[entry.filename] = _bounded(archive, entry, left, shown)
        left -= len(found[entry.filename])
    return found


def _bounded(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, left: int, shown: str) -> bytes:
    """The content of a file; what the zip file says of its size is not relied on."""
    try:
        with archive.open(entry) as stream:
            content = stream.read(left + 1)
    except _DAMAGED as error:
        raise UnfitZip(f'"{entry.filename}" in {shown} cannot be unpacked') from error
    if len(content) > left:
        raise UnfitZip(f"{shown} unpacks to more than {MOST_UNPACKED // MEBIBYTE} MiB")
    return content


def _unpacked_folder(contents: dict[str, bytes], stem: str, shown: str) -> Path:
    inner = _pack_in(contents, stem, shown)
    top = Path(tempfile.mkdtemp(prefix="afield-"))
    atexit.register(shutil.rmtree, top, ignore_errors=True)
    # Files that lie in no folder get one that is called as the pack calls itself.
    outer = _own_name(contents["pack.yaml"], stem) if inner == "" else ""
    try:
        for name, content in contents.items():
            place = top / outer / PurePosixPath(name)
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(content)
    except OSError as error:
        raise UnfitZip(f"{shown} cannot be unpacked: {error.strerror}") from error
    return top / (outer or inner)


def _pack_in(contents: Iterable[str], stem: str, shown: str) -> str:
    """The folder in the zip file that is the pack; "" where its files lie in no folder."""
    found = sorted(_folders_of_packs(contents))
    if "" in found:
        return ""
    if len(found) == 1 or stem in found:
        return stem if stem in found else found[0]
    if found:
        what = f"{shown} holds several packs: {quoted_list(found)}"
        raise UnfitZip(what, "Zip one of them, or give the zip file the name of the one that is meant.")
    raise UnfitZip(f"{shown} holds no pack", "Zip the folder that holds the pack.yaml.")


def _folders_of_packs(contents: Iterable[str]) -> Iterator[str]:
    for name in contents:
        folder, _, file = name.rpartition("/")
        if file == "pack.yaml" and "/" not in folder:
            yield folder


def _own_name(content: bytes, otherwise: str) -> str:
    try:
        name = read_text(content.decode("utf-8-sig")).data.get("id")
    except (InputError, UnicodeDecodeError):
        return otherwise
    return name if isinstance(name, str) and _ID.fullmatch(name) else otherwise
