"""The power at the antenna side by side."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.comparing import difference_words, value_words

from .conftest import power_of


def record(watts: float, parts: dict[str, float], grounds: dict[str, list[float]], at: str = "20m") -> dict[str, Any]:
    detail = {"at": at, "parts_db": parts, "grounds": grounds, "rows": [{"at": at, "watts": watts, "loss_db": 1.0}]}
    return {"value": watts, "uncertainty": 0.2 * watts, "detail": detail, "rank": "computed"}


def of(bench: Any, **use: Any) -> dict[str, Any]:
    found = power_of(bench.table(use))
    around = found.high - found.value
    return {"value": found.value, "uncertainty": around, "detail": found.detail, "rank": "computed"}


def test_five_watts_to_a_hundred_are_13_db_about_two_s_units() -> None:
    base = record(5, {"output of radio": 0.4}, {"output of radio": [5, 0.25]})
    variant = record(100, {"rated output of linear": 0.4}, {"rated output of linear": [100, 5]})
    assert difference_words(base, variant) == (
        "13.0 dB ± 0.6 dB (95 %) more at the antenna, about 2 S-units (6 dB each, IARU Region 1 R.1)"
    )
    assert difference_words(variant, base) == (
        "13.0 dB ± 0.6 dB (95 %) less at the antenna, about 2 S-units (6 dB each, IARU Region 1 R.1)"
    )


def test_an_amplifier_of_100_w_behind_5_w_in_whole_stations(low: Any, make_amplified: Any) -> None:
    words = difference_words(of(low, band="20m"), of(make_amplified(gain="20 dB", output="100 W"), band="20m"))
    assert words is not None
    assert words.startswith("13.0 dB ± 0.4 dB (95 %) more at the antenna, about 2 S-units")


def test_errors_of_one_origin_and_figure_cancel() -> None:
    line = {"line loss of RG-58": [1.0, 0.25]}
    base = record(4, {"line loss of RG-58": -0.5}, line)
    assert difference_words(base, record(8, {"line loss of RG-58": -0.5}, line)) == (
        "3.0 dB more at the antenna, about half an S-unit (6 dB each, IARU Region 1 R.1)"
    )
    assert difference_words(base, record(8, {"line loss of RG-58": -0.7}, line)) == (
        "3.0 dB ± 0.2 dB (95 %) more at the antenna, about half an S-unit (6 dB each, IARU Region 1 R.1)"
    )


def test_errors_of_another_figure_of_that_name_do_not() -> None:
    base = record(4, {"swr of wire": -0.3}, {"swr of wire": [1.5, 0.5]})
    variant = record(8, {"swr of wire": -0.4}, {"swr of wire": [1.2, 0.12]})
    words = difference_words(base, variant)
    assert words is not None
    assert words.startswith("3.0 dB ± 0.5 dB (95 %) more")


def test_a_difference_within_its_uncertainty_is_none_that_can_be_told() -> None:
    base, variant = record(4, {"a": 0.3}, {}), record(4.1, {"b": 0.4}, {}, at="40m")
    assert difference_words(base, variant) == ("no difference that can be told: 0.1 dB ± 0.5 dB (95 %); 20m beside 40m")


def test_the_same_station_differs_by_nothing(low: Any) -> None:
    assert difference_words(of(low, band="20m"), of(low, band="20m")) is None


@pytest.mark.parametrize(
    ("times", "words"),
    [
        (1.3, "less than half an S-unit"), (2, "about half an S-unit"), (4, "about 1 S-unit "),
        (8, "about 1.5 S-units"), (16, "about 2 S-units"),
    ],
)  # fmt: skip
def test_s_units(times: float, words: str) -> None:
    assert words in str(difference_words(record(5, {}, {}), record(5 * times, {}, {})))


@given(st.floats(0.1, 1000), st.floats(0.1, 1000))
def test_there_and_back_are_the_same_words(one: float, other: float) -> None:
    there = difference_words(record(one, {"a": 0.1}, {}), record(other, {"b": 0.1}, {}))
    back = difference_words(record(other, {"b": 0.1}, {}), record(one, {"a": 0.1}, {}))
    swapped = str(back).replace(" more ", " MORE ").replace(" less at", " more at").replace(" MORE ", " less ")
    assert str(there) == swapped


def test_a_line_for_each_frequency(low: Any) -> None:
    found = power_of(low.table({"band": "40m"}, {"frequency_mhz": 14.2}))
    around = found.high - found.value
    shown = {"value": found.value, "uncertainty": around, "detail": found.detail, "rank": "computed"}
    assert value_words(shown).split("\n") == [
        "4.2 W ± 0.3 W (95 %)",
        "40m: 4.39 W, 0.6 dB lost on the way",
        "14.2 MHz: 4.17 W, 0.8 dB lost on the way",
    ]


def test_a_power_that_was_read_has_the_reading_s_own_error() -> None:
    base = record(4, {"line loss of RG-58": -0.5}, {"line loss of RG-58": [1.0, 0.25]})
    read = {**record(8, {"line loss of RG-58": -0.5}, {"line loss of RG-58": [1.0, 0.25]}), "rank": "measured"}
    words = difference_words(base, read)
    assert words is not None
    assert words.startswith("3.0 dB ± 0.9 dB (95 %) more at the antenna")
    assert value_words(read) == "8.0 W ± 1.6 W (95 %)"


def test_no_power_is_no_number_of_decibels() -> None:
    assert difference_words(record(4, {}, {}), record(0, {}, {})) is None
