"""Opening hours and permits that a pack lists of its references, and a stay inside or outside of them."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from types import SimpleNamespace
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import InputError
from afield.plugins.timing.computations.zone_files import zone_of
from afield.plugins.timing.hours import Hours, room_in, spans_of
from afield.plugins.timing.timeline_places import gates_of

SOURCE = '{document: Gate book, section: "1", grade: invented, last_checked: 2026-05-02}'
PACK = """\
id: gates
version: "1.0.0"
title: Gates
publisher: the tests
licence: MIT
judges: program
needs: [outing, timing]
date_basis: local
review_every: 365 days
sources: [{document: Gate book, publisher: the tests, edition: "2026", grade: invented}]
references: references.yaml
"""
RULES = f"""\
rules:
  - id: inside
    title: Inside the hours
    why: The gate is shut.
    severity: required
    for_each: claim
    where: {{fact: reference.has_hours, is: true}}
    require: {{fact: reference.open_margin, at_least: 0 min}}
    if_failed: "{{{{ short_by }}}} beyond the {{{{ detail.edge }}}} at {{{{ detail.at }}}} of {{{{ detail.hours }}}}"
    source: {SOURCE}
"""
NO_SUN = "the hours are those of the sun, and there is no sunrise at the place"
KEEPERS = "ask its keepers for the hours of that date, and have the pack list them as clock times"
CLAIM = "claim:gates/hill"
DAY = 'zone: America/Denver, arrive: "10:00", on_air: ["11:00", "17:00"], leave: "18:00"'
POLAR = DAY.replace("America/Denver", "Arctic/Longyearbyen")


class At:
    """A plan that claims a reference with these further lines."""

    def __init__(self, outing: Any) -> None:
        self.outing = outing

    def plan(self, opens: str, schedule: str = DAY, date: str = "2026-06-27", place: str = "denver") -> Any:
        entry = f"references:\n  - id: hill\n    title: Hill\n    from: 2020-01-01\n    kind: point\n{opens}"
        self.outing.file("gates/pack.yaml", PACK)
        self.outing.file("gates/rules.yaml", RULES)
        self.outing.file("gates/references.yaml", f"{entry}    source: {SOURCE}\n")
        return self.outing.plan(place, date, schedule, "claims: [{program: gates, reference: hill}]")

    def record(self, *args: str) -> Any:
        return self.outing.facts(self.plan(*args)).record("reference.open_margin", CLAIM)

    def verdict(self, *args: str) -> Any:
        made = self.outing.report(self.plan(*args))
        return next(one for one in made["verdicts"] if one["rule"] == "gates/inside")


@pytest.fixture
def at(outing_of: Any) -> At:
    return At(outing_of)


@pytest.mark.parametrize(
    ("hours", "minutes", "edge", "when"),
    [
        ('from: "09:00", until: "20:00"', 60, "start", "09:00"),
        ('from: "06:00", until: "18:30"', 30, "end", "18:30"),
        ('from: "10:00", until: "18:00"', 0, "end", "18:00"),
        ('from: "10:01", until: "22:00"', -1, "start", "10:01"),
        ('from: "06:00", until: "17:15"', -45, "end", "17:15"),
        # An end before the start is after midnight.
        ('from: "09:30", until: "02:00"', 30, "start", "09:30"),
        # Shut in the middle of the night only; open right through where the end is the start.
        ('from: "00:00", until: "00:00"', 1440, "end", "00:00"),
    ],
)
def test_hours_by_the_clock_are_exact(at: At, hours: str, minutes: float, edge: str, when: str) -> None:
    record = at.record(f"    open: {{{hours}}}\n")
    assert (record.value, record.low, record.high) == (minutes, minutes, minutes)
    if minutes < 1440:
        assert (record.detail["edge"], record.detail["at"]) == (edge, when)


def test_an_outing_over_midnight_lies_within_hours_over_midnight(at: At) -> None:
    night = 'zone: America/Denver, arrive: "22:00", on_air: ["23:00", "02:00"], leave: "03:00"'
    assert at.record('    open: {from: "20:00", until: "04:00"}\n', night).value == 60
    assert at.record('    open: {from: "06:00", until: "23:00"}\n', night).value == -240


def test_hours_by_the_sun_leave_a_doubt(at: At) -> None:
    record = at.record("    open: {from: sunrise, until: sunset}\n")
    sunset = at.outing.facts(at.outing.folder / "trip.yaml").record("sun.set")
    leave = datetime(2026, 6, 28, 0, tzinfo=UTC)
    assert record.detail == {"edge": "end", "at": sunset.detail["local"], "hours": "sunrise to sunset"}
    assert record.value == pytest.approx((datetime.fromisoformat(sunset.value) - leave).total_seconds() / 60, abs=0.02)
    assert 0.5 < record.value - record.low < 1
    assert 0.5 < record.high - record.value < 1
    assert any("level" in note for note in record.notes)


def test_the_change_of_the_clocks_is_followed(at: At) -> None:
    spring = 'zone: America/Denver, arrive: "00:30", on_air: ["00:45", "04:00"], leave: "05:00"'
    record = at.record('    open: {from: "00:00", until: "06:00"}\n', spring, "2026-03-08")
    assert (record.value, record.detail["edge"]) == (30, "start")


def test_a_stay_outside_fails_with_how_much(at: At) -> None:
    verdict = at.verdict('    open: {from: "06:00", until: "17:15"}\n')
    assert verdict["outcome"] == "failed"
    assert verdict["text"] == "45 min beyond the end at 17:15 of 06:00 to 17:15"


@pytest.mark.parametrize(
    ("opens", "schedule", "outcome", "told"),
    [
        ("", DAY, "not applicable", "applicability"),
        (
            '    open: {from: "06:00", until: "20:00"}\n', 'zone: America/Denver, on_air: ["11:00", "17:00"]',
            "cannot tell", "missing input",
        ),
    ],
)  # fmt: skip
def test_what_is_not_stated(at: At, opens: str, schedule: str, outcome: str, told: str) -> None:
    verdict = at.verdict(opens, schedule)
    assert (verdict["outcome"], verdict["reason"]["code"]) == (outcome, told)


def test_where_the_sun_does_not_set_its_hours_cannot_be_told(at: At) -> None:
    record = at.record("    open: {from: sunrise, until: sunset}\n", POLAR, "2026-06-27", "svalbard")
    assert (record.reason.text, record.reason.settle) == (f"{NO_SUN} on 2026-06-27; {KEEPERS}", "reference.open")


def test_a_day_without_the_sun_s_event_that_no_stay_reaches_does_not_matter(at: At) -> None:
    """On Svalbard the polar night ends in the middle of February."""
    hours = "    open: {from: sunrise, until: sunset}\n"
    light = 'zone: Arctic/Longyearbyen, arrive: "12:00", on_air: ["12:10", "12:20"], leave: "12:30"'
    known = {day: at.record(hours, light, day, "svalbard").known for day in days(date(2026, 2, 10), 12)}
    first = min(day for day, is_known in known.items() if is_known)
    assert list(known.values()) == [day >= first for day in known]
    # The day before must have its sun too; two days before need not.
    sun = {day: at.outing.facts(at.plan(hours, light, day, "svalbard")).record("sun.rise").known for day in known}
    assert first == sorted(day for day, rises in sun.items() if rises)[1]
    eve = sorted(known)[sorted(known).index(first) - 1]
    dark = sorted(known)[sorted(known).index(first) - 2]
    assert at.record(hours, light, eve, "svalbard").reason.text == f"{NO_SUN} on {dark}; {KEEPERS}"


def days(first: date, count: int) -> list[str]:
    return [(first + timedelta(days=shift)).isoformat() for shift in range(count)]


def test_gates_and_permit_stand_on_the_timeline(at: At) -> None:
    data = at.outing.section(at.plan('    open: {from: "09:00", until: "18:30"}\n    permit: Ask at the hut.\n'))
    rows = {row["words"]: row["local"] for row in data["rows"] if row["kind"] == "gate"}
    assert rows == {"Hill opens": "09:00", "Hill closes": "18:30"}
    assert [mark["words"] for mark in data["marks"] if mark["kind"] == "gate"] == [
        "09:00 gate opens",
        "18:30 gate closes",
    ]
    assert data["places"] == [
        "Hill is open from 09:00 to 18:30, local time.",
        "Hill asks for a permit: Ask at the hut.",
    ]


def test_gates_are_events_of_the_calendar(at: At) -> None:
    data = at.outing.section(at.plan('    open: {from: "09:00", until: "18:30"}\n'))
    gates = [event for event in data["calendar"] if "Hill" in event["summary"]]
    assert [(event["summary"], event["from"], event["key"]) for event in gates] == [
        ("An outing: Hill opens", "2026-06-27T15:00:00Z", "An outing:2026-06-27:gate Hill opens 2026-06-27"),
        ("An outing: Hill closes", "2026-06-28T00:30:00Z", "An outing:2026-06-27:gate Hill closes 2026-06-27"),
    ]
    far = at.outing.section(at.plan('    open: {from: "05:00", until: "23:30"}\n'))
    assert not [event for event in far["calendar"] if "Hill" in event["summary"]]


def test_references_of_one_title_are_told_apart_by_their_programs() -> None:
    claims = ("claim:gates/hill", "claim:walks/hill", "claim:walks/pond")
    titles = dict(zip(claims, ("Hill", "Hill", "Pond"), strict=True))
    facts: Any = {
        "reference.hours": {claim: {"reason": None, "value": {"words": claim}} for claim in claims},
        "reference.title": {claim: {"reason": None, "value": title} for claim, title in titles.items()},
    }
    assert gates_of(facts) == [
        ("Hill (gates)", {"words": claims[0]}), ("Hill (walks)", {"words": claims[1]}), ("Pond", {"words": claims[2]}),
    ]  # fmt: skip


def test_gates_hours_and_the_nearer_edge_in_german(at: At, german: None) -> None:
    plan = at.plan('    open: {from: sunrise, until: "17:15"}\n')
    data = at.outing.section(plan)
    assert "Hill ist geöffnet von Sonnenaufgang bis 17:15, Ortszeit." in data["places"]
    assert [row["words"] for row in data["rows"] if row["kind"] == "gate"] == ["Hill schließt"]
    assert [mark["words"] for mark in data["marks"] if mark["kind"] == "gate"] == ["17:15 Tor schließt"]
    verdict = next(one for one in at.outing.report(plan)["verdicts"] if one["rule"] == "gates/inside")
    assert verdict["text"] == "45,0 min beyond the Ende at 17:15 of Sonnenaufgang bis 17:15"
    gates = [event["key"] for event in data["calendar"] if "Hill schließt" in event["summary"]]
    assert gates == ["An outing:2026-06-27:gate Hill closes 2026-06-27"]


def test_without_hours_the_timeline_has_no_gates(at: At) -> None:
    data = at.outing.section(at.plan(""))
    assert data["places"] == []
    assert not [mark for mark in data["marks"] if mark["kind"] == "gate"]


def test_hours_that_cannot_be_told_are_named(at: At) -> None:
    plan = at.plan("    open: {from: sunrise, until: sunset}\n", POLAR, "2026-06-27", "svalbard")
    assert at.outing.section(plan)["places"] == [
        f"Hill has hours that cannot be told: {NO_SUN} on 2026-06-27; {KEEPERS}."
    ]


@pytest.mark.parametrize("written", ['"24:00"', '"9:00"', "noon", '"21:00Z"'])
def test_a_wrong_hour_is_refused(at: At, written: str) -> None:
    plan = at.plan(f'    open: {{from: {written}, until: "18:30"}}\n')
    with pytest.raises(InputError) as refused:
        at.outing.facts(plan)
    name = written.strip('"')
    assert refused.value.text() == (
        f'pack:gates/references.yaml:6:18: "{name}" is not well formed for start of the hours\n'
        f'    |     open: {{from: {written}, until: "18:30"}}\n'
        '    = It is a local time from "00:00" to "23:59", sunrise or sunset. For example: 06:30'
    )


def clock_hours(begin: int, end: int, zone: ZoneInfo) -> Hours:
    texts = [f"{minute // 60:02d}:{minute % 60:02d}" for minute in (begin, end)]
    nowhere: Any = SimpleNamespace(lat_deg=0.0, lon_deg=0.0, sigma_m=0.0, bound_m=(0.0, 0.0))
    return Hours(texts[0], texts[1], zone, date(2026, 6, 27), nowhere)


@given(st.integers(0, 1439), st.integers(0, 1439), st.integers(0, 1439), st.integers(1, 1439))
def test_the_room_says_whether_every_minute_is_inside(begin: int, end: int, start: int, length: int) -> None:
    zone = zone_of("America/Denver")
    spans = spans_of(clock_hours(begin, end, zone))
    first = datetime(2026, 6, 27, 6, tzinfo=UTC) + timedelta(minutes=start)
    room = room_in(spans, first, first + timedelta(minutes=length))

    def is_open(minute: int) -> bool:
        at = (first + timedelta(minutes=minute)).astimezone(zone)
        now = at.hour * 60 + at.minute
        return begin <= now < end if begin < end else now >= begin or now < end

    assert (room.minutes >= 0) == all(is_open(minute) for minute in range(length))
