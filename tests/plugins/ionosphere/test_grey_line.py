"""The edge of night: between sunset and civil dusk, between civil dawn and sunrise, near the outing."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.ionosphere.grey_line import edges_of, grey_line_words, zone_of


def outing(start: str, end: str, zone: str = "Europe/Berlin") -> dict[str, Any]:
    return {"zone": zone, "start": f"2026-{start}:00+00:00", "end": f"2026-{end}:00+00:00"}


def events(*named: str) -> list[dict[str, str]]:
    return [{"name": name, "at": f"2026-{at}:00+00:00"} for at, name in (one.split(" ", 1) for one in named)]


DAWN = events("07-12T02:47 civil dawn", "07-12T03:27 sunrise")
LIES = "The edge of night (grey line) lies over the station "


@pytest.mark.parametrize(
    ("of", "at", "words"),
    [
        # The dawn of the day of arrival is long past at 19:00 UTC; the next begins 47 min after the end.
        (outing("07-11T19:00", "07-12T02:00"), [*events("07-11T02:46 civil dawn", "07-11T03:26 sunrise"), *DAWN],
         LIES + "from 04:47 (12 July) to 05:27 (12 July) local time (02:47Z to 03:27Z)."),
        (outing("07-11T19:00", "07-11T23:00"), DAWN,
         "The edge of night (grey line) does not lie over the station from 3 h before the outing to 3 h after it."),
        # A night in which it does not get dark.
        (outing("06-20T20:00", "06-20T23:00"), events("06-20T21:10 sunset", "06-21T01:40 sunrise"),
         LIES + "from 23:10 to 03:40 (21 June) local time (21:10Z to 01:40Z)."),
        (outing("06-20T20:00", "06-20T21:30"), events("06-20T21:10 sunset"),
         LIES + "from 23:10 local time on (21:10Z on)."),
        (outing("06-20T22:30", "06-20T23:30"), events("06-20T23:00 sunrise"),
         LIES + "until 01:00 local time (23:00Z)."),
        # The clocks go forward at 01:00 UTC, after the outing and before the dawn.
        (outing("03-28T23:00", "03-29T00:50"), events("03-29T03:20 civil dawn", "03-29T03:49 sunrise"),
         LIES + "from 05:20 to 05:49 local time (03:20Z to 03:49Z)."),
    ],
)  # fmt: skip
def test_the_edges_near_the_outing(of: dict[str, Any], at: list[dict[str, str]], words: str) -> None:
    assert grey_line_words(of, at) == words


def test_other_events_part_no_edge() -> None:
    (edge,) = edges_of(events("07-11T19:13 sunset", "07-11T19:53 civil dusk", "07-11T20:44 nautical dusk"))
    assert edge.start is not None
    assert edge.end is not None
    assert (f"{edge.start:%H:%M}", f"{edge.end:%H:%M}") == ("19:13", "19:53")


def test_the_zone_is_that_of_the_package() -> None:
    assert zone_of("Europe/Berlin").key == "Europe/Berlin"
