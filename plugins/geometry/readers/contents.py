"""The bytes of a file, once it is known to be a file of bearable size."""

from pathlib import Path

from afield.plugins.geometry.readers.layer import GeoFileError
from afield.plugins.geometry.readers.words import near_name

LARGEST_BYTES = 200_000_000
SHAPEFILE_COMPANIONS = (".dbf", ".shx", ".prj")


def refuse_missing(path: Path, shown: str) -> None:
    """Raise GeoFileError where there is no file of this name; a near name in the same folder is offered."""
    folder = path.parent
    siblings = sorted(entry.name for entry in folder.iterdir()) if folder.is_dir() else []
    advice = f"{near_name(path.name, siblings)}Write its path as seen from the folder of the file that names it."
    raise GeoFileError(f"{shown}: there is no such file", advice)


def size_on_disk(path: Path) -> int:
    """The bytes of the file and, of a shapefile, of the files that belong to it."""
    companions = SHAPEFILE_COMPANIONS if path.suffix.lower() == ".shp" else ()
    sizes = [path.with_suffix(suffix) for suffix in companions]
    return path.stat().st_size + sum(other.stat().st_size for other in sizes if other.is_file())


def refuse_unreadable(path: Path, shown: str) -> None:
    """Raise GeoFileError for a file that is absent, a folder, empty or larger than LARGEST_BYTES."""
    if path.is_dir():
        raise GeoFileError(f"{shown}: this is a folder", "Name a file in it.")
    if not path.is_file():
        refuse_missing(path, shown)
    size = size_on_disk(path)
    if path.stat().st_size == 0:
        raise GeoFileError(f"{shown}: the file is empty", "Save it again from the program that made it.")
    if size > LARGEST_BYTES:
        what = f"{shown}: {size / 1e6:.0f} MB is more than the {LARGEST_BYTES / 1e6:.0f} MB that are read"
        raise GeoFileError(what, "Cut out the features that you need and save them as a GeoJSON file.")


def file_bytes(path: Path, shown: str) -> bytes:
    """The whole file. Raises GeoFileError as `refuse_unreadable` does, and where the system refuses to read it."""
    try:
        refuse_unreadable(path, shown)
        return path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise GeoFileError(f"{shown}: the file cannot be read ({reason})", "Check its permissions.") from None
