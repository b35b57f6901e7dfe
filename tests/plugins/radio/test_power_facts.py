"""The facts of the trip, as rules meet them."""

from __future__ import annotations

from math import log10
from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.plugins.radio.figures import combined
from afield.plugins.radio.ground_facts import FACTS, GROUPS, group_of, radio_weakest
from afield.plugins.radio.power_facts import (
    radio_loss_to_antenna,
    radio_transmitter_output,
    radio_uses,
)

from .conftest import power_of


def asked(declared: Any, *arguments: Any) -> Any:
    return declared.function(*arguments)


def test_the_power_is_the_least_over_the_planned_frequencies(low: Any) -> None:
    rows = low.table({"band": "40m"}, {"frequency_mhz": 14.2})
    found = power_of(rows)
    assert found.value == pytest.approx(min(row["watts"] for row in rows)) == rows[1]["watts"]
    assert found.detail["at"] == "14.2 MHz"
    assert [row["at"] for row in found.detail["rows"]] == ["40m", "14.2 MHz"]
    assert found.method == (
        "14.2 MHz: radio: 5 W less 0.55 dB in lines, 0.05 dB by the standing wave, 0.18 dB by mismatch to wire"
    )


def test_its_interval_is_even_in_decibels_and_its_parts_fill_the_wider_side(low: Any) -> None:
    (row,) = low.table({"frequency_mhz": 14.2})
    found = power_of([row])
    around = combined(row["level_parts_db"])
    assert 10 * log10(found.high / found.value) == pytest.approx(around)
    assert 10 * log10(found.value / found.low) == pytest.approx(around)
    assert combined(found.parts) == pytest.approx(found.high - found.value)
    assert set(found.parts) == set(row["level_parts_db"])


def test_the_loss_is_the_greatest_and_knows_nothing_of_the_output(low: Any) -> None:
    found = asked(radio_loss_to_antenna, low.table({"band": "40m"}, {"frequency_mhz": 14.2}))
    assert (found.detail["at"], found.detail["loss"]) == ("14.2 MHz", 0.79)
    assert "output of radio" not in found.parts
    assert {name: found.detail[name] for name in ("line", "standing_wave", "fittings", "tuner", "mismatch")} == {
        "line": 0.55, "standing_wave": 0.05, "fittings": 0.0, "tuner": 0.0, "mismatch": 0.18,
    }  # fmt: skip


def test_one_frequency_that_cannot_be_told_keeps_all_from_being_told(low: Any) -> None:
    rows = low.table({"band": "20m"}, {"band": "15m"})
    for declared in (radio_weakest, radio_loss_to_antenna):
        with pytest.raises(CannotTell) as silence:
            asked(declared, rows)
        reason = silence.value.reason
        assert (reason.text, reason.settle, reason.subject) == (
            "the SWR of wire on 15m is not stated", "antenna.swr of wire in its kit file", "item:wire",
        )  # fmt: skip


def test_the_method_says_what_sets_an_amplifier_s_output(make_amplified: Any) -> None:
    found = power_of(make_amplified().table({"frequency_mhz": 14.2, "power_w": 3.0}))
    assert found.method.startswith("14.2 MHz: radio, linear: 59.9 W (set by the drive and gain of linear) less 0.55 dB")


def test_the_radio_s_own_output_needs_no_band(make_amplified: Any) -> None:
    bench = make_amplified()
    found = asked(radio_transmitter_output, bench.ways, bench.items, [{}])
    assert (found.value, found.parts, found.detail) == (5, {"output of radio": 0.25}, {"radio": "radio"})
    assert found.notes == ("No power is planned: radio is taken at its greatest output.",)
    least = asked(radio_transmitter_output, bench.ways, bench.items, [{"power_w": 5.0}, {"power_w": 2.0}])
    assert (least.value, least.method, least.notes) == (2, "planned output of radio", ())


def test_no_radio_no_output(low: Any) -> None:
    with pytest.raises(CannotTell, match=r"^no connection that is stated or can be inferred joins a radio"):
        asked(radio_transmitter_output, [], low.items, [{}])


def test_uses_are_the_slots_over_the_schedule() -> None:
    slots = [("slot", {"band": "40m", "power_w": None, "transmit_share": None})]
    assert asked(radio_uses, "CW", None, 14.05, 5.0, 30.0, slots) == [
        {"mode": "CW", "band": "40m", "frequency_mhz": None, "power_w": 5.0, "transmit_share": 0.3}
    ]
    assert asked(radio_uses, None, "20m", None, None, None, []) == [
        {"mode": None, "band": "20m", "frequency_mhz": None, "power_w": None, "transmit_share": None}
    ]


def test_every_origin_enters_by_one_group(make_amplified: Any) -> None:
    bench = make_amplified(gain="13 dB", output="100 W")
    bench.item("tuner", "tuner", insertion_loss="0.4 dB").item("adapter", "adapter").ways.clear()
    bench.way("radio", "linear", "adapter").way("linear.output", "wire", "tuner", "coax")
    rows = [*bench.table({"band": "20m"}), *make_amplified(gain="20 dB", output="9 W").table({"band": "20m"})]
    entered = {group_of(origin) for row in rows for origin in row["grounds"]}
    assert entered == set(GROUPS)
    groups = {declared.name: asked(declared, rows[1]) for declared in FACTS if declared.name in GROUPS}
    told = {origin: one for found in groups.values() for origin, one in found.value.items()}
    assert told == rows[1]["grounds"]
    assert all(found.parts == {name: one[1] for name, one in found.value.items()} for found in groups.values())
