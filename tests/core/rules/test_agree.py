from collections.abc import Callable
from datetime import date
from typing import Any

from afield.core.facts.measured import Measured
from afield.core.rules import CANNOT_TELL, FAILED, NOT_APPLICABLE, PASSED, Judged, agree, disagreement

P, F, C, N = PASSED, FAILED, CANNOT_TELL, NOT_APPLICABLE


def judged(outcomes: list[int], margins: list[float | None], deciders: list[int]) -> Judged:
    return Judged(bytes(outcomes), margins, [None if m is None else 1.0 for m in margins], deciders)


def test_dates_that_agree_show_the_closest_call() -> None:
    first = judged([P, F, N], [5.0, -1.0, None], [0, 0, 2])
    second = judged([P, F, N], [2.0, -3.0, None], [1, 1, 2])
    assert agree([first, second]) == Judged(bytes([P, F, N]), [2.0, -1.0, None], [1.0, 1.0, None], [1, 0, 2], [1, 0, 0])


def test_dates_that_disagree_cannot_be_told() -> None:
    one = judged([P, P, P, C], [5.0, 5.0, 5.0, 0.5], [0] * 4)
    other = judged([F, N, C, C], [-5.0, None, 0.5, 0.1], [0] * 4)
    assert agree([one, other]) == Judged(
        bytes([C, C, C, C]), [None, None, None, 0.1], [None, None, None, 1.0], [0] * 4, [-1, -1, -1, 1]
    )


def test_a_single_date_is_its_own_verdict() -> None:
    only = judged([P, F], [1.0, -1.0], [0, 0])
    agreed = agree([only])
    assert (agreed.outcome, agreed.margin, agreed.chosen) == (only.outcome, only.margin, [0, 0])


def test_a_limit_that_changes_overnight_leaves_an_uncertain_date_open(
    compiled: Callable[..., Any], columns: Callable[..., Any]
) -> None:
    of = columns({"place.farthest": [Measured(1.0, "m")]})
    far = {"fact": "place.farthest", "at_most": {"limit": "corridor"}}
    days = [date(2024, 12, 31), date(2025, 1, 1)]
    by_date = [compiled(far, day=day).judge(of, 1) for day in days]
    agreed = agree(by_date)
    assert (list(agreed.outcome), agreed.chosen) == ([C], [-1])
    reason = disagreement([(day, one.outcome[0]) for day, one in zip(days, by_date, strict=True)])
    assert (reason.code, reason.text) == (
        "versions disagree",
        "its date is not certain, and it is not applicable under the rules of 2024-12-31, "
        "passed under the rules of 2025-01-01",
    )
