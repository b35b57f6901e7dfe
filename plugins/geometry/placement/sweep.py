"""Looks for operating positions over all turns of the station: where it fits, how well, and by how much it misses."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import reduce
from math import radians, sin
from operator import and_
from typing import Any, TypeAlias

import shapely

from afield.plugins.geometry.computations.erosion import met
from afield.plugins.geometry.placement.arcs import FITS, FITS_NOT, UNDECIDED, Arc, Turns
from afield.plugins.geometry.placement.ground import Ground, Stance
from afield.plugins.geometry.placement.sets import largest, maximal

STEP_DEG = 15.0
LEAST_STEP_DEG = 1.0
"""A slot for the bearing narrower than this is not looked for."""
ROOM_STEP_M = 0.03
MOST_MISSED = 4.0
"""Half sides of the window; what is missed by more is not told in metres."""
ENOUGH_M = 100.0
"""More room than this beyond limits and uncertainty is not looked for: it would serve nobody."""

Grounds: TypeAlias = dict[str, Ground]
"""Claim -> the operating positions at which it counts."""


@dataclass
class Sweep:
    """Searches one window.

    Attributes:
        grounds_of: (stance, room in metres) -> each claim's places.
        stance: the window, unturned.
        reach_m: of the station.
        any_turn: whether every turn is the same, because no part has a bearing.

    """

    grounds_of: Callable[[Stance, float], Grounds]
    stance: Stance
    reach_m: float
    any_turn: bool = False
    _known: dict[tuple[float, float], Grounds] = field(default_factory=dict)
    _together: dict[tuple[float, float], Any] = field(default_factory=dict)

    def grounds(self, turn_deg: float, room_m: float = 0.0) -> Grounds:
        """Each claim's ground at one turn, keeping `room_m` more than the rules ask."""
        key = (turn_deg % 360, room_m)
        if key not in self._known:
            self._known[key] = self.grounds_of(replace(self.stance, turn_deg=key[0]), room_m)
        return self._known[key]

    def joint(self, turn_deg: float, room_m: float = 0.0) -> Any:
        """Where all claims count at one turn, also beyond the window."""
        key = (turn_deg % 360, room_m)
        if key not in self._together:
            self._together[key] = reduce(and_, self.grounds(*key).values()).places
        return self._together[key]

    def together(self, turn_deg: float, room_m: float = 0.0) -> Any:
        """Where all claims count at one turn, within the window."""
        return met([self.joint(turn_deg, room_m), self.stance.window])

    def fits(self, turn_deg: float, room_m: float = 0.0) -> bool:
        """Whether all claims count somewhere in the window at one turn."""
        return not self.together(turn_deg, room_m).is_empty

    def turns(self, step_deg: float = STEP_DEG) -> Turns:
        """The turns at which all claims count somewhere.

        Turning by an angle a moves a part at reach l by no more than 2 l sin(a / 2): where not even a region grown by
        that holds the station, no turn so near can; elsewhere the step is halved until LEAST_STEP_DEG.
        """
        waiting = [(0.0, 360.0)] if self.any_turn else [(step_deg * k, step_deg) for k in range(round(360 / step_deg))]
        arcs: list[Arc] = []
        while waiting:
            turn, step = waiting.pop(0)
            found = self._found(turn, step)
            if found == UNDECIDED and step / 2 >= LEAST_STEP_DEG:
                waiting += [(turn - step / 4, step / 2), (turn + step / 4, step / 2)]
            else:
                arcs.append(Arc(turn % 360, step, found))
        return Turns(tuple(sorted(arcs, key=lambda arc: arc.middle_deg)))

    def _found(self, turn_deg: float, step_deg: float) -> str:
        if self.fits(turn_deg):
            return FITS
        grown = -2 * self.reach_m * sin(radians(step_deg / 4))
        return UNDECIDED if not self.any_turn and self.fits(turn_deg, grown) else FITS_NOT

    def best(self, turns: Iterable[float]) -> tuple[float, float]:
        """The turn with the most room, and that room: within ROOM_STEP_M, and the turn within LEAST_STEP_DEG.

        Below 0 it is the nearest miss: by how much some rule is missed at the least. Of turns with ENOUGH_M the one
        nearest to how the station is planned.

        Raises:
            LookupError: not even far beyond the window.

        """
        tried = list(turns)
        turn, room = self._most(tried, self._start(tried))
        step = STEP_DEG / 2
        while step >= LEAST_STEP_DEG and not self.any_turn and room < ENOUGH_M:
            near = [one for one in (turn - step, turn + step) if self.fits(one, room + ROOM_STEP_M)]
            turn, room = self._most(near, room + ROOM_STEP_M) if near else (turn, room)
            step /= 2
        return turn % 360, room

    def _start(self, turns: Sequence[float]) -> float:
        """A room at which some turn fits."""
        room = 0.0
        while not any(self.fits(turn, room) for turn in turns):
            if room < -MOST_MISSED * self.stance.window_m:
                raise LookupError
            room = min(-1.0, 4 * room)
        return room

    def _most(self, turns: Sequence[float], room_m: float) -> tuple[float, float]:
        """The turn with the most room, and that room; some turn fits with `room_m`."""
        bounds = {turn: self._bound(turn, room_m) for turn in turns if self.fits(turn, room_m)}
        order = sorted(bounds, key=lambda turn: (-bounds[turn], abs((turn + 180) % 360 - 180)))
        best, room = order[0], self._most_of(order[0], room_m, bounds[order[0]])
        for turn in order[1:]:
            if bounds[turn] > room + ROOM_STEP_M and self.fits(turn, room + ROOM_STEP_M):
                best, room = turn, self._most_of(turn, room + ROOM_STEP_M, bounds[turn])
        return best, room

    def _bound(self, turn_deg: float, room_m: float) -> float:
        """No place at this turn has more room: room changes no faster than one moves, so a place with more of it is the
        centre of a disk of places that have `room_m`."""
        disk = shapely.maximum_inscribed_circle(self.joint(turn_deg, room_m), tolerance=ROOM_STEP_M)
        return min(room_m + float(shapely.length(disk)) + ROOM_STEP_M, ENOUGH_M)

    def _most_of(self, turn_deg: float, fitting_m: float, bound_m: float) -> float:
        """The most room at one turn: mostly its bound or just below, so it is sought from there in growing steps."""
        room, unfitting, step = bound_m, bound_m, ROOM_STEP_M
        while room > fitting_m and not self.fits(turn_deg, room):
            unfitting, room, step = room, room - step, 3 * step
        room = max(room, fitting_m)
        while unfitting - room > ROOM_STEP_M:
            middle = (room + unfitting) / 2
            room, unfitting = (middle, unfitting) if self.fits(turn_deg, middle) else (room, middle)
        return room

    def sets(self, turns: Iterable[float]) -> list[tuple[str, ...]]:
        """The largest sets of claims that count together at one place and turn, none within another."""
        found: list[frozenset[str]] = []
        for turn in turns:
            found += maximal({claim: ground.places for claim, ground in self.grounds(turn).items()})
        return [tuple(sorted(names)) for names in largest(found)]
