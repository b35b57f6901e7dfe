"""Reads a terrain grid of any kind that is known: told apart by what is in the file, not by its name."""

from __future__ import annotations

from pathlib import Path

from afield.plugins.geometry.readers.contents import refuse_unreadable
from afield.plugins.geometry.readers.layer import GeoFileError
from afield.plugins.geometry.terrain.grid import Grid

TIFF = (b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+")
KINDS = "GeoTIFF, ESRI ASCII grid and NumPy (.npz) files are read."


def read_grid(path: Path, shown: str, heights_in: str | None) -> Grid:
    """The grid of the file at `path`.

    Args:
        path, shown: the file, and how messages call it.
        heights_in: unit of the heights where the file does not say it: "m", "ft" or "US survey ft".

    Raises:
        GeoFileError: no such file, or no grid that can be used; never half-read. Nothing is fetched from the network.

    """
    head = _head(path, shown)
    if head.startswith(TIFF):
        return _tiff(path, shown, heights_in)
    if head.lstrip().lower().startswith(b"ncols"):
        from afield.plugins.geometry.terrain.raster import read_raster

        return read_raster(path, shown, "AAIGrid", heights_in)
    if head.startswith(b"PK"):
        from afield.plugins.geometry.terrain.numpy_grid import read_npz

        return read_npz(path, shown, heights_in)
    raise GeoFileError(f"{shown}: this is not a terrain grid", KINDS)


def _tiff(path: Path, shown: str, heights_in: str | None) -> Grid:
    from afield.plugins.geometry.terrain.plain_tiff import read_plain

    plain = read_plain(path, shown, heights_in)
    if plain is not None:
        return plain
    from afield.plugins.geometry.terrain.raster import read_raster

    return read_raster(path, shown, "GTiff", heights_in)


def _head(path: Path, shown: str) -> bytes:
    try:
        refuse_unreadable(path, shown)
        with path.open("rb") as stream:
            return stream.read(64)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise GeoFileError(f"{shown}: the file cannot be read ({reason})", "Check its permissions.") from None
