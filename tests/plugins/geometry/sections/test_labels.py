from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.labels import Box, Placer, along

FRAME = Box(0, 0, 400, 300)
ANCHORS = st.tuples(st.floats(0, 400), st.floats(0, 300))


@given(st.lists(st.tuples(st.text("abcdefgh ", min_size=1, max_size=24), ANCHORS), max_size=12))
def test_no_name_covers_another_or_leaves_the_frame(things: list[tuple[str, tuple[float, float]]]) -> None:
    placer = Placer(FRAME, 14)
    for text, anchor in things:
        placer.add(text, [anchor])
    assert not any(one.box.meets(other.box) for one, other in combinations(placer.placed, 2))
    assert all(label.box.within(FRAME) for label in placer.placed)
    assert len(placer.placed) + len(placer.missing) == len(things)


def test_a_name_that_finds_no_room_is_listed() -> None:
    placer = Placer(Box(0, 0, 40, 20), 14)
    placer.add("much too long for the frame", [(20, 10)])
    assert placer.missing == ["much too long for the frame"]


def test_a_name_stands_off_the_lines_where_there_is_room() -> None:
    line = list(along([(200, 150), (400, 150)]))
    placer = Placer(FRAME, 14, line)
    placer.add("mast", [(200, 150)])
    box = placer.placed[0].box
    assert not any(box.around(x, y) for x, y in line)


def test_a_near_name_needs_no_leader_and_a_far_one_has_it() -> None:
    placer = Placer(FRAME, 14)
    for number in range(9):
        placer.add(f"name {number}", [(200, 150)])
    leaders = [label.leader for label in placer.placed]
    assert leaders[0] is None
    assert any(leader is not None and leader[2:] == (200, 150) for leader in leaders)


@pytest.mark.parametrize("path", [[], [(0.0, 0.0)], [(0.0, 0.0), (3.0, 0.0)], [(0.0, 0.0), (20.0, 0.0), (20.0, 7.0)]])
def test_points_along_a_path_include_its_vertices(path: list[tuple[float, float]]) -> None:
    assert set(path) <= set(along(path))
