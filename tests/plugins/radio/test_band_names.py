"""A frequency's band, and the lists of bands that plans, kits and this plugin each hold."""

from __future__ import annotations

import json
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.ionosphere.computations.bands import BANDS as SHORT_WAVE
from afield.plugins.outing.bands import BANDS as PLANNED
from afield.plugins.radio.bands import BANDS, SHARED, shared_part
from afield.plugins.radio.computations.band_names import band_of_frequency


def test_plans_kits_and_the_table_know_the_same_bands() -> None:
    kit = json.loads(files("afield.schemas").joinpath("kit.json").read_text(encoding="utf-8"))
    assert list(PLANNED) == list(BANDS) == kit["$defs"]["band"]["enum"]


def test_the_part_that_all_regions_share_lies_in_the_band_and_is_that_of_the_outlook() -> None:
    for band, (low, high) in SHARED.items():
        assert BANDS[band][0] <= low < high <= BANDS[band][1]
    told = {band.name.replace(" ", ""): (band.low_mhz, band.high_mhz) for band in SHORT_WAVE}
    assert {band: part for band, part in SHARED.items() if band != "6m"} == told
    assert shared_part("2m") == BANDS["2m"]


@given(st.sampled_from(sorted(BANDS)), st.sampled_from([0, 1]))
def test_both_edges_belong_to_a_band(band: str, edge: int) -> None:
    assert band_of_frequency(BANDS[band][edge]) == band


@pytest.mark.parametrize(
    ("mhz", "message"),
    [
        (27.2, "27.2 MHz lies in no amateur band of the table"),
        (14.350001, "14.350001 MHz lies in no amateur band of the table"),
        (-1.0, "frequency -1 MHz is outside 0 to 1e+07"),
        (float("nan"), "frequency nan MHz is not a finite number"),
    ],
)
def test_what_lies_in_no_band_is_refused(mhz: float, message: str) -> None:
    with pytest.raises(ValueError, match="MHz") as refused:
        band_of_frequency(mhz)
    assert str(refused.value) == message
