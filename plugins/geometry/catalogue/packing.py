"""Coordinates as bytes: 64-bit floats, lowest byte first, so that a catalogue gives back what its files said."""

from __future__ import annotations

import sys
from array import array
from collections.abc import Sequence
from math import isfinite
from typing import NamedTuple

_FARTHEST_DEG = 36_000.0
"""A chain may go round the Earth, but not a hundred times."""
_SWAPPED = sys.byteorder == "big"


class Damaged(ValueError):
    """What stands in a catalogue's rows does not fit together."""


class Chain(NamedTuple):
    """Vertices in their order: a ring, a piece of a line, or a point. Longitudes run on past 180 without a jump."""

    lats: Sequence[float]
    lons: Sequence[float]


def packed_counts(counts: Sequence[int]) -> bytes:
    """The vertex counts of rings."""
    return _bytes_of(array("I", counts))


def unpacked(rings: bytes, degrees: bytes) -> list[Chain]:
    """The rings (a single chain, for a line or a point) that the two columns of a shape hold.

    Raises Damaged where they do not fit together.
    """
    counts = [int(count) for count in _array("I", rings)]
    values = _array("d", degrees)
    half = len(values) // 2
    if sum(counts) != half or len(values) % 2 or not half or 0 in counts:
        raise Damaged("the counts of a shape do not fit its coordinates")
    # What is no number, or no place, shows in the sum or at the ends.
    if not isfinite(sum(values)) or max(values) > _FARTHEST_DEG or min(values) < -_FARTHEST_DEG:
        raise Damaged("a shape has coordinates that are no places")
    chains, first = [], 0
    for count in counts:
        chains.append(Chain(values[first : first + count], values[half + first : half + first + count]))
        first += count
    return chains


def _bytes_of(values: array[int]) -> bytes:
    if _SWAPPED:
        values.byteswap()
    return values.tobytes()


def _array(code: str, data: bytes) -> array[float]:
    values: array[float] = array(code)
    if not isinstance(data, bytes) or len(data) % values.itemsize:
        raise Damaged("a column of a shape breaks off")
    values.frombytes(data)
    if _SWAPPED:
        values.byteswap()
    return values
