"""Convex cells that cover a footprint, and can be halved: what branch and bound works on."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from math import cos, pi
from typing import Protocol

import numpy as np

from afield.core.api import frozen
from afield.plugins.geometry.computations.planar import lengths
from afield.plugins.geometry.computations.plane import Floats


class Cell(Protocol):
    """A piece of a footprint.

    Attributes:
        hull: (k, 2) corners of a convex polygon that holds the piece.
        samples: (j, 2) points of the piece; the last one is its middle.
        radius_m: no point of the piece is farther from its middle.

    """

    @property
    def hull(self) -> Floats: ...  # noqa: D102
    @property
    def samples(self) -> Floats: ...  # noqa: D102
    @property
    def radius_m(self) -> float: ...  # noqa: D102
    def halves(self) -> Sequence[Cell]:
        """Smaller cells that cover the same piece."""


@frozen(slots=False)
class Corners:
    """A point, a segment or a triangle, given by its corners (1 to 3, 2)."""

    hull: Floats

    @cached_property
    def samples(self) -> Floats:
        """The corners and the middle."""
        return np.concatenate([self.hull, self.hull.mean(axis=0)[None, :]])

    @cached_property
    def radius_m(self) -> float:
        """From the middle to the farthest corner."""
        return float(lengths(self.hull - self.samples[-1]).max())

    def halves(self) -> Sequence[Corners]:
        """Cut across the longest side; a point has no halves."""
        if len(self.hull) == 1:
            return ()
        first = int(np.argmax(lengths(np.roll(self.hull, -1, axis=0) - self.hull)))
        turned = np.roll(self.hull, -first, axis=0)
        middle = turned[:2].mean(axis=0)
        return Corners(np.vstack([turned[0], middle, turned[2:]])), Corners(np.vstack([middle, turned[1:]]))


@frozen(slots=False)
class Sector:
    """What lies between two radii and two bearings (radians, from north) around a centre."""

    centre: tuple[float, float]
    inner_m: float
    outer_m: float
    first: float
    last: float

    @cached_property
    def hull(self) -> Floats:
        """Inner corners, and outer ones far enough out to hold the arc."""
        outer = self.outer_m / cos((self.last - self.first) / 2)
        return self._at([self.inner_m, self.inner_m, outer, outer], [self.first, self.last, self.last, self.first])

    @cached_property
    def samples(self) -> Floats:
        """The corners, the middle of the outer arc and the middle."""
        half, middle = (self.first + self.last) / 2, (self.inner_m + self.outer_m) / 2
        radii = [self.inner_m, self.inner_m, self.outer_m, self.outer_m, self.outer_m, middle]
        return self._at(radii, [self.first, self.last, self.last, self.first, half, half])

    @cached_property
    def radius_m(self) -> float:
        """From the middle to the farthest corner of the hull."""
        return float(lengths(self.hull - self.samples[-1]).max())

    def halves(self) -> Sequence[Sector]:
        """Cut by a radius or by an arc, whichever leaves the stubbier halves."""
        if self.outer_m - self.inner_m > self.outer_m * (self.last - self.first):
            middle = (self.inner_m + self.outer_m) / 2
            return (
                Sector(self.centre, self.inner_m, middle, self.first, self.last),
                Sector(self.centre, middle, self.outer_m, self.first, self.last),
            )
        half = (self.first + self.last) / 2
        return (
            Sector(self.centre, self.inner_m, self.outer_m, self.first, half),
            Sector(self.centre, self.inner_m, self.outer_m, half, self.last),
        )

    def _at(self, radii_m: Sequence[float], bearings: Sequence[float]) -> Floats:
        radius, bearing = np.asarray(radii_m), np.asarray(bearings)
        return np.asarray(
            np.asarray(self.centre) + np.column_stack([radius * np.sin(bearing), radius * np.cos(bearing)])
        )


def sectors(centre: tuple[float, float], inner_m: float, outer_m: float, count: int = 8) -> tuple[Sector, ...]:
    """A ring, cut into equal sectors."""
    turn = 2 * pi / count
    return tuple(Sector(centre, inner_m, outer_m, k * turn, (k + 1) * turn) for k in range(count))
