from __future__ import annotations

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.accuracy import (
    HORIZONTAL,
    VERTICAL,
    Measure,
    accuracy_convert,
    decimal_places_to_metres,
    degree_lengths,
    map_accuracy_nmas,
    three_way_decision,
)

METRES = st.floats(min_value=0, max_value=1e5)


@given(METRES, st.sampled_from([HORIZONTAL, VERTICAL]), st.data())
def test_an_accuracy_converted_and_back_is_the_same(
    value: float, factors: dict[str, float], data: st.DataObject
) -> None:
    stated, wanted = (data.draw(st.sampled_from(sorted(factors))) for _ in range(2))
    assert accuracy_convert(accuracy_convert(value, stated, wanted), wanted, stated) == pytest.approx(value)


@pytest.mark.parametrize(
    ("stated", "wanted", "factor"),
    [
        ("sigma", "r68", 1.515),
        ("sigma", "r95", 2.448),
        ("rmse_r", "r95", 1.7308),
        ("sigma", "r90", 2.146),
        ("rmse_z", "z95", 1.9600),
        ("rmse_z", "z90", 1.6449),
        ("z68", "sigma", 1.0),
    ],
)
def test_published_factors(stated: Measure, wanted: Measure, factor: float) -> None:
    assert accuracy_convert(1.0, stated, wanted) == pytest.approx(factor, rel=3e-4)


def test_what_a_receiver_states_as_5_m() -> None:
    assert accuracy_convert(5, "r68", "r95") == pytest.approx(8.1, abs=0.05)
    assert 1.96 * accuracy_convert(5, "r68", "sigma") == pytest.approx(6.5, abs=0.05)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((-1, "r68", "r95"), "accuracy -1 m is negative"),
        ((5, "r68", "z90"), "r68 and z90 are of different directions: one is horizontal, the other vertical"),
        (
            (5, "r50", "r95"),
            'accuracy measure "r50" is not known; known are sigma, r68, r90, r95, rmse_r, z68, z90, z95, rmse_z',
        ),
        ((float("inf"), "r68", "r95"), "accuracy inf is not a finite number"),
    ],
)
def test_a_conversion_that_means_nothing_is_refused(arguments: tuple[float, Measure, Measure], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        accuracy_convert(*arguments)
    assert str(refused.value) == message


@given(st.floats(min_value=-89, max_value=89))
def test_lengths_of_a_degree_are_those_along_the_ground(lat: float) -> None:
    lengths = degree_lengths(lat)
    step = 1e-3
    north = Geodesic.WGS84.Inverse(lat - step, 0, lat + step, 0)["s12"] / (2 * step)
    east = Geodesic.WGS84.Inverse(lat, -step, lat, step)["s12"] / (2 * step)
    assert lengths.lat_degree_m == pytest.approx(north, rel=1e-7)
    assert lengths.lon_degree_m == pytest.approx(east, rel=1e-6)


def test_each_decimal_is_ten_times_better() -> None:
    third, fifth = decimal_places_to_metres(3, 39.9), decimal_places_to_metres(5, 39.9)
    assert third.north_south_m == pytest.approx(100 * fifth.north_south_m)
    assert fifth.east_west_m < fifth.north_south_m == pytest.approx(0.555, abs=0.001)
    assert decimal_places_to_metres(5, 90).east_west_m == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("decimals", [-1, 16])
def test_decimals_out_of_range_are_refused(decimals: int) -> None:
    with pytest.raises(ValueError) as refused:
        decimal_places_to_metres(decimals, 0)
    assert str(refused.value) == f"{decimals} decimals: 0 to 15 are possible"


def test_the_map_standard_changes_at_1_to_20000() -> None:
    assert map_accuracy_nmas(20_000) == pytest.approx(20_000 / 50 * 0.0254)
    assert map_accuracy_nmas(19_999) == pytest.approx(19_999 / 30 * 0.0254)


@pytest.mark.parametrize("scale", [0, -24000])
def test_a_scale_that_is_none_is_refused(scale: float) -> None:
    with pytest.raises(ValueError) as refused:
        map_accuracy_nmas(scale)
    assert str(refused.value) == f"scale 1:{scale:g} is no scale"


@given(METRES, METRES, METRES)
def test_a_sure_answer_holds_for_every_distance_within_the_error(distance: float, limit: float, error: float) -> None:
    decision = three_way_decision(distance, limit, error)
    ends = {three_way_decision(end, limit, 0.0) for end in (distance - error, distance + error)}
    assert ends == {decision} if decision != "uncertain" else ends == {"inside", "outside"}


def test_the_limit_itself_is_inside() -> None:
    assert three_way_decision(30.48, 30.48, 0) == "inside"
    assert three_way_decision(40, 30, 10) == "uncertain"


def test_a_negative_error_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        three_way_decision(1, 2, -0.1)
    assert str(refused.value) == "error -0.1 m is negative"
