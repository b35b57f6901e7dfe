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
from afield.plugins.radio.wire_section import wire_text
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


@pytest.mark.parametrize(
    ("band", "half_m"),
    # 142.6464 over 1.83, 3.65, 5.359, 7.1 and 51 MHz: the middles of what all regions share.
    [("160m", 77.949), ("80m", 39.081), ("60m", 26.618), ("40m", 20.091), ("6m", 2.797)],
)
def test_the_middle_of_a_band_is_that_of_what_all_regions_share(band: str, half_m: float) -> None:
    assert fit(20.0, band=band).half_m == pytest.approx(half_m, abs=5e-4)


@pytest.mark.parametrize(
    ("length_m", "band", "off", "change_m", "right_mhz"),
    [
        # 142.6464 / 3.8 = 37.539 m is the shortest; 39.081 m the middle; 142.6464 / 36 = 3.9624 MHz.
        (36.0, "80m", 36 / 37.5385 - 1, 3.081, 3.9624),
        (19.55, "40m", 19.55 / 19.8120 - 1, 0.541, 7.2965),
        (27.14, "60m", 27.14 / 26.6554 - 1, -0.522, 5.2560),
        # Outside any region's band: 142.6464 / 34 = 4.195 MHz.
        (34.0, "80m", 34 / 37.5385 - 1, 5.081, None),
        (39.0, "80m", 0.0, 0.0, None),
    ],
)
def test_a_wire_for_the_rest_of_a_band_is_told(
    length_m: float, band: str, off: float, change_m: float, right_mhz: float | None
) -> None:
    found = fit(length_m, band=band)
    assert found.off == pytest.approx(off, abs=1e-5)
    assert found.change_m == pytest.approx(change_m, abs=1e-3)
    assert found.right_mhz == (None if right_mhz is None else pytest.approx(right_mhz, abs=1e-4))


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
    wave_m = 299.792458 / found.middle_mhz
    assert found.change_m == 0 or length_m + found.change_m == pytest.approx(found.quarters * wave_m / 4, rel=0.05)
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

    def of(parts: str, schedule: str, station: str = "", more: str = "") -> Any:
        plan = tmp_path / "trip.yaml"
        more += f"station: {{at: {{lat: 39.9, lon: -117.3, accuracy: 5 m}}, {station}parts: [{parts}]}}\n"
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
    # A full wave for 10.125 MHz is (142.6464 + 149.896) / 10.125 = 28.89 m.
    assert [row["fit"] for row in data["antennas"][0]["rows"]] == [
        "a half wave", "a full wave, 31 % too short: add 8.89 m (29.2 ft) for 10.125 MHz",
    ]  # fmt: skip
    assert [row["remark"] for row in data["antennas"][0]["rows"]] == [None, None]


def test_the_stated_length_goes_before_the_span(made: Made) -> None:
    world, data = made(WIRE.replace("height", "length: 20.4 m, height"), ", band: 40m")
    assert world.value("part:wire", "part.wire_length").value == 20.4
    assert data["antennas"][0]["length"] == "20.4 m ± 0.1 m (95 %)"
    # 142.6464 / 7.0 = 20.378 m is the longest that fits, 142.6464 / 7.1 = 20.091 m the middle.
    assert data["antennas"][0]["rows"][0]["fit"] == (
        "a half wave, 0.1 % too long: take off 0.31 m (1.0 ft) for 7.1 MHz"
    )


def test_what_is_no_antenna_has_no_wire(made: Made) -> None:
    world, data = made("{name: table, role: operating position, at: [0 m, 0 m]}", ", band: 40m")
    assert world.value("part:table", "part.wire_length").reason.text == "table is no antenna but operating position"
    assert data is None


def test_without_a_band_there_is_no_section(made: Made) -> None:
    assert made(WIRE, "")[1] is None


