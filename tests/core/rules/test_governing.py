from datetime import date
from decimal import Decimal

import pytest

from afield.core.facts.measured import Measured
from afield.core.rules import Version, column_of, governing_unit_matters

HUNDRED_FEET = Version(date(2024, 1, 1), value=Decimal(100), unit="ft", also_printed=((Decimal("30.5"), "m"),))
WARNING = "100 ft governs; the 30.5 m printed beside it would decide otherwise"


def warning(metres: float, around: float, comparison: str, decision: str = "guarded") -> str | None:
    record = Measured(metres, "m", metres - around, metres + around)
    column = column_of([record], "ft")
    return governing_unit_matters(HUNDRED_FEET, column.low[0], column.value[0], column.high[0], comparison, decision)


@pytest.mark.parametrize(
    ("metres", "comparison", "text"),
    [
        (30.47, "at_most", None),
        (30.48, "at_most", None),
        (30.49, "at_most", WARNING),
        (30.5, "at_most", WARNING),
        (30.51, "at_most", None),
        (30.48, "below", WARNING),
        (30.5, "below", None),
        (30.48, "at_least", WARNING),
        (30.5, "at_least", None),
        (30.49, "above", WARNING),
        (30.5, "above", WARNING),
    ],
)
def test_it_warns_exactly_where_the_printed_equivalent_would_decide_otherwise(
    metres: float, comparison: str, text: str | None
) -> None:
    assert warning(metres, 0.0, comparison) == text


def test_an_interval_across_both_figures_is_the_same_by_either() -> None:
    assert warning(30.49, 0.1, "at_most") is None
    assert warning(30.49, 0.1, "at_most", "simple") == WARNING


def test_a_limit_with_one_figure_never_warns() -> None:
    alone = Version(date(2024, 1, 1), value=Decimal(100), unit="ft")
    assert governing_unit_matters(alone, 100.03, 100.03, 100.03, "at_most") is None
    assert governing_unit_matters(Version(date(2024, 1, 1), none="x"), 1, 1, 1, "at_most") is None
