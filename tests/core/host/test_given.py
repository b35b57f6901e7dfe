"""Values that a person gives for a fact: those that the fact cannot have are refused, never half accepted."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.declarations import Fact
from afield.core.host.given import given_number, given_width, refuse_unfit
from afield.core.quantities import QuantityError

METRES = Fact("wall.gap", "trip", unit="m", title="gap")
COUNT = Fact("trip.books", "trip", unit="", title="number of books")
TEXT = Fact("shelf.colour", "shelf", "text", title="colour", choices=("red", "blue"))
DAMP = Fact("wall.damp", "trip", "bool", title="dampness")
BEGIN = Fact("trip.begins", "trip", "instant", title="beginning")
NAMES = Fact("trip.names", "trip", "list", title="names")


@pytest.mark.parametrize(
    ("declared", "value", "what", "advice"),
    [
        (METRES, True, "true is no number", "Write a number with its unit."),
        (
            METRES, 3, '3 is a bare number: write its unit, for example "3 m"',
            "A length is written in m, km, cm, mm, ft, in, yd, mi, nmi or fathom.",
        ),
        (METRES, "3 kg", "3 kg is a mass; a length is due", 'Write a length, for example "5 m".'),
        (METRES, ["3 m"], "['3 m'] is no number", "Write a number with its unit."),
        (COUNT, False, "false is no number", "Write a number with its unit."),
        (TEXT, "bleu", '"bleu" is not a choice for colour', 'Did you mean "blue"? Choices: "red", "blue".'),
        (TEXT, "wood", '"wood" is not a choice for colour', 'Choices: "red", "blue".'),
        (TEXT, 5, "colour: text is due, not 5", "Write text."),
        (DAMP, "yes", "dampness: true or false is due, not yes", "Write true or false."),
        (DAMP, 1, "dampness: true or false is due, not 1", "Write true or false."),
        (NAMES, "red", "names: a list is due, not red", "Write a list."),
        (
            BEGIN, "2026-06-27 22:30", "beginning is an instant, not 2026-06-27 22:30",
            "Write date and time in UTC, for example 2026-06-27T22:30Z.",
        ),
        (
            BEGIN, "soon", "beginning is an instant, not soon",
            "Write date and time in UTC, for example 2026-06-27T22:30Z.",
        ),
    ],
)  # fmt: skip
def test_a_value_that_does_not_fit(declared: Fact, value: Any, what: str, advice: str) -> None:
    with pytest.raises(QuantityError) as caught:
        refuse_unfit(declared, value)
    assert (caught.value.what, caught.value.advice) == (what, advice)


@pytest.mark.parametrize(
    ("declared", "value"),
    [
        (METRES, "3 ft"),
        (COUNT, 3),
        (COUNT, "3"),
        (TEXT, "blue"),
        (DAMP, False),
        (NAMES, []),
        (BEGIN, "2026-06-27T22:30Z"),
    ],
)
def test_a_value_that_fits(declared: Fact, value: Any) -> None:
    refuse_unfit(declared, value)
    assert declared.type != "number" or isinstance(given_number(value, declared.unit), float)


@given(st.decimals(0, 1000, places=3))
def test_a_width_is_a_difference_and_knows_no_zero_of_a_scale(width: Any) -> None:
    assert given_width(f"{width} degF", "degC") == pytest.approx(float(width) / 1.8, rel=1e-9, abs=1e-12)


def test_a_width_below_nothing_is_refused() -> None:
    with pytest.raises(QuantityError) as caught:
        given_width("-0.2 m", "m")
    assert caught.value.what == "an uncertainty of -0.2 m is below 0"
    assert caught.value.advice == "Write half the 95 % interval, 0 or more."
