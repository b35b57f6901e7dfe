"""Drive, keying, filters and average power of an amplifier."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.plugins.radio import amplifier_facts as facts

FULL = {
    "drive": ["2 W", "6 W"], "most": "10 W", "gain": "13 dB", "output": "100 W", "average": "50 W",
    "change_over": "15 ms", "filters": ["20m", "40m"],
}  # fmt: skip
KEYED = [{"name": "key-in", "role": "keying", "direction": "sink"}]


@pytest.fixture
def station(make_amplified: Any) -> Any:
    """A radio with its keying lead to an amplifier of which all is stated."""
    bench = make_amplified(**FULL).way("radio.key-out", "linear", role="keying")
    bench.items["linear"]["data"]["ports"] = KEYED
    bench.items["radio"]["data"]["transmitter"] |= {"overshoot": "8 W", "keys_before": "20 ms"}
    return bench


def asked(bench: Any, declared: Any, *uses: dict[str, Any], of: str = "linear") -> Any:
    """What the fact's function gives."""
    given = {"kit_ways": bench.ways, "kit_things": bench.items, "radio_uses": list(uses) or [{}],
             "kit_undecided": [], "subject": bench.subject(of)}  # fmt: skip
    return declared.function(**{name: given[name] for name in declared.parameters})


def silence(bench: Any, declared: Any, *uses: dict[str, Any], of: str = "linear") -> tuple[str, str | None]:
    with pytest.raises(CannotTell) as found:
        asked(bench, declared, *uses, of=of)
    return found.value.reason.text, found.value.reason.settle


def test_which_items_are_amplifiers_in_use(station: Any) -> None:
    station.item("other", "amplifier").item("pencil", None).item("second", "amplifier", spare_of="linear")
    used = {key: asked(station, facts.amplifier_in_use, of=key) for key in station.items}
    assert used == {"radio": False, "coax": False, "wire": False, "linear": True, "other": False, "pencil": False,
                    "second": False}  # fmt: skip


def test_an_amplifier_in_a_station_that_is_not_joined(station: Any) -> None:
    station.ways.clear()
    assert silence(station, facts.amplifier_in_use) == (
        "no connection that is stated or can be inferred joins a radio to linear", "connections",
    )  # fmt: skip
    assert not asked(station, facts.amplifier_in_use, of="coax")


ALL = [declared for declared in facts.FACTS if declared.name != "amplifier.in_use"]


@pytest.mark.parametrize("declared", ALL, ids=lambda declared: declared.name)
def test_no_fact_of_an_amplifier_is_told_of_another_item(station: Any, declared: Any) -> None:
    assert silence(station, declared, {"band": "20m"}, of="wire") == ("wire is no amplifier", None)


def test_the_drive_is_the_greatest_planned_less_what_the_lead_loses(station: Any) -> None:
    station.item("patch", "lead").ways[0]["through"] = [{"item": "patch", "in": "a", "out": "b"}]
    uses = [{"power_w": 3.0}, {"power_w": 5.0}]
    drive, lost = asked(station, facts.amplifier_drive, *uses), 10**-0.01
    assert drive.value == pytest.approx(5 * lost)
    assert drive.detail == {"radio": "radio", "drive": "4.9 W", "least": "2 W", "greatest": "6 W", "at": ""}
    assert set(drive.parts) == {"output of radio", "usual loss of a lead"}
    assert asked(station, facts.amplifier_drive_share, *uses).value == pytest.approx(100 * 5 * lost / 6)
    assert asked(station, facts.amplifier_drive_above_least, *uses).value == pytest.approx(3 * lost - 2)


def test_a_drive_range_of_the_catalogue_is_unsure_and_one_s_own_is_not(station: Any) -> None:
    own = asked(station, facts.amplifier_drive_share, {"power_w": 3.0})
    assert set(own.parts) == {"output of radio"}
    station.items["linear"]["data"]["typical"] = ["amplifier"]
    assert "drive range of linear" in asked(station, facts.amplifier_drive_share, {"power_w": 3.0}).parts


def test_a_drive_range_that_is_not_stated_or_makes_no_sense(station: Any) -> None:
    told = station.items["linear"]["data"]["amplifier"]
    told["drive"] = ["0 W", "0 W"]
    assert silence(station, facts.amplifier_drive_share)[0] == "the greatest drive of linear is stated as 0 W"
    del told["drive"]
    assert asked(station, facts.amplifier_drive).value == 5
    for declared in (facts.amplifier_drive_share, facts.amplifier_drive_above_least):
        assert silence(station, declared) == (
            "the drive of linear is not stated (the least and the greatest at its input)",
            "amplifier.drive of linear in its kit file",
        )


def test_a_driver_amplifier_drives_at_its_own_output(station: Any) -> None:
    station.item("driver", "amplifier", amplifier={"gain": "3 dB", "output": "8 W"}).ways.clear()
    station.way("radio", "driver").way("driver.output", "linear").way("linear.output", "wire", "coax")
    assert asked(station, facts.amplifier_drive, {"power_w": 2.0}).value == pytest.approx(2 * 10**0.3)
    assert silence(station, facts.amplifier_overshoot_share)[0] == (
        "driver stands between radio and linear: its peak at keying is not known"
    )


def test_the_peak_at_keying_against_the_input_limit(station: Any) -> None:
    found = asked(station, facts.amplifier_overshoot_share)
    assert (found.value, found.parts) == (80, {"peak at keying of radio": pytest.approx(4)})
    assert found.detail == {"radio": "radio", "peak": "8 W", "most": "10 W"}


