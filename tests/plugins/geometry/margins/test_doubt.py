from math import hypot, sqrt

import numpy as np
import pytest

from afield.plugins.geometry.computations.doubt import (
    bends_within,
    guaranteed_half_width_m,
    margin_parts,
    sigma_m,
)
from afield.plugins.geometry.computations.footprints import circle_part, point_part, shifted
from afield.plugins.geometry.computations.lines import farthest_from_line, farthest_from_point, line_around
from afield.plugins.geometry.computations.plane import plane_at

CENTRE = (47.25, 11.5)


def combined(parts):
    return sqrt(sum(part * part for part in parts.values()))


def test_5_m_at_68_percent_is_6_5_m_on_a_margin_in_any_direction():
    sigma = sigma_m(5.0)

    assert sigma == pytest.approx(5 / 1.515, abs=0.001)
    for direction in ((1.0, 0.0), (0.0, -1.0), (0.6, 0.8)):
        assert combined(margin_parts(direction, sigma, {}, 0.0)) == pytest.approx(6.47, abs=0.01)
    assert guaranteed_half_width_m(sigma, {}, 0.0) == pytest.approx(8.08, abs=0.01)
    assert sigma_m(8.08, 95) == pytest.approx(sigma, abs=0.002)


def test_parts_are_signed_and_named_by_origin():
    parts = margin_parts((0.6, -0.8), 1.0, {"trails": 2.0}, 0.5)

    assert parts == pytest.approx(
        {
            "station.at/east": 1.96 * 0.6,
            "station.at/north": -1.96 * 0.8,
            "map:trails/east": -2 * 1.96 * 0.6,
            "map:trails/north": 2 * 1.96 * 0.8,
            "edge model:trails": 0.5,
        },
        abs=1e-3,
    )


def test_what_contributes_nothing_is_left_out():
    assert margin_parts((0.0, 1.0), 0.0, {"trails": 0.0}, 0.0) == {}
    assert list(margin_parts((0.0, 1.0), 1.0, {}, 0.0)) == ["station.at/north"]


def test_in_a_difference_of_two_margins_to_one_layer_common_errors_cancel():
    same = [margin_parts((0.6, 0.8), 3.0, {"parks": 2.0}, 0.0) for _ in range(2)]
    opposite = [margin_parts(direction, 3.0, {"parks": 2.0}, 0.0) for direction in ((0.0, 1.0), (0.0, -1.0))]

    assert combined({origin: same[0][origin] - same[1][origin] for origin in same[0]}) == 0
    apart = combined({origin: opposite[0][origin] - opposite[1][origin] for origin in opposite[0]})
    assert apart == pytest.approx(2 * 1.96 * hypot(3, 2), abs=0.01)


def test_the_guaranteed_width_adds_position_and_map_and_then_the_edges():
    assert guaranteed_half_width_m(3.0, {"a": 4.0}, 0.25) == pytest.approx(2.4477 * 5 + 0.25, abs=0.001)


@pytest.mark.parametrize(
    ("accuracy", "level", "message"),
    [
        (5, 90, "an accuracy holds 68 % or 95 % of fixes, not 90 %"),
        (-1, 68, "an accuracy is 0 m or more, not -1 m"),
        (float("nan"), 68, "an accuracy is 0 m or more, not nan m"),
    ],
)
def test_an_accuracy_that_says_nothing_is_refused(accuracy, level, message):
    with pytest.raises(ValueError) as problem:
        sigma_m(accuracy, level)
    assert str(problem.value) == message


SHAPES = {
    "even slope": (lambda e, n: 30 + 0.6 * e - 0.8 * n, (0.6, -0.8), False),
    "even slope, another way": (lambda e, n: 30 - n, (0.0, -1.0), False),
    "on a straight trail": (lambda e, n: abs(n), (0.0, 1.0), False),
    "between two trails": (lambda e, n: 20 - abs(n), (0.0, 1.0), False),
    "a corner of two edges": (lambda e, n: 20 + max(e, n), (1.0, 0.0), False),
    "growing every way": (hypot, (1.0, 0.0), True),
    "shrinking every way": (lambda e, n: 9 - hypot(e, n), (0.0, 1.0), True),
    "a round part about a near point": (lambda e, n: 20 + hypot(e - 1, n), (-1.0, 0.0), True),
    "flat": (lambda e, n: 7.0, (1.0, 0.0), False),
}


@pytest.mark.parametrize("shape", SHAPES)
def test_a_value_bends_exactly_where_its_interval_holds_too_little(shape):
    value_at, direction, bends = SHAPES[shape]
    sigma, value = sigma_m(5.0), value_at(0.0, 0.0)
    moves = np.random.default_rng(11).normal(0, sigma, (4000, 2))

    off = np.array([abs(value_at(*move) - value) for move in moves])

    assert bends_within(value_at, value, direction, sigma) is bends
    covered = np.mean(off <= combined(margin_parts(direction, sigma, {}, 0.0)))
    assert (covered < 0.93) == bends
    assert np.mean(off <= guaranteed_half_width_m(sigma, {}, 0.0)) > 0.94


def test_a_station_by_a_straight_trail_does_not_bend_and_one_with_round_parts_by_a_point_does(yardstick):
    line = line_around([yardstick.spots(CENTRE, [(-500, 25), (500, 25)])], plane_at(*CENTRE), 60.0)
    parts = [point_part("table", (0, 0)), circle_part("wire", (0, 0), 1, 21)]
    from_line, from_point = farthest_from_line(parts, line), farthest_from_point(parts, (0.5, 0.0))

    def line_at(east, north):
        return farthest_from_line(shifted(parts, east, north), line).value_m

    def point_at(east, north):
        return farthest_from_point(shifted(parts, east, north), (0.5, 0.0)).value_m

    assert not bends_within(line_at, from_line.value_m, from_line.direction, sigma_m(5.0))
    assert bends_within(point_at, from_point.value_m, from_point.direction, sigma_m(5.0))


def test_without_uncertainty_nothing_bends():
    assert bends_within(hypot, 0.0, (1.0, 0.0), 0.0) is False
