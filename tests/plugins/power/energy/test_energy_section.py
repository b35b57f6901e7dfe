"""The section: its data against its schema, its chart drawn from that alone, its text."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.engine import Engine, judge, load, report
from afield.plugins.power.energy.figures import charge_figure
from afield.plugins.power.energy.section import energy_data, energy_section, energy_text

KIT = """\
items:
  - {name: radio, is: hf-radio-10-w}
  - {name: feed line, is: coax-bnc-bnc-10-m}
  - {name: wire, is: end-fed-wire-20-m}
  - {name: battery, is: lithium-iron-battery-6-ah, battery: {chemistry: lithium iron phosphate, capacity: CAPACITY, nominal: 12.8 V, usable: 85 %}}
  - {name: power lead, is: dc-lead-coaxial}
"""  # noqa: E501
SCHEDULE = 'schedule: {arrive: "22:45", on_air: ["23:30", "04:30"], leave: "05:15", mode: SSB, power: 10 W}\n'


@pytest.fixture
def section_of(tmp_path: Any) -> Any:
    """Capacity and schedule -> the section's data, as in a briefing's report."""

    def made(capacity: str, schedule: str = SCHEDULE) -> Any:
        (tmp_path / "kit.yaml").write_text(KIT.replace("CAPACITY", capacity), encoding="utf-8")
        plan = tmp_path / "trip.yaml"
        plan.write_text(f"trip: A\ndate: 2026-06-27\npacks: [gear]\nkit: [kit.yaml]\n{schedule}", encoding="utf-8")
        engine = Engine()
        whole = report(judge(load(plan, engine), engine), engine, briefing=True)
        assert engine.failures() == []
        (found,) = [section for section in whole["sections"] if section["name"] == "energy"]
        return found["data"]

    return made


def drawn(data: Any, index: int = 0) -> tuple[ElementTree.Element, list[str]]:
    """The chart and its words."""
    figure = ElementTree.fromstring(charge_figure(index, data))
    return figure, [text.text or "" for text in figure.iter("{http://www.w3.org/2000/svg}text")]


def test_a_battery_that_lasts(section_of: Any) -> None:
    data = section_of("6 Ah")
    Draft202012Validator(dict(energy_section().schema)).validate(data)
    (battery,) = data["batteries"]
    assert (battery["name"], battery["about"]) == ("battery", "lithium iron phosphate, 6 Ah, 65 Wh usable")
    rows = {row["name"]: row for row in battery["rows"]}
    assert rows["Ends after arrival"]["aside"].endswith(", if you stayed on the air")
    assert rows["Least charge left"]["aside"] == "at leaving"
    assert battery["chart"]["ends"] is None
    assert [tick["clock"] for tick in battery["chart"]["ticks"]] == [
        "22:45", "23:45", "00:45", "01:45", "02:45", "03:45", "04:45",
    ]  # fmt: skip
    _, words = drawn(data)
    assert {"on air", "20 % left", "0 %", "100 %", "22:45", "0 h", "clock", "after"} <= set(words)
    assert f"{battery['chart']['charge'][-1]:.0f} %" in words


def test_a_battery_that_ends_on_the_way_is_marked(section_of: Any) -> None:
    data = section_of("2 Ah")
    chart = data["batteries"][0]["chart"]
    _, words = drawn(data)
    assert f"ends {chart['ends']['clock']}" in words
    assert 0.75 < chart["ends"]["at_h"] < 5.75
    assert "-50 %" in words
    rows = {row["name"]: row for row in data["batteries"][0]["rows"]}
    assert rows["Ends after arrival"]["aside"] == f"about {chart['ends']['clock']}"
    assert rows["Least charge left"]["value"].startswith("-")


@pytest.mark.parametrize("capacity", ["0.5 Ah", "1 Ah", "6 Ah", "20 Ah"])
def test_everything_is_drawn_inside_the_sheet(section_of: Any, capacity: str) -> None:
    figure, words = drawn(section_of(capacity))
    width, height = (float(size) for size in figure.attrib["viewBox"].split()[2:])
    for text in figure.iter("{http://www.w3.org/2000/svg}text"):
        x, size = float(text.attrib["x"]), float(text.attrib["font-size"])
        wide = len(text.text or "") * size * 0.62
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.attrib["text-anchor"]]
        assert left > -2
        assert left + wide < width + 2
        assert 0 < float(text.attrib["y"]) < height
    assert words


def test_hours_are_marked_at_most_eight_times_and_in_utc_if_the_plan_is(section_of: Any) -> None:
    schedule = 'schedule: {arrive: "10:00Z", on_air: ["10:30Z", "07:30Z"], leave: "08:00Z", mode: CW}\n'
    chart = section_of("6 Ah", schedule)["batteries"][0]["chart"]
    assert [tick["after"] for tick in chart["ticks"]] == ["0 h", "3 h", "6 h", "9 h", "12 h", "15 h", "18 h", "21 h"]
    assert (chart["zone"], chart["ticks"][1]["clock"]) == ("UTC", "13:00")


def test_what_cannot_be_told_is_said(section_of: Any) -> None:
    data = section_of("6 Ah", 'schedule: {on_air: ["15:30", "20:30"]}\n')
    why = "neither the mode nor the share of the time spent transmitting is stated"
    assert data == {"batteries": [], "silent": [{"name": "battery", "why": why}], "assumptions": []}
    Draft202012Validator(dict(energy_section().schema)).validate(data)
    assert energy_text(data) == f"battery: {why}"


def test_a_kit_that_feeds_nothing_has_no_section() -> None:
    facts: dict[str, Any] = {name: {} for name in energy_section().wants}
    assert energy_data(facts) is None
    assert energy_data({**facts, "energy.feeds": {"item:radio": {"value": False}}}) is None


def test_the_text_has_the_figures_the_hours_and_the_assumptions(section_of: Any) -> None:
    lines = energy_text(section_of("6 Ah")).splitlines()
    assert lines[0] == "battery: lithium iron phosphate, 6 Ah, 65 Wh usable"
    assert lines[1].startswith("Energy used:                  ")
    assert "  22:45: 100 % (94 to 100 %)" in lines
    assert "- The air temperature is not stated: no loss by cold is taken." in lines


def test_there_is_no_chart_beyond_the_last_battery(section_of: Any) -> None:
    assert charge_figure(1, section_of("6 Ah")) == ""


def test_what_a_kit_calls_its_things_is_escaped(section_of: Any) -> None:
    data = section_of("6 Ah")
    data["batteries"][0]["name"] = '<script>"&'
    data["batteries"][0]["chart"]["on_air"][0]["name"] = "<b>"
    figure, words = drawn(data)
    assert figure.attrib["aria-label"] == 'Usable charge of <script>"& against time'
    assert "<b>" in words
