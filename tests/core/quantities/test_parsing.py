from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.quantities import DIMENSIONS, Quantity, QuantityError, bare_number, parse_quantity


@pytest.mark.parametrize(
    ("text", "unit_of", "digits", "unit"),
    [
        ("40 deg", "angle", "40", "deg"),
        ("5 m", "length", "5", "m"),
        ("5m", "length", "5", "m"),
        ("5 metres", "ft", "5", "m"),
        ("5 m/s", "speed", "5", "m/s"),
        ("98 %", "ratio", "98", "%"),
        ("80 ft", "length", "80", "ft"),
        ("14 °C", "temperature", "14", "degC"),
        ("-14.50 degC", "temperature", "-14.50", "degC"),
        ("+.5 V", "voltage", "0.5", "V"),
        ("1e3 m", "length", "1000", "m"),
        ("2.2 kΩ", "resistance", "2.2", "kohm"),
        ("7.2 MHz", "frequency", "7.2", "MHz"),
        ("90 min", "duration", "90", "min"),
        ("4.5 Ah", "charge", "4.5", "Ah"),
        ("12", "count", "12", ""),
        ("12.50", "money", "12.50", ""),
        ("1 furlong", "length", "1", "furlong"),
    ],
)
def test_reads_a_number_and_its_unit(text: str, unit_of: str, digits: str, unit: str) -> None:
    quantity = parse_quantity(text, unit_of)
    assert (quantity.digits, quantity.unit) == (Decimal(digits), unit)


LENGTHS = "A length is written in m, km, cm, mm, ft, in, yd, mi, nmi or fathom."


@pytest.mark.parametrize(
    ("text", "dimension", "what", "advice"),
    [
        ("21", "length", '21 is a bare number: write its unit, for example "21 m"', LENGTHS),
        ("3 kg", "length", "3 kg is a mass; a length is due", 'Write a length, for example "5 m".'),
        ("3 m", "angle", "3 m is a length; an angle is due", 'Write an angle, for example "5 deg".'),
        ("5 Foot", "length", '"Foot" is not a known unit', f'Did you mean "foot"? {LENGTHS}'),
        ("5 qqq", "length", '"qqq" is not a known unit', LENGTHS),
        (
            "5 mhz",
            "frequency",
            '"mhz" is not a known unit',
            'Did you mean "MHz"? A frequency is written in MHz, kHz, Hz or GHz.',
        ),
        ("3 dBx", "level", '"dBx" is not a known unit', 'Did you mean "dB"? A level is written in dB.'),
        ("", "length", "nothing is written; a length is due", 'Write it as "5 m".'),
        (
            "about 5 m",
            "length",
            '"about 5 m" does not begin with a number',
            FIVE := 'Write a number and its unit, for example "5 m".',
        ),
        ("nan m", "length", '"nan m" does not begin with a number', FIVE),
        ("٣ m", "length", '"٣ m" does not begin with a number', FIVE),
        ("−5 m", "length", '"−5 m" begins with "−", which is not a minus sign here', 'Write "-", the hyphen.'),
        (
            "1,000 m",
            "length",
            '"1,000 m" has a separator in its number',
            SEPARATE := 'Write the digits together, for example "1000 m".',
        ),
        ("1 000 m", "length", '"1 000 m" has a separator in its number', SEPARATE),
        ("1\u202f000 m", "length", '"1\u202f000 m" has a separator in its number', SEPARATE),
        ("1'000 m", "length", '"1\'000 m" has a separator in its number', SEPARATE),
        ("1,5 m", "length", '"1,5 m" has a comma in its number', 'Write a point, for example "1.5 m".'),
        ("5 ± 1 m", "length", '"5 ± 1 m" states an uncertainty', "Write the uncertainty under its own key."),
        (
            "1 h 30 min",
            "duration",
            '"1 h 30 min" is not one number and one unit',
            'Write one of each, for example "5 min".',
        ),
        ("5-6 m", "length", '"5-6 m" is not one number and one unit', 'Write one of each, for example "5 m".'),
        ("3 m", "count", '"3 m" has a unit; a count is written without one', 'Write "3".'),
        ("3 V", "money", '"3 V" has a unit; an amount of money is written without one', 'Write "3".'),
        (
            "1e999 m",
            "length",
            '"1e999 m" is out of range',
            "Write a number between 1e-30 and 1e30, of 30 digits at most.",
        ),
    ],
)
def test_says_what_is_wrong_and_what_to_do(text: str, dimension: str, what: str, advice: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, dimension)
    assert (caught.value.what, caught.value.advice) == (what, advice)
    assert str(caught.value) == f"{what}. {advice}"


def test_a_bare_number_has_an_error_of_its_own() -> None:
    assert bare_number(21.5, "voltage").what == '21.5 is a bare number: write its unit, for example "21.5 V"'


def test_a_quantity_prints_as_it_is_written() -> None:
    assert str(Quantity(Decimal("21.30"), "m")) == "21.30 m"
    assert str(Quantity(Decimal("1E+2"), "")) == "100"
    assert Quantity(Decimal("21.30"), "m").value == 21.3


@given(
    st.decimals(-1_000_000, 1_000_000, places=6),
    st.sampled_from([name for name, unit in DIMENSIONS.items() if unit]),
)
def test_what_is_printed_reads_back_digit_for_digit(digits: Decimal, dimension: str) -> None:
    quantity = Quantity(digits, DIMENSIONS[dimension])
    assert parse_quantity(str(quantity), dimension) == quantity


@given(st.text(max_size=20), st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_is_a_quantity_or_an_error_with_advice(text: str, dimension: str) -> None:
    try:
        assert parse_quantity(text, dimension).digits.is_finite()
    except QuantityError as error:
        assert error.what and error.advice
