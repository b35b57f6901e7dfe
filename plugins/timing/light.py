"""Light and dark: the spans of civil light at a place, and how much of it is left at the end of a piece of work."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from afield.core.api import CannotTell, Estimate, _, frozen, marked
from afield.plugins.timing.positions import HasPosition, doubt_deg

AROUND = timedelta(hours=30)
MOST_MIN = 1440.0
"""A day: more light or dark than that is not told apart."""
WRITTEN_MIN = 0.5
"""Half a unit of the last digit of a plan's times."""
SUN_DEG = 0.01
"""How far the sun's elevation may be off, 95 %, degrees: the library is within an arc second, and universal time within
0.9 s (0.004 degrees) of UTC."""

AFTER_DUSK, BEFORE_DAWN = "after dusk", "before dawn"
HORIZON = marked(
    "Light is civil twilight or day, for a level horizon and clear sky; hills, trees and cloud make it dark earlier."
)
METHOD = marked("sun's centre less than 6 degrees below a level horizon, by the library ephem")


class Span(NamedTuple):
    """A span of light; an end that lies at the window's edge is where nobody looked further."""

    start: datetime
    end: datetime


@frozen
class Light:
    """The light around a piece of work: as computed, the least and the most that there may be."""

    likely: Sequence[Span]
    least: Sequence[Span]
    most: Sequence[Span]


def light_around(position: HasPosition, start: datetime, end: datetime) -> Light:
    """The spans of civil light within 30 hours of a piece of work.

    The position's uncertainty moves the sun by no more than the angle that it takes up at the Earth's centre; the
    spans are searched for at -6 degrees, and at that more and less.
    """
    refuse_far_years(start)
    doubt = SUN_DEG + doubt_deg(position)
    window = start - AROUND, end + AROUND
    likely, least, most = (light_spans(position, *window, level) for level in (-6.0, -6.0 + doubt, -6.0 - doubt))
    return Light(likely, least, most)


def refuse_far_years(moment: datetime) -> None:
    """Raise CannotTell for a year for which the sun is not computed."""
    from afield.plugins.timing.computations.sun import YEARS

    if not YEARS[0] <= moment.year <= YEARS[1]:
        text = _("the sun is computed for the years {first} to {last}, not for {year}")
        raise CannotTell(
            text.format(first=YEARS[0], last=YEARS[1], year=moment.year), "date", "outside validity", "trip"
        )


def light_spans(position: HasPosition, start: datetime, end: datetime, level_deg: float) -> list[Span]:
    """The spans of a window in which the sun's centre is not below an elevation."""
    from afield.plugins.timing.computations.calendar import jd_of
    from afield.plugins.timing.computations.sun import elevation_deg
    from afield.plugins.timing.computations.sun_events import crossings

    lat, lon = position.lat_deg, position.lon_deg
    found = crossings(lat, lon, start, end, level_deg)
    begin = start if elevation_deg(lat, lon, jd_of(start)) >= level_deg else None
    spans: list[Span] = []
    for crossing in found:
        if crossing.rising:
            begin = crossing.at
        elif begin is not None:
            spans.append(Span(begin, crossing.at))
            begin = None
    return [*spans, Span(begin, end)] if begin is not None else spans


def light_left(position: HasPosition, start: datetime, end: datetime) -> Estimate:
    """Minutes of civil light left at the end of a piece of work; below 0 where some of it is done in the dark.

    Done after dusk it counts from dusk to the end, begun before dawn from the start to dawn; a day at most. The
    interval holds the position's uncertainty and that the plan's times are written to the minute.
    """
    light = light_around(position, start, end)
    found = [_left(spans, start, end) for spans in (light.likely, light.least, light.most)]
    value, dark = found[0]
    low, high = (extreme(left for left, _ in found) for extreme in (min, max))
    low, high = low - WRITTEN_MIN, high + WRITTEN_MIN
    return Estimate(value, low, high, detail={"dark": dark}, method=_(METHOD), notes=(_(HORIZON),))


def _left(spans: Sequence[Span], start: datetime, end: datetime) -> tuple[float, str | None]:
    """Minutes of light left, and which dark is worked in if it is."""
    around = next((span for span in spans if span.start <= start < span.end), None)
    if around is not None:
        left = _minutes(around.end, end)
        return left, None if left >= 0 else AFTER_DUSK
    dark = [(_minutes(span.end, end), AFTER_DUSK) for span in spans if span.end <= start]
    dark += [(_minutes(start, span.start), BEFORE_DAWN) for span in spans if span.start > start]
    return max(dark, default=(-MOST_MIN, AFTER_DUSK))


def _minutes(later: datetime, earlier: datetime) -> float:
    return max(-MOST_MIN, min(MOST_MIN, (later - earlier).total_seconds() / 60))


def in_light(position: HasPosition, start: datetime, end: datetime) -> Estimate:
    """Whether a piece of work is done in civil light from its start to its end.

    Raises:
        CannotTell: the position leaves it open.

    """
    left = light_left(position, start, end)
    assert left.low is not None and left.high is not None
    if left.low < 0 <= left.high:
        text = _("the light begins or ends with the work, within the uncertainty of the position")
        raise CannotTell(text, "station.at", "within uncertainty", "trip")
    return Estimate(left.value >= 0, method=_(METHOD), notes=(_(HORIZON),))


def dusk_for(position: HasPosition, moment: datetime) -> datetime:
    """The end of civil light on the day of an instant: of the light around it, else of the last light before it.

    Raises:
        CannotTell: there is no such end within 30 hours.

    """
    spans = light_around(position, moment, moment).likely
    before = [span for span in spans if span.start <= moment]
    if not before:
        text = _("it does not get light before the departure: light sets no time to turn back")
        raise CannotTell(text, "travel.turn_back")
    if before[-1].end >= moment + AROUND:
        raise CannotTell(_("it does not get dark: light sets no time to turn back"), "travel.turn_back")
    return before[-1].end
