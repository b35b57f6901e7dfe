"""Opening hours of a reference as spans of instants, and how far a stay lies inside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from afield.core.api import CannotTell, _, frozen, marked
from afield.plugins.timing.light import MOST_MIN, SUN_DEG, WRITTEN_MIN, Span
from afield.plugins.timing.positions import HasPosition, doubt_deg
from afield.plugins.timing.saying import span_words

SUN = {"sunrise": marked("sunrise"), "sunset": marked("sunset")}
EDGES = {"start": marked("hours|start"), "end": marked("hours|end")}
"""The edges of hours as they are read, with their context (`saying.said`)."""
NO_EVENT = marked(
    "the hours are those of the sun, and there is no {event} at the place on {day}; ask its keepers for the hours of "
    "that date, and have the pack list them as clock times"
)
AROUND = (0, 1, -1, 2, -2, 3)
"""Local days around that of arrival whose hours are looked at: an outing is shorter than 24 h."""
NEAR = (0, 1, -1)
"""Those of them whose hours an outing can lie in: of the others, one without the sun's event is left out."""


@frozen
class Hours:
    """The hours as written, and the place that they are of."""

    begin: str
    end: str
    zone: ZoneInfo
    day: date
    position: HasPosition

    @property
    def by_sun(self) -> bool:
        """Whether the sun sets one of them."""
        return self.begin in SUN or self.end in SUN

    def words(self) -> str:
        """As they are read: "06:30 to 21:45"."""
        begin, end = (_(SUN[edge]) if edge in SUN else edge for edge in (self.begin, self.end))
        return span_words(begin, end)


def spans_of(hours: Hours, inward_deg: float = 0.0) -> list[Span]:
    """The hours of the days around the arrival, those that touch as one.

    Args:
        hours: as written.
        inward_deg: how much higher than at sunrise the sun has to stand, degrees; below 0 lower.

    Raises:
        CannotTell: the sun does not rise, or does not set, on the day of arrival, or on the one before or after it.

    """
    joined: list[Span] = []
    for span in sorted(_daily(hours, inward_deg)):
        if joined and span.start <= joined[-1].end:
            joined[-1] = Span(joined[-1].start, max(joined[-1].end, span.end))
        else:
            joined.append(span)
    return joined


def _daily(hours: Hours, inward_deg: float) -> Iterator[Span]:
    for shift in AROUND:
        try:
            yield _of_day(hours, hours.day + timedelta(days=shift), inward_deg)
        except CannotTell:
            if shift in NEAR:
                raise


def _of_day(hours: Hours, day: date, inward_deg: float) -> Span:
    start = _at(hours, hours.begin, day, inward_deg)
    end = _at(hours, hours.end, day, inward_deg)
    if end <= start:
        end = _at(hours, hours.end, day + timedelta(days=1), inward_deg)
    return Span(start, end)


def _at(hours: Hours, written: str, day: date, inward_deg: float) -> datetime:
    if written in SUN:
        return _sun_at(hours, written, day, inward_deg)
    # A time that the clocks skip is taken as if they had not changed yet, one that they show twice as the first.
    return datetime.combine(day, time.fromisoformat(written), hours.zone).astimezone(UTC)


def _sun_at(hours: Hours, written: str, day: date, inward_deg: float) -> datetime:
    from afield.plugins.timing.computations.sun_events import HORIZON_DEG, crossings, transit_near

    transit = transit_near(hours.position.lon_deg, datetime.combine(day, time(12), hours.zone))
    half = timedelta(hours=12)
    window = (transit - half, transit) if written == "sunrise" else (transit, transit + half)
    found = crossings(hours.position.lat_deg, hours.position.lon_deg, *window, HORIZON_DEG + inward_deg)
    events = [event.at for event in found if event.rising == (written == "sunrise")]
    if not events:
        raise CannotTell(_(NO_EVENT).format(event=_(SUN[written]), day=day), "reference.open")
    return min(events, key=lambda event: abs(event - transit))


@frozen
class Room:
    """Minutes by which a stay lies inside the hours, below 0 outside; the edge that is nearest, and when it is."""

    minutes: float
    edge: str
    at: datetime


def room_in(spans: Sequence[Span], start: datetime, end: datetime) -> Room:
    """The room of a stay in the span that it fits best; a day at most."""
    return max((_room(span, start, end) for span in spans), key=lambda room: room.minutes)


def _room(span: Span, start: datetime, end: datetime) -> Room:
    before, after = ((one - other).total_seconds() / 60 for one, other in ((start, span.start), (span.end, end)))
    edge, at, least = ("start", span.start, before) if before < after else ("end", span.end, after)
    return Room(max(-MOST_MIN, min(MOST_MIN, least)), edge, at)


def rooms(hours: Hours, start: datetime, end: datetime) -> Mapping[str, Room]:
    """The room as computed, and the least and the most that there may be by the sun and the written minute."""
    doubt = SUN_DEG + doubt_deg(hours.position) if hours.by_sun else 0.0
    shifts = {"likely": 0.0, "least": doubt, "most": -doubt}
    return {key: room_in(spans_of(hours, shift), start, end) for key, shift in shifts.items()}


def written_min(hours: Hours) -> float:
    """What the written minute leaves open, where the sun sets an edge: times of the clock are meant as they stand."""
    return WRITTEN_MIN if hours.by_sun else 0.0
