from __future__ import annotations

from collections.abc import Callable
from math import inf, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.lines import coax_matched_loss, input_swr_of_lossy_line, line_total_loss
from afield.plugins.radio.computations.mismatch import swr_quantities

LOSSES = st.floats(min_value=0, max_value=30)
RATIOS = st.floats(min_value=1, max_value=1000)


@given(st.floats(min_value=0, max_value=1e4), st.floats(min_value=1, max_value=1e300))
def test_a_standing_wave_never_lessens_the_loss(matched: float, swr: float) -> None:
    found = line_total_loss(matched, swr)
    assert found.total_db >= matched
    assert found.extra_db >= 0
    assert 0 <= found.power_to_load_w <= 1


@given(LOSSES, RATIOS)
def test_the_form_evaluated_is_the_published_one(matched: float, swr: float) -> None:
    a, gamma_squared = 10 ** (matched / 10), ((swr - 1) / (swr + 1)) ** 2
    published = 10 * log10((a**2 - gamma_squared) / (a * (1 - gamma_squared)))
    assert line_total_loss(matched, swr).total_db == pytest.approx(published, abs=1e-8)


@given(LOSSES, LOSSES, RATIOS)
def test_two_pieces_lose_what_one_line_does(first: float, second: float, swr: float) -> None:
    between = input_swr_of_lossy_line(second, swr)
    pieces = line_total_loss(second, swr).total_db + line_total_loss(first, between).total_db
    assert pieces == pytest.approx(line_total_loss(first + second, swr).total_db, abs=1e-6)


@given(LOSSES)
def test_a_match_loses_the_matched_loss(matched: float) -> None:
    assert line_total_loss(matched, 1).total_db == matched
    assert line_total_loss(matched, 1).extra_db == 0


@given(st.floats(min_value=0, max_value=1e4), st.one_of(RATIOS, st.just(inf)))
def test_the_radio_never_reads_more_than_the_load_has(matched: float, swr: float) -> None:
    assert 1 <= input_swr_of_lossy_line(matched, swr) <= swr


@given(LOSSES, RATIOS)
def test_a_line_adds_twice_its_loss_to_the_return_loss(matched: float, swr: float) -> None:
    at_load, at_radio = swr_quantities(swr).gamma, swr_quantities(input_swr_of_lossy_line(matched, swr)).gamma
    assert at_radio == pytest.approx(at_load * 10 ** (-matched / 10), abs=1e-12)


def test_3_db_of_cable_without_an_antenna_reads_3() -> None:
    assert input_swr_of_lossy_line(3) == pytest.approx(3.0, abs=0.02)
    assert input_swr_of_lossy_line(0) == inf


def test_the_ratio_read_at_the_radio_understates_the_loss() -> None:
    at_radio = input_swr_of_lossy_line(3, 10)
    assert at_radio == pytest.approx(2.4, abs=0.05)
    assert line_total_loss(3, 10).total_db - line_total_loss(3, at_radio).total_db > 3


FREQUENCIES = st.floats(min_value=1.8, max_value=150)


@given(st.sampled_from(["RG-58", "RG-213"]), FREQUENCIES, FREQUENCIES, st.floats(min_value=0.1, max_value=500))
def test_loss_grows_with_frequency_and_in_step_with_length(cable: str, one: float, other: float, length: float) -> None:
    low, high = (coax_matched_loss(cable, mhz, length).loss_db for mhz in sorted((one, other)))
    assert low <= high
    assert coax_matched_loss(cable, one, 2 * length).loss_db == pytest.approx(
        2 * coax_matched_loss(cable, one, length)[0]
    )


@pytest.mark.parametrize(
    ("cable", "mhz", "published_db"),
    [
        ("RG-58", 30, 2.47), ("RG-58", 30, 2.5), ("RG-58", 150, 5.63), ("RG-58", 50, 3.30), ("RG-58", 50, 4.0),
        ("RG-213", 30, 1.08), ("RG-213", 30, 1.1), ("RG-213", 150, 2.53), ("RG-213", 50, 1.50), ("RG-213", 50, 1.2),
        ("RG-213", 14, 0.6),
    ],
)  # fmt: skip
def test_every_published_figure_lies_within_the_range(cable: str, mhz: float, published_db: float) -> None:
    found = coax_matched_loss(cable, mhz, 30.48)
    assert found.low_db <= published_db <= found.high_db


def test_a_cables_loss_keeps_its_source() -> None:
    source = coax_matched_loss("RG-58", 7, 10).source
    assert source == "RG-58: published dB per 100 ft at 30 and 150 MHz; other tables differ by up to 25%"


@pytest.mark.parametrize(
    ("computed", "message"),
    [
        (lambda: line_total_loss(-0.1, 2), "matched loss -0.1 dB is below 0"),
        (lambda: line_total_loss(1, 0.9), "SWR 0.9 is below 1"),
        (lambda: line_total_loss(1, inf), "SWR inf is not a finite number"),
        (lambda: line_total_loss(1, 2, 0), "power 0 W is not above 0"),
        (lambda: input_swr_of_lossy_line(-1), "matched loss -1 dB is below 0"),
        (lambda: input_swr_of_lossy_line(1, 0), "SWR 0 is below 1"),
        (lambda: coax_matched_loss("RG-59", 7, 10), 'cable "RG-59" is not known; known are RG-58, RG-213'),
        (lambda: coax_matched_loss("RG-58", 433, 10), "frequency 433 MHz is outside 1.8 to 150"),
        (lambda: coax_matched_loss("RG-58", 7, -10), "length -10 m is below 0"),
    ],
)
def test_figures_that_mean_nothing_are_refused(computed: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computed()
    assert str(refused.value) == message
