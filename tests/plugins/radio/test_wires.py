"""An antenna's wire against the waves of the planned bands."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.api import CannotTell
from afield.core.engine import Engine, judge, load, report
from afield.plugins.radio.planned import planned_uses
from afield.plugins.radio.wires import fits, span_of

HEAD = "trip: A day out\ndate: 2026-06-27\npacks: [gear]\n"
TIMES = 'zone: America/Denver, arrive: "09:00", on_air: ["10:00", "12:00"], leave: "13:00"'
Made = Callable[..., Any]


def fit(length_m: float, **use: Any) -> Any:
    (found,) = fits(length_m, planned_uses([use]))
    return found


@pytest.mark.parametrize(
    ("length_m", "use", "words", "off"),
    [
        (20.0, {"band": "40m"}, "a half wave", 0.0),
        (10.0, {"band": "40m"}, "a quarter wave", 0.0),
        (20.0, {"band": "20m"}, "a full wave", 20.0 / ((142.6464 + 149.896229) / 14.35) - 1),
        # 142.646 / 7.032 = 20.285 m; 20 m are 1.4 % short of it.
        (20.0, {"frequency_mhz": 7.032}, "a half wave", -0.01407),
        # The whole band 30 m is 14.05 to 14.12 m; 12 m are too short.
        (12.0, {"band": "30m"}, "a half wave", 12.0 / (142.6464 / 10.15) - 1),
        (41.0, {"frequency_mhz": 14.1}, "4 half waves", 41.0 / ((142.6464 + 3 * 149.896229) / 14.1) - 1),
    ],
)
def test_the_multiple_that_a_wire_is_nearest_to(length_m: float, use: dict[str, Any], words: str, off: float) -> None:
    found = fit(length_m, **use)
    assert found.words() == words
    assert found.off == pytest.approx(off, abs=2e-5)


def test_the_lengths_are_those_of_the_rules() -> None:
    found = fit(20.0, frequency_mhz=7.1)
    assert found.half_m == pytest.approx(468 / 7.1 * 0.3048)
    assert found.quarter_m == pytest.approx(234 / 7.1 * 0.3048)


@pytest.mark.parametrize(
    ("use", "told"),
    [
        ({}, "no band and no frequency is planned"),
        ({"band": "2m"}, "frequency 146 MHz is outside 1.8 to 54"),
        ({"band": "11m"}, "the band 11m is not one of"),
    ],
)
def test_bands_for_which_there_is_no_rule(use: dict[str, Any], told: str) -> None:
    with pytest.raises(CannotTell) as silent:
        fit(20.0, **use)
    assert silent.value.reason.text.startswith(told)


@given(st.floats(1.0, 300.0), st.sampled_from(["160m", "80m", "40m", "20m", "10m", "6m"]))
def test_a_wire_is_never_further_off_than_between_two_multiples(length_m: float, band: str) -> None:
    found = fit(length_m, band=band)
    assert found.due_m > 0
    assert length_m == pytest.approx(found.due_m * (1 + found.off))
    if length_m > found.half_m:
        assert abs(found.off) < 0.35


def polar(bearing: float, distance: float) -> dict[str, str]:
    return {"bearing": f"{bearing} deg", "distance": f"{distance} m"}


@pytest.mark.parametrize(
    ("start", "end", "length", "around"),
    [
        (polar(40, 1), polar(40, 21), 20.0, 0.1414),
        ({"distance": "0 m"}, polar(40, 9), 9.0, 0.1),
        (["3 m", "0 m"], ["0 m", "4 m"], 5.0, 0.1414),
        (polar(0, 10), polar(180, 10), 20.0, 0.15),
    ],
)
def test_the_span_of_a_part(start: Any, end: Any, length: float, around: float) -> None:
    found = span_of(start, end)
    assert found == pytest.approx((length, around), abs=0.02)


def test_without_a_bearing_there_is_no_span() -> None:
    with pytest.raises(CannotTell) as silent:
        span_of({"distance": "3 m"}, polar(40, 9))
    assert silent.value.reason.text == "the bearing of an end of the antenna is not stated"
    assert silent.value.reason.settle == "station.parts[].length"


@pytest.fixture
def made(tmp_path: Path) -> Made:
    """(parts, schedule, station) -> the World of the plan, and the antenna section of its report."""

    def of(parts: str, schedule: str, station: str = "") -> Any:
        plan = tmp_path / "trip.yaml"
        more = f"station: {{at: {{lat: 39.9, lon: -117.3, accuracy: 5 m}}, {station}parts: [{parts}]}}\n"
        plan.write_text(f"{HEAD}{more}schedule: {{{TIMES}{schedule}}}\n")
        used = Engine()
        trip = load(plan, used)
        found = report(judge(trip, used), used, briefing=True)
        assert used.failures() == []
        assert trip.world.crashes == []
        return trip.world, next((one["data"] for one in found["sections"] if one["name"] == "antenna"), None)

    return of


ENDS = "from: {bearing: 40 deg, distance: 1 m}, to: {bearing: 40 deg, distance: 21 m}"
WIRE = f"{{name: wire, role: antenna, {ENDS}, height: 6 m}}"
WHIP = "{name: whip, role: antenna, at: [0 m, 0 m], height: 10 m, length: 10 m}"


def test_the_worst_band_is_told(made: Made) -> None:
    slots = (
        ", slots: [{name: a, band: 40m, from: '10:00', to: '11:00'}, {name: b, band: 30m, from: '11:00', to: '12:00'}]"
    )
    world, data = made(WIRE, slots)
    record = world.value("part:wire", "part.length_off")
    assert record.value == pytest.approx(100 * (1 - 20 / ((142.6464 + 149.896229) / 10.15)))
    assert record.detail == {"band": "30m", "multiple": "a full wave", "due": "28.82", "change": "lengthen"}
    assert record.low < record.value < record.high
    assert [row["fit"] for row in data["antennas"][0]["rows"]] == ["a half wave", "a full wave, 31 % too short"]


def test_the_stated_length_goes_before_the_span(made: Made) -> None:
    world, data = made(WIRE.replace("height", "length: 20.4 m, height"), ", band: 40m")
    assert world.value("part:wire", "part.wire_length").value == 20.4
    assert data["antennas"][0]["length"] == "20.4 m ± 0.1 m (95 %)"
    assert data["antennas"][0]["rows"][0]["fit"] == "a half wave, 0.1 % too long"


def test_what_is_no_antenna_has_no_wire(made: Made) -> None:
    world, data = made("{name: table, role: operating position, at: [0 m, 0 m]}", ", band: 40m")
    assert world.value("part:table", "part.wire_length").reason.text == "table is no antenna but operating position"
    assert data is None


def test_without_a_band_there_is_no_section(made: Made) -> None:
    assert made(WIRE, "")[1] is None


def test_the_ground_is_told_beside_the_length(made: Made) -> None:
    _, data = made(WHIP, ", band: 40m", "ground: sea, ")
    assert data["antennas"][0]["ground"].startswith("Over sea, vertical waves, 7.1 MHz: +5.")
    assert made(WHIP, ", band: 40m")[1]["antennas"][0]["ground"] is None
