from math import hypot, sqrt

import pytest

from afield.plugins.geometry.computations.doubt import (
    bends_within,
    guaranteed_half_width_m,
    linearity_note,
    margin_parts,
    sigma_m,
)
from afield.plugins.geometry.computations.footprints import point_part, segment_part, shifted
from afield.plugins.geometry.computations.lines import farthest_from_line, line_around
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


@pytest.mark.parametrize(
    ("trail", "bends"),
    [
        ([(-500, 25), (500, 25)], False),  # along a straight trail
        ([(-500, 40), (0, 25), (500, 60)], False),  # a gentle corner far enough away
        ([(6, -6), (6, 6), (-6, 6), (-6, -6), (6, -6)], True),  # in the loop of a trail
        ([(-500, 1), (500, 1)], True),  # as good as on it
        ([(-500, 5), (500, 5), (500, -5), (-500, -5)], True),  # between there and back
    ],
)
def test_the_tangent_is_not_trusted_where_the_doubt_is_as_large_as_the_shapes(trail, bends, yardstick):
    line = line_around([yardstick.spots(CENTRE, trail)], plane_at(*CENTRE), 40.0)
    parts = [point_part("table", (0, 0)), segment_part("wire", (0, -1), (0, -4))]
    worst = farthest_from_line(parts, line)

    def value_at(east, north):
        return farthest_from_line(shifted(parts, east, north), line).value_m

    assert bends_within(value_at, worst.value_m, worst.direction, sigma_m(5.0)) is bends


def test_without_uncertainty_nothing_bends():
    assert bends_within(lambda east, north: 3.0, 3.0, (1.0, 0.0), 0.0) is False


def test_the_note_says_how_wide_and_why():
    assert linearity_note(sigma_m(5.0)) == (
        "within the doubt of the position (8.1 m, 95 %) another point of the station or of the map may decide, so the"
        " interval is the widest that any shape can give"
    )
