"""The track of a boat from a GPX file: fixes with their times."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from afield.core.api import frozen
from afield.plugins.geometry.readers.contents import file_bytes
from afield.plugins.geometry.readers.gpx import position_of
from afield.plugins.geometry.readers.layer import GeoFileError
from afield.plugins.geometry.readers.xml_tree import child_text, xml_root

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

RECORD = "Record it with times: every <trkpt> needs a <time> such as 2026-06-27T22:30:00Z."


@frozen(slots=False)
class Track:
    """Where a boat was, and when.

    Attributes:
        lat_lon: of the fixes, degrees, WGS 84.
        minutes: of the fixes, from the first one.
        gaps: numbers of the legs across which nothing was recorded (the leg from fix n to n + 1 is n).

    """

    lat_lon: list[tuple[float, float]]
    minutes: list[float]
    gaps: list[int]


def read_track(path: Path, shown: str) -> Track:
    """All track segments of a GPX file, in the order of the file.

    Raises:
        GeoFileError: no GPX file, fewer than two fixes, or fixes without times or out of order.

    """
    root = xml_root(file_bytes(path, shown), shown)
    if root.tag != "gpx":
        raise GeoFileError(f"{shown}: this is not a GPX file", "Save the track as GPX, with its times.")
    segments = [list(segment.iterfind("trkpt")) for segment in root.iterfind("trk/trkseg")]
    fixes = [fix for segment in segments for fix in segment]
    if len(fixes) < 2:
        what = f"{shown}: the track has {len(fixes)} fix{'' if len(fixes) == 1 else 'es'}"
        raise GeoFileError(what, "A track needs two or more; for a boat at anchor write `anchored:` instead.")
    times = [_time(fix, number, shown) for number, fix in enumerate(fixes, 1)]
    _refuse_disorder(times, shown)
    positions = [(float(lat), float(lon)) for lon, lat in (position_of(fix, shown) for fix in fixes)]
    return Track(positions, [(time - times[0]).total_seconds() / 60 for time in times], _gaps(segments))


def _time(fix: Element, number: int, shown: str) -> datetime:
    text = child_text(fix, "time")
    if text is None:
        raise GeoFileError(f"{shown}: fix {number} of the track has no time", RECORD)
    try:
        time = datetime.fromisoformat(text)
    except ValueError:
        raise GeoFileError(f'{shown}: fix {number} of the track has the time "{text[:40]}"', RECORD) from None
    # GPX times are UTC (GPX 1.1 schema, wptType); a zone that is written all the same is heeded.
    return time if time.tzinfo else time.replace(tzinfo=UTC)


def _refuse_disorder(times: list[datetime], shown: str) -> None:
    for number, (earlier, later) in enumerate(pairwise(times), 2):
        if later < earlier:
            what = f"{shown}: fix {number} of the track is earlier than the one before it"
            raise GeoFileError(what, "Put the segments of the track in the order of their times.")
    if times[0] == times[-1]:
        raise GeoFileError(f"{shown}: all fixes of the track have one time", RECORD)


def _gaps(segments: list[list[Element]]) -> list[int]:
    """The legs from one segment's last fix to the next one's first."""
    ends, count = [], 0
    for segment in (each for each in segments if each):
        count += len(segment)
        ends.append(count - 1)
    return ends[:-1]
