"""Places a trip's station: sweeps the window, and judges what it finds by the unchanged rules."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import shapely

from afield.core.api import EVERYWHERE, NOWHERE, Engine, Sought, _, altered, both, judge, solve
from afield.plugins.geometry.computations.erosion import polygons_of, shrunk
from afield.plugins.geometry.computations.footprints import reach_m
from afield.plugins.geometry.computations.plane import Plane
from afield.plugins.geometry.placement.arcs import Turns
from afield.plugins.geometry.placement.candidates import Candidate, Fix, candidate_patch
from afield.plugins.geometry.placement.ground import Ground, Stance
from afield.plugins.geometry.placement.sweep import ENOUGH_M, STEP_DEG, Grounds, Sweep
from afield.plugins.geometry.station_facts import Outline

FREE = ("station.at", "part.at", "part.from", "part.to", "part.radials")
"""The facts that say where the station stands and how it lies."""
TRIED = 4
"""Candidates that are judged before it is said that none could be verified."""
INSET_M = 0.5
"""How far within its region the nearest place is taken, so that rounding does not put it outside."""


@dataclass
class Search:
    """One search.

    Attributes:
        trip: with the station in the middle of the window, as it will be found there.
        engine: that judges candidates.
        plane: centred on the middle of the window.
        window_m: half side of the window.
        fix: how well the position will be found.
        told: called with a word on each turn that is looked at.
        unsearched, against: what was not turned round; what keeps a claim from counting anywhere.
        untold: claims of which is not known where they count.
        binding: (rule, subject) of what is not about one claim, but depends on the place.

    """

    trip: Any
    engine: Engine
    plane: Plane
    window_m: float
    fix: Fix
    told: Callable[[str], None] = lambda word: None
    unsearched: dict[str, None] = field(default_factory=dict)
    against: dict[str, list[str]] = field(default_factory=dict)
    untold: set[str] = field(default_factory=set)
    binding: set[tuple[str, str]] = field(default_factory=set)

    @cached_property
    def stance(self) -> Stance:
        """The window, the station as the plan lays it."""
        return Stance(0.0, self.plane, self.window_m, self.fix.sigma_m)

    @cached_property
    def claims(self) -> list[str]:
        """Keys of the claims."""
        return [key for key, subject in self.trip.subjects.items() if subject.kind == "claim"]

    @cached_property
    def outlines(self) -> list[Outline]:
        """The parts of the station as the plan lays them; those of which that is not known are left out."""
        keys = [key for key, subject in self.trip.subjects.items() if subject.kind == "part"]
        records = [self.trip.world.value(key, "part.outline") for key in keys]
        return [record.value for record in records if record.reason is None]

    @cached_property
    def sweep(self) -> Sweep:
        """Over all turns of the station."""
        parts = [outline.part for outline in self.outlines]
        turning = any(not outline.full_circle and outline.shape != "point" for outline in self.outlines)
        return Sweep(
            self.grounds, self.stance, reach_m(parts) if parts else 0.0, any_turn=not (turning or _apart(self.outlines))
        )

    @cached_property
    def turns(self) -> Turns:
        """The turns at which all claims count somewhere."""
        return Turns(()) if self.hopeless or self.clueless else self.sweep.turns()

    @property
    def hopeless(self) -> bool:
        """Whether some claim counts nowhere, whatever place and turn."""
        return bool(self.sweep.grounds(0.0)) and bool(self.against)

    @property
    def clueless(self) -> bool:
        """Whether of no claim is known where it counts."""
        return self.untold >= self.sweep.grounds(0.0).keys()

    def grounds(self, stance: Stance, room_m: float) -> Grounds:
        """Each claim's ground: what all required rules on it, and those on the trip that depend on the place, leave."""
        self.told(_("bearings turned by {angle}°").format(angle=f"{stance.turn_deg:.0f}"))
        regions: dict[str, list[Any]] = defaultdict(list)
        doubtful = set()
        for bounded in solve(self.trip, Sought(stance, FREE, room_m)):
            bound = self.bound_by(bounded)
            self.unsearched |= dict.fromkeys(bounded.unsearched if bound else ())
            for claim in bound:
                regions[claim].append(bounded.region)
                doubtful |= {claim} if bounded.unsearched else set()
                if bounded.against:
                    self.against[claim] = list(bounded.against)
        self.against |= {claim: [_far_words(away)] for claim, away in stance.far.items()}
        joined = {claim: both(regions[claim]) for claim in self.claims}
        self.untold |= {claim for claim in doubtful if joined[claim] is EVERYWHERE}
        return {claim: _ground(region, stance) for claim, region in joined.items()}

    def bound_by(self, bounded: Any) -> list[str]:
        """The claims that a rule's verdict decides."""
        if bounded.subject in self.claims:
            return [bounded.subject]
        if not bounded.depends:
            return []
        self.binding.add((bounded.rule, bounded.subject))
        return [claim for claim in self.claims if bounded.subject in self.trip.subjects[claim].parents.values()]

    @cached_property
    def candidates(self) -> list[Candidate]:
        """The best place first, then the best of other turns until one is verified; [] if nothing can be found."""
        if self.clueless and not self.hopeless:
            return [self.judged(shapely.Point(0, 0), 0.0, 0.0)]
        fitting = list(self.turns.fitting)
        tried = [] if self.hopeless else fitting or [STEP_DEG * k for k in range(1 if self.sweep.any_turn else 24)]
        found: list[Candidate] = []
        while tried and len(found) < TRIED and not (found and found[-1].verified):
            try:
                turn, room = self.sweep.best(tried)
            except LookupError:
                break
            found.append(self.candidate(turn, room))
            tried = [one for one in tried if abs((one - turn + 180) % 360 - 180) > STEP_DEG] if fitting else []
        return found

    def candidate(self, turn_deg: float, room_m: float) -> Candidate:
        """The place with that room, judged; the nearest one where more room than is asked would be had."""
        places = self.sweep.together(turn_deg, room_m)
        if room_m >= ENOUGH_M:
            return self.judged(_nearest_of(places), turn_deg, room_m)
        return self.judged(shapely.point_on_surface(max(polygons_of(places), key=shapely.area)), turn_deg, room_m)

    def nearest(self) -> Candidate | None:
        """The place nearest to the window's middle at which all claims count with the station laid as planned."""
        region = shapely.Polygon() if self.hopeless or self.clueless else shrunk(self.sweep.together(0.0), INSET_M)
        return None if region.is_empty else self.judged(_nearest_of(region), 0.0, 0.0)

    def judged(self, point: Any, turn_deg: float, room_m: float) -> Candidate:
        """A point of the plane as a candidate, by the unchanged rules."""
        lat, lon = self.plane.to_lat_lon(point.x, point.y)
        patch = candidate_patch(self.trip.document.data, float(lat), float(lon), turn_deg, self.fix)
        judgement = judge(altered(self.trip, patch), self.engine)
        wanted = [
            verdict for verdict in judgement.verdicts
            if verdict.rule.severity == "required" and verdict.rule.require is not None
            and (verdict.subject.kind == "claim" or (verdict.rule.key, verdict.subject.key) in self.binding)
        ]  # fmt: skip
        slack = float(shapely.distance(point, shapely.boundary(self.sweep.together(turn_deg)))) if room_m >= 0 else 0.0
        return Candidate(point.x, point.y, float(lat), float(lon), turn_deg, room_m, slack, judgement, wanted)


def _apart(outlines: Iterable[Outline]) -> bool:
    """Whether some part that has no bearing of its own lies beside the position: turning the station moves it."""
    return any(max(abs(c) for point in outline.points for c in point) > 0 for outline in outlines)


def _nearest_of(region: Any) -> Any:
    return shapely.shortest_line(region, shapely.Point(0, 0)).interpolate(0)


def _far_words(away_m: float) -> str:
    # Three figures: it is the distance of a vertex, and nobody walks it.
    away = f"{float(f'{away_m / 1000:.3g}'):,.0f} km".replace(",", " ")
    told = _("it is {distance} from the middle of the window: no position in it can count for it")
    return told.format(distance=away)


def _ground(region: Any, stance: Stance) -> Ground:
    if region is EVERYWHERE:
        return Ground(stance.window)
    if region is NOWHERE:
        return Ground(shapely.Polygon())
    ground: Ground = region
    return ground
