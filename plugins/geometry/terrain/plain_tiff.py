"""GeoTIFFs of the plainest form, read without GDAL: its import alone costs more than all else that a small grid does.

Little-endian, one image of one band in strips, floats of 32 bits as they are or deflated, tied at its north-west corner
to a reference system that is named by its code. Whatever else a file holds or says, GDAL reads it.
"""

from __future__ import annotations

import re
import struct
import zlib
from math import isfinite
from pathlib import Path
from typing import Any

import numpy as np

from afield.plugins.geometry.terrain.grid import Grid, Heights, checked_size, unit_of

MOST_BYTES = 4_000_000
"""Of the file, and of its heights: larger grids are read in parts, by GDAL."""
WIDTH, LENGTH, BITS, COMPRESSION, STRIPS, BANDS, ROWS_A_STRIP, STRIP_BYTES = 256, 257, 258, 259, 273, 277, 278, 279
TITLE, PHOTOMETRIC, PLANAR, PREDICTOR, SAMPLE_FORM = 270, 262, 284, 317, 339
POST_SIZE, TIE, KEYS, NUMBERS, WORDS, GDAL_WORDS = 33550, 33922, 34735, 34736, 34737, 42112
_DUE = {BITS: [32], BANDS: [1], SAMPLE_FORM: [3], PLANAR: [1], PHOTOMETRIC: [1], PREDICTOR: [1]}
_TEXTS, _DOUBLES = {TITLE, WORDS, GDAL_WORDS}, {POST_SIZE, TIE, NUMBERS}
_WHOLE = {WIDTH, LENGTH, COMPRESSION, STRIPS, ROWS_A_STRIP, STRIP_BYTES, KEYS, *_DUE}
_FORMS = {**{tag: {2: "s"} for tag in _TEXTS}, **{tag: {12: "d"} for tag in _DOUBLES}}
_FORMS |= {tag: {3: "H", 4: "I"} for tag in _WHOLE}
"""Tag -> in which forms it may be written: text, doubles, 16 and 32 bits (TIFF 6.0, section 2)."""
AS_IT_IS, DEFLATED = 1, 8
_UNIT = re.compile(
    r'<GDALMetadata>\s*<Item name="UNITTYPE" sample="0" role="unittype">([a-z]+)</Item>\s*</GDALMetadata>'
)
METRE, DEGREE = 9001, 9102
MODEL, RASTER, ANGLE_UNIT, PROJECTED, LENGTH_UNIT, VERTICAL, VERTICAL_UNIT = 1024, 1025, 2054, 3072, 3076, 4096, 4099
CITATIONS = (1026, 2049, 3073, 4097)
_KEYS_DUE = {MODEL: 1, RASTER: 1, ANGLE_UNIT: DEGREE, LENGTH_UNIT: METRE, VERTICAL_UNIT: METRE}
"""A projected system, cells as areas, degrees and metres (OGC 19-008r4, GeoTIFF 1.1, annex B)."""
_KEYS_KNOWN = {*_KEYS_DUE, *CITATIONS, PROJECTED, VERTICAL}
OWN_CODES = 32767
"""From here on a code is the file's own."""

Tags = dict[int, list[Any]]


class _Other(Exception):
    """Not of the plainest form."""


def read_plain(path: Path, shown: str, heights_in: str | None) -> Grid | None:
    """The grid of a GeoTIFF of the plainest form; None for any other: GDAL then reads it, or says why not.

    Raises:
        GeoFileError: the grid is too small, or the unit of its heights is not known.

    """
    if path.stat().st_size > MOST_BYTES:
        return None
    content = path.read_bytes()
    try:
        tags = _tags(content)
        heights, code = _heights(content, tags), _code(tags)
        step_x, step_y, west, north = _corner(tags)
        told = _unit(tags)
    except (_Other, struct.error, zlib.error, ValueError, IndexError, KeyError):
        return None
    rows, columns = heights.shape
    checked_size(rows, columns, shown)
    unit, notes = unit_of(told, heights_in, shown)
    return Grid(
        shown, rows, columns, west + step_x / 2, north - step_y / 2, step_x, -step_y, f"EPSG:{code}", unit,
        lambda row, last_row, column, last_column: heights[row:last_row, column:last_column], notes,
    )  # fmt: skip


