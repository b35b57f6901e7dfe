"""Watts from the radio to the antenna."""

from __future__ import annotations

from math import log10
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.lines import coax_matched_loss, line_total_loss
from afield.plugins.radio.computations.mismatch import swr_quantities
from afield.plugins.radio.computations.paths import feed_path_loss

from .conftest import Bench, amplified, low_power

LINE_DB = coax_matched_loss("RG-58", 14.2, 10).loss_db


def test_five_watts_through_a_line_to_a_mismatch(low: Any) -> None:
    row = low.row(frequency_mhz=14.2)
    path = feed_path_loss(LINE_DB, 1.6)
    assert row["watts"] == pytest.approx(5 * 10 ** (-path.total_db / 10))
    assert row["loss_db"] == pytest.approx(path.total_db)
    assert (row["line_db"], row["fittings_db"], row["tuner_db"]) == (pytest.approx(LINE_DB), 0, 0)
    assert row["mismatch_db"] == pytest.approx(swr_quantities(row["swr_at_transmitter"]).mismatch_loss_db)
    assert set(row["level_parts_db"]) == {
        "output of radio", "line loss of RG-58", "swr of wire on 20m", "forward power of radio under mismatch",
    }  # fmt: skip


def test_with_a_tuner_only_the_line_under_its_standing_wave_counts(low: Any) -> None:
    low.item("tuner", "tuner", insertion_loss="0.4 dB").ways.clear()
    low.items["wire"]["data"]["antenna"]["swr"] = [{"band": "20m", "ratio": 5}]
    row = low.way("radio", "wire", "tuner", "coax").row(frequency_mhz=14.2)
    assert row["loss_db"] == pytest.approx(0.4 + line_total_loss(LINE_DB, 5).total_db)
    assert (row["mismatch_db"], row["tuner_db"], row["swr_at_transmitter"], row["tuner"]) == (0, 0.4, 1, "tuner")


def test_a_tuner_at_the_antenna_takes_the_standing_wave_off_the_line(low: Any) -> None:
    low.item("tuner", "tuner", insertion_loss="0.4 dB").ways.clear()
    low.items["wire"]["data"] = {}
    row = low.way("radio", "wire", "coax", "tuner").row(frequency_mhz=14.2)
    assert row["loss_db"] == pytest.approx(0.4 + LINE_DB)
    assert row["standing_wave_db"] == 0


def test_a_radio_that_tunes_by_itself_loses_the_usual_of_a_tuner(low: Any) -> None:
    low.items["radio"]["data"]["features"] = ["tunes"]
    row = low.row(frequency_mhz=14.2)
    assert (row["tuner"], row["tuner_db"], row["mismatch_db"]) == ("radio", 0.5, 0)
    assert "A built-in tuner is taken to lose 0.5 dB ± 0.5 dB (95 %; common practice, no source)." in row["notes"]


def test_a_high_ratio_without_a_tuner_cannot_be_told(low: Any) -> None:
    low.items["wire"]["data"]["antenna"]["swr"] = [{"band": "20m", "ratio": 4}]
    assert low.row(frequency_mhz=14.2)["unknown"] == {
        "text": "radio works into an SWR of 3.2 : 1 without a tuner; how far it reduces its power above 2 : 1 is not "
        "known",
        "settle": "a tuner between radio and wire",
        "code": "cannot be computed",
        "subject": "trip",
    }


def test_a_ratio_that_is_not_known_cannot_be_told(low: Any) -> None:
    assert low.row(band="15m")["unknown"] == {
        "text": "the SWR of wire on 15m is not stated",
        "settle": "antenna.swr of wire in its kit file",
        "code": "not stated",
        "subject": "item:wire",
    }


def test_no_band_cannot_be_told(low: Any) -> None:
    row = low.row(power_w=5.0)
    assert (row["frequency"], row["unknown"]["settle"]) == ("no frequency planned", "schedule.band")


@pytest.mark.parametrize(
    ("planned", "watts", "note"),
    [
        (2.0, 2.0, None),
        (None, 5.0, "No power is planned: radio is taken at its greatest output."),
        (20.0, 5.0, "20 W is planned, more than radio gives: taken at its greatest output."),
        (0.1, 0.5, "0.1 W is planned; radio is taken at its least output."),
    ],
)
def test_the_radio_s_output(low: Any, planned: float | None, watts: float, note: str | None) -> None:
    row = low.row(band="20m", power_w=planned)
    assert row["radio_w"] == row["output_w"] == watts
    said = [told for told in row["notes"] if "planned;" in told or "planned," in told or "No power" in told]
    assert said == ([note] if note else [])


def test_a_radio_of_unknown_output(low: Any) -> None:
    low.items["radio"]["data"] = {"ports": [{"name": "antenna", "role": "RF", "direction": "source"}]}
    assert low.row(band="20m")["unknown"]["text"] == "the output of radio is not stated"
    assert low.row(band="20m", power_w=3.0)["output_w"] == 3
    low.items["radio"]["data"]["ports"][0]["watts_peak"] = "10 W"
    assert low.row(band="20m")["output_w"] == 10


