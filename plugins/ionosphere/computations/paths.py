"""One path in one hour: the ways that a ray may go, and whether a band is open."""

from __future__ import annotations

from math import ceil, inf
from typing import Literal, NamedTuple

from afield.plugins.ionosphere.computations.absorption import hop_absorption
from afield.plugins.ionosphere.computations.hops import LOWEST_ELEVATION_DEG, hop_length, slant_range
from afield.plugins.ionosphere.computations.iri import IonosphereDay
from afield.plugins.ionosphere.computations.muf import (
    E_LAYER_KM,
    LONGEST_E_HOP_KM,
    e_layer_muf,
    e_layer_screening,
    longest_hop,
    mirror_height,
    muf_from_m3000,
)
from afield.plugins.ionosphere.computations.signals import signal_margin

State = Literal["open", "marginal", "closed"]
STATES: tuple[State, ...] = ("closed", "marginal", "open")
DOUBT = 0.2
"""Share by which a usable frequency may be off, to either side: builds of the model, and days, differ by as much."""
DOUBT_DB = 8.0
"""How much a signal differs from its median from day to day. Common practice, no source."""


class Station(NamedTuple):
    """What the signal's strength rests on, as in `signal_margin`."""

    power_w: float
    mode: str
    noise: str
    gains_db: float


class Place(NamedTuple):
    """The ionosphere over the middle of a path, with where, when and how active the sun is."""

    day: IonosphereDay
    lat: float
    month: int
    r12: float


class Way(NamedTuple):
    """Hops by one layer: their number and length, the mirror's height, and between which frequencies they go."""

    layer: Literal["E", "F2"]
    hops: int
    hop_km: float
    height_km: float
    least_mhz: float
    muf_mhz: float


class Opening(NamedTuple):
    """Whether a band is open on a path, the signal's margin, and what keeps it from being open."""

    state: State
    margin_db: float | None
    because: str


def ways(place: Place, hour: int, path_km: float) -> list[Way]:
    """The ways of a ray along a path, by the E and by the F2 layer, each with as few hops as it takes.

    Source: ITU-R P.533-14, sections 3 and 4. A frequency below `least_mhz` does not get to that layer.
    """
    f2, m3000, e = place.day.hours[hour]
    height, longest = mirror_height(m3000), longest_hop(f2, m3000, e)
    hops = max(1, ceil(path_km / min(longest, hop_length(LOWEST_ELEVATION_DEG, height))))
    by_f2, by_e = path_km / hops, path_km / max(1, ceil(path_km / LONGEST_E_HOP_KM))
    muf = muf_from_m3000(f2, m3000, e, place.day.fH_mhz, by_f2, longest)
    return [
        Way("F2", hops, by_f2, height, e_layer_screening(e, by_f2, height), muf),
        Way("E", max(1, ceil(path_km / LONGEST_E_HOP_KM)), by_e, E_LAYER_KM, 0.0, e_layer_muf(e, by_e)),
    ]


def opening(frequency_mhz: float, place: Place, hour: int, path: list[Way], station: Station) -> Opening:
    """Whether a frequency is open on a path in one hour: that of the best of its ways."""
    found = [by_way(way, frequency_mhz, place, hour, station) for way in path if frequency_mhz >= way.least_mhz]
    return max(found, key=lambda one: (STATES.index(one.state), -inf if one.margin_db is None else one.margin_db))


def by_way(way: Way, frequency_mhz: float, place: Place, hour: int, station: Station) -> Opening:
    """Whether a frequency is open by one way, and what keeps it from being open."""
    if frequency_mhz > way.muf_mhz * (1 + DOUBT):
        return Opening("closed", None, "above the usable frequency")
    margin = _margin(way, frequency_mhz, place, hour, station)
    if margin < -DOUBT_DB:
        return Opening("closed", margin, "too weak")
    if frequency_mhz > way.muf_mhz * (1 - DOUBT):
        return Opening("marginal", margin, "near the usable frequency")
    return Opening("open", margin, "") if margin >= DOUBT_DB else Opening("marginal", margin, "weak")


def _margin(way: Way, frequency_mhz: float, place: Place, hour: int, station: Station) -> float:
    day = place.day
    of_a_hop = hop_absorption(
        frequency_mhz,
        way.hop_km,
        way.height_km,
        place.lat,
        place.month,
        day.zenith_deg[hour],
        day.noon_zenith_deg,
        max(day.hours[hour].foE_mhz, 0.1),
        day.longitudinal_mhz,
        place.r12,
    )
    length = way.hops * slant_range(way.hop_km, way.height_km)
    return signal_margin(frequency_mhz, length, way.hops, way.hops * of_a_hop, *station)
