"""Plugins that do not fit together are refused, each with the plugin, what is wrong and what to do."""

from typing import Any

import pytest

from afield.core.facts.declarations import Each, Fact, Kind, fact
from afield.core.host.hookspecs import Fragment
from afield.core.host.loading import SetupError
from afield.core.host.registry import registry_of


def asking(name: str, *needs: Any, kind: str = "trip", **more: Any) -> Fact:
    parameters = {f"need_{index}": need for index, need in enumerate(needs)}
    return Fact(name, kind, unit="", function=lambda **given: 1.0, parameters=parameters, **more)


def refusal(toys: Any) -> str:
    with pytest.raises(SetupError) as caught:
        registry_of(toys.host)
    return str(caught.value)


def with_facts(toys: Any, *facts: Fact) -> Any:
    return toys.add("house", facts=lambda: list(facts))


def test_a_fact_of_two_plugins(toys: Any) -> None:
    with_facts(toys, Fact("wall.gap", "trip", unit="m")).add("yard", facts=lambda: [Fact("wall.gap", "trip", unit="m")])
    assert refusal(toys) == (
        "the fact wall.gap is declared by plugin house (toys 1.0) and by plugin yard (toys 1.0)\n"
        "    = Uninstall one of the two plugins, or rename the fact in one of them."
    )


def test_a_fact_twice_in_one_plugin(toys: Any) -> None:
    with_facts(toys, Fact("wall.gap", "trip", unit="m"), Fact("wall.gap", "trip", unit="m"))
    assert refusal(toys) == "plugin house (toys 1.0) declares the fact wall.gap twice\n    = Remove one of the two."


def test_a_kind_of_two_plugins(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf")]).add("yard", kinds=lambda: [Kind("shelf")])
    assert refusal(toys) == (
        "the kind shelf is declared by plugin house (toys 1.0) and by plugin yard (toys 1.0)\n"
        "    = Uninstall one of the two plugins, or rename the kind in one of them."
    )


def test_a_kind_of_the_core_cannot_be_declared_again(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("claim")])
    assert refusal(toys).startswith(
        "the kind claim is declared by plugin core (afield ) and by plugin house (toys 1.0)"
    )


def test_two_names_that_collide_in_python(toys: Any) -> None:
    with_facts(toys, Fact("wall.far_end", "trip", unit="m"), Fact("wall.far.end", "trip", unit="m"))
    assert refusal(toys) == (
        "the facts wall.far_end of plugin house (toys 1.0) and wall.far.end of plugin house (toys 1.0) are both "
        "wall_far_end in Python\n    = Rename one of them."
    )


def test_facts_that_need_each_other(toys: Any) -> None:
    with_facts(toys, asking("wall.a", "wall_b"), asking("wall.b", "wall_c"), asking("wall.c", "wall_a"))
    assert refusal(toys) == (
        "plugin house (toys 1.0): the facts form a cycle: wall.a needs wall.b needs wall.c needs wall.a\n"
        "    = One of them must not need the next."
    )


def test_a_cycle_through_what_is_gathered(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf")], facts=lambda: [
        asking("shelf.share", "trip_books", kind="shelf"), asking("trip.books", Each("shelf", "shelf_share")),
    ])  # fmt: skip
    assert refusal(toys).startswith(
        "plugin house (toys 1.0): the facts form a cycle: shelf.share needs trip.books needs shelf.share"
    )


def test_kinds_within_each_other(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf", ("book",)), Kind("book", ("shelf",))])
    assert refusal(toys) == "the kinds shelf within book within shelf form a cycle\n    = No kind may enclose itself."


def test_a_kind_within_nothing_known(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf", ("trp",))])
    assert refusal(toys) == (
        "plugin house (toys 1.0): the kind shelf lies within trp, which nothing declares\n    = Did you mean trip?"
    )


def test_a_need_that_nothing_meets(toys: Any) -> None:
    with_facts(toys, Fact("wall.height", "trip", unit="m"), asking("wall.gap", "wall_hight"))
    assert refusal(toys) == (
        "plugin house (toys 1.0): the fact wall.gap asks for wall_hight, which nothing declares\n"
        "    = Did you mean wall_height?"
    )


def test_a_need_of_a_kind_that_does_not_enclose(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf")], facts=lambda: [
        Fact("shelf.width", "shelf", unit="m"), asking("wall.gap", "shelf_width"),
    ])  # fmt: skip
    assert refusal(toys) == (
        "plugin house (toys 1.0): the fact wall.gap of a trip asks for shelf.width, a fact of a shelf, which does not "
        "enclose it\n    = Gather it with each=."
    )


def test_a_gathered_fact_must_be_one_of_the_kind_or_around_it(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("shelf"), Kind("book")], facts=lambda: [
        Fact("shelf.width", "shelf", unit="m"), asking("wall.gap", Each("book", "shelf_width")),
    ])  # fmt: skip
    assert refusal(toys) == (
        "plugin house (toys 1.0): the fact wall.gap of a trip asks for shelf.width, a fact of a shelf, which does not "
        "enclose a book\n    = Gather it with each=."
    )


