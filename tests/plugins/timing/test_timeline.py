"""The timeline: its data, its drawing and its text, on paper and on a phone."""

from __future__ import annotations

import re
import shutil
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from playwright.sync_api import Page

from afield.core.briefing import briefing_html
from afield.plugins.timing.section import timeline_text
from afield.plugins.timing.timeline_figure import timeline_figure

from .conftest import Outing

EVENING = 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", set_up: 40 min, pack_up: 30 min'
WAYS = "travel: {walk: 20 min, drive: 90 min}"
CROWD = ", ".join(f'{{name: n{n}, from: "12:{n:02d}", to: "12:{n + 1:02d}"}}' for n in range(24))
PLANS = {
    "evening": ("desert", "2026-06-27", EVENING, WAYS),
    "nepal": ("kathmandu", "2026-11-20", 'arrive: "04:30", on_air: ["05:00", "08:00"], leave: "08:45"', WAYS),
    "chatham": ("chatham", "2026-07-01", 'arrive: "11:00", on_air: ["11:30", "14:30"], pack_up: 25 min', ""),
    "polar": ("svalbard", "2026-06-21", 'arrive: "20:00Z", on_air: ["21:00Z", "02:00Z"], set_up: 30 min', WAYS),
    "back": ("denver", "2026-10-31", 'arrive: "22:30", on_air: ["23:30", "03:30"], leave: "04:00"', WAYS),
    "forward": ("berlin", "2026-03-28", 'on_air: ["13:00", "11:00"], leave: "11:45"', 'travel: {turn_back: "11:30"}'),
    "slots": (
        "london", "2026-09-05", 'slots: [{name: the very first watch on forty metres, from: "10:00", to: "14:00"}, '
        '{name: b, from: "12:00", to: "16:00", operator: bob, band: 40m, frequency: 7.03 MHz, mode: CW, power: 5 W}]',
        "",
    ),
    "crowd": ("berlin", "2026-06-27", f"slots: [{CROWD}]", ""),
    "moment": ("berlin", "2026-06-27", 'arrive: "12:00"', ""),
}  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"
LEAST_GAP = 16.9


def data_of(outing: Outing, name: str) -> dict[str, Any]:
    return outing.section(outing.plan(*PLANS[name]))


def drawn(data: dict[str, Any]) -> ElementTree.Element:
    return ElementTree.fromstring(timeline_figure(data))


def test_every_event_stands_on_both_clocks(outing_of: Outing) -> None:
    data = data_of(outing_of, "evening")
    assert [(row["local"], row["utc"], row["words"]) for row in data["rows"]] == [
        ("12:55", "19:55Z", "drive out"),
        ("14:25", "21:25Z", "walk out"),
        ("14:45", "21:45Z", "arrive, set up"),
        ("15:30", "22:30Z", "on the air until 20:30"),
        ("17:00", "00:00Z (28 June)", "00:00 UTC: 28 June begins"),
        ("20:22", "03:22Z (28 June)", "sunset"),
        ("20:30", "03:30Z (28 June)", "pack up"),
        ("20:34", "03:34Z (28 June)", "latest turn back, to walk in light"),
        ("20:55", "03:55Z (28 June)", "civil dusk"),
        ("21:15", "04:15Z (28 June)", "leave, walk back"),
        ("21:35", "04:35Z (28 June)", "drive back"),
        ("23:05", "06:05Z (28 June)", "home"),
    ]
    assert data["headline"] == (
        "On the air 15:30 to 20:30 local, 22:30Z to 03:30Z (28 June); 00:00 UTC is at 17:00 local."
    )
    assert data["light"] == [
        "Setting up ends 5 h 30 min before the end of civil light.",
        "Packing up ends 5 min after the end of civil light.",
        "The walk back ends 40 min after the end of civil light.",
    ]


def test_the_zone_its_offsets_and_the_release_are_printed(outing_of: Outing) -> None:
    release = outing_of.facts(outing_of.plan(*PLANS["nepal"]))["place.zone_data"]
    zones = {
        "nepal": f"Local time is that of Asia/Kathmandu (UTC+05:45), by tzdata {release}.",
        "back": f"Local time is that of America/Denver (UTC-06:00 then UTC-07:00), by tzdata {release}.",
    }
    assert {name: data_of(outing_of, name)["zone"] for name in zones} == zones


