"""How errors reach a result."""

from __future__ import annotations

import pytest

from afield.plugins.radio.figures import Draw, Figure, combined, spread


def test_each_origin_moves_the_result_by_itself() -> None:
    power, loss = Figure(100.0, 5.0, "power"), Figure(3.0, 0.5, "loss")
    found = spread(lambda draw: draw(power) - 10 * draw(loss))
    assert found.result == 70
    assert found.parts(lambda one: one) == {"power": 5.0, "loss": -5.0}
    assert combined({"power": 3.0, "loss": -4.0}) == 5


def test_two_figures_of_one_origin_move_together() -> None:
    one, other = Figure(1.0, 0.2, "tape"), Figure(2.0, 0.4, "tape")
    found = spread(lambda draw: draw(other) - 2 * draw(one))
    assert found.parts(lambda result: result) == {}


def test_where_a_result_bends_the_greater_change_counts() -> None:
    found = spread(lambda draw: min(draw(Figure(10.0, 4.0, "drive")), 11.0))
    assert found.parts(lambda one: one) == {"drive": 4.0}


def test_a_figure_never_falls_below_its_least() -> None:
    ratio = Figure(1.1, 0.5, "swr", 1.0)
    assert (Draw("swr", -1)(ratio), Draw("swr", 1)(ratio), Draw("else", 1)(ratio)) == (1.0, pytest.approx(1.6), 1.1)


def test_an_exact_figure_is_no_origin() -> None:
    assert spread(lambda draw: draw(Figure(1.0, 0.0, "count"))).moved == {}