def _tags(content: bytes) -> Tags:
    """All tags of the only image."""
    mark, first = struct.unpack_from("<4sI", content)
    _must(mark == b"II*\x00")
    (count,) = struct.unpack_from("<H", content, first)
    tags = dict(_tag(content, first + 2 + 12 * number) for number in range(count))
    _must(struct.unpack_from("<I", content, first + 2 + 12 * count) == (0,))
    _must(all(tags.get(tag, due) == due for tag, due in _DUE.items()))
    _must(tags[BITS] == _DUE[BITS] and tags[SAMPLE_FORM] == _DUE[SAMPLE_FORM])
    return tags


def _tag(content: bytes, at: int) -> tuple[int, list[Any]]:
    tag, form, count = struct.unpack_from("<HHI", content, at)
    _must(form in _FORMS.get(tag, {}))
    layout = f"<{count}{_FORMS[tag][form]}"
    size = struct.calcsize(layout)
    _must(size <= len(content))
    place = at + 8 if size <= 4 else struct.unpack_from("<I", content, at + 8)[0]
    return tag, list(struct.unpack_from(layout, content, place))


def _heights(content: bytes, tags: Tags) -> Heights:
    """All heights, rows from north to south."""
    [columns], [rows], [strip_rows] = tags[WIDTH], tags[LENGTH], tags[ROWS_A_STRIP]
    size = rows * columns * 4
    _must(0 < size <= MOST_BYTES and strip_rows > 0)
    places = list(zip(tags[STRIPS], tags[STRIP_BYTES], strict=True))
    due = [4 * columns * min(strip_rows, rows - first) for first in range(0, rows, strip_rows)]
    strips = (content[start : start + length] for start, length in places)
    packed = tags[COMPRESSION] == [DEFLATED]
    _must(packed or tags[COMPRESSION] == [AS_IT_IS])
    opened = [_opened(strip, most) if packed else strip for strip, most in zip(strips, due, strict=True)]
    _must([len(strip) for strip in opened] == due)
    return np.frombuffer(b"".join(opened), "<f4").reshape(rows, columns).astype(np.float32)


def _opened(strip: bytes, due: int) -> bytes:
    """What was deflated; no more than is due, whatever the strip says."""
    opener = zlib.decompressobj()
    found = opener.decompress(strip, due + 1)
    _must(opener.eof)
    return found


def _corner(tags: Tags) -> tuple[float, float, float, float]:
    """Width and height of a cell, and easting and northing of the north-west corner."""
    step_x, step_y, _ = tags[POST_SIZE]
    column, row, _, west, north, _ = tags[TIE]
    _must(column == row == 0 and step_x > 0 and step_y > 0 and isfinite(step_x + step_y + west + north))
    return float(step_x), float(step_y), float(west), float(north)


def _code(tags: Tags) -> int:
    """The EPSG code of the reference system by the file's keys."""
    header, rest = tags[KEYS][:4], tags[KEYS][4:]
    _must(header[:2] == [1, 1] and len(rest) == 4 * header[3])
    keys = {rest[at]: rest[at + 1 : at + 4] for at in range(0, len(rest), 4)}
    _must(set(keys) <= _KEYS_KNOWN and MODEL in keys and RASTER in keys)
    _must(all(keys.get(key, [0, 1, due]) == [0, 1, due] for key, due in _KEYS_DUE.items()))
    _must(VERTICAL not in keys or GDAL_WORDS in tags)
    place, count, code = keys[PROJECTED]
    _must((place, count) == (0, 1) and 1024 <= code < OWN_CODES)
    return int(code)


def _unit(tags: Tags) -> str | None:
    """The unit of the heights in GDAL's own words; these may say nothing else."""
    if GDAL_WORDS not in tags:
        return None
    found = _UNIT.fullmatch(tags[GDAL_WORDS][0].rstrip(b"\x00").decode("ascii").strip())
    if found is None:
        raise _Other
    return found[1]


def _must(holds: bool) -> None:
    if not holds:
        raise _Other
