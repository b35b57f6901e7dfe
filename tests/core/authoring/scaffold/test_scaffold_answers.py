"""Answers to the questions of a new pack: read, or refused with what to write instead."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from afield.core.authoring.scaffold.answers import (
    Item,
    choice_of,
    chosen_of,
    day_of,
    item_of,
    line_of,
    name_of,
    told_apart,
)
from afield.core.authoring.scaffold.starters import Starter
from afield.core.documents.writing import UsageError
from afield.core.facts.declarations import Fact

GAP = Fact("wall.gap", "trip", unit="m", title="gap behind the ladder", least=0.0)
STARTER = Starter(
    "gap", 1, ("trip",), ("house",), "How wide?", "2 ft", "wide", "gap", "Wide enough", "So.", "required", "wall.gap",
    "at_least", ("It is level.",), "Move it.",
)  # fmt: skip
BOOKS = Fact("trip.books", "trip", unit="", title="books", exact=True)
COUNT = Starter(
    "books", 1, ("trip",), ("house",), "How many?", "10", "few", "books", "Few", "So.", "note", "trip.books", "at_most",
    ("All count.",), "Leave some.", whole=True,
)  # fmt: skip


def refused(read: Callable[[], Any]) -> str:
    with pytest.raises(UsageError) as found:
        read()
    return str(found.value)


@pytest.mark.parametrize(
    ("text", "guess"),
    [("My Award", '"my-award"'), ("1st", "example-trails"), ("a--b", '"a-b"'), ("", "example-trails")],
)
def test_a_name_is_words_with_hyphens(text: str, guess: str) -> None:
    assert name_of("my-award-2") == "my-award-2"
    assert refused(lambda: name_of(text)) == (
        f'"{text}" is no name for a pack\n'
        f"    = A name is lower-case words and digits joined by hyphens, for example {guess}."
    )


@pytest.mark.parametrize("text", ["", "   ", "two\nlines", "bell\x07", "turned\u202eround"])
def test_a_line_of_text_is_one_line_that_can_be_seen(text: str) -> None:
    assert line_of("title", " Hill Award ", "x") == "Hill Award"
    assert refused(lambda: line_of("title", text, "Hill Award")) == (
        "--title: one line of text is due\n    = Write for example Hill Award."
    )


def test_a_choice_is_one_of_those_offered() -> None:
    assert choice_of("kind", " Award ", ["award", "checklist"]) == "award"
    assert refused(lambda: choice_of("kind", "awards", ["award", "checklist"])) == (
        '--kind: "awards" is not offered\n    = Did you mean "award"?'
    )
    assert refused(lambda: choice_of("kind", "prize", ["award", "checklist"])) == (
        '--kind: "prize" is not offered\n    = Write award or checklist.'
    )


def test_a_day_is_a_date() -> None:
    assert day_of("since", " 2024-02-29 ") == date(2024, 2, 29)
    assert refused(lambda: day_of("since", "1 May")) == (
        "--since: 1 May is no date\n    = Write year, month and day, for example 2026-06-27."
    )


def test_a_figure_keeps_the_digits_and_the_unit_as_printed() -> None:
    chosen = chosen_of(STARTER, GAP, "2.50 ft")
    assert chosen is not None and str(chosen.figure) == "2.50 ft"
    assert chosen_of(STARTER, GAP, " None ") is None


@pytest.mark.parametrize(
    ("starter", "fact", "text", "said"),
    [
        (
            STARTER, GAP, "2",
            '--gap: 2 is a bare number: write its unit, for example "2 m"\n'
            "    = A length is written in m, km, cm, mm, ft, in, yd, mi, nmi or fathom. "
            "Write none to leave the rule out.",
        ),
        (
            STARTER, GAP, "2 kg",
            "--gap: 2 kg is a mass; a length is due\n"
            '    = Write a length, for example "5 m". Write none to leave the rule out.',
        ),
        (
            STARTER, GAP, "-2 ft",
            '--gap: -2 ft is less than there can be\n    = Write for example "2 ft". Write none to leave the rule out.',
        ),
        (
            COUNT, BOOKS, "2.5",
            '--books: 2.5 is no whole number\n    = Write a whole number, for example "10". '
            "Write none to leave the rule out.",
        ),
        (
            COUNT, BOOKS, "0",
            '--books: 0 is less than there can be\n    = Write for example "10". Write none to leave the rule out.',
        ),
    ],
)  # fmt: skip
def test_a_figure_that_does_not_fit_is_refused(starter: Starter, fact: Fact, text: str, said: str) -> None:
    assert refused(lambda: chosen_of(starter, fact, text)) == said


@pytest.mark.parametrize(
    ("text", "item"),
    [
        ("home: Charge the battery", Item("charge-the-battery", "home", "Charge the battery")),
        ("Set up: Look up.", Item("look-up", "set up", "Look up.")),
        ("leave: 2 bags of litter", Item("item-2-bags-of-litter", "leave", "2 bags of litter")),
        (
            "pack: Paper, ink and the club's seal",
            Item("paper-ink-and-the-clubs", "pack", "Paper, ink and the club's seal"),
        ),
        ("none", None),
    ],
)
def test_an_item_says_when_and_what(text: str, item: Item | None) -> None:
    assert item_of(text) == item


@pytest.mark.parametrize(
    ("text", "advice"),
    [
        ("Charge the battery", 'Stages are "home", "pack", "travel", "arrive", "set up", "operate", "leave".'),
        ("home:", 'Stages are "home", "pack", "travel", "arrive", "set up", "operate", "leave".'),
        ("hom: Charge it", 'Did you mean "home: Charge it"?'),
    ],
)
def test_an_item_without_a_stage_is_refused(text: str, advice: str) -> None:
    assert refused(lambda: item_of(text)) == (
        f'--item: "{text}" does not say when\n'
        f"    = Write the stage, a colon and what to do, for example home: Charge the battery. {advice}"
    )


def test_items_of_one_name_are_told_apart() -> None:
    one = Item("look-up", "home", "Look up")
    names = [item.id for item in told_apart([one, one, one], ["look-up"])]
    assert names == ["look-up-2", "look-up-3", "look-up-4"]