def test_a_local_hour_that_comes_twice_is_written_twice(outing_of: Outing) -> None:
    data = data_of(outing_of, "back")
    hours = [hour["words"] for hour in data["local_hours"]]
    assert hours[hours.index("00:00") :][:4] == ["00:00", "01:00", "01:00", "02:00"]
    assert ("clock", "01:00 clock -1 h") in [(mark["kind"], mark["words"]) for mark in data["marks"]]
    forward = [hour["words"] for hour in data_of(outing_of, "forward")["local_hours"]]
    assert forward[forward.index("01:00") :][:3] == ["01:00", "03:00", "04:00"]


def test_the_clocks_of_nepal_are_a_quarter_of_an_hour_apart(outing_of: Outing) -> None:
    data = data_of(outing_of, "nepal")
    local, utc = ({round(hour["at_min"] % 60, 1) for hour in data[name]} for name in ("local_hours", "utc_hours"))
    assert len(local) == len(utc) == 1
    assert (utc.pop() - local.pop()) % 60 == pytest.approx(45)


def test_polar_summer_has_one_phase_and_no_event_of_the_sky(outing_of: Outing) -> None:
    data = data_of(outing_of, "polar")
    assert {phase["kind"] for phase in data["phases"]} == {"day"}
    assert not [mark for mark in data["marks"] if mark["kind"] == "sky"]
    assert data["light"][0] == "Setting up is done in light: it does not get dark."


SLOTS = """slots: [
  {name: early, from: "22:30", to: "01:00", band: 40m, mode: SSB, power: 10 W, operator: anna},
  {name: late, from: "01:30", to: "03:30", band: 20m, frequency: 14.0605 MHz, mode: CW, power: 2.5 W},
  {name: other, from: "03:30", to: "04:00"}]"""


def test_a_slot_tells_what_it_states_and_where_it_ends(outing_of: Outing) -> None:
    schedule = f'arrive: "21:00", leave: "04:30", pack_up: 20 min, {SLOTS}'
    rows = outing_of.section(outing_of.plan("berlin", "2026-07-11", schedule))["rows"]
    assert [(row["local"], row["words"]) for row in rows if row["kind"] == "plan"] == [
        ("21:00", "arrive"),
        ("22:30", "early until 01:00 (12 July): 40m, SSB, 10 W, anna"),
        ("01:00 (12 July)", "early ends"),
        ("01:30 (12 July)", "late until 03:30 (12 July): 20m, 14.0605 MHz, CW, 2.5 W"),
        ("03:30 (12 July)", "other until 04:00 (12 July)"),
        ("04:00 (12 July)", "pack up, other ends"),
        ("04:30 (12 July)", "leave"),
    ]


@pytest.mark.parametrize(
    ("which", "local"),
    [
        ("first", ["00:30", "02:00 (first)", "02:40 (first)", "02:00 (second)", "02:20 (second)", "05:00"]),
        ("second", ["00:30", "02:00 (first)", "02:00 (second)", "02:20 (second)", "02:40 (second)", "05:00"]),
    ],
)
def test_in_a_repeated_hour_it_is_said_which_pass_is_meant(outing_of: Outing, which: str, local: list[str]) -> None:
    on_air = {"first": '"02:40", "02:20"', "second": '"02:20", "02:40"'}[which]
    schedule = f'arrive: "00:30", on_air: [{on_air}], leave: "05:00", repeated_hour: {which}'
    data = outing_of.section(outing_of.plan("berlin", "2026-10-25", schedule))
    assert [row["local"] for row in data["rows"] if row["kind"] != "sky"] == local
    if which == "first":
        assert data["headline"] == ("On the air 02:40 (first) to 02:20 (second) local, 00:40Z to 01:20Z.")


def test_the_start_of_the_utc_day_in_a_repeated_hour_says_its_pass(outing_of: Outing) -> None:
    schedule = 'arrive: "23:00", on_air: ["23:30", "03:30"], leave: "05:00"'
    assert outing_of.section(outing_of.plan("berlin", "2026-10-24", schedule))["headline"] == (
        "On the air 23:30 to 03:30 (25 October) local, 21:30Z to 02:30Z (25 October); 00:00 UTC is at 02:00 (first, 25 "
        "October) local."
    )


def test_after_a_daytime_outing_the_table_tells_when_it_gets_dark(outing_of: Outing) -> None:
    schedule = 'arrive: "10:00", on_air: ["11:00", "14:00"], leave: "15:00"'
    data = outing_of.section(outing_of.plan("desert", "2026-06-27", schedule))
    assert [(row["local"], row["utc"], row["words"]) for row in data["rows"][-3:]] == [
        ("15:00", "22:00Z", "leave"),
        ("20:22", "03:22Z (28 June)", "sunset"),
        ("20:55", "03:55Z (28 June)", "civil dusk"),
    ]
    assert not [mark for mark in data["marks"] if mark["kind"] == "sky"]


