"""The outline of a summit's area, against a flood fill on the bilinear surface sampled many times as finely."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.computations.terrain_contour import summit_rings
from afield.plugins.geometry.terrain import outline
from afield.plugins.geometry.terrain.grid import Grid
from afield.plugins.geometry.terrain.outline import assembled, outlined

FINE = 16


def grid_of(heights: np.ndarray) -> Grid:
    stored = heights.astype("float32")
    rows, columns = stored.shape
    return Grid(
        "hill", rows, columns, 5e5, 4e6, 10.0, -10.0, "EPSG:32611", "m",
        lambda row, last_row, column, last_column: stored[row:last_row, column:last_column],
    )  # fmt: skip


def shape_of(
    heights: np.ndarray, post: tuple[int, int], level: float, connectivity: str = "surface"
) -> shapely.Geometry:
    found = outlined(grid_of(heights), *post, level, connectivity, False)
    polygons = [shapely.Polygon(rings[0], rings[1:]) for rings in assembled(found.rings)]
    return shapely.union_all(polygons)


def hills(seed: int, size: int = 14) -> np.ndarray:
    """Smooth random ground, low all around."""
    rng = np.random.default_rng(seed)
    rows, columns = np.indices((size, size))
    ground = np.zeros((size, size))
    for _ in range(6):
        row, column, width, height = *rng.uniform(3, size - 4, 2), rng.uniform(1, 3), rng.uniform(5, 30)
        ground += height * np.exp(-((rows - row) ** 2 + (columns - column) ** 2) / (2 * width**2))
    ground += rng.uniform(-0.5, 0.5, ground.shape)
    ground[[0, -1]] = ground[:, [0, -1]] = -5
    return ground.astype("float32").astype(float)


def bilinear(heights: np.ndarray, rows: np.ndarray, columns: np.ndarray) -> np.ndarray:
    row = np.minimum(rows.astype(int), heights.shape[0] - 2)
    column = np.minimum(columns.astype(int), heights.shape[1] - 2)
    down, aside = rows - row, columns - column
    upper = heights[row, column] * (1 - aside) + heights[row, column + 1] * aside
    lower = heights[row + 1, column] * (1 - aside) + heights[row + 1, column + 1] * aside
    return upper * (1 - down) + lower * down


def flooded(heights: np.ndarray, post: tuple[int, int], level: float) -> np.ndarray:
    """High samples connected with the post, corners included."""
    count = (heights.shape[0] - 1) * FINE + 1
    line = np.arange(count) / FINE
    high = bilinear(heights, *np.meshgrid(line, line, indexing="ij")) >= level
    found, start = np.zeros_like(high), (post[0] * FINE, post[1] * FINE)
    found[start] = True
    open_ = [start]
    while open_:
        row, column = open_.pop()
        for r in range(max(row - 1, 0), min(row + 2, count)):
            for c in range(max(column - 1, 0), min(column + 2, count)):
                if high[r, c] and not found[r, c]:
                    found[r, c] = True
                    open_.append((r, c))
    return found


def saddle_room(heights: np.ndarray, level: float) -> float:
    """How far every saddle of the surface is from the level, so that samples cannot miss a way over it."""
    a, b, c, d = heights[:-1, :-1], heights[:-1, 1:], heights[1:, :-1], heights[1:, 1:]
    with np.errstate(divide="ignore", invalid="ignore"):
        return float(np.nanmin(np.abs((a * d - b * c) / (a + d - b - c) - level), initial=np.inf))


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.floats(0.2, 0.8))
def test_agrees_with_a_flood_fill_of_the_surface(seed: int, share: float) -> None:
    heights = hills(seed)
    post = tuple(int(each) for each in np.unravel_index(np.argmax(heights), heights.shape))
    level = float(np.float32(heights.max() * (1 - share)))
    assume(saddle_room(heights, level) > 0.15)
    truth, shape = flooded(heights, post, level), shape_of(heights, post, level)
    posts = truth[::FINE, ::FINE]
    rows, columns = np.indices(heights.shape)
    # At the posts the two agree exactly; between them the outline runs straight where the surface bends.
    assert np.array_equal(posts, shapely.covers(shapely.buffer(shape, 1e-7), shapely.points(columns, rows)))
    assert shape.area == pytest.approx(truth.sum() / FINE**2, rel=0.06, abs=0.35)


@given(st.integers(0, 10_000), st.sampled_from(["edge", "surface", "corner"]))
def test_rings_are_closed_simple_and_turn_by_what_they_enclose(seed: int, connectivity: str) -> None:
    heights = hills(seed)
    post = tuple(int(each) for each in np.unravel_index(np.argmax(heights), heights.shape))
    found = outlined(grid_of(heights), *post, float(heights.max()) / 3, connectivity, False)
    polygons = assembled(found.rings)
    assert len(polygons) == 1 or connectivity != "surface"
    assert sum(len(rings) for rings in polygons) == len(found.rings)
    for rings in polygons:
        assert all(np.array_equal(ring[0], ring[-1]) for ring in rings)
        assert shapely.Polygon(rings[0]).covers(shapely.MultiPoint(np.concatenate(rings)))


@given(st.integers(0, 10_000), st.floats(0.3, 0.7), st.floats(0.01, 3))
def test_a_higher_level_gives_less_ground(seed: int, share: float, more: float) -> None:
    heights = hills(seed)
    post = tuple(int(each) for each in np.unravel_index(np.argmax(heights), heights.shape))
    level = heights.max() * (1 - share)
    wide, narrow = shape_of(heights, post, level), shape_of(heights, post, level + more)
    assert shapely.difference(narrow, wide).area < 1e-6


CRATER = np.array([[0, 0, 0, 0, 0], [0, 9, 9, 9, 0], [0, 9, 2, 9, 0], [0, 9, 9, 9, 0], [0, 0, 0, 0, 0]], float)


def test_a_crater_is_a_hole() -> None:
    found = outlined(grid_of(CRATER), 1, 1, 5.0, "edge", False)
    [rings] = assembled(found.rings)
    assert (len(rings), found.posts, found.on_level, found.cut_off) == (2, 8, 0, False)


def test_posts_at_the_level_count() -> None:
    flat = np.zeros((5, 5))
    flat[1:4, 1:4] = 7
    found = outlined(grid_of(flat), 2, 2, 7.0, "edge", False)
    assert (found.posts, found.on_level) == (9, 9)
    assert shape_of(flat, (2, 2), 7.0).area == 4


SADDLE = np.array([[0, 0, 0, 0], [0, 9, 0, 0], [0, 0, 9, 0], [0, 0, 0, 0]], float)


@pytest.mark.parametrize(
    ("connectivity", "level", "posts"),
    [("edge", 3, 1), ("corner", 3, 2), ("surface", 3, 2), ("surface", 5, 1), ("corner", 5, 2)],
)
def test_posts_across_a_corner_are_joined_as_the_program_says(connectivity: str, level: float, posts: int) -> None:
    # The saddle between the two is at 4.5.
    assert outlined(grid_of(SADDLE), 1, 1, level, connectivity, False).posts == posts


def slope() -> np.ndarray:
    """High ground that runs out of the grid to the east."""
    return np.tile(np.concatenate([np.zeros(3), np.full(4, 9.0)]), (7, 1)) - np.abs(np.indices((7, 7))[0] - 3) * 3


def test_ground_that_runs_out_of_the_grid_is_cut_off_and_may_go_on() -> None:
    sure = outlined(grid_of(slope()), 3, 4, 5.0, "edge", False)
    possible = outlined(grid_of(slope()), 3, 4, 5.0, "edge", True)
    assert (sure.cut_off, possible.cut_off) == (True, True)
    # Beyond the grid all counts as possible: the outline goes around it, more than a post out.
    assert np.concatenate(possible.rings).min() == -1.5
    assert np.concatenate(possible.rings).max() == 7.5
    assert np.concatenate(sure.rings)[:, 0].max() == 6


def test_a_gap_in_the_data_is_low_where_it_must_be_sure_and_high_where_it_may_be() -> None:
    ground = CRATER.copy()
    ground[2, 2] = np.nan
    sure = outlined(grid_of(ground), 1, 1, 5.0, "edge", False)
    possible = outlined(grid_of(ground), 1, 1, 5.0, "edge", True)
    assert (sure.posts, sure.cut_off, len(sure.rings)) == (8, True, 2)
    assert (possible.posts, possible.cut_off, len(possible.rings)) == (8, True, 1)


def test_a_summit_below_the_level_has_no_area() -> None:
    assert outlined(grid_of(CRATER), 1, 1, 10.0, "edge", False).rings == []


def test_the_square_grows_until_it_holds_the_area(monkeypatch: pytest.MonkeyPatch) -> None:
    heights = hills(4, size=30)
    whole = outlined(grid_of(heights), 15, 15, float(heights[15, 15]) - 3, "edge", False)
    monkeypatch.setattr(outline, "FIRST_HALF", 1)
    grown = outlined(grid_of(heights), 15, 15, float(heights[15, 15]) - 3, "edge", False)
    assert (grown.posts, grown.cut_off) == (whole.posts, whole.cut_off)
    boxes = [sorted((*ring.min(axis=0), *ring.max(axis=0)) for ring in found.rings) for found in (grown, whole)]
    assert np.allclose(*boxes)


def test_an_area_at_the_last_post_is_refused() -> None:
    with pytest.raises(ValueError) as caught:
        summit_rings(np.ones((2, 2), bool), np.ones((2, 2)), 1.0, "edge")
    assert str(caught.value) == (
        "an area that reaches the last post of its grid has no outline there: pad the grid first"
    )


@given(st.integers(0, 500), st.integers(2, 8))
@settings(max_examples=60, deadline=None)
def test_posts_exactly_at_the_level_repeat_no_point_and_leave_the_area(seed: int, level: int) -> None:
    heights = np.round(hills(seed))
    post = np.unravel_index(np.argmax(heights), heights.shape)
    assume(heights[post] > level)
    found = outlined(grid_of(heights), int(post[0]), int(post[1]), float(level), "edge", False)
    for ring in found.rings:
        assert (ring[0] == ring[-1]).all()
        assert (ring[1:] != ring[:-1]).any(axis=1).all()
        assert shapely.Polygon(ring).area > 0
    just_below = shape_of(heights, (int(post[0]), int(post[1])), level - 1e-4, "edge")
    assert shapely.union_all([shapely.Polygon(r[0], r[1:]) for r in assembled(found.rings)]).area == pytest.approx(
        just_below.area, abs=0.05
    )


def test_one_post_at_the_level_is_no_ground() -> None:
    heights = np.zeros((5, 5))
    heights[2, 2] = 10
    found = outlined(grid_of(heights), 2, 2, 10.0, "edge", False)
    assert (found.rings, found.posts) == ([], 1)
