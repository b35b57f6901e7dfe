"""Regions of operating positions, and what may be chosen: where the station stands and how far it is turned."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import field
from functools import cached_property
from math import cos, radians, sin
from typing import Any

import numpy as np
import shapely

from afield.core.api import frozen
from afield.plugins.geometry.computations.erosion import eroded, met, without_slivers
from afield.plugins.geometry.computations.footprints import Band, Part, Patch, Shape, Strokes
from afield.plugins.geometry.computations.plane import Floats, Plane


@frozen(slots=False, eq=False)
class Ground:
    """Operating positions from which all of `parts` lie in `room`.

    Attributes:
        room: shapely polygons of the plane, metres.
        parts: of the station, as turned; () = `room` is where the station may stand.

    """

    room: Any
    parts: tuple[Part, ...] = ()

    @cached_property
    def places(self) -> Any:
        """The operating positions themselves."""
        return eroded(self.room, self.parts) if self.parts else without_slivers(self.room)

    def __and__(self, other: Ground) -> Ground:
        """Both; rooms for the same parts are intersected before anything is eroded, which is much quicker."""
        if self.parts and self.parts is other.parts:
            return Ground(shapely.intersection(self.room, other.room), self.parts)
        return Ground(met([self.places, other.places]))

    def __or__(self, other: Ground) -> Ground:
        """Either; two rooms together may hold a station that fits neither alone, so the places are joined."""
        return Ground(shapely.union(self.places, other.places))


@frozen(slots=False, eq=False)
class Stance:
    """What may be chosen: the operating position within a window, and the turn of the whole station.

    Attributes:
        turn_deg: clockwise from how the plan lays it out.
        plane: centred on the window.
        window_m: half side of the square that is searched.
        accuracy_sigma_m: of the fix by which the position will be found, per axis.
        laid: what was laid into the plane already, kept for the next turn.
        far: claim -> how far its reference is from the middle of the window, metres, where that is out of reach.

    """

    turn_deg: float
    plane: Plane
    window_m: float
    accuracy_sigma_m: float
    laid: dict[Any, Any] = field(default_factory=dict)
    far: dict[str, float] = field(default_factory=dict)

    @property
    def window(self) -> Any:
        """The square that is searched."""
        return shapely.box(-self.window_m, -self.window_m, self.window_m, self.window_m)

    def turned(self, key: Any, parts: Sequence[Part]) -> tuple[Part, ...]:
        """Parts as turned; the same object for the same key, so that rooms for the same parts are known as such."""
        key = ("parts", key, self.turn_deg)
        laid: tuple[Part, ...] = self.once(key, lambda: tuple(turned(part, self.turn_deg) for part in parts))
        return laid

    def once(self, key: Any, make: Callable[[], Any]) -> Any:
        """What `make` gives, made once."""
        if key not in self.laid:
            self.laid[key] = make()
        return self.laid[key]


def turned(part: Part, turn_deg: float) -> Part:
    """The part turned clockwise about the operating position."""
    return Part(part.name, _turned(part.shape, _rotation(turn_deg)))


def _turned(shape: Shape, rotation: Floats) -> Shape:
    if isinstance(shape, Band):
        east, north = rotation @ np.asarray(shape.centre)
        return Band((float(east), float(north)), shape.inner_m, shape.outer_m)
    if isinstance(shape, Patch):
        return Patch(shape.ring @ rotation.T)
    assert isinstance(shape, Strokes)
    return Strokes(shape.ends @ rotation.T)


def _rotation(turn_deg: float) -> Floats:
    """Matrix that turns (east, north) clockwise."""
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    return np.array([[c, s], [-s, c]])