def test_the_rest_of_the_band_is_told_with_what_to_state(made: Made) -> None:
    wire = "{name: wire, role: antenna, at: [0 m, 0 m], height: 6 m, length: 36 m}"
    _, data = made(wire, ", band: 80m")
    (row,) = data["antennas"][0]["rows"]
    assert row["fit"] == "a half wave, 4 % too short: add 3.08 m (10.1 ft) for 3.65 MHz"
    assert row["remark"] == (
        "By its length it is right for 3.962 MHz, which lies outside the part of the band that all ITU regions share, "
        "3.5 to 3.8 MHz: where you may use it, state the frequency under schedule.frequency."
    )
    assert wire_text(data).splitlines()[:2] == [
        "wire, 36.0 m ± 0.1 m (95 %)",
        "  80m: half wave 39.08 m (128.2 ft), quarter wave 19.54 m (64.1 ft); it is nearest to a half wave, 4 % too "
        f"short: add 3.08 m (10.1 ft) for 3.65 MHz. {row['remark']}",
    ]
    (stated,) = made(wire, ", frequency: 3.96 MHz")[1]["antennas"][0]["rows"]
    assert (stated["fit"], stated["remark"]) == (
        "a half wave, 0.1 % too short: add 0.02 m (0.1 ft) for 3.96 MHz", None,
    )  # fmt: skip


def test_a_band_for_which_there_is_no_rule_says_so(made: Made) -> None:
    slots = (
        ", slots: [{name: a, band: 40m, from: '10:00', to: '11:00'}, {name: b, band: 2m, from: '11:00', to: '12:00'}]"
    )
    world, data = made(WIRE, slots)
    first, second = data["antennas"][0]["rows"]
    assert (first["fit"], first["remark"]) == ("a half wave", None)
    assert (second["half"], second["fit"]) == (None, None)
    untold = "Cannot tell: frequency 146 MHz is outside 1.8 to 54, where the rules of thumb for wires hold."
    assert second["remark"] == untold
    assert f"  2m: {untold}" in wire_text(data).splitlines()
    assert world.value("part:wire", "part.length_off").reason.text == untold[13:-1]
    (alone,) = made(WIRE, ", band: 2m")[1]["antennas"][0]["rows"]
    assert alone["remark"] == untold


def test_a_vertical_without_a_length_says_what_to_state(made: Made) -> None:
    whip = WHIP.replace(", length: 10 m", "")
    (antenna,) = made(whip, ", band: 20m", "ground: sea, ")[1]["antennas"]
    assert antenna["trouble"] == "Cannot tell: the length of whip is not stated. State `station.parts[].length`."
    assert (antenna["length"], antenna["rows"]) == (None, [])
    assert antenna["ground"].startswith("Over sea, vertical waves, 14.175 MHz: ")
    assert made(whip, "")[1] is None


def test_why_the_ground_cannot_be_told(made: Made) -> None:
    (antenna,) = made(WIRE, ", band: 2m", "ground: sea, ")[1]["antennas"]
    assert antenna["ground"].startswith("What the ground does at low angles cannot be told: the band 2m is not one of ")


@pytest.mark.parametrize(
    ("items", "band", "words"),
    [
        ("{name: box, class: tuner}", "30m", "Tuner of the kit: box. Within its range it matches a wire that is "
         "off, with more loss the farther it is off."),
        ("{name: box, class: tuner}, {name: radio, class: radio, features: [tunes]}", "30m", "Tuner of the kit: box "
         "and radio. Within its range it matches a wire that is off, with more loss the farther it is off."),
        ("pencil", "30m", "The kit has no tuner, which would match a wire that is off."),
        ("{name: box, class: tuner}", "40m", None),
        (None, "30m", None),
    ],
)  # fmt: skip
def test_the_tuner_of_the_kit_is_told_where_the_wire_is_off(
    made: Made, tmp_path: Path, items: str | None, band: str, words: str | None
) -> None:
    (tmp_path / "kit.yaml").write_text(f"items: [{items or 'pencil'}]\n")
    parts, kit = (WIRE, "") if items is None else (WIRE, "kit: [kit.yaml]\n")
    (antenna,) = made(parts, f", band: {band}", more=kit)[1]["antennas"]
    assert antenna["tuner"] == words


def test_the_ground_is_told_beside_the_length(made: Made) -> None:
    _, data = made(WHIP, ", band: 40m", "ground: sea, ")
    assert data["antennas"][0]["ground"].startswith("Over sea, vertical waves, 7.1 MHz: +5.")
    assert made(WHIP, ", band: 40m")[1]["antennas"][0]["ground"] is None
