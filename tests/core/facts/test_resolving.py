"""How a fact finds its inputs, and what becomes of it where one fails."""

from math import inf, nan
from typing import Any

import pytest

from afield.core.documents import InputError, Place, Problem
from afield.core.facts.declarations import Each
from afield.core.facts.measured import CannotTell, Estimate, Reason, unknown

OWNER = {"wall.gap": "plugin house (toys 1.0)"}


def test_a_need_is_looked_up_outward(world: Any, toy: Any, subject: Any) -> None:
    facts = [
        toy.finding("book.room", lambda wall_height, shelf_width: wall_height - shelf_width, kind="book"),
        toy.finding("wall.height", lambda: 3.0),
        toy.finding("shelf.width", lambda: 1.0, kind="shelf"),
    ]
    shelf, book = subject("shelf:a"), subject("book:a/b", shelf="shelf:a")
    found = world(facts, subjects=[shelf, book]).value("book:a/b", "book.room")
    assert found.value == 2.0
    assert found.inputs == (("trip", "wall.height"), ("shelf:a", "shelf.width"))


def test_a_subject_without_the_kind_around_it_cannot_tell(world: Any, toy: Any, subject: Any) -> None:
    facts = [
        toy.finding("book.room", lambda shelf_width: shelf_width, kind="book"),
        toy.finding("shelf.width", lambda: 1.0, kind="shelf"),
    ]
    found = world(facts, subjects=[subject("book:loose")]).value("book:loose", "book.room")
    assert (found.reason.code, found.reason.text) == ("kind absent", "book:loose lies within no shelf")


def gathering(toy: Any, kind: str, over: str) -> list[Any]:
    counted = toy.finding(
        f"{kind}.count", lambda members: float(len(members)), kind=kind, members=Each(over, f"{over}.size")
    )
    return [counted, toy.finding(f"{over}.size", lambda: 1.0, kind=over)]


def test_each_gathers_over_all_where_nothing_but_the_trip_is_shared(world: Any, toy: Any, subject: Any) -> None:
    subjects = [subject("shelf:a"), subject("shelf:b"), subject("utc_day:one")]
    found = world(gathering(toy, "utc_day", "shelf"), subjects=subjects)
    assert found.value("utc_day:one", "utc_day.count").value == 2.0


def test_each_gathers_what_lies_within_the_subject_itself(world: Any, toy: Any, subject: Any) -> None:
    books = [
        subject("book:a/1", shelf="shelf:a"),
        subject("book:a/2", shelf="shelf:a"),
        subject("book:b/1", shelf="shelf:b"),
    ]
    found = world(gathering(toy, "shelf", "book"), subjects=[subject("shelf:a"), subject("shelf:b"), *books])
    assert [found.value(key, "shelf.count").value for key in ("shelf:a", "shelf:b")] == [2.0, 1.0]


def test_each_gathers_over_shared_ancestors_only(world: Any, toy: Any, subject: Any) -> None:
    """A day of a claim shares the claim with its other days, and not with the days of other claims."""
    days = [
        subject(f"claim_day:{claim}/{day}", claim=f"claim:{claim}", utc_day=f"utc_day:{day}")
        for claim in ("a", "b") for day in ("one", "two")
    ]  # fmt: skip
    outer = [subject("claim:a"), subject("claim:b"), subject("utc_day:one"), subject("utc_day:two")]
    of_claim = world(gathering(toy, "claim", "claim_day"), subjects=[*outer, *days])
    of_day = world(gathering(toy, "utc_day", "claim_day"), subjects=[*outer, *days])
    assert [member.key for member in of_claim.gathered(outer[0], "claim_day")] == ["claim_day:a/one", "claim_day:a/two"]
    assert [member.key for member in of_day.gathered(outer[2], "claim_day")] == ["claim_day:a/one", "claim_day:b/one"]
    assert of_claim.value("claim:a", "claim.count").value == 2.0


def test_siblings_gather_each_other(world: Any, toy: Any, subject: Any) -> None:
    books = [
        subject("book:a/1", shelf="shelf:a"),
        subject("book:a/2", shelf="shelf:a"),
        subject("book:b/1", shelf="shelf:b"),
    ]
    found = world(gathering(toy, "book", "book"), subjects=[subject("shelf:a"), subject("shelf:b"), *books])
    assert [member.key for member in found.gathered(books[0], "book")] == ["book:a/1", "book:a/2"]


def test_gathering_a_kind_whose_subjects_could_not_be_had_is_not_gathering_none(
    world: Any, toy: Any, subject: Any
) -> None:
    failed = {
        "shelf": Reason("plugin failed", "plugin house (toys 1.0) failed in afield_subjects: boom", "plugin house")
    }
    found = world(gathering(toy, "utc_day", "shelf"), subjects=[subject("utc_day:one")], failed_kinds=failed)
    assert found.value("utc_day:one", "utc_day.count").reason == Reason(
        "plugin failed", "plugin house (toys 1.0) failed in afield_subjects: boom", "plugin house", "utc_day:one"
    )
    assert found.crashes == []


