"""The whole way from the transmitter to the antenna."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.lines import line_total_loss
from afield.plugins.radio.computations.paths import feed_path_loss

LOSS, SWR = st.floats(0, 20), st.floats(1, 50)


@given(LOSS, SWR, LOSS, st.none() | st.floats(0, 3))
def test_the_parts_are_the_whole(beyond: float, swr: float, before: float, tuner: float | None) -> None:
    path = feed_path_loss(beyond, swr, before, tuner)
    parts = path.matched_db + path.standing_wave_db + path.tuner_db + path.mismatch_db
    assert path.total_db == pytest.approx(parts)
    assert min(path.matched_db, path.standing_wave_db, path.tuner_db, path.mismatch_db) >= 0


@given(LOSS, SWR, st.floats(0.01, 5))
def test_more_line_never_delivers_more(matched: float, swr: float, more: float) -> None:
    assert (
        feed_path_loss(matched + more, swr, tuner_db=0.3).total_db > feed_path_loss(matched, swr, tuner_db=0.3).total_db
    )
    assert feed_path_loss(matched + more, swr).total_db >= feed_path_loss(matched, swr).total_db - 1e-9


@given(LOSS, SWR, LOSS)
def test_without_a_tuner_it_is_of_no_matter_where_the_loss_lies(one: float, swr: float, other: float) -> None:
    assert feed_path_loss(one, swr, other).total_db == pytest.approx(feed_path_loss(one + other, swr).total_db)


@given(LOSS, SWR)
def test_a_tuner_turns_mismatch_into_nothing(matched: float, swr: float) -> None:
    with_tuner, without = feed_path_loss(matched, swr, tuner_db=0.0), feed_path_loss(matched, swr)
    assert (with_tuner.mismatch_db, with_tuner.swr_at_source) == (0, 1)
    assert with_tuner.total_db == pytest.approx(line_total_loss(matched, swr).total_db)
    assert with_tuner.total_db <= without.total_db + 1e-12
    assert 1 <= without.swr_at_source <= swr + 1e-9


@given(LOSS, SWR, st.floats(0, 5))
def test_a_line_before_the_tuner_loses_less_than_beyond_it(matched: float, swr: float, moved: float) -> None:
    before = feed_path_loss(matched, swr, before_db=moved, tuner_db=0.5)
    assert before.total_db <= feed_path_loss(matched + moved, swr, tuner_db=0.5).total_db + 1e-9


def test_figures_out_of_range_are_refused() -> None:
    with pytest.raises(ValueError, match=r"^loss before the tuner -1 dB is below 0$"):
        feed_path_loss(1, 2, -1)
    with pytest.raises(ValueError, match=r"^loss beyond the tuner -1 dB is below 0$"):
        feed_path_loss(-1, 2)
    with pytest.raises(ValueError, match=r"^loss of the tuner -1 dB is below 0$"):
        feed_path_loss(1, 2, 0, -1)
    with pytest.raises(ValueError, match=r"^SWR 0.5 is below 1$"):
        feed_path_loss(1, 0.5)
