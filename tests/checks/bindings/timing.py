"""Cases of geometry_time.yaml about zones, days and the sun, adapted to the computations."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.timing.computations.calendar import day_of_year, julian_day, season_start
from afield.plugins.timing.computations.clock import (
    elapsed_time,
    local_time_validity,
    local_to_utc,
    utc_dates_touched,
    utc_to_local,
)
from afield.plugins.timing.computations.sun import equation_of_time, solar_apparent_equatorial, sun_position
from afield.plugins.timing.computations.sun_events import sun_events_in_utc_window, sunrise_sunset, twilight_events

CHECK_FILE = "geometry_time.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]

IGNORED: dict[str, set[str]] = {
    # All are for a level horizon at the observer's own height; one case has a height for its air pressure, also given.
    # The library knows terrestrial less universal time itself.
    "solar_position": {"elevation_m", "delta_t_s"},
    "sunrise_sunset": {"elevation_m"},
    "sun_events_in_utc_window": {"elevation_m", "place"},
    # The Julian day of the same instant is read.
    "solar_apparent_equatorial": {"date_tt"},
}
DELTA_T_2007_S = 65.2
"""Terrestrial less universal time in 2007, for a date that is given in universal time."""


def _degrees_text(angle: float, decimals: int) -> str:
    """Degrees (or hours), minutes and seconds with blanks between, as the almanac prints them."""
    size = round(abs(angle) * 3600, decimals)
    minutes, seconds = divmod(size, 60)
    whole, minutes = divmod(int(minutes), 60)
    return f"{'-' if angle < 0 else ''}{whole} {minutes:02d} {seconds:0{3 + decimals if decimals else 2}.{decimals}f}"


def _solar_apparent_equatorial(inputs: Inputs) -> Answer:
    jde = inputs["jde"] if "jde" in inputs else julian_day(inputs["date_ut1"]) + DELTA_T_2007_S / 86400
    found = solar_apparent_equatorial(jde)
    return {
        "true_longitude_deg": found.true_longitude_deg,
        "apparent_longitude": _degrees_text(found.apparent_longitude_deg, 0),
        "ra_hms": _degrees_text(found.ra_deg / 15, 1),
        "dec_dms": _degrees_text(found.dec_deg, 0),
        "radius_au": found.distance_au,
        "distance_au": found.distance_au,
    }


def _equation_of_time(inputs: Inputs) -> Answer:
    return {"minutes": equation_of_time(julian_day(inputs["date_ut1"]))}


def _solar_position(inputs: Inputs) -> Answer:
    air = {name: inputs[name] for name in ("pressure_hpa", "temperature_c")}
    return sun_position(inputs["lat"], inputs["lon"], inputs["time_utc"], **air)._asdict()


def _sun_events(inputs: Inputs) -> Answer:
    window = inputs["from_utc"], inputs["to_utc"], inputs["sunrise_altitude_deg"]
    found = sun_events_in_utc_window(inputs["lat"], inputs["lon"], *window)
    return {name: events._asdict() for name, events in found.items()}


def _sunrise_sunset(inputs: Inputs) -> Answer:
    return sunrise_sunset(inputs["lat"], inputs["lon"], inputs["date_local"], inputs["utc_offset_h"])._asdict()


def _twilight_events(inputs: Inputs) -> Answer:
    return {"utc": twilight_events(inputs["lat"], inputs["lon"], inputs["from_utc"], inputs["to_utc"])}


def _local_time_validity(inputs: Inputs) -> Answer:
    found = local_time_validity(inputs["zone"], inputs["local"])
    return {"class": found.classes, "utc_of_ambiguous": found.utc_of_ambiguous}


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {
    "solar_apparent_equatorial": _solar_apparent_equatorial,
    "equation_of_time": _equation_of_time,
    "solar_position": _solar_position,
    "sun_events_in_utc_window": _sun_events,
    "sunrise_sunset": _sunrise_sunset,
    "twilight_events": _twilight_events,
    "julian_day": lambda inputs: {"jd": [julian_day(day) for day in inputs["dates_gregorian"]]},
    "day_of_year": lambda inputs: {"day": [day_of_year(day) for day in inputs["dates"]]},
    "season_start": lambda inputs: season_start(inputs["year"])._asdict(),
    "local_to_utc": lambda inputs: local_to_utc(inputs["zone"], inputs["local"])._asdict(),
    "utc_to_local": lambda inputs: {"local": utc_to_local(inputs["zone"], inputs["utc"])},
    "local_time_validity": _local_time_validity,
    "elapsed_time": lambda inputs: {"hours": elapsed_time(inputs["zone"], inputs["from_local"], inputs["to_local"])},
    "utc_dates_touched": lambda inputs: utc_dates_touched(
        inputs["zone"], inputs["from_local"], inputs["to_local"]
    )._asdict(),
}
