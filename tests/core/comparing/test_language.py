"""In another language: every sentence is looked up, and what is compared, or read by a program, stays as it is."""

from __future__ import annotations

import re
from typing import Any

import pytest

from afield.core.comparing.page import comparison_html
from afield.core.comparing.sides import label_of
from afield.core.comparing.text import comparison_text
from afield.core.language import languages, speaking

OUTCOMES = ("passed", "failed", "cannot tell", "not applicable")
WORDS_OF_OTHERS = {*OUTCOMES, "required", "advised", "note", "Gap", "Books", "Damp", "shelf"}
"""Outcomes, severities, titles and kinds: other folders, and the plugin, mark them."""
DATA = {"finding", "outcome", "severity", "tick", "rule", "subject", "fact", "kind", "value", "exit_status", "schema"}


@pytest.fixture
def both(house: Any, marks: Any) -> tuple[Any, Any]:
    """The comparison in English, and in the language of marks."""
    marks.mark("comparing", words=WORDS_OF_OTHERS)
    with speaking(marks.language):
        return house.json(), _english(house)


def _english(house: Any) -> Any:
    with speaking("en"):
        return house.json()


def test_the_text_and_the_page_are_the_same_but_for_the_language(both: Any, marks: Any) -> None:
    other, english = both
    with speaking(marks.language):
        text, page = comparison_text(other), comparison_html(other)
    assert marks.off(text) == marks.off(comparison_text(english))
    assert '<html lang="sw">' in page
    assert marks.off(page).replace('lang="sw"', 'lang="en"') == marks.off(comparison_html(english))


def test_no_line_of_words_goes_unsaid(both: Any, marks: Any) -> None:
    with speaking(marks.language):
        told = comparison_text(both[0])
    bare = [line.strip() for line in told.splitlines() if line.strip() and "«" not in line]
    # Figures, the trip's name, a variant's own name before a colon, and the reasons of other folders.
    assert [line for line in bare if not re.match(r"[-+\d]|Moving day|[a-z-]+:$|[a-z-]+ +[\d-]", line)] == [
        "no-ladder: length of the ladder is not stated"
    ]


def test_what_programs_read_stays_english(both: Any, marks: Any) -> None:
    other, english = (list(marks.leaves(found, DATA)) for found in both)
    assert other == english
    assert "«differs»" not in str(both[0]) and "«a required rule failed»" in str(both[0])


def test_in_every_language_the_plan_is_called_as_no_variant_can_be() -> None:
    for language in languages():
        with speaking(language):
            assert " " in label_of(None)