def test_the_input_port_s_peak_stands_for_a_limit_that_is_not_stated(station: Any) -> None:
    data = station.items["linear"]["data"]
    del data["amplifier"]["most"]
    assert silence(station, facts.amplifier_overshoot_share)[0] == "the input limit of linear is not stated"
    data["ports"] = [{"name": "input", "role": "RF", "direction": "sink", "watts_peak": "5 W"}]
    assert asked(station, facts.amplifier_overshoot_share).value == 160


def test_a_peak_that_is_not_stated_is_to_be_measured(station: Any) -> None:
    del station.items["radio"]["data"]["transmitter"]["overshoot"]
    assert silence(station, facts.amplifier_overshoot_share) == (
        "the peak at keying of radio is not stated (read it on a peak-reading meter or an oscilloscope into a dummy "
        "load, or ask its maker)",
        "transmitter.overshoot of radio in its kit file",
    )


def test_the_time_between_change_over_and_rf(station: Any) -> None:
    found = asked(station, facts.amplifier_keying_time_room)
    assert (found.value, found.detail["keyed"]) == (5, "by radio")
    assert found.parts == {"keying lead of radio": pytest.approx(1), "change-over time of linear": pytest.approx(-0.75)}


def test_an_amplifier_that_hears_for_itself_is_always_late(station: Any) -> None:
    station.items["linear"]["data"]["ports"] = []
    found = asked(station, facts.amplifier_keying_time_room)
    assert (found.value, found.detail) == (
        -15,
        {"keyed": "by the RF that it senses", "lead": "none", "change_over": "15 ms"},
    )
    assert asked(station, facts.amplifier_keyed).value


def test_an_amplifier_whose_keying_port_is_empty(station: Any) -> None:
    station.ways[-1]["fits"] = False
    keyed = asked(station, facts.amplifier_keyed)
    assert (keyed.value, keyed.detail) == (False, {"how": "nothing that fits is joined to the keying port of linear"})
    assert silence(station, facts.amplifier_keying_time_room) == (keyed.detail["how"], "connections")


@pytest.mark.parametrize(
    ("item", "group", "key", "text"),
    [
        ("linear", "amplifier", "change_over", "the change-over time of linear is not stated"),
        (
            "radio", "transmitter", "keys_before",
            "the keying lead of radio is not stated (how long its keying output closes before the RF comes; its manual "
            "or an oscilloscope tells)",
        ),
    ],
)  # fmt: skip
def test_times_that_are_not_stated(station: Any, item: str, group: str, key: str, text: str) -> None:
    del station.items[item]["data"][group][key]
    found, settle = silence(station, facts.amplifier_keying_time_room)
    assert (found, settle) == (text, f"{group}.{key} of {item} in its kit file")


def test_filters_against_the_planned_bands(station: Any) -> None:
    assert asked(station, facts.amplifier_filters_cover, {"band": "20m"}, {"frequency_mhz": 7.1}).value
    found = asked(station, facts.amplifier_filters_cover, {"band": "15m"}, {"band": "20m"})
    assert (found.value, found.detail) == (False, {"lacks": "15m", "filters": "20m, 40m", "planned": "15m, 20m"})
    assert silence(station, facts.amplifier_filters_cover) == ("no band and no frequency is planned", "schedule.band")
    del station.items["linear"]["data"]["amplifier"]["filters"]
    assert silence(station, facts.amplifier_filters_cover, {"band": "20m"})[0] == (
        "the list of bands with a filter of linear is not stated"
    )


def use(mode: str | None, share: float | None, power_w: float = 5.0) -> dict[str, Any]:
    return {"mode": mode, "transmit_share": share, "power_w": power_w}


@pytest.mark.parametrize(
    ("mode", "duty"), [("CW", 0.4), ("FM", 1.0), ("rtty", 1.0), ("data", 1.0), ("SSB", 0.35), ("USB", 0.35)]
)
def test_the_average_by_mode(station: Any, mode: str, duty: float) -> None:
    found = asked(station, facts.amplifier_average_share, use(mode, 0.5))
    assert found.value == pytest.approx(100 * duty * 0.5 * 5 * 10**1.3 / 50)


def test_how_unsure_the_average_of_speech_is(station: Any) -> None:
    found = asked(station, facts.amplifier_average_share, use("SSB", 0.5))
    assert found.parts["duty factor of SSB"] == pytest.approx(found.value * 15 / 35)
    assert found.parts["share of transmitting"] == pytest.approx(found.value / 10)
    assert found.notes[0] == "SSB is taken from 20 % without speech processing to 50 % with heavy processing."


def test_the_greatest_average_of_the_plan_counts(station: Any) -> None:
    found = asked(station, facts.amplifier_average_share, use("CW", 0.3), use("FM", 0.2), use("SSB", 0.4))
    assert found.detail == {"average": "20 W", "rating": "50 W", "mode": "FM", "share": "20%"}


@pytest.mark.parametrize(
    ("planned", "text", "settle"),
    [
        (use(None, 0.5), "no mode is planned", "schedule.mode"),
        (use("CW", None), "the share of time on transmit is not planned", "schedule.transmit_share"),
    ],
)
def test_what_the_average_needs_of_the_plan(station: Any, planned: dict[str, Any], text: str, settle: str) -> None:
    assert silence(station, facts.amplifier_average_share, planned) == (text, settle)


def test_a_rating_that_is_not_stated(station: Any) -> None:
    data = station.items["linear"]["data"]
    del data["amplifier"]["average"]
    assert silence(station, facts.amplifier_average_share, use("CW", 0.5))[0] == (
        "the average rating of linear is not stated (the average output at which it cuts out)"
    )
    data["ports"] = [{"name": "output", "role": "RF", "direction": "source", "watts_average": "25 W"}]
    assert asked(station, facts.amplifier_average_share, use("FM", 0.5)).value == pytest.approx(100 * 5 * 10**1.3 / 50)
