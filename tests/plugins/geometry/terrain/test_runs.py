"""Connected parts of grids, against a flood fill post by post."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from afield.plugins.geometry.computations.terrain_runs import runs_of
from afield.plugins.geometry.computations.terrain_zone import dem_zone_below_summit, labelled

EDGES = ((0, 1), (1, 0), (0, -1), (-1, 0))
CORNERS = (*EDGES, (1, 1), (1, -1), (-1, 1), (-1, -1))


def filled(mask: np.ndarray, start: tuple[int, int], steps: tuple[tuple[int, int], ...]) -> set[tuple[int, int]]:
    found, open_ = {start}, [start]
    while open_:
        row, column = open_.pop()
        for down, aside in steps:
            post = row + down, column + aside
            inside = 0 <= post[0] < mask.shape[0] and 0 <= post[1] < mask.shape[1]
            if inside and mask[post] and post not in found:
                found.add(post)
                open_.append(post)
    return found


masks = st.tuples(st.integers(1, 9), st.integers(1, 9)).flatmap(lambda shape: arrays(bool, shape))


@given(masks, st.sampled_from([("edge", EDGES), ("corner", CORNERS)]))
def test_labels_are_those_of_a_flood_fill(mask: np.ndarray, joined: tuple[str, tuple[tuple[int, int], ...]]) -> None:
    runs = runs_of(mask)
    labels = labelled(runs, mask, mask.astype(float), 1.0, joined[0])
    for row, column in np.argwhere(mask):
        own = labels[runs.of_posts(np.array([row]), np.array([column]))]
        kept = runs.mask(labels == own)
        assert {(int(r), int(c)) for r, c in np.argwhere(kept)} == filled(mask, (int(row), int(column)), joined[1])


@given(masks)
def test_all_runs_painted_give_the_mask_again(mask: np.ndarray) -> None:
    runs = runs_of(mask)
    assert np.array_equal(runs.mask(np.ones(len(runs.start), bool)), mask)
    assert runs.lengths().sum() == mask.sum()


def test_a_post_without_data_is_never_in_the_area() -> None:
    found = dem_zone_below_summit([[1.0, float("nan"), 1.0]], 0, 0, 5)
    assert (found.cells_connected_4, found.cells_connected_8, found.components_4) == (1, 1, 2)


@pytest.mark.parametrize(
    ("grid", "place", "drop", "summit", "text"),
    [
        ([1.0], (0, 0), 1, None, "a grid has rows and columns, not the shape (1,)"),
        ([[1.0]], (0, 1), 1, None, "the summit's post 0, 1 lies outside the grid of 1 x 1"),
        ([[float("nan")]], (0, 0), 1, None, "the grid has no data at the summit's post 0, 0"),
        ([[1.0]], (0, 0), -1, None, "a drop is 0 m or more, not -1 m"),
        ([[1.0]], (0, 0), 1, 9.0, "the summit's post is at 1 m, below the level 8 m"),
    ],
)
def test_refuses(grid: list[list[float]], place: tuple[int, int], drop: float, summit: float | None, text: str) -> None:
    with pytest.raises(ValueError) as caught:
        dem_zone_below_summit(grid, *place, drop, summit)
    assert str(caught.value) == text


def test_refuses_a_connectivity_that_it_does_not_know() -> None:
    mask = np.ones((2, 2), bool)
    with pytest.raises(ValueError) as caught:
        labelled(runs_of(mask), mask, mask.astype(float), 1.0, "rook")
    assert str(caught.value) == 'connectivity "rook" is not known; known are edge, corner, surface'
