from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.quantities import is_lopsided, printed, printed_both, printed_digits, printed_interval, trimmed


@pytest.mark.parametrize(
    ("value", "uncertainty", "unit", "expected"),
    [
        (21.345, 0.2, "m", "21.3 m ± 0.2 m (95 %)"),
        (21.345, 0.205, "m", "21.35 m ± 0.21 m (95 %)"),
        (12.6, 0.3, "V", "12.6 V ± 0.3 V (95 %)"),
        (12.6, 0.12, "V", "12.60 V ± 0.12 V (95 %)"),
        (1234.5, 35, "m", "1230 m ± 40 m (95 %)"),
        (0.001, 2.96, "V", "0 V ± 3 V (95 %)"),
        (-0.04, 0.96, "V", "0 V ± 1 V (95 %)"),
        (-3.26, 0.5, "degC", "-3.3 °C ± 0.5 °C (95 %)"),
        (7.0, 1.0, "", "7 ± 1 (95 %)"),
        (21.3, None, "m", "21.3 m"),
        (21.0, 0, "m", "21 m"),
        (1 / 3, None, "m", "0.333333333333 m"),
        (float("inf"), None, "m", "inf m"),
    ],
)
def test_no_more_digits_than_the_uncertainty_justifies(
    value: float, uncertainty: float | None, unit: str, expected: str
) -> None:
    assert printed(value, uncertainty, unit) == expected


@pytest.mark.parametrize(
    ("value", "uncertainty", "unit", "expected"),
    [
        (21.345, 0.2, "m", "21.3 m ± 0.2 m (95 %; 70.0 ft ± 0.7 ft)"),
        (80, 1, "ft", "80 ft ± 1 ft (95 %; 24.4 m ± 0.3 m)"),
        (24.4, None, "m", "24.4 m (80 ft)"),
        (12.6, 0.3, "V", "12.6 V ± 0.3 V (95 %)"),
        (12.6, None, "V", "12.6 V"),
    ],
)
def test_lengths_are_printed_in_both_systems(value: float, uncertainty: float | None, unit: str, expected: str) -> None:
    assert printed(value, uncertainty, unit, also_imperial=True) == expected


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (24.4, "m", "24.4 m (80 ft)"),
        (80, "ft", "80 ft (24.4 m)"),
        (30.48, "m", "30.48 m (100 ft)"),
        (5, "km", "5 km (3.1 mi)"),
        (0, "m", "0 m (0 ft)"),
        (12, "in", "12 in (30 cm)"),
        (3, "V", "3 V"),
        (float("nan"), "m", "nan m"),
    ],
)
def test_the_second_figure_is_as_close_as_the_first(value: float, unit: str, expected: str) -> None:
    assert printed_both(value, unit) == expected


def test_trimmed_has_no_exponent_and_no_trailing_zeros() -> None:
    assert [trimmed(number) for number in (1e-7, 1e15, -0.0, 100.0, 0.1 + 0.2)] == [
        "0.0000001",
        "1000000000000000",
        "0",
        "100",
        "0.3",
    ]


@given(st.floats(-1e9, 1e9), st.floats(1e-6, 1e6))
def test_rounding_moves_a_value_by_less_than_its_uncertainty(value: float, uncertainty: float) -> None:
    digits, size = printed_digits(value, uncertainty)
    assert abs(Decimal(digits) - Decimal(value)) <= Decimal(uncertainty) * Decimal("0.52")
    assert Decimal(size).as_tuple().exponent == Decimal(digits).as_tuple().exponent
    assert len(Decimal(size).normalize().as_tuple().digits) <= 2


@pytest.mark.parametrize(
    ("ends", "unit", "expected"),
    [
        ((85.0, 0.0, 99.9), "%", "85 %, from 0 % to 100 % (95 %)"),
        ((94.2, 17.3, 99.8), "%", "94 %, from 17 % to 100 % (95 %)"),
        ((100.0, 20.0, 100.0), "%", "100 %, from 20 % to 100 % (95 %)"),
        ((-4.0, -31.0, -3.0), "dB", "-4 dB, from -31 dB to -3 dB (95 %)"),
        ((12.0, 9.0, 15.0), "V", "12 V ± 3 V (95 %)"),
        ((12.0, 9.0, 18.0), "V", "12 V ± 3 V (95 %)"),
        ((12.0, 9.0, 18.1), "V", "12 V, from 9 V to 18 V (95 %)"),
        ((12.0, 12.0, 12.0), "V", "12 V"),
    ],
)
def test_a_lopsided_interval_shows_both_its_ends(ends: tuple[float, float, float], unit: str, expected: str) -> None:
    assert printed_interval(*ends, min(ends[0] - ends[1], 3.0) or ends[2] - ends[0], unit) == expected


def test_a_lopsided_length_is_told_in_both_systems() -> None:
    told = printed_interval(20.0, 18.0, 30.0, 6.0, "m", also_imperial=True)
    assert told == "20 m, from 18 m to 30 m (95 %; 66 ft, from 59 ft to 98 ft)"


@given(st.floats(-1e6, 1e6), st.floats(0, 1e5), st.floats(0, 1e5))
def test_what_is_lopsided_is_so_to_either_side(value: float, less: float, more: float) -> None:
    assert is_lopsided(value, value - less, value + more) == is_lopsided(-value, -value - more, -value + less)


@given(st.floats(-1e4, 1e4), st.floats(0.01, 1e3), st.floats(2.5, 50))
def test_the_ends_told_lie_about_where_they_are(value: float, narrow: float, times: float) -> None:
    # Half of the last place: that of the narrower side, or one figure more than the wider one's.
    low, high = value - narrow, value + narrow * times
    told = printed_interval(value, low, high, narrow * times, "V").removesuffix(" (95 %)")
    found, least, most = (
        float(word.split(" ")[0]) for word in told.replace(", from ", "|").replace(" to ", "|").split("|")
    )
    assert (found, least, most) == pytest.approx((value, low, high), abs=max(0.55 * narrow, 0.055 * narrow * times))
