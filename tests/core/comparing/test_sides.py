"""Which of the plan and its variants are compared with which."""

from __future__ import annotations

import re
from typing import Any

import pytest

from afield.core.documents import InputError


def sides(found: Any) -> list[str]:
    return [side["label"] for side in found["sides"]]


def test_the_plan_is_the_base_and_its_variants_follow_in_their_order(house: Any) -> None:
    found = house.json()
    assert sides(found) == ["the plan", "long-ladder", "more-books", "no-ladder"]
    assert [(side["name"], side["is_base"]) for side in found["sides"][:2]] == [(None, True), ("long-ladder", False)]


def test_a_variant_as_base_is_compared_with_the_plan_and_the_others(house: Any) -> None:
    found = house.json("more-books")
    assert sides(found) == ["more-books", "the plan", "long-ladder", "no-ladder"]
    books = next(row for row in found["rows"] if row["fact"] == "trip.books")
    assert [difference["words"] for difference in books["differences"]] == ["-67", "-67", "-67"]


def test_those_named_alone_in_the_order_of_the_plan(house: Any) -> None:
    assert sides(house.json(only=("no-ladder", "long-ladder"))) == ["the plan", "long-ladder", "no-ladder"]
    assert sides(house.json("no-ladder", ("long-ladder",))) == ["no-ladder", "long-ladder"]


def test_each_is_judged_whole(house: Any) -> None:
    found = house.json()
    assert [side["standing"]["exit_status"] for side in found["sides"]] == [0, 1, 0, 3]
    assert [side["standing"]["words"] for side in found["sides"]] == [
        "every required rule passed, or does not apply",
        "a required rule failed",
        "every required rule passed, or does not apply",
        "nothing failed, but a required verdict cannot be told, or a claim is not judged",
    ]
    assert found["sides"][3]["standing"]["required_words"] == "0 passed, 0 failed, 1 cannot tell, 0 not applicable"
    assert found["exit_status"] == 0


@pytest.mark.parametrize(
    ("base", "only", "variants", "text"),
    [
        (
            None, (), {},
            "plan.yaml:2:2: the plan has no variants to compare with it\n"
            '    |  "trip": "Moving day",\n'
            "    = Write what each changes under `variants:`, for example: variants: {next-day: {date: 2026-06-28}}",
        ),
        (
            None, ("tall",), {"long": {"ladder": None}},
            'plan.yaml:1:1: there is no variant tall\n    |  "variants": {\n'
            '    = The variants in the plan are "long".',
        ),
        (
            "lang", (), {"long": {"ladder": None}},
            'plan.yaml:1:1: there is no variant lang\n    |  "variants": {\n    = Did you mean "long"?',
        ),
        (
            "long", ("long",), {"long": {"ladder": None}},
            "plan.yaml:1:1: the variant long would be compared with itself alone\n"
            '    |   "long": {\n    = Leave out --variant, or name another variant.',
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_compared(house: Any, base: str | None, only: Any, variants: Any, text: str) -> None:
    with pytest.raises(InputError) as caught:
        house.json(base, only, variants=variants)
    (problem,) = caught.value.problems
    shown = problem.text()
    assert re.sub(r":\d+:\d+:", ":0:0:", shown) == re.sub(r":\d+:\d+:", ":0:0:", text)
