"""The outlook of a day: which bands carry how far from a place, hour by hour."""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, atan2, cos, degrees, radians, sin
from typing import Any

from afield.core.api import marked
from afield.plugins.ionosphere.computations.bands import BANDS
from afield.plugins.ionosphere.computations.checked import within
from afield.plugins.ionosphere.computations.hop_reach import hop_grid, hop_reach
from afield.plugins.ionosphere.computations.hops import EARTH_KM
from afield.plugins.ionosphere.computations.iri import IonosphereDay, iri_days
from afield.plugins.ionosphere.computations.near_vertical import near_vertical_band
from afield.plugins.ionosphere.computations.paths import Place, Station, opening, ways
from afield.plugins.ionosphere.computations.solar_index import sunspot_from_f107

PATHS_KM = (200.0, 1000.0, 3000.0)
SUNSET_ZENITH_DEG = 90.833
LIMITS = (
    marked(
        "Usable frequencies are medians of a month: on half of its days the true one is lower. They are taken to be "
        "good to 20 % either way."
    ),
    marked(
        "Signals are medians too, taken to be good to 8 dB. Noise of lightning, which rules the lowest bands on summer "
        "nights, sporadic E, aurora, magnetic storms and fade-outs are not in it."
    ),
    marked(
        "Open says what the ionosphere carries, not what an operator may use: that is for the local rules and the "
        "licence."
    ),
)


def band_outlook(
    date: str,
    lat: float,
    lon: float,
    f107: float,
    paths_km: Sequence[float] = PATHS_KM,
    bearing_deg: float | None = None,
    power_w: float = 10.0,
    mode: str = "CW",
    noise: str = "rural",
    gains_db: float = 6.0,
) -> dict[str, Any]:
    """Which bands are open, marginal or closed on paths of some lengths, at each hour of a UTC day.

    Formula: open: up to 0.8 of the usable frequency, and 8 dB or more above what the mode needs; closed: above 1.2 of
    it, or more than 8 dB below; marginal: between. Usable frequency: the greater of `muf_from_m3000` and `e_layer_muf`
    with as few hops as it takes; signal: `signal_margin` with `hop_absorption`.
    Source: ITU-R P.533-14 with the maps of `iri_point`; the 20 %, the 8 dB and the gains: common practice, no source.
    Valid: as `iri_point`; paths of 100 to 4,000 km. Without a bearing the ionosphere over the station stands for that
    in the middle of each path: good to about 500 km, beyond it the chart runs early to the west and late to the east.

    Args:
        date: as 2026-06-27, in UTC.
        lat: degrees, north positive.
        lon: degrees, east positive.
        f107: solar radio flux at 10.7 cm, mean over 81 days or 12 months.
        paths_km: lengths of paths.
        bearing_deg: where to, from true north.
        power_w: to the antenna.
        mode: `CW`, `SSB` or `digital`.
        noise: a category of `external_noise_figure`, at the far station.
        gains_db: both antennas' gains together, towards each other.

    Raises:
        ValueError: as `iri_point` and `signal_margin`, a length or bearing out of range, or no path.

    """
    lengths, station = _lengths(paths_km), Station(power_w, mode, noise, gains_db)
    here, *middles = _places(date, [(lat, lon), *(_middle(lat, lon, bearing_deg, length) for length in lengths)], f107)
    return {
        "date": date,
        "place": {"lat": float(lat), "lon": float(lon)},
        "index": {"f107": float(f107), "sunspot_number": round(here.r12, 1)},
        "model": here.day.model,
        "assumed": {**station._asdict(), "bearing_deg": bearing_deg},
        **_overhead(here.day),
        "paths": [_path(length, place, station) for length, place in zip(lengths, middles, strict=True)],
        "reach": _reach(here, station),
        "limits": list(LIMITS),
    }


def _places(date: str, points: Sequence[tuple[float, float]], f107: float) -> list[Place]:
    """The ionosphere of the day over each point (latitude, longitude in degrees)."""
    days = iri_days(date, [float(lat) for lat, _ in points], [float(lon) for _, lon in points], f107)
    month, r12 = int(date[5:7]), sunspot_from_f107(f107)
    return [Place(day, float(lat), month, r12) for day, (lat, _) in zip(days, points, strict=True)]


def _overhead(day: IonosphereDay) -> dict[str, Any]:
    return {
        "foF2_mhz": [round(hour.foF2_mhz, 2) for hour in day.hours],
        "m3000": [round(hour.m3000, 3) for hour in day.hours],
        "foE_mhz": [round(hour.foE_mhz, 2) for hour in day.hours],
        "daylight": [zenith <= SUNSET_ZENITH_DEG for zenith in day.zenith_deg],
        "near_vertical_mhz": [_rounded(near_vertical_band(hour.foF2_mhz)) for hour in day.hours],
    }


def _path(length_km: float, place: Place, station: Station) -> dict[str, Any]:
    hours = [ways(place, hour, length_km) for hour in range(24)]
    return {
        "km": length_km,
        "muf_mhz": [round(max(way.muf_mhz for way in one), 1) for one in hours],
        "bands": [
            {"band": band.name, "mhz": band.centre_mhz, **_openings(band.centre_mhz, place, hours, station)}
            for band in BANDS
        ],
    }


def _openings(frequency_mhz: float, place: Place, hours: Sequence[Any], station: Station) -> dict[str, Any]:
    found = [opening(frequency_mhz, place, hour, path, station) for hour, path in enumerate(hours)]
    return {
        "states": [one.state for one in found],
        "margins_db": [None if one.margin_db is None else round(one.margin_db) for one in found],
        "because": [one.because for one in found],
    }


def _reach(place: Place, station: Station) -> list[dict[str, Any]]:
    """Where one hop of each band is open or marginal, hour by hour."""
    grids = [hop_grid(place, hour) for hour in range(24)]
    rows = []
    for band in BANDS:
        found = [hop_reach(band.centre_mhz, place, hour, grid, station) for hour, grid in enumerate(grids)]
        distances = {"skip_km": [one.skip_km for one in found], "reach_km": [one.reach_km for one in found]}
        rows.append({"band": band.name, "mhz": band.centre_mhz, **distances})
    return rows


def _lengths(paths_km: Sequence[float]) -> list[float]:
    lengths = [within(100, 4000, length, "path", "km") for length in paths_km]
    if not lengths:
        raise ValueError("there is no path; give at least one length in km")
    return lengths


def _middle(lat: float, lon: float, bearing_deg: float | None, path_km: float) -> tuple[float, float]:
    """The middle of a path; without a bearing the station itself."""
    if bearing_deg is None:
        return float(lat), float(lon)
    here, way = radians(lat), path_km / 2 / EARTH_KM
    towards = radians(within(0, 360, bearing_deg, "bearing", "deg"))
    there = asin(sin(here) * cos(way) + cos(here) * sin(way) * cos(towards))
    turn = atan2(sin(towards) * sin(way) * cos(here), cos(way) - sin(here) * sin(there))
    return degrees(there), (float(lon) + degrees(turn) + 180) % 360 - 180


def _rounded(figures: Sequence[float]) -> list[float]:
    return [round(figure, 1) for figure in figures]
