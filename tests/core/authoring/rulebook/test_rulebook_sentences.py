"""Conditions in sentences."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.authoring.rulebook.build import filled, in_force_words
from afield.core.authoring.rulebook.sentences import Speaker, figure_words, listed, sentence
from afield.core.packs.loading import load_pack
from afield.core.quantities import parse_quantity

LIMITS = {
    "gap": [{"from": "2024-01-01", "value": "0.50", "unit": "m"}],
    "few": [
        {"from": "2020-01-01", "until": "2024-01-01", "value": "9"},
        {"from": "2024-01-01", "value": "12"},
    ],
    "printed": [{"from": "2024-01-01", "value": "80", "unit": "ft", "also_printed": [{"value": "24.4", "unit": "m"}]}],
    "gone": [
        {"from": "2020-01-01", "until": "2024-01-01", "value": "1", "unit": "m"},
        {"from": "2024-01-01", "none": "Given up."},
    ],
}
GAP = {"fact": "wall.gap", "at_least": {"limit": "gap"}}
FITS = {"fact": "wall.fits", "is": True}


def speaker(house: Any, condition: dict[str, Any], where: dict[str, Any] | None = None) -> tuple[Speaker, Any]:
    rule = {"id": "one", "require": condition, **({"where": where} if where else {})}
    other = {"id": "two", "title": "The other rule", "require": GAP}
    pack = load_pack(house.pack(rule, other, limits=LIMITS), house.engine.registry)
    registry = house.engine.registry
    return Speaker(registry.facts, registry.kinds, pack), pack.rules[0]


@pytest.mark.parametrize(
    ("condition", "said"),
    [
        (GAP, "The gap above the ladder must be at least 0.50 m (1.6 ft)."),
        ({"fact": "wall.gap", "below": "0 m"}, "The gap above the ladder must be below 0 m."),
        (
            {"fact": "wall.gap", "at_most": {"limit": "printed"}},
            "The gap above the ladder must be at most 80 ft (24.4 m).",
        ),
        (
            {"fact": "wall.gap", "at_most": {"limit": "gone"}},
            "The gap above the ladder must be at most the limit gone, which is not in force since 2024-01-01.",
        ),
        (
            {"fact": "trip.books", "at_most": {"limit": "few"}},
            "The number of books must be at most 12, from 2024-01-01 on.",
        ),
        (
            {"fact": "wall.gap", "between": ["1 m", "2 m"]},
            "The gap above the ladder must be between 1 m (3.3 ft) and 2 m (6.6 ft), both included.",
        ),
        ({"fact": "trip.books", "one_of": [1, 2, 3]}, "The number of books must be 1, 2 or 3."),
        ({"fact": "wall.depth", "exists": True}, "The depth of the wall must be stated."),
        ({"fact": "wall.depth", "exists": False}, "The depth of the wall must be left unstated."),
        ({"fact": "wall.damp", "is": False}, "The dampness must not be so."),
        (
            {"all": [GAP, {"fact": "trip.books", "above": 1}]},
            "The gap above the ladder must be at least 0.50 m (1.6 ft), and the number of books must be above 1.",
        ),
        (
            {"any": [GAP, {"fact": "trip.books", "above": 1}]},
            "At least one of these is so: the gap above the ladder is at least 0.50 m (1.6 ft); or the number of books "
            "is above 1.",
        ),
        ({"none": [GAP]}, "None of these is so: the gap above the ladder is at least 0.50 m (1.6 ft)."),
        ({"verdict": "two", "is": "passed"}, 'The verdict on "The other rule" must be passed.'),
        (
            {"count": "shelf", "where": {"fact": "shelf.books", "above": 3}, "at_least": 2},
            "The number of: shelf, counting only where the number of books is above 3, must be at least 2.",
        ),
        (
            {"sum": "shelf", "of": "shelf.books", "at_most": 40},
            "The sum of the number of books over each shelf must be at most 40.",
        ),
    ],
)
def test_a_condition_is_a_sentence(house: Any, condition: dict[str, Any], said: str) -> None:
    words, rule = speaker(house, condition)
    assert words.due(rule.require) == said


def test_where_a_rule_applies_is_a_sentence(house: Any) -> None:
    words, rule = speaker(house, GAP, {"fact": "trip.books", "above": 3})
    assert words.applies(rule.where) == "It applies where the number of books is above 3."


@pytest.mark.parametrize(
    ("text", "words"), [("80.0 ft", "80.0 ft (24.4 m)"), ("0 m", "0 m"), ("3 kg", "3 kg"), ("5 degC", "5 °C")]
)
def test_a_figure_keeps_its_digits(text: str, words: str) -> None:
    quantity = parse_quantity(text, text.split()[1])
    assert figure_words(quantity.digits, quantity.unit) == words


def test_small_words() -> None:
    assert listed(["a", "b", "c"], "or") == "a, b or c"
    assert listed([], "or") == ""
    assert sentence("so it is.") == "So it is."
    assert (
        filled("Move {{ detail.far_part }} {{ short_by }}, {{value}}.") == "Move [far part] [what is lacking], [value]."
    )


def test_the_days_of_a_rule() -> None:
    from datetime import date

    first, last = date(2024, 1, 1), date(2025, 1, 1)
    assert in_force_words(first, None) == "In force from 2024-01-01."
    assert in_force_words(first, last) == "In force from 2024-01-01 until the day before 2025-01-01."
