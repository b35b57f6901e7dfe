from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.rules import CANNOT_TELL, FAILED, NOT_APPLICABLE, PASSED, WORDS
from afield.core.rules.outcomes import closeness, deciding, joined, negated

P, F, C, N = PASSED, FAILED, CANNOT_TELL, NOT_APPLICABLE
COLUMNS = st.integers(0, 20).flatmap(
    lambda n: st.lists(st.lists(st.integers(0, 3), min_size=n, max_size=n).map(bytes), min_size=1, max_size=5)
)


def test_the_codes_and_words_are_fixed() -> None:
    assert (PASSED, FAILED, CANNOT_TELL, NOT_APPLICABLE) == (0, 1, 2, 3)
    assert WORDS == ("passed", "failed", "cannot tell", "not applicable")


@pytest.mark.parametrize(
    ("children", "all_", "any_", "none"),
    [
        ([P, P], P, P, F),
        ([P, F], F, P, F),
        ([P, C], C, P, F),
        ([F, F], F, F, P),
        ([F, C], F, C, C),
        ([C, C], C, C, C),
        ([P, N], P, P, F),
        ([F, N], F, F, P),
        ([C, N], C, C, C),
        ([N, N], N, N, N),
        ([N], N, N, N),
    ],
)
def test_outcomes_are_joined_by_kleenes_logic_without_the_not_applicable(
    children: list[int], all_: int, any_: int, none: int
) -> None:
    for order in (children, children[::-1]):
        columns = [bytes([code]) for code in order]
        assert [joined(operator, columns)[0] for operator in ("all", "any", "none")] == [all_, any_, none]


@given(COLUMNS)
def test_de_morgan(children: list[bytes]) -> None:
    turned = [negated(child) for child in children]
    assert negated(joined("all", children)) == joined("any", turned)
    assert negated(joined("any", children)) == joined("all", turned) == joined("none", children)


@given(COLUMNS)
def test_a_column_is_joined_as_each_of_its_subjects_is(children: list[bytes]) -> None:
    for operator in ("all", "any", "none"):
        one_by_one = [joined(operator, [bytes([code]) for code in row])[0] for row in zip(*children, strict=True)]
        assert list(joined(operator, children)) == one_by_one


def test_a_child_that_cannot_be_told_hides_no_certainty() -> None:
    """Whatever the children that cannot be told turn out to be, a definite outcome of the whole stands."""
    for operator, row in product(("all", "any", "none"), product((P, F, C), repeat=3)):
        told = joined(operator, [bytes([code]) for code in row])[0]
        possible = {
            joined(operator, [bytes([code]) for code in settled])[0]
            for settled in product(*[(P, F) if code == C else (code,) for code in row])
        }
        assert (possible == {told}) if told != C else (possible == {P, F})


@pytest.mark.parametrize(
    ("margin", "uncertainty", "width"),
    [(2.0, 0.5, 4.0), (-2.0, 0.5, 4.0), (0.0, 0.0, 0.0), (1.0, 0.0, float("inf")), (1.0, None, float("inf"))],
)
def test_closeness_counts_the_margin_in_uncertainties(margin: float, uncertainty: float | None, width: float) -> None:
    assert closeness(margin, uncertainty) == width


def test_a_verdict_without_margin_has_no_closeness() -> None:
    assert closeness(None, 1.0) is None


@pytest.mark.parametrize(
    ("widths", "decider"),
    [([3.0, 1.0, 2.0], 1), ([3.0, None, 1.0], 0), ([1.0, 1.0], 0), ([float("inf"), 2.0], 1), ([None, None], 0)],
)
def test_the_closest_call_decides_or_the_first_written(widths: list[float | None], decider: int) -> None:
    assert deciding(range(len(widths)), widths.__getitem__) == decider