@pytest.mark.parametrize(
    ("leave", "sky"),
    # Civil dawn is at 04:50, sunrise at 05:23: near the end they are drawn, and the next sunset is another day's.
    [("02:30", []), ("04:40", ["civil dawn", "sunrise"]), ("05:00", ["civil dawn", "sunrise"])],
)
def test_after_a_night_no_later_sunset_is_told(outing_of: Outing, leave: str, sky: list[str]) -> None:
    schedule = f'arrive: "00:30", on_air: ["01:00", "02:00"], leave: "{leave}"'
    rows = outing_of.section(outing_of.plan("desert", "2026-06-27", schedule))["rows"]
    assert [row["words"] for row in rows if row["kind"] == "sky"] == sky


def test_an_arrival_in_the_dark_is_said_and_has_no_time_to_turn_back(outing_of: Outing) -> None:
    schedule = 'arrive: "22:30", on_air: ["23:30", "03:00"], leave: "03:45", set_up: 40 min'
    data = outing_of.section(outing_of.plan("berlin", "2026-07-11", schedule, "travel: {walk: 10 min}"))
    dusk = next(row["local"] for row in data["rows"] if row["words"] == "civil dusk")
    assert data["light"][-1] == (
        f"It is dark on arrival: civil light ended at {dusk}, before the arrival, 22:30; light sets no time to turn "
        "back."
    )
    assert not [row for row in data["rows"] if row["kind"] == "turn back"]
    assert not [event for event in data["calendar"] if "turn back" in event["summary"]]


def test_without_a_walk_nothing_is_said_of_turning_back(outing_of: Outing) -> None:
    schedule = 'arrive: "22:30", on_air: ["23:30", "03:00"], leave: "03:45"'
    assert outing_of.section(outing_of.plan("berlin", "2026-07-11", schedule))["light"] == []


def test_slots_that_overlap_stand_side_by_side(outing_of: Outing) -> None:
    stages = data_of(outing_of, "slots")["stages"]
    assert [(stage["lane"], stage["lanes"]) for stage in stages] == [(0, 2), (1, 2)]


@pytest.mark.parametrize("name", PLANS)
def test_what_is_drawn_is_in_order_within_the_paper(outing_of: Outing, name: str) -> None:
    data = data_of(outing_of, name)
    figure = drawn(data)
    _, _, width, height = map(float, figure.get("viewBox", "").split())
    labels = [text for text in figure.iter(f"{SVG}text") if text.get("data-mark")]
    assert [label.text for label in labels] == [mark["words"] for mark in data["marks"]]
    ys = [float(label.get("y", "")) for label in labels]
    assert all(below - above >= LEAST_GAP for above, below in pairwise(ys))
    assert 0 < min(ys) <= max(ys) < height
    for rect in figure.iter(f"{SVG}rect"):
        if rect.get("data-sky") or rect.get("data-plan"):
            sizes = [float(rect.get(key, "")) for key in ("x", "y", "width", "height")]
            assert min(sizes) >= 0
            assert sizes[0] + sizes[2] <= width
            assert sizes[1] + sizes[3] <= height


def test_00_00_utc_is_the_heaviest_line_and_lies_at_its_hour(outing_of: Outing) -> None:
    figure = drawn(data_of(outing_of, "evening"))
    paths = [path for path in figure.iter(f"{SVG}path") if path.get("stroke") == "#000"]
    heaviest = max(float(path.get("stroke-width", "0")) for path in paths)
    lines = [path.get("d", "") for path in paths if float(path.get("stroke-width", "0")) == heaviest]
    (midnight,) = {re.split("[ L]", line)[1] for line in lines}
    words = {text.text: float(text.get("y", "")) for text in figure.iter(f"{SVG}text")}
    assert words["00:00 UTC, 28 Jun"] == pytest.approx(float(midnight), abs=6)
    assert words["00:00"] == words["17:00"] == pytest.approx(float(midnight), abs=6)


def test_the_drawing_has_no_colour(outing_of: Outing) -> None:
    colours = set(re.findall(r"#[0-9a-f]{3,6}", timeline_figure(data_of(outing_of, "evening"))))
    assert colours
    assert all(len(set(re.findall("..", colour[1:] * 2)[:3])) == 1 for colour in colours)


