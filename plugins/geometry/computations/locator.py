"""Grid locators (Maidenhead): cells in exact arithmetic, so that an edge never depends on float luck.

Definition: 18 x 18 fields of 20 x 10 degrees counted from 180 W and 90 S, then 10 x 10 squares, 24 x 24 subsquares,
10 x 10 and 24 x 24 again; IARU Region 1 VHF Managers Handbook, section 5.12. The datum is WGS 84. Cells are half open:
an edge belongs to the cell north or east of it; latitude 90 and longitude 180 belong to the last row and column.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from string import ascii_uppercase, digits
from typing import NamedTuple

from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.computations.positions import checked_position

DIVISIONS = (18, 10, 24, 10, 24)
"""How many cells a side each pair of characters divides the cell before it into."""

LENGTHS = (2, 4, 6, 8, 10)
"""The lengths of a whole locator."""


class LocatorCell(NamedTuple):
    """The cell that a locator names: its south-west corner, its centre and its size, in degrees."""

    centre_lat_deg: float
    centre_lon_deg: float
    sw_lat_deg: float
    sw_lon_deg: float
    height_deg: float
    width_deg: float


def maidenhead_encode(lat_deg: float, lon_deg: float, characters: int = 6) -> str:
    """The locator of the cell that a position lies in, written as in `JN18eu`.

    Formula: repeated division with remainder of the exact decimal figures, never of binary fractions.
    Source: IARU Region 1 VHF Managers Handbook, section 5.12 (The Locator System); see the module for edges.
    Valid: all positions on WGS 84.

    Args:
        lat_deg: latitude.
        lon_deg: longitude.
        characters: length of the locator: 2, 4, 6, 8 or 10.

    Raises:
        ValueError: the position is not on the Earth, or there is no locator of that length.

    """
    position = checked_position(lat_deg, lon_deg)
    if characters not in LENGTHS:
        raise ValueError(f"a locator has 2, 4, 6, 8 or 10 characters, not {characters}")
    pairs = int(characters) // 2
    columns = _cell_numbers(_exact(position.lon_deg, 180) / 360, pairs)
    rows = _cell_numbers(_exact(position.lat_deg, 90) / 180, pairs)
    return "".join(_pair(level, *pair) for level, pair in enumerate(zip(columns, rows, strict=True)))


def maidenhead_decode(locator: str) -> LocatorCell:
    """The cell that a locator names; upper and lower case are the same.

    Formula: sum of cell number times cell size over the pairs, in exact fractions.
    Source: IARU Region 1 VHF Managers Handbook, section 5.12 (The Locator System).
    Valid: locators of 2, 4, 6, 8 or 10 characters. Centre and south-west corner are both given: tools differ.

    Args:
        locator: the locator.

    Raises:
        ValueError: a wrong length or a character that is not allowed where it stands; says which.

    """
    numbers = _numbers(locator)
    south, height = _span([row for _, row in numbers], Fraction(180), Fraction(-90))
    west, width = _span([column for column, _ in numbers], Fraction(360), Fraction(-180))
    centre = float(south + height / 2), float(west + width / 2)
    return LocatorCell(*centre, float(south), float(west), float(height), float(width))


def maidenhead_uncertainty(locator: str) -> float:
    """How far the position may be from the centre of its locator's cell: distance to the farthest corner, in metres.

    Formula: greatest geodesic distance from the centre to the four corners, which are the farthest points of the cell.
    Source: geodesic by Karney (2013), cell as in `maidenhead_decode`.
    Valid: as `maidenhead_decode`; a bound, not a standard deviation.

    Args:
        locator: the locator.

    Raises:
        ValueError: as `maidenhead_decode`.

    """
    cell = maidenhead_decode(locator)
    lats = cell.sw_lat_deg, min(cell.sw_lat_deg + cell.height_deg, 90.0)
    lons = cell.sw_lon_deg, min(cell.sw_lon_deg + cell.width_deg, 180.0)
    centre = cell.centre_lat_deg, cell.centre_lon_deg
    return max(geodesic_inverse(*centre, *corner).distance_m for corner in product(lats, lons))


def _exact(degrees: float, offset: int) -> Fraction:
    # repr is the shortest decimal that is this float: the figure as it was written.
    return Fraction(repr(degrees)) + offset


def _cell_numbers(share: Fraction, pairs: int) -> list[int]:
    numbers = []
    for division in DIVISIONS[:pairs]:
        number = min(int(share * division), division - 1)
        numbers.append(number)
        share = share * division - number
    return numbers


def _alphabet(level: int) -> str:
    return digits if level % 2 else ascii_uppercase[: DIVISIONS[level]]


def _pair(level: int, column: int, row: int) -> str:
    alphabet = _alphabet(level) if level == 0 else _alphabet(level).lower()
    return alphabet[column] + alphabet[row]


def _numbers(locator: str) -> list[tuple[int, int]]:
    text = locator.strip().upper()
    if len(text) not in LENGTHS:
        raise ValueError(f'locator "{locator}" has {len(text)} characters; a locator has 2, 4, 6, 8 or 10')
    found = [_number(locator, text, at) for at in range(len(text))]
    return list(zip(found[::2], found[1::2], strict=True))


def _number(locator: str, text: str, at: int) -> int:
    alphabet = _alphabet(at // 2)
    number = alphabet.find(text[at])
    if number < 0:
        due = f"{alphabet[0]} to {alphabet[-1]}"
        raise ValueError(f'locator "{locator}": character {at + 1} is "{text[at]}"; {due} is due there')
    return number


def _span(numbers: list[int], size: Fraction, start: Fraction) -> tuple[Fraction, Fraction]:
    for number, division in zip(numbers, DIVISIONS, strict=False):
        size /= division
        start += number * size
    return start, size
