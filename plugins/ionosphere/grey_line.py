"""When the edge of night lies over the station, in the outing or next to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from functools import cache
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from afield.core.api import _, all_of, day_in_words, marked

BESIDE_H = 3
"""Hours before and after the outing that are looked at: the plan may still be moved. Common practice, no source."""
BEGINS, ENDS = ("civil dawn", "sunset"), ("sunrise", "civil dusk")
LIES = marked("The edge of night (grey line) lies over the station {spans}.")
NONE = marked(
    "The edge of night (grey line) does not lie over the station from {hours} h before the outing to {hours} h after "
    "it."
)
FROM, UNTIL = marked("from {local} local time on ({utc} on)"), marked("until {local} local time ({utc})")
FROM_TO = marked("from {local} to {to_local} local time ({utc} to {to_utc})")


class Edge(NamedTuple):
    """From when to when the sun stands between the horizon and 6 degrees below; None where that is not known."""

    start: datetime | None
    end: datetime | None


def grey_line_words(instants: Mapping[str, Any], events: Sequence[Mapping[str, Any]]) -> str:
    """The sentence on the grey line of the outing.

    Args:
        instants: the fact `schedule.instants`.
        events: the fact `sun.events`.

    """
    start, end = (datetime.fromisoformat(instants[key]) for key in ("start", "end"))
    beside = timedelta(hours=BESIDE_H)
    near = [edge for edge in edges_of(events) if _touches(edge, start - beside, end + beside)]
    if not near:
        return _(NONE).format(hours=BESIDE_H)
    spans = [_span(edge, instants["zone"], start) for edge in near]
    return _(LIES).format(spans=all_of(spans))


def edges_of(events: Sequence[Mapping[str, Any]]) -> Iterator[Edge]:
    """The edges of night, in their order; a night in which it does not get dark is one from sunset to sunrise."""
    start: datetime | None = None
    begun = False
    for event in events:
        at = datetime.fromisoformat(event["at"])
        if event["name"] in BEGINS:
            start, begun = at, True
        elif event["name"] in ENDS:
            # The first event may end an edge that began before the events do.
            yield Edge(start, at)
            start, begun = None, False
    if begun:
        yield Edge(start, None)


def _touches(edge: Edge, start: datetime, end: datetime) -> bool:
    return (edge.start is None or edge.start < end) and (edge.end is None or edge.end > start)


def _span(edge: Edge, zone: str, day: datetime) -> str:
    clock = zone_of(zone)
    of_arrival = day.astimezone(clock).date()
    if edge.end is None:
        return _(FROM).format(local=_local(edge.start, clock, of_arrival), utc=_utc(edge.start))
    end = {"local": _local(edge.end, clock, of_arrival), "utc": _utc(edge.end)}
    if edge.start is None:
        return _(UNTIL).format(**end)
    start = {"local": _local(edge.start, clock, of_arrival), "utc": _utc(edge.start)}
    return _(FROM_TO).format(**start, to_local=end["local"], to_utc=end["utc"])


def _local(at: datetime | None, clock: ZoneInfo, day: Any) -> str:
    """The clock at the place, with the date where it is not that on which the outing begins."""
    assert at is not None
    local = _minute(at).astimezone(clock)
    return f"{local:%H:%M}" if local.date() == day else f"{local:%H:%M} ({day_in_words(local.date())})"


def _utc(at: datetime | None) -> str:
    assert at is not None
    return f"{_minute(at):%H:%M}Z"


def _minute(at: datetime) -> datetime:
    return at + timedelta(seconds=30)


@cache
def zone_of(name: str) -> ZoneInfo:
    """The zone of the tzdata package, as the plan's times are read by: the system's file may be years older."""
    from importlib.resources import files

    with files("tzdata").joinpath("zoneinfo", *name.split("/")).open("rb") as file:
        return ZoneInfo.from_file(file, key=name)