def test_nothing_goes_out_at_no_power(low: Any) -> None:
    low.items["radio"]["data"]["transmitter"]["power"] = ["0 W", "5 W"]
    assert low.row(band="20m", power_w=0.0)["unknown"]["text"] == "no power is planned to go out: 0 W"


@pytest.mark.parametrize(
    ("figures", "drive", "watts", "because"),
    [
        ({"gain": "13 dB", "output": "100 W"}, 2.0, 2 * 10**1.3, "drive and gain of linear"),
        ({"gain": "13 dB", "output": "50 W"}, 5.0, 50, "rated output of linear"),
        ({"drive": ["2 W", "5 W"], "output": "50 W"}, 5.0, 50, "rated output of linear"),
        ({"drive": ["2 W", "5 W"], "output": "50 W"}, 3.0, (50 + 30) / 2, "drive and gain of linear"),
        ({"drive": ["2 W", "5 W"], "output": "50 W"}, 1.0, (25 + 10) / 2, "drive and gain of linear"),
    ],
)
def test_what_sets_the_amplifier_s_output(
    make_amplified: Any, figures: dict[str, Any], drive: float, watts: float, because: str
) -> None:
    row = make_amplified(**figures).row(band="20m", power_w=drive)
    assert (row["output_w"], row["set_by"]) == (pytest.approx(watts), because)


def test_an_unknown_gain_spreads_the_output_over_what_is_possible(make_amplified: Any) -> None:
    row = make_amplified(drive=["2 W", "5 W"], output="50 W").row(band="20m", power_w=3.0)
    assert row["grounds"]["gain of linear"] == [0, 1]
    assert row["level_parts_db"]["gain of linear"] == pytest.approx(10 * log10(40 / 30))


def test_what_is_taken_for_granted_of_the_gain_is_said(make_amplified: Any) -> None:
    assert (
        "The gain of linear is not stated: full output from its least drive on, or only at its greatest."
        in make_amplified(drive=["2 W", "5 W"], output="50 W").row(band="20m")["notes"]
    )
    notes = make_amplified().row(band="20m")["notes"]
    assert any(note.startswith("A stated gain is taken as good to ± 0.5 dB") for note in notes)
    assert "Of 20m no frequency is planned: its centre is taken, 14.175 MHz (ADIF 3.1.6, Band)." in notes


def test_more_than_the_radio_gives_is_meant_of_the_amplifier(make_amplified: Any) -> None:
    row = make_amplified().row(band="20m", power_w=60.0)
    assert (row["radio_w"], row["output_w"], row["set_by"]) == (5, 60, "planned power")
    assert row["notes"][0] == "60 W is planned, more than radio gives: taken as the output of the amplifier."


@pytest.mark.parametrize(
    ("figures", "text"),
    [
        ({"average": "50 W"}, "the rated output of linear is not stated"),
        ({"output": "100 W"}, "the gain of linear is not stated (nor its drive)"),
    ],
)
def test_an_amplifier_that_is_not_described(make_amplified: Any, figures: dict[str, Any], text: str) -> None:
    assert make_amplified(**figures).row(band="20m")["unknown"]["text"] == text


def test_the_lesser_of_two_antennas_for_a_band_counts_and_one_for_another_does_not(low: Any) -> None:
    low.item("dipole", "antenna", antenna={"bands": ["20m"], "swr": [{"band": "20m", "ratio": 1}]})
    low.item("whip", "antenna", antenna={"bands": ["2m"]})
    low.way("radio.two", "dipole", "coax").way("radio.three", "whip", "coax")
    rows = low.table({"band": "20m"}, {"band": "2m"})
    assert [row["antenna"] for row in rows] == ["wire", "whip"]


WATTS = st.floats(0.5, 5)


@given(WATTS, st.floats(0, 20), st.floats(1, 200), st.floats(0.1, 30), st.floats(1, 2))
def test_the_antenna_never_gets_more_than_the_last_amplifier_gives(
    drive: float, gain: float, rated: float, length: float, swr: float
) -> None:
    bench = amplified(Bench(), gain=f"{gain:.6f} dB", output=f"{rated:.6f} W")
    bench.items["coax"]["data"]["line"]["length"] = f"{length} m"
    bench.items["wire"]["data"]["antenna"]["swr"][0]["ratio"] = swr
    row = bench.row(band="20m", power_w=drive)
    assert row["watts"] <= row["output_w"] <= rated * (1 + 1e-6)
    assert row["output_w"] <= drive * 10 ** (gain / 10) * (1 + 1e-6)


@given(st.floats(0.1, 30), st.floats(0.1, 30), st.floats(1, 2), st.booleans())
def test_more_loss_never_gives_more_power(length: float, more: float, swr: float, tuned: bool) -> None:
    watts = []
    for metres in (length, length + more):
        bench = low_power(Bench())
        bench.items["coax"]["data"]["line"]["length"] = f"{metres} m"
        bench.items["wire"]["data"]["antenna"]["swr"][0]["ratio"] = swr
        if tuned:
            bench.items["radio"]["data"]["features"] = ["tunes"]
        watts.append(bench.row(band="20m")["watts"])
    assert watts[1] <= watts[0] * (1 + 1e-9)
