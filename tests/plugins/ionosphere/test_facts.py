"""The outlook of a plan: from its schedule, its position and the sun to the section of the briefing."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.briefing import briefing_html
from afield.core.documents import InputError
from afield.core.engine import Engine, judge, load, report
from afield.core.host.loading import PluginInfo, new_host
from afield.plugins.geometry import plugin as geometry
from afield.plugins.ionosphere import plugin as ionosphere
from afield.plugins.ionosphere.computations import iri
from afield.plugins.ionosphere.section import sections
from afield.plugins.outing import plugin as outing
from afield.plugins.timing import plugin as timing

PLUGINS = {"outing": outing, "geometry": geometry, "timing": timing, "ionosphere": ionosphere}
EVENING = """\
station: {at: {lat: 39.90412, lon: -117.30288, accuracy: 5 m}}
schedule: {arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", mode: CW, power: 10 W,
           zone: America/Los_Angeles}
"""
SUN = "conditions: {f107: 120}\n"
HEAD = "trip: A day out\ndate: 2026-06-27\npacks: [papers]\n"
Made = Callable[..., dict[str, Any]]


def engine() -> Engine:
    host = new_host()
    for name, module in PLUGINS.items():
        host.add(module, PluginInfo(name, "afield", "0.1.0"))
    return Engine(host)


@pytest.fixture
def plan(tmp_path: Path, papers: None) -> Callable[[str], Path]:
    """A plan with these lines, beside a pack that asks for nothing that is computed."""

    def written(lines: str) -> Path:
        path = tmp_path / "trip.yaml"
        path.write_text(HEAD + lines, encoding="utf-8")
        return path

    return written


@pytest.fixture
def made(plan: Callable[[str], Path]) -> Made:
    """The report of a plan with these lines, as for a briefing."""

    def report_of(lines: str) -> dict[str, Any]:
        path, used = plan(lines), engine()
        found = report(judge(load(path, used), used), used, briefing=True)
        assert used.failures() == []
        return found

    return report_of


def outlook(found: dict[str, Any]) -> dict[str, Any]:
    """The record of the fact."""
    (record,) = (one for one in found["facts"] if one["fact"] == "bands.outlook")
    return dict(record)


def section(found: dict[str, Any]) -> dict[str, Any] | None:
    """The section's data."""
    return next((one["data"] for one in found["sections"] if one["name"] == "outlook"), None)


def test_the_columns_are_the_outing_s_hours_over_00_utc(made: Made) -> None:
    columns = outlook(made(EVENING + SUN))["value"]["columns"]
    assert [column["utc"] for column in columns[:2]] == ["2026-06-27T20:00Z", "2026-06-27T21:00Z"]
    assert columns[4] == {
        "utc": "2026-06-28T00:00Z", "local": "17:00", "daylight": True, "on_air": [[0, 60]], "during": True, "sent": 0,
    }  # fmt: skip
    # From 21:45 to 04:15 UTC: an hour more is shown on each side.
    assert [column["during"] for column in columns] == [False, *(True,) * 8, False]
    assert [column["on_air"] for column in columns] == [
        *([], [], [[30, 60]]),
        *([[0, 60]] for _ in range(4)),
        *([[0, 30]], [], []),
    ]
    assert [column["daylight"] for column in columns[-3:]] == [True, False, False]


def test_each_hour_is_that_of_its_own_day(made: Made) -> None:
    from afield.plugins.ionosphere.computations.outlook import band_outlook

    value = outlook(made(EVENING + SUN))["value"]
    second = band_outlook("2026-06-28", 39.90412, -117.30288, 120.0)
    at = next(index for index, column in enumerate(value["columns"]) if column["utc"] == "2026-06-28T02:00Z")
    for path, whole in zip(value["paths"], second["paths"], strict=True):
        assert path["muf_mhz"][at] == whole["muf_mhz"][2]
        assert [one["states"][at] for one in path["bands"]] == [one["states"][2] for one in whole["bands"]]
    assert value["reach"][3]["skip_km"][at] == second["reach"][3]["skip_km"][2]


def test_the_plan_s_mode_and_power_count_and_what_is_assumed_is_said(made: Made) -> None:
    assert outlook(made(EVENING + SUN))["value"]["sent"] == [{"power_w": 10, "mode": "CW"}]
    other = outlook(made(EVENING.replace("mode: CW, power: 10 W", "mode: RTTY, power: 50 W") + SUN))
    assert other["value"]["sent"] == [{"power_w": 50, "mode": "SSB"}]
    assert other["notes"] == ["What RTTY needs is not known: SSB, which needs most, is taken."]
    silent = outlook(made(EVENING.replace("mode: CW, power: 10 W,", "") + SUN))
    assert silent["notes"] == ["The power is not stated: 10 W is taken.", "The mode is not stated: CW is taken."]