@pytest.mark.parametrize(
    ("declared", "text"),
    [
        (
            asking("wall.gap", Each("claims", "trip_date")),
            "plugin house (toys 1.0): the fact wall.gap gathers over each claims, which nothing declares\n"
            "    = Did you mean claim?",
        ),
        (
            Fact("wall.gap", "trp", unit=""),
            "plugin house (toys 1.0): the fact wall.gap is of the kind trp, which nothing declares\n"
            "    = Did you mean trip?",
        ),
        (
            Fact("wall.gap", "trip", type="numbr", unit=""),
            "plugin house (toys 1.0): the fact wall.gap has the type numbr, which nothing declares\n"
            "    = Did you mean number?",
        ),
    ],
)  # fmt: skip
def test_a_fact_that_fits_nothing(toys: Any, declared: Fact, text: str) -> None:
    with_facts(toys, declared)
    assert refusal(toys) == text


def test_an_optional_parameter_must_be_one(toys: Any) -> None:
    with_facts(toys, asking("wall.gap", "trip_date", optional=frozenset({"need_1"})))
    assert refusal(toys) == (
        "plugin house (toys 1.0): the fact wall.gap has no parameter need_1 to be optional\n"
        '    = Its parameters are "need_0".'
    )


def test_needs_are_written_out_in_full(toys: Any) -> None:
    @fact("wall.gap", kind="trip", unit="m", each={"days": ("claim", "claim_reference")})
    def wall_gap(subject: Any, trip_date: str, days: Any) -> float:
        return 1.0

    found = registry_of(with_facts(toys, wall_gap).host).facts["wall.gap"].parameters
    assert found == {"subject": "subject", "trip_date": "trip.date", "days": Each("claim", "claim.reference")}


def test_facts_that_reach_into_programs_from_outside_gather_claims_whether_or_not_they_say_so(toys: Any) -> None:
    toys.add("house", kinds=lambda: [Kind("box", ("claim",))], facts=lambda: [
        Fact("box.books", "box", unit=""),
        asking("trip.all", Each("box", "box.books")),
        asking("trip.rest", "trip_all"),
        asking("claim.rest", "trip_all", kind="claim"),
        asking("claim.own", Each("box", "box.books"), kind="claim"),
        asking("program.own", Each("claim", "claim.reference"), kind="program"),
        asking("trip.said", gathers_claims=True),
    ])  # fmt: skip
    facts = registry_of(toys.host).facts
    assert {name for name, fact in facts.items() if fact.gathers_claims} == {
        "trip.all", "trip.rest", "claim.rest", "trip.said",
    }  # fmt: skip


def test_a_property_that_two_plugins_add(toys: Any) -> None:
    for name in ("house", "yard"):
        toys.add(name, fragments=lambda: [Fragment("plan", "/", {"wall": {"type": "string", "title": "wall"}})])
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}}, needs=[])
    with pytest.raises(SetupError) as caught:
        toys.load()
    assert str(caught.value) == (
        "the property wall at / is contributed by plugin house (toys 1.0) and by plugin yard (toys 1.0)\n"
        "    = Uninstall one of the two plugins, or rename the property in one of them."
    )


def test_a_property_of_the_core_cannot_be_added(toys: Any) -> None:
    toys.add("house", fragments=lambda: [Fragment("plan", "/", {"claims": {"type": "string"}})])
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}}, needs=[])
    with pytest.raises(SetupError) as caught:
        toys.load()
    assert str(caught.value) == (
        "the property claims at / is contributed by core and by plugin house (toys 1.0)\n"
        "    = Uninstall one of the two plugins, or rename the property in one of them."
    )


def test_a_property_at_an_object_that_nobody_declares(toys: Any) -> None:
    toys.add("house", fragments=lambda: [Fragment("plan", "walls[]", {"height": {"type": "string"}})])
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}}, needs=[])
    with pytest.raises(SetupError) as caught:
        toys.load()
    assert str(caught.value) == (
        "plugin house (toys 1.0) adds properties at walls[], an object that no installed plugin declares\n"
        "    = Install the plugin that declares it."
    )


def test_kinds_and_facts_of_fragments_come_with_their_places(house: Any) -> None:
    registry = house.engine.registry
    assert registry.kinds["shelf"].within == ("trip",)
    assert registry.kinds["box"].within == ("claim",)
    assert {name: registry.facts[name].kind for name in ("wall.height", "shelf.books", "box.books", "room.floor")} == {
        "wall.height": "trip", "shelf.books": "shelf", "box.books": "box", "room.floor": "claim",
    }  # fmt: skip
    colour = registry.facts["shelf.colour"]
    assert (colour.type, colour.choices, colour.stated, colour.exact) == ("text", ("red", "blue"), True, True)


def test_what_a_reading_stands_on_must_be_declared_too(toys: Any) -> None:
    ladder = Fact("ladder.length", "trip", unit="m")
    with_facts(toys, Fact("wall.gap", "trip", unit="m", stands_on=("ladder.leght",)), ladder)
    assert refusal(toys) == (
        "plugin house (toys 1.0): the fact wall.gap asks for ladder.leght, which nothing declares\n"
        "    = Did you mean ladder_length?"
    )
