"""Facts of the sun: its rise and set and the civil twilight of the day of arrival, and all its events for drawings."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, _, fact, local_digits, marked
from afield.plugins.timing.light import refuse_far_years
from afield.plugins.timing.positions import HasPosition
from afield.plugins.timing.schedule_facts import instant

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

LEVEL_HORIZON = marked(
    "Sunrise and sunset are for a level, unobstructed horizon and mean refraction; hills change them by many minutes."
)
DETAIL = {"local": "local time to the minute", "date": "local date"}
UP = marked("the sun does not set at the place on {day}: it is up all day")
DOWN = marked("the sun does not rise at the place on {day}: it is down all day")
NO_DARK = marked("it does not get dark at the place on {day}: civil twilight lasts all night")
NO_LIGHT = marked("it does not get light at the place on {day}: the sun stays more than 6 degrees below the horizon")


def _event(position: HasPosition, zone: str, day: str, level: str, rising: bool) -> Estimate:
    """The rise before, or the set after, the sun's passage through the meridian on the local date.

    So the sunset that belongs to a day's light is found where it falls after midnight, by clock or by UTC.
    """
    from afield.plugins.timing.computations.sun_events import LEVELS, crossings, to_minute, transit_near
    from afield.plugins.timing.computations.zone_files import iso, zone_of

    clock = zone_of(zone)
    noon = datetime.combine(date.fromisoformat(day), time(12), clock)
    refuse_far_years(noon)
    transit = transit_near(position.lon_deg, noon)
    half = timedelta(hours=12)
    window = (transit - half, transit) if rising else (transit, transit + half)
    found = crossings(position.lat_deg, position.lon_deg, *window, LEVELS[level])
    events = [event.at for event in found if event.rising == rising]
    if not events:
        raise CannotTell(_(_why_none(position, transit, level)).format(day=day), None)
    at = min(events, key=lambda event: abs(event - transit))
    local = to_minute(at).astimezone(clock)
    detail = {"local": f"{local:%H:%M}", "date": local.date().isoformat()}
    method = _("by the library ephem, {degrees} degrees").format(degrees=local_digits(f"{LEVELS[level]:g}"))
    return Estimate(iso(at), detail=detail, method=method, notes=_notes(level))


def _notes(level: str) -> tuple[str, ...]:
    return (_(LEVEL_HORIZON),) if level == "sunrise" else ()


def _why_none(position: HasPosition, transit: datetime, level: str) -> str:
    from afield.plugins.timing.computations.calendar import jd_of
    from afield.plugins.timing.computations.sun import elevation_deg
    from afield.plugins.timing.computations.sun_events import LEVELS

    above = elevation_deg(position.lat_deg, position.lon_deg, jd_of(transit)) > LEVELS[level]
    return {("sunrise", True): UP, ("sunrise", False): DOWN, ("civil", True): NO_DARK, ("civil", False): NO_LIGHT}[
        level, above
    ]


@fact("sun.rise", kind="trip", type="instant", title="sunrise", owns_uncertainty=True, detail=DETAIL)
def sun_rise(station_position: HasPosition, place_zone: str, trip_date: str) -> Estimate:
    """Sunrise of the day of arrival: the upper limb on a level horizon."""
    return _event(station_position, place_zone, trip_date, "sunrise", True)


@fact("sun.set", kind="trip", type="instant", title="sunset", owns_uncertainty=True, detail=DETAIL)
def sun_set(station_position: HasPosition, place_zone: str, trip_date: str) -> Estimate:
    """Sunset of the day of arrival: the upper limb on a level horizon."""
    return _event(station_position, place_zone, trip_date, "sunrise", False)


@fact("sun.civil_dawn", kind="trip", type="instant", title="civil dawn", owns_uncertainty=True, detail=DETAIL)
def sun_civil_dawn(station_position: HasPosition, place_zone: str, trip_date: str) -> Estimate:
    """Civil dawn of the day of arrival: the sun's centre 6 degrees below the horizon."""
    return _event(station_position, place_zone, trip_date, "civil", True)


@fact("sun.civil_dusk", kind="trip", type="instant", title="civil dusk", owns_uncertainty=True, detail=DETAIL)
def sun_civil_dusk(station_position: HasPosition, place_zone: str, trip_date: str) -> Estimate:
    """Civil dusk of the day of arrival: the sun's centre 6 degrees below the horizon."""
    return _event(station_position, place_zone, trip_date, "civil", False)


@fact(
    "sun.events", kind="trip", type="opaque", title="dawns, sunrises, sunsets and dusks", owns_uncertainty=True,
)  # fmt: skip
def sun_events(
    station_position: HasPosition, place_zone: str, schedule_stages: list[Any], schedule_instants: Any
) -> Estimate:
    """Every dawn, sunrise, sunset and dusk from the midnight before the outing to the midnight after it."""
    from afield.plugins.timing.computations.sun_events import named_events
    from afield.plugins.timing.computations.zone_files import iso

    window = _window(place_zone, schedule_stages, schedule_instants)
    found = named_events(station_position.lat_deg, station_position.lon_deg, *window)
    return Estimate([{"name": name, "at": iso(at)} for at, name in found], notes=(_(LEVEL_HORIZON),))


@fact("sun.phases", kind="trip", type="opaque", title="day, twilight and night of the outing", owns_uncertainty=True)
def sun_phases(
    station_position: HasPosition, place_zone: str, schedule_stages: list[Any], schedule_instants: Any
) -> Any:
    """Day, civil, nautical and astronomical twilight and night over the same time, each from and to."""
    from afield.plugins.timing.sky import phases

    window = _window(place_zone, schedule_stages, schedule_instants)
    return phases(station_position.lat_deg, station_position.lon_deg, *window)


def _window(zone: str, stages: list[Any], instants: Any) -> tuple[datetime, datetime]:
    """From the local midnight before the outing and the way there to the one after the way back."""
    from afield.plugins.timing.computations.zone_files import zone_of

    ends = [instants["start"], instants["end"], *(stage[end] for stage in stages for end in ("from", "to"))]
    refuse_far_years(instant(instants["start"]))
    clock = zone_of(zone)
    first, last = (datetime.fromisoformat(text).astimezone(clock).date() for text in (min(ends), max(ends)))
    return _midnight(first, clock), _midnight(last + timedelta(days=1), clock)


def _midnight(day: date, clock: ZoneInfo) -> datetime:
    """The beginning of a local day; where the clocks skip it, as if they had not changed yet."""
    from datetime import UTC

    return datetime.combine(day, time(0), clock).astimezone(UTC)


FACTS: list[Fact] = [sun_rise, sun_set, sun_civil_dawn, sun_civil_dusk, sun_events, sun_phases]