SLOTS = """\
station: {at: {lat: 48.10013, lon: 11.50013, accuracy: 5 m}}
schedule:
  arrive: "22:30"
  leave: "04:00"
  zone: Europe/Berlin
  slots:
    - {name: early, from: "00:00", to: "01:30", band: 40m, mode: CW, power: 100 W}
    - {name: late, from: "02:15", to: "03:30", band: 20m, mode: SSB, power: 5 W}
"""


def test_each_slot_s_hours_are_worked_out_for_its_own_power_and_mode(made: Made) -> None:
    from afield.plugins.ionosphere.computations.outlook import band_outlook

    found = made(SLOTS + SUN)
    value, data = outlook(found)["value"], section(found)
    assert value["sent"] == [{"power_w": 100, "mode": "CW"}, {"power_w": 5, "mode": "SSB"}]
    # 19 to 23 UTC by the slot from 22 to 23:30, the rest by the one from 00:15 to 01:30.
    assert [column["sent"] for column in value["columns"]] == [0] * 5 + [1] * 4
    for date, power, mode, utc, at in (("11", 100.0, "CW", 23, 4), ("12", 5.0, "SSB", 1, 6)):
        day = band_outlook(f"2026-06-{16 + int(date):02}", 48.10013, 11.50013, 120.0, power_w=power, mode=mode)
        for path, whole in zip(value["paths"], day["paths"], strict=True):
            assert [one["states"][at] for one in path["bands"]] == [one["states"][utc] for one in whole["bands"]]
    assert data is not None
    assert data["chart"]["sent"] == ["a: 100 W, CW", "b: 5 W, SSB"]
    assert data["chart"]["basis"][1].startswith(
        'Power and mode as the row "sent" has them (a: 100 W, CW; b: 5 W, SSB), both antennas together 6 dB, rural '
    )
    draw, text = sections()[0].figures["panel 1"](data), sections()[0].text
    assert ">sent</text>" in draw
    assert draw.count(">a</text>") == 5
    assert text is not None
    assert text(data).splitlines()[7:9] == ["sent     a  a  a  a  a  b  b  b  b", "sent: a: 100 W, CW; b: 5 W, SSB"]


def test_one_power_and_mode_need_no_row(made: Made) -> None:
    data = section(made(EVENING + SUN))
    assert data is not None
    assert data["chart"]["sent"] == []
    assert {column["sent"] for column in data["chart"]["columns"]} == {""}
    assert ">sent</text>" not in sections()[0].figures["panel 1"](data)


def test_0_w_is_stated(made: Made) -> None:
    found = outlook(made(EVENING.replace("power: 10 W", "power: 0 W") + SUN))
    assert found["value"]["sent"] == [{"power_w": 10, "mode": "CW"}]
    assert found["notes"] == [
        "The power is stated as 0 W, nothing is sent: 10 W is taken, as of a station that may be heard."
    ]


def test_a_sunspot_number_stands_for_its_flux(made: Made) -> None:
    index = outlook(made(EVENING + "conditions: {sunspot_number: 100}\n"))["value"]["index"]
    assert index == {"f107": pytest.approx(145.45), "sunspot_number": 100}


def test_two_figures_for_the_sun_are_refused_before_anything_is_judged(plan: Callable[[str], Path]) -> None:
    with pytest.raises(InputError) as refused:
        load(plan("conditions: {f107: 120, sunspot_number: 70}\n"), engine())
    assert refused.value.text(verbose=True) == (
        "trip.yaml:4:41: f107 and sunspot_number are both stated\n"
        "    | conditions: {f107: 120, sunspot_number: 70}\n"
        "    = Keep one of the two; the other is worked out from it."
    )


def test_without_a_figure_for_the_sun_there_is_no_section(made: Made) -> None:
    found = made(EVENING)
    assert outlook(found)["reason"]["text"] == "neither the solar flux nor a sunspot number is stated"
    assert outlook(found)["reason"]["settle"] == "conditions.f107"
    assert section(found) is None


def test_a_missing_schedule_is_said_where_the_sun_is_stated(made: Made) -> None:
    found = section(made(EVENING.split("schedule:")[0] + SUN))
    assert found is not None
    assert found["missing"] == "the schedule states no time of day; schedule.arrive in the plan would settle it"