def test_an_optional_input_that_is_not_stated_is_none(world: Any, toy: Any) -> None:
    facts = [
        toy.finding(
            "wall.gap", lambda wall_height: -1.0 if wall_height is None else wall_height, optional={"wall_height"}
        ),
        toy.stated("wall.height"),
    ]
    assert world(facts).value("trip", "wall.gap").value == -1.0


def test_an_optional_input_that_failed_is_not_passed_over(world: Any, toy: Any) -> None:
    broken = unknown(Reason("outside validity", "it is bent", "wall.height", "trip"), rank="stated")
    facts = [
        toy.finding("wall.gap", lambda wall_height: -1.0, optional={"wall_height"}),
        toy.stated("wall.height"),
    ]
    found = world(facts, {("trip", "wall.height"): broken}).value("trip", "wall.gap")
    assert found.reason == Reason("outside validity", "it is bent", "wall.height", "trip")


def test_a_missing_input_is_named_with_its_subject_and_what_would_settle_it(world: Any, toy: Any) -> None:
    facts = [
        toy.finding("wall.rest", lambda wall_gap: wall_gap),
        toy.finding("wall.gap", lambda wall_height: wall_height),
        toy.stated("wall.height", title="height of the wall", settle="wall.height"),
    ]
    found = world(facts).value("trip", "wall.rest")
    assert found.reason == Reason("missing input", "height of the wall is not stated", "wall.height", "trip")
    assert found.inputs == (("trip", "wall.gap"),)


def boom() -> float:
    raise KeyError("shelf")


@pytest.mark.parametrize(
    ("function", "error"),
    [
        (boom, "KeyError: 'shelf'"),
        (lambda: nan, "ValueError: it returned a number that is not finite"),
        (lambda: Estimate(1.0, high=inf), "ValueError: it returned a number that is not finite"),
        (lambda: Estimate(1.0, parts={"tape": nan}), "ValueError: it returned a number that is not finite"),
        (lambda: True, "TypeError: it returned True, not a number"),
        (lambda: "3 m", "TypeError: it returned '3 m', not a number"),
        (lambda: None, "TypeError: it returned None, not a number"),
        (lambda: Estimate(1.0, low=2.0), "ValueError: it returned 1.0 outside of its interval 2.0 to None"),
        (lambda: Estimate(3.0, low=1.0, high=2.0), "ValueError: it returned 3.0 outside of its interval 1.0 to 2.0"),
    ],
)  # fmt: skip
def test_a_function_that_fails_is_a_crash_that_names_its_plugin(
    world: Any, toy: Any, function: Any, error: str
) -> None:
    made = world([toy.finding("wall.gap", function)], owners=OWNER)
    found = made.value("trip", "wall.gap")
    text = f"plugin house (toys 1.0) failed at wall.gap of trip: {error}"
    assert (found.value, found.reason) == (None, Reason("plugin failed", text))
    assert [crash.text for crash in made.crashes] == [text]


@pytest.mark.parametrize(
    ("declared", "value", "error"),
    [
        ({"type": "text"}, 5, "TypeError: it returned 5, not a text"),
        (
            {"type": "text", "choices": ("red", "blue")},
            "green",
            "ValueError: it returned 'green', which is none of red, blue",
        ),
        ({"type": "bool"}, 1, "TypeError: it returned 1, not a bool"),
        ({"type": "list"}, "red", "TypeError: it returned 'red', not a list"),
    ],
)
def test_a_result_of_another_type_is_a_crash(world: Any, toy: Any, declared: Any, value: Any, error: str) -> None:
    found = world(
        [
            toy.finding(
                "wall.gap",
                lambda: value,
                **declared,
            )
        ],
        owners=OWNER,
    ).value("trip", "wall.gap")
    assert found.reason.text == f"plugin house (toys 1.0) failed at wall.gap of trip: {error}"


def test_what_rests_on_a_crash_names_the_crash_and_is_none_itself(world: Any, toy: Any) -> None:
    made = world([toy.finding("wall.gap", boom), toy.finding("wall.rest", lambda wall_gap: wall_gap)], owners=OWNER)
    found = made.value("trip", "wall.rest")
    assert found.reason.code == "plugin failed"
    assert found.reason.text == "plugin house (toys 1.0) failed at wall.gap of trip: KeyError: 'shelf'"
    assert len(made.crashes) == 1


def test_a_fact_that_says_why_it_has_no_answer_is_no_crash(world: Any, toy: Any) -> None:
    def silent() -> float:
        raise CannotTell("the wall is not built yet", "wall.height", "outside validity")

    made = world([toy.finding("wall.gap", silent)])
    assert made.value("trip", "wall.gap").reason == Reason(
        "outside validity", "the wall is not built yet", "wall.height", "trip"
    )
    assert made.crashes == []


def test_what_the_user_wrote_wrongly_ends_the_run(world: Any, toy: Any) -> None:
    def wrong() -> float:
        raise InputError([Problem(Place("plan.yaml", 3, 5), "the wall has no end", "give it one")])

    with pytest.raises(InputError, match="the wall has no end"):
        world([toy.finding("wall.gap", wrong)]).value("trip", "wall.gap")
