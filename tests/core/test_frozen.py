"""A frozen class is a dataclass in all but how it is made."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, asdict, dataclass, field, fields, is_dataclass, replace
from functools import cached_property
from typing import Any, ClassVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.frozen import frozen


@frozen
class Wall:
    """A wall."""

    known: ClassVar[int] = 2

    height_m: float
    name: str = "north"
    doors: list[str] = field(default_factory=list)

    def is_high(self) -> bool:
        """Whether it is."""
        return self.height_m > self.known


@dataclass(frozen=True, slots=True)
class Plain:
    """The same by the standard library."""

    height_m: float
    name: str = "north"
    doors: list[str] = field(default_factory=list)


@frozen(slots=False)
class Measured:
    """With a value that is found once."""

    sides: tuple[int, ...]

    @cached_property
    def sum(self) -> int:
        """Of the sides."""
        return sum(self.sides)


@frozen(eq=False)
class Itself:
    """Equal to itself only."""

    name: str


@frozen(order=True)
class Step:
    """Ordered by floor, then number."""

    floor: int
    number: int = 0


@frozen
class One:
    """Of a single value."""

    value: Any


@frozen
class Checked:
    """Looked at once it is made."""

    value: int

    def __post_init__(self) -> None:
        if self.value < 0:
            raise ValueError("below 0")


def test_it_is_made_by_place_by_name_and_by_default() -> None:
    wall = Wall(3.0, doors=["green"])
    assert (wall.height_m, wall.name, wall.doors, wall.is_high()) == (3.0, "north", ["green"], True)
    assert Wall(1.0).doors == []
    assert Wall(1.0).doors is not Wall(1.0).doors


@pytest.mark.parametrize("given_wrongly", [{}, {"height_m": 1.0, "length_m": 2.0}])
def test_a_value_too_few_or_too_many_is_refused(given_wrongly: dict[str, float]) -> None:
    with pytest.raises(TypeError, match=r"Wall\.__init__\(\)"):
        Wall(**given_wrongly)  # type: ignore[arg-type]


@pytest.mark.parametrize("made", [Wall(1.0), Measured((1, 2)), Itself("a")])
def test_it_cannot_be_changed(made: Any) -> None:
    name = fields(made)[0].name
    with pytest.raises(FrozenInstanceError, match=f"is frozen: {name} cannot be changed"):
        setattr(made, name, 5)
    with pytest.raises(FrozenInstanceError):
        delattr(made, name)
    with pytest.raises(AttributeError):
        made.other = 5


values = st.tuples(st.floats(allow_nan=False), st.text(), st.lists(st.text()))


@given(values, values)
def test_it_compares_and_shows_itself_as_a_dataclass_does(one: Any, other: Any) -> None:
    assert (Wall(*one) == Wall(*other)) == (Plain(*one) == Plain(*other))
    assert repr(Wall(*one)) == repr(Plain(*one)).replace("Plain", "Wall")
    assert (asdict(Wall(*one)), asdict(Wall(*other))) == (asdict(Plain(*one)), asdict(Plain(*other)))


@given(st.tuples(st.integers(), st.integers()), st.tuples(st.integers(), st.integers()))
def test_equal_ones_have_one_hash_and_ordered_ones_an_order(one: tuple[int, int], other: tuple[int, int]) -> None:
    first, second = Step(*one), Step(*other)
    assert hash(first) == hash(Step(*one))
    assert len({first, second}) == len({one, other})
    assert (first < second, first <= second, first > second, first >= second) == (
        one < other, one <= other, one > other, one >= other,
    )  # fmt: skip


def test_another_class_is_never_equal_and_has_no_order() -> None:
    assert Wall(1.0) != Plain(1.0)
    assert One(1) != 1
    with pytest.raises(TypeError):
        Step(1) < 5  # type: ignore[operator]  # noqa: B015
    assert Itself("a") != Itself("a")
    assert len({Itself("a"), Itself("a")}) == 2


def test_a_list_in_it_makes_it_unhashable() -> None:
    with pytest.raises(TypeError, match="unhashable"):
        hash(Wall(1.0))


def test_the_standard_library_takes_it_as_a_dataclass() -> None:
    wall = Wall(1.0, "east", ["red"])
    assert is_dataclass(Wall)
    assert [each.name for each in fields(Wall)] == ["height_m", "name", "doors"]
    assert replace(wall, name="west") == Wall(1.0, "west", ["red"])
    assert replace(Checked(1), value=2) == Checked(2)
    match wall:
        case Wall(height, name):
            assert (height, name) == (1.0, "east")


@pytest.mark.parametrize("made", [Wall(1.0, "east", ["red"]), Measured((1, 2)), Step(1, 2), One(None)])
def test_it_is_copied_and_pickled(made: Any) -> None:
    assert copy.copy(made) == copy.deepcopy(made) == pickle.loads(pickle.dumps(made)) == made


def test_with_slots_there_is_no_dictionary_and_without_a_value_can_be_kept() -> None:
    assert not hasattr(Wall(1.0), "__dict__")
    measured = Measured((1, 2))
    assert (measured.sum, measured.__dict__) == (3, {"sides": (1, 2), "sum": 3})


def test_no_name_of_a_field_is_in_the_way_of_another() -> None:
    @frozen
    class Named:
        by: int
        set_by: str = "b"
        make_by: list[int] = field(default_factory=list)
        default_by: int = 4
        missing: int = 5

    named = Named(1, "c")
    assert (named.by, named.set_by, named.make_by, named.default_by, named.missing) == (1, "c", [], 4, 5)


def test_what_is_wrong_is_said_when_it_is_made() -> None:
    with pytest.raises(ValueError, match="below 0"):
        Checked(-1)


def test_one_that_holds_itself_is_shown() -> None:
    held: list[Any] = []
    one = One(held)
    held.append(one)
    assert repr(one) == "One(value=[...])"


def test_a_default_that_all_would_share_is_refused() -> None:
    with pytest.raises(ValueError, match="all instances would share the list of doors: give a default_factory"):

        @frozen
        class Shared:
            doors: list[str] = []  # noqa: RUF012


def test_the_fields_of_a_base_and_other_settings_of_a_field_are_refused() -> None:
    with pytest.raises(TypeError, match="Lower would lose the fields of its base"):

        @frozen
        class Lower(Wall):
            pass

    with pytest.raises(TypeError, match=r"takes field\(default_factory=\.\.\.\) only, for name too"):

        @frozen
        class Hidden:
            name: str = field(default="", repr=False)