def test_without_the_library_the_section_says_what_to_install(made: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PyIRI", None)
    iri._layers.cache_clear()
    found = made(EVENING + SUN)
    reason = outlook(found)["reason"]
    assert (reason["text"], reason["settle"]) == (
        "PyIRI, which knows the ionosphere, is not installed",
        "install afield[ionosphere]",
    )
    assert section(found) == {
        "missing": "PyIRI, which knows the ionosphere, is not installed; install afield[ionosphere]",
        "chart": None,
    }


def test_near_the_pole_it_cannot_be_told(made: Made) -> None:
    found = made(EVENING.replace("39.90412", "82.5") + SUN)
    words = "lat 82.5 deg is beyond 80, where the maps say little; look at an ionosonde near there"
    assert outlook(found)["reason"]["text"] == words
    assert section(found) == {"missing": words, "chart": None}


def test_the_section_keeps_its_schema_and_shows_states_by_shape(made: Made) -> None:
    found = made(EVENING + SUN)
    data = section(found)
    assert data is not None
    Draft202012Validator(dict(sections()[0].schema)).validate(data)
    page = briefing_html(found, engine().sections)
    part = page[page.index(">Band outlook<") :]
    assert "marginal-0" in part
    assert part.count('stroke-dasharray="5 3"') == 3
    assert "Near-vertical path of 200 km" in part
    assert "Closed throughout: 12 m, 10 m: too high a frequency." in part


def test_the_text_has_a_mark_for_each_hour(made: Made) -> None:
    data = section(made(EVENING + SUN))
    assert data is not None
    draw = sections()[0].text
    assert draw is not None
    lines = draw(data).splitlines()
    assert lines[:2] == [
        "# open; marginal: + near the usable frequency, ~ weak",
        "closed: . too high a frequency, - too weak; d day, n night, * on the air",
    ]
    assert lines[3] == "UTC     20 21 22 23 00 01 02 03 04 05"
    assert lines[4] == "local   13 14 15 16 17 18 19 20 21 22"
    assert lines[6] == "on air         *  *  *  *  *  *"
    rows = [line for line in lines if line.startswith("160 m ")]
    assert len(rows) == len(data["chart"]["panels"]) == 3
    assert all(len(row.split()) == 2 + len(data["chart"]["columns"]) for row in rows)


def test_bands_of_one_reach_share_a_row_and_missing_hours_are_counted(made: Made) -> None:
    data = section(made(SLOTS.replace("SSB, power: 5 W", "CW, power: 100 W") + SUN))
    assert data is not None
    chart = data["chart"]
    assert chart["distances_title"] == "Where one hop is open or marginal while on the air"
    rows = {row["band"]: (row["skip"], row["reach"]) for row in chart["distances"]}
    assert rows["160 m"] == ("0 km", "2,000 km")
    assert rows["15 m"][1] == "3,400 km; in 3 of 4 hours nowhere"
    assert chart["hops"] == (
        "One hop of it; two or more reach farther where the signal is strong enough, and the chart takes them in."
    )


def test_what_a_band_lacks_stands_beside_its_state(made: Made) -> None:
    found = made(SLOTS + SUN)
    data, value = section(found), outlook(found)["value"]
    assert data is not None
    short = {"": "", "above the usable frequency": "frequency", "near the usable frequency": "frequency"}
    for panel, path in zip(data["chart"]["panels"], value["paths"], strict=True):
        because = {one["band"]: one["because"] for one in path["bands"]}
        for row in panel["rows"]:
            assert row["lacks"] == [short.get(why, "signal") for why in because[row["band"]]]
    text = sections()[0].text
    assert text is not None
    far = text(data).split("Path of 3,000 km")[1].splitlines()
    assert far[1] == "160 m    -  #  #  #  #  -  -  -  -"
    assert far[8] == "15 m     +  +  +  +  .  .  .  .  ."
    assert "near the usable frequency" not in sections()[0].figures["weak"](data)
    shapes = {sections()[0].figures[name](data).split("</defs>")[1] for name in ("near", "weak", "above", "too weak")}
    assert len(shapes) == 4


def test_the_near_vertical_frequency_is_that_of_hours_of_the_outing(made: Made) -> None:
    data = section(made(EVENING + SUN))
    assert data is not None
    line = data["chart"]["near_vertical"]
    # On the air from 22:30 to 03:30 UTC; the hours shown are 20 to 05.
    hours = [int(part[:2]) for part in line.split(" at ")[2:]]
    assert line.startswith("While on the air, near-vertical paths by the F2 layer are best worked at ")
    assert set(hours) <= {22, 23, 0, 1, 2, 3}
    silent = section(made(EVENING.replace('on_air: ["15:30", "20:30"],', "") + SUN))
    assert silent is not None
    assert silent["chart"]["near_vertical"].startswith("During the outing, near-vertical paths by the F2 layer are ")
    assert silent["chart"]["distances_title"] == "Where one hop is open or marginal during the outing"


def test_a_zone_that_is_half_an_hour_off_shows_its_minutes(made: Made) -> None:
    data = section(made(EVENING.replace("America/Los_Angeles", "Asia/Kolkata") + SUN))
    assert data is not None
    draw, text = sections()[0].figures["panel 0"], sections()[0].text
    assert ">13:30<" in draw(data)
    assert text is not None
    assert text(data).splitlines()[4].startswith("local:30")


def test_a_long_outing_labels_every_other_hour_and_00_utc(made: Made) -> None:
    long = EVENING.replace("14:45", "05:00").replace("15:30", "06:00").replace("20:30", "23:00")
    data = section(made(long.replace("21:15", "03:00") + SUN))
    assert data is not None
    drawn, text = sections()[0].figures["panel 1"](data), sections()[0].text
    assert text is not None
    lines = text(data).splitlines()
    assert max(len(line) for line in lines if line[:6] in ("UTC   ", "local ", "160 m ")) < 60
    assert lines[3] == "UTC      12  14  16  18  20  22  00  02  04  06  08  10"
    assert len(data["chart"]["columns"]) == 25
    assert ">00</text>" in drawn
    assert ">01</text>" not in drawn.split("local")[0]


def test_without_a_chart_nothing_is_drawn() -> None:
    assert sections()[0].figures["panel 0"]({"missing": "why", "chart": None}) == ""


def grey_line(found: dict[str, Any]) -> str:
    data = section(found)
    assert data is not None
    return str(data["chart"]["grey_line"])


def test_the_grey_line_is_that_of_the_outing(made: Made) -> None:
    # Sunset on 27 June 2026 at 39.9 N, 117.3 W is at 20:22 and civil dusk at 20:55, Pacific time; dawn was hours ago.
    assert grey_line(made(EVENING + SUN)) == (
        "The edge of night (grey line) lies over the station from 20:22 to 20:55 local time (03:22Z to 03:55Z)."
    )


def test_the_dawn_that_follows_a_night_is_the_one_that_is_told(made: Made) -> None:
    night = SLOTS.replace('"22:30"', '"21:00"') + SUN
    line = grey_line(made(night))
    assert line.count("from ") == 2
    assert "from 21:18 to 21:59 local time (19:18Z to 19:59Z)" in line
    assert "and from 04:35 (28 June) to 05:16 (28 June) local time (02:35Z to 03:16Z)." in line


NO_EDGE = "The edge of night (grey line) does not lie over the station from 3 h before the outing to 3 h after it."


def test_no_edge_of_night_is_said(made: Made) -> None:
    north = EVENING.replace("lat: 39.90412, lon: -117.30288", "lat: 70.2, lon: 20.1").replace(
        "America/Los_Angeles", "Europe/Oslo"
    )
    assert grey_line(made(north + SUN)) == NO_EDGE
    noon = EVENING.replace("14:45", "10:00").replace("15:30", "10:30").replace("20:30", "14:00")
    assert grey_line(made(noon.replace("21:15", "14:30") + SUN)) == NO_EDGE


FLUX, NUMBER = "solar radio flux at 10.7 cm, mean over 81 days", "sunspot number, mean over 12 months"


@pytest.mark.parametrize(
    ("written", "complaint", "advice"),
    [
        ("f107: 20", f"20: {FLUX} 20 is outside 63.75 to 250", "Write a number from 63.75 to 250."),
        ("f107: 900", f"20: {FLUX} 900 is outside 63.75 to 250", "Write a number from 63.75 to 250."),
        ("sunspot_number: -5", f"30: {NUMBER} -5 is outside 0 to 200", "Write a number from 0 to 200."),
        ("f107: 120 sfu", f'20: {FLUX} is the text "120 sfu"; a number is due', "For example: 120"),
    ],
)
def test_a_solar_index_that_cannot_be_is_refused(
    plan: Callable[[str], Path], written: str, complaint: str, advice: str
) -> None:
    with pytest.raises(InputError) as refused:
        load(plan(f"conditions: {{{written}}}\n"), engine())
    assert refused.value.text() == f"trip.yaml:4:{complaint}\n    | conditions: {{{written}}}\n    = {advice}"


@pytest.mark.parametrize("year", [1930, 2090])
def test_a_date_for_which_there_is_no_model_cannot_be_told(plan: Callable[[str], Path], year: int) -> None:
    path = plan(EVENING + SUN)
    path.write_text(path.read_text().replace("2026-06-27", f"{year}-06-27"))
    record = load(path, engine()).world.value("trip", "bands.outlook")
    assert record.reason is not None
    assert (record.reason.code, record.reason.text) == (
        "outside validity",
        f"year {year} is outside 1965 to 2034; plan another date, or leave f107 and sunspot_number out of conditions: "
        "the briefing then has no band outlook",
    )
