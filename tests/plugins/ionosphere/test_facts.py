"""The outlook of a plan: from its schedule, its position and the sun to the section of the briefing."""

from __future__ import annotations

import json
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
    assert columns[4] == {"utc": "2026-06-28T00:00Z", "local": "17:00", "daylight": True, "on_air": [[0, 60]]}
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
    assert outlook(made(EVENING + SUN))["value"]["assumed"]["mode"] == "CW"
    other = outlook(made(EVENING.replace("mode: CW, power: 10 W", "mode: RTTY, power: 50 W") + SUN))
    assert (other["value"]["assumed"]["mode"], other["value"]["assumed"]["power_w"]) == ("SSB", 50)
    assert other["notes"] == ["What RTTY needs is not known: SSB, which needs most, is taken."]
    silent = outlook(made(EVENING.replace("mode: CW, power: 10 W,", "") + SUN))
    assert silent["notes"] == ["The power is not stated: 10 W is taken.", "The mode is not stated: CW is taken."]


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
    assert lines[0] == "# open, + marginal, . closed; d day, n night, * on the air"
    assert lines[2] == "UTC     20 21 22 23 00 01 02 03 04 05"
    assert lines[3] == "local   13 14 15 16 17 18 19 20 21 22"
    assert lines[5] == "on air         *  *  *  *  *  *"
    rows = [line for line in lines if line.startswith("160 m ")]
    assert len(rows) == len(data["chart"]["panels"]) == 3
    assert all(len(row.split()) == 2 + len(data["chart"]["columns"]) for row in rows)


def test_bands_of_one_reach_share_a_row_and_missing_hours_are_counted(made: Made) -> None:
    data = section(made(EVENING.replace("20:30", "23:00").replace("21:15", "23:30") + "conditions: {f107: 90}\n"))
    assert data is not None
    rows = data["chart"]["distances"]
    assert rows[0]["band"].startswith("160 m, 80 m")
    assert json.dumps(rows).count("hours nowhere") >= 1


def test_a_zone_that_is_half_an_hour_off_shows_its_minutes(made: Made) -> None:
    data = section(made(EVENING.replace("America/Los_Angeles", "Asia/Kolkata") + SUN))
    assert data is not None
    draw, text = sections()[0].figures["panel 0"], sections()[0].text
    assert ">13:30<" in draw(data)
    assert text is not None
    assert text(data).splitlines()[3].startswith("local:30")


def test_a_long_outing_labels_every_other_hour_and_00_utc(made: Made) -> None:
    long = EVENING.replace("14:45", "05:00").replace("15:30", "06:00").replace("20:30", "23:00")
    data = section(made(long.replace("21:15", "03:00") + SUN))
    assert data is not None
    drawn, text = sections()[0].figures["panel 1"](data), sections()[0].text
    assert text is not None
    lines = text(data).splitlines()
    assert max(len(line) for line in lines if line[:6] in ("UTC   ", "local ", "160 m ")) < 60
    assert lines[2] == "UTC      12  14  16  18  20  22  00  02  04  06  08  10"
    assert len(data["chart"]["columns"]) == 25
    assert ">00</text>" in drawn
    assert ">01</text>" not in drawn.split("local")[0]


def test_without_a_chart_nothing_is_drawn() -> None:
    assert sections()[0].figures["panel 0"]({"missing": "why", "chart": None}) == ""


def test_the_grey_line_lies_between_sunrise_or_sunset_and_civil_twilight(made: Made) -> None:
    found = made(EVENING + SUN)
    data = section(found)
    assert data is not None
    edges = [one for one in found["facts"] if one["fact"].startswith("sun.") and one["detail"]]
    local = {one["fact"]: one["detail"]["local"] for one in edges}
    line = data["chart"]["grey_line"]
    assert f"from {local['sun.civil_dawn']} to {local['sun.rise']} local time (" in line
    assert f"and from {local['sun.set']} to {local['sun.civil_dusk']} local time (03:" in line


def test_where_the_sun_does_not_set_there_is_no_grey_line(made: Made) -> None:
    north = EVENING.replace("lat: 39.90412, lon: -117.30288", "lat: 70.2, lon: 20.1").replace(
        "America/Los_Angeles", "Europe/Oslo"
    )
    data = section(made(north + SUN))
    assert data is not None
    assert data["chart"]["grey_line"] is None


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
    assert (record.reason.code, record.reason.text) == ("outside validity", f"year {year} is outside 1965 to 2034")
