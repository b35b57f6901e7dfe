"""The comparison as text, whole."""

from __future__ import annotations

from typing import Any

from afield.core.comparing.text import comparison_text
from afield.core.host.hookspecs import Comparison

WHOLE = """\
Moving day, 2026-06-27
Compared with the plan: long-ladder, more-books, no-ladder

the plan:
  every required rule passed, or does not apply
  required: 1 passed, 0 failed, 0 cannot tell, 0 not applicable

long-ladder:
  a required rule failed
  required: 0 passed, 1 failed, 0 cannot tell, 0 not applicable

more-books:
  every required rule passed, or does not apply
  required: 1 passed, 0 failed, 0 cannot tell, 0 not applicable

no-ladder:
  nothing failed, but a required verdict cannot be told, or a claim is not judged
  required: 0 passed, 0 failed, 1 cannot tell, 0 not applicable

Gap
  the plan     1.00 m ± 0.05 m (95 %; 3.28 ft ± 0.16 ft)
  long-ladder  0.20 m ± 0.05 m (95 %; 0.66 ft ± 0.16 ft)
               -0.80 m ± 0.06 m (95 %; -2.62 ft ± 0.19 ft): differs
  more-books   1.00 m ± 0.05 m (95 %; 3.28 ft ± 0.16 ft)
               the same as with the plan
  no-ladder    cannot tell: length of the ladder is not stated

Books
  the plan     3
  long-ladder  3
               the same as with the plan
  more-books   70
               +67: differs
  no-ladder    3
               the same as with the plan

Damp
  the plan     no
  long-ladder  no
               the same as with the plan
  more-books   no
               the same as with the plan
  no-ladder    no
               the same as with the plan

Verdicts: long-ladder against the plan
  required: The rule gap
    passed with the plan, failed with long-ladder
    the plan: 1.00 m ± 0.05 m (95 %; 3.28 ft ± 0.16 ft), due at least 0.5 m (1.6 ft): 0.50 m (1.64 ft) of room
    long-ladder: 0.20 m ± 0.05 m (95 %; 0.66 ft ± 0.16 ft), due at least 0.5 m (1.6 ft): 0.30 m (0.99 ft) short
  unchanged: 1 passed

Verdicts: more-books against the plan
  advised: The rule few (a)
    passed with the plan, failed with more-books
    the plan: 3, due at most 10: 7 of room
    more-books: 30, due at most 10: 20 short
  only with more-books
    shelf: b
    verdicts: 1 failed
    advised: The rule few (b)
      failed
      40, due at most 10: 30 short
  checklist: The rule dust (b): not on the list with the plan, open with more-books
  unchanged: 1 passed

Verdicts: no-ladder against the plan
  required: The rule gap
    passed with the plan, cannot tell with no-ladder
    the plan: 1.00 m ± 0.05 m (95 %; 3.28 ft ± 0.16 ft), due at least 0.5 m (1.6 ft): 0.50 m (1.64 ft) of room
    no-ladder: length of the ladder is not stated
  unchanged: 1 passed

Differences are to the plan; ± is at 95 %. Errors of one origin cancel in a difference.
A difference that is not more than its ± is none that can be told. Nothing is weighed or ranked here.
What to do with one of them, `afield check` says; local rules and licensed practice come first.
"""


def text(house: Any, *args: Any, **more: Any) -> str:
    return comparison_text(house.json(*args, **more))


def test_the_whole_text(house: Any) -> None:
    assert text(house) == WHOLE


def test_many_that_come_out_alike_are_told_together(house: Any) -> None:
    full = [{"name": name, "books": 30} for name in "abcdefghijk"]
    told = text(house, variants={"full": {"shelves": full}})
    assert (
        "  only with full\n"
        "    shelf: b, c, d, e, f, g, h, i and 2 more\n"
        "    verdicts: 10 failed\n"
        "    advised: The rule few (10: b, c, d, e, f, g, h, i and 2 more)\n"
        "      failed\n"
        "  checklist: The rule dust (10: b, c, d, e, f, g, h, i and 2 more): "
        "not on the list with the plan, open with full\n"
        "  unchanged: 1 passed\n"
    ) in told


def test_changes_that_come_out_alike_are_told_together(house: Any) -> None:
    few = [{"name": name, "books": 3} for name in "abcd"]
    full = [{"name": name, "books": 30} for name in "abcd"]
    told = text(house, shelves=few, variants={"full": {"shelves": full}})
    expected = (
        "  advised: The rule few (4: a, b, c, d)\n    passed with the plan, failed with full\n  unchanged: 1 passed\n"
    )
    assert expected in told


def test_a_variant_that_changes_no_verdict_says_so(house: Any) -> None:
    told = text(house, variants={"damp": {"wall": {"damp": True}}})
    assert "Verdicts: damp against the plan\n  none changes\n  unchanged: 2 passed\n" in told


def test_another_trip_or_date_is_said(house: Any) -> None:
    told = text(house, variants={"next": {"date": "2026-06-28"}})
    assert "next:\n  Moving day, 2026-06-28\n  every required rule passed" in told


def test_what_nobody_knows_and_that_there_is_nothing_to_compare(bare: Any) -> None:
    bare.bring(Comparison("wall.gap", "Gap", 1))
    told = text(bare, wall=None, variants={"books": {"shelves": [{"name": "a"}]}})
    assert (
        "\n\nNo figure can be compared.\nKnown of none of them:\n"
        "  Gap: cannot tell: height of the wall is not stated\n\n"
    ) in told


def test_a_warning_names_the_variants_that_it_is_for(house: Any) -> None:
    reading = {"fact": "wall.gap", "of": "trip", "value": "0.9 m", "uncertainty": "0.01 m", "how": "tape"}
    told = text(house, measured=[reading], variants={"long": {"ladder": {"length": "2.8 m"}}})
    warning = told.splitlines()[-1]
    assert warning.startswith("warning: long: plan.yaml:")
    assert warning.endswith(
        "the measured wall.gap of trip is not used: the variant changes what it rests on; "
        "measure it again for the variant"
    )


def test_a_difference_within_its_uncertainty_is_not_called_one(house: Any) -> None:
    told = text(house, variants={"longer": {"ladder": {"length": "2.03 m"}}})
    assert "-0.03 m ± 0.06 m (95 %; -0.10 ft ± 0.19 ft): no difference that can be told" in told


def test_the_words_of_a_plugin_stand_with_the_figures(bare: Any) -> None:
    bare.bring(
        Comparison("wall.gap", "Gap", 1, lambda base, other: "an arm's length", lambda record: "so wide\nat the top")
    )
    told = text(bare, only=("long-ladder",))
    assert (
        "Gap\n  the plan     so wide\n                 - at the top\n"
        "  long-ladder  so wide\n               -0.80 m ± 0.06 m (95 %; -2.62 ft ± 0.19 ft), an arm's length: differs\n"
    ) in told