def test_names_from_the_plan_are_escaped(outing_of: Outing) -> None:
    slots = 'slots: [{name: "<b>&x", from: "10:00", to: "14:00"}]'
    data = outing_of.section(outing_of.plan("london", "2026-09-05", slots))
    assert "10:00 &lt;b&gt;&amp;x" in timeline_figure(data)
    assert drawn(data).tag == f"{SVG}svg"


def test_where_the_zone_cannot_be_told_the_section_says_so(outing_of: Outing) -> None:
    data = outing_of.section(outing_of.plan("ocean", "2026-06-27", EVENING))
    assert data["trouble"] == (
        "Cannot tell: the position is at sea, where no time zone of a country holds. State `schedule.zone`."
    )
    assert timeline_text(data) == data["trouble"]
    assert timeline_figure(data) == ""


def test_where_only_the_sky_cannot_be_told_the_clocks_are_drawn(outing_of: Outing) -> None:
    data = outing_of.section(outing_of.plan(None, "2026-06-27", f"{EVENING}, zone: Asia/Tokyo"))
    assert data["notes"] == ["The sky is not drawn: position is not stated."]
    assert (data["phases"], data["shades"]) == ([], [])
    assert data["rows"][0]["words"] == "arrive, set up"


def test_a_plan_without_times_has_no_timeline(outing_of: Outing) -> None:
    sections = outing_of.report(outing_of.plan("desert", "2026-06-27", ""))["sections"]
    assert "timeline" not in [section["name"] for section in sections]


def test_the_text_has_a_line_for_each_event(outing_of: Outing) -> None:
    lines = timeline_text(data_of(outing_of, "nepal")).splitlines()
    assert lines[0].split() == ["local", "UTC", "what"]
    assert "05:45  00:00Z                00:00 UTC: 20 November begins" in lines


OUTSIDE = """() => { const frame = document.querySelector('#section-timeline svg').getBoundingClientRect();
    return [...document.querySelectorAll('#section-timeline figure text')].filter(text => {
        const box = text.getBoundingClientRect();
        return box.left < frame.left - 1 || box.right > frame.right + 1; }).map(text => text.textContent); }"""
SMALLEST = """() => Math.min(...[...document.querySelectorAll('#section-timeline figure text')]
    .map(text => parseFloat(text.getAttribute('font-size')) * text.getScreenCTM().a))"""
TALL = "() => document.querySelector('#section-timeline figure').getBoundingClientRect().height"
A4_PX = (688, 1009)
"""Width and height between the margins, at 96 pixels to the inch."""


@pytest.mark.parametrize("name", PLANS)
def test_it_fits_a_phone_and_a_sheet(outing_of: Outing, tab: Page, name: str) -> None:
    page = briefing_html(outing_of.report(outing_of.plan(*PLANS[name])), outing_of.engine.sections)
    tab.set_viewport_size({"width": 360, "height": 800})
    tab.set_content(page)
    assert tab.evaluate("document.documentElement.scrollWidth") == 360
    assert tab.evaluate(OUTSIDE) == []
    assert tab.evaluate(SMALLEST) >= 12
    tab.emulate_media(media="print")
    tab.set_viewport_size({"width": A4_PX[0], "height": A4_PX[1]})
    assert tab.evaluate(OUTSIDE) == []
    assert tab.evaluate(SMALLEST) >= 14
    assert tab.evaluate(TALL) < A4_PX[1]


def test_the_end_of_the_battery_stands_on_the_timeline(tmp_path: Path) -> None:
    from afield.core.engine import Engine, judge, load, report

    demo = Path(__file__).parents[3] / "programs" / "demo"
    shutil.copytree(demo / "kit", tmp_path / "kit")
    plan = tmp_path / "trip.yaml"
    plan.write_text((demo / "trip.yaml").read_text().replace("transmit_share: 25 %", "transmit_share: 95 %"))
    engine = Engine()
    made = report(judge(load(plan, engine), engine), engine, briefing=True)
    assert engine.failures() == []
    hours = next(one["value"] for one in made["facts"] if one["fact"] == "energy.first_end")
    data = next(section["data"] for section in made["sections"] if section["name"] == "timeline")
    rows = [row["local"] for row in data["rows"] if row["kind"] == "battery"]
    assert rows == [f"{datetime(2026, 6, 27, 14, 45, 30) + timedelta(hours=hours):%H:%M}"]
    assert [mark["words"] for mark in data["marks"] if mark["kind"] == "battery"] == [f"{rows[0]} battery ends"]
