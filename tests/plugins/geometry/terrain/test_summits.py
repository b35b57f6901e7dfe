"""Summit references from the plan to the fact: the margin, its interval, what cannot be told, and wrong input."""

from __future__ import annotations

from math import sqrt
from pathlib import Path

import numpy as np
import pyproj
import pytest

from afield.core.api import Measured
from afield.plugins.geometry.computations.plane import plane_at

from .conftest import LAT, LON, ZONE, asked, butte, centre_m, complaint, edit, write_tif

MARGIN = "place.margin_inside_zone"
RADIUS_M = 150 * (17 / 30) ** (2 / 3)
"""Where the butte is 17 m below its top."""


def radius_m(drop: float) -> float:
    return 150 * (max(drop, 0.0) / 30) ** (2 / 3)


def references(plan: Path) -> Path:
    return plan.parent / "my-tops/references.yaml"


def move(plan: Path, east_m: float, north_m: float = 0.0) -> None:
    x, y = centre_m()
    lon, lat = pyproj.Transformer.from_crs(ZONE, "EPSG:4326", always_xy=True).transform(x + east_m, y + north_m)
    edit(plan, f"at: {{lat: {LAT}, lon: {LON}", f"at: {{lat: {lat:.8f}, lon: {lon:.8f}")


def test_the_margin_is_that_of_the_contour(outing: Path) -> None:
    move(outing, 60)
    found = asked(outing, MARGIN)
    assert found.value == pytest.approx(RADIUS_M - 60, abs=0.5)
    # 1 m of height either way, then the fix and the map as for any area.
    fix = 1.96 * 5 / 1.515
    around = sqrt(fix**2 + (1.96 * 3 / 2.448) ** 2)
    assert found.low == pytest.approx(radius_m(16) - 60 - around, abs=0.7)
    assert found.high == pytest.approx(radius_m(18) - 60 + around, abs=0.7)
    assert found.method == "plane around the station, lonlat edges; map: register; contour of the terrain at 1876 m"
    assert (found.detail["towards"], found.detail["part"]) == ("east", "table")


def test_a_grid_in_feet_gives_the_same_margin_and_says_so(outing: Path) -> None:
    write_tif(outing.parent / "my-tops/butte.tif", (butte() / 0.3048).astype("float32"), unit="ft")
    found = asked(outing, MARGIN)
    assert found.value == pytest.approx(RADIUS_M, abs=0.5)
    assert "butte.tif: heights were taken from ft to metres." in found.notes


def test_feet_that_are_called_metres_are_noticed_by_the_listed_height(outing: Path) -> None:
    write_tif(outing.parent / "my-tops/butte.tif", (butte() / 0.3048).astype("float32"))
    assert complaint(outing).startswith(
        "pack:my-tops/references.yaml:9:18: the grid's highest post within 100 m of the summit is at 6210.6 m, "
        "4317.6 m above the listed 1893 m"
    )


@pytest.mark.parametrize("lon", [LON, 180.0, -179.9995])
def test_a_grid_in_degrees_gives_the_same_margin_also_across_180_degrees(outing: Path, lon: float) -> None:
    import rasterio

    plane, step, count = plane_at(LAT, lon), 1 / 20_000, 141
    grid = np.indices((count, count)) - count // 2
    east, north = plane.to_plane(LAT - grid[0] * step, lon + grid[1] * step)
    heights = (1893 - 30 * (np.hypot(east, north) / 150) ** 1.5).astype("float32")
    path = write_tif(outing.parent / "my-tops/butte.tif", heights, crs="EPSG:4326")
    west = lon + 360 if lon < -170 else lon
    with rasterio.open(path, "r+") as raster:
        half = count / 2 * step
        raster.transform = rasterio.transform.from_origin(west - half, LAT + half, step, step)
    edit(references(outing), f"lon: {LON}", f"lon: {lon}")
    here = float(plane.to_lat_lon(60, 0)[1])
    edit(outing, f"at: {{lat: {LAT}, lon: {LON}", f"at: {{lat: {LAT}, lon: {here:.8f}")
    assert asked(outing, MARGIN).value == pytest.approx(RADIUS_M - 60, abs=0.6)


@pytest.mark.parametrize("east_m", [150, 280])
def test_outside_is_below_zero(outing: Path, east_m: float) -> None:
    move(outing, east_m)
    found = asked(outing, MARGIN)
    assert found.value == pytest.approx(RADIUS_M - east_m, abs=0.5)
    assert found.high is not None
    assert found.high < 0


def test_a_lower_rise_next_door_does_not_count(outing: Path) -> None:
    ground = butte()
    rows, columns = np.indices(ground.shape)
    knoll = 1890 - np.hypot(rows - 60, columns - 112) * 3
    write_tif(outing.parent / "my-tops/butte.tif", np.maximum(ground, knoll).astype("float32"))
    move(outing, 260)
    assert asked(outing, MARGIN).value == pytest.approx(RADIUS_M - 260, abs=0.5)


def twins() -> np.ndarray:
    """Two knolls of nearly one height, 80 m apart, with a deep notch between them."""
    rows, columns = np.indices(butte().shape)
    knolls = [1893 - lower - np.hypot(rows - 60, columns - column) * 4 for column, lower in ((60, 0), (76, 1))]
    return np.maximum(*knolls).astype("float32")


def test_two_tops_that_are_not_joined_are_told_apart_or_not_at_all(outing: Path) -> None:
    write_tif(outing.parent / "my-tops/butte.tif", twins())
    assert reason(asked(outing, MARGIN)) == (
        "two tops within 100 m of the summit, 1893.0 m and 1892.0 m high, are not joined within the drop (17 m), and "
        "either may be meant: write `within:` in its `summit:`, how far from there it may be",
        "claims[].geometry.summit.within",
    )
    edit(references(outing), f"lon: {LON}}}", f"lon: {LON}, within: 30 m}}")
    move(outing, 80)
    found = asked(outing, MARGIN)
    assert found.high is not None
    assert found.high < 0


def test_the_pack_names_the_ways_of_joining(outing: Path) -> None:
    edit(outing.parent / "my-tops/pack.yaml", "program.connectivity: edge", "program.connectivity: rook")
    from afield.core.api import InputError

    with pytest.raises(InputError) as caught:
        asked(outing, MARGIN)
    [problem] = caught.value.problems
    assert problem.advice == 'Choices: "edge", "corner", "surface".'


def test_where_the_pack_does_not_say_it_both_ways_are_kept_open(outing: Path) -> None:
    edit(outing.parent / "my-tops/pack.yaml", "  program.connectivity: edge\n", "")
    note = "The pack does not say how ground is joined across the corners of posts: both ways are kept open."
    assert note in asked(outing, MARGIN).notes


def test_without_a_listed_height_the_grids_own_top_stands_for_it(outing: Path) -> None:
    for key in ("elevation: 1893 m", "elevation_accuracy: 1 m", "elevation_level: 95 %"):
        edit(references(outing), f"      {key}\n", "")
    found = asked(outing, MARGIN)
    assert "The summit's height is not listed: the grid's own top, 1893.0 m, stands for it." in found.notes
    assert found.value == pytest.approx(RADIUS_M, abs=0.6)


def test_a_grid_top_below_the_listed_height_widens_the_interval(outing: Path) -> None:
    write_tif(outing.parent / "my-tops/butte.tif", butte(top_m=1890))
    move(outing, 60)
    found = asked(outing, MARGIN)
    assert found.low is not None and found.high is not None
    # Listed: 1876 m, which is 14 m below the grid's top; the grid's own level is 17 m below it.
    assert found.value == pytest.approx(radius_m(14) - 60, abs=0.6)
    assert found.low < radius_m(13) - 60 < radius_m(18) - 60 < found.high


def test_an_error_as_large_as_the_drop_leaves_nothing_sure(outing: Path) -> None:
    edit(references(outing), "height_accuracy: 1 m", "height_accuracy: 18 m")
    move(outing, 40)
    found = asked(outing, MARGIN)
    assert found.low == pytest.approx(-40, abs=0.1)
    assert "Within the error of the heights no ground but the summit itself is surely in the area." in found.notes


def reason(found: Measured) -> tuple[str, str | None]:
    assert found.reason is not None
    return found.reason.text, found.reason.settle


def test_too_coarse_a_grid_is_refused_with_the_figure(outing: Path) -> None:
    write_tif(outing.parent / "my-tops/butte.tif", butte(top_m=1889.5))
    assert reason(asked(outing, MARGIN)) == (
        "the terrain grid is too coarse: the grid's highest post within 100 m of the summit is at 1889.5 m, 3.5 m "
        "below the listed 1893 m: more than a fifth of the drop (17 m)",
        "claims[].geometry.file",
    )


def test_too_few_posts_are_refused_with_the_figure(outing: Path) -> None:
    write_tif(outing.parent / "my-tops/butte.tif", butte(posts=31, step_m=90), step_m=90)
    text, settle = reason(asked(outing, MARGIN))
    assert settle == "claims[].geometry.file"
    assert text == (
        "the terrain grid is too coarse: 5 of its posts, 90 m x 90 m apart, lie in the summit's area, and at least 10 "
        "are needed to draw it"
    )


def test_a_coarse_grid_without_a_listed_height_is_refused_with_the_figure(outing: Path) -> None:
    for key in ("elevation: 1893 m", "elevation_accuracy: 1 m", "elevation_level: 95 %"):
        edit(references(outing), f"      {key}\n", "")
    write_tif(outing.parent / "my-tops/butte.tif", butte(posts=31, step_m=90), step_m=90)
    assert reason(asked(outing, MARGIN))[0] == (
        "the terrain grid is too coarse: the grid's highest post within 180 m of the summit is at 1893.0 m, and "
        "between its posts the ground may rise 9.3 m more, more than a fifth of the drop (17 m)"
    )


def test_what_is_not_stated_is_asked_for(outing: Path) -> None:
    edit(references(outing), "      height_accuracy: 1 m\n      height_level: 95 %\n", "")
    assert reason(asked(outing, MARGIN)) == (
        "the vertical accuracy of the terrain grid is not stated: add `height_accuracy:` to the geometry",
        "claims[].geometry.height_accuracy",
    )
    edit(outing.parent / "my-tops/pack.yaml", "  program.summit_drop: 17 m\n", "")
    assert reason(asked(outing, MARGIN)) == (
        "the pack does not say how far below the summit counts", "program.summit_drop",
    )  # fmt: skip


def test_an_area_that_runs_out_of_the_grid_is_told_and_beyond_it_nothing_is(outing: Path) -> None:
    write_tif(outing.parent / "my-tops/butte.tif", butte()[:, :80])
    # The file is centred on the summit: cut at its east side, its heights would be displaced.
    import rasterio

    with rasterio.open(outing.parent / "my-tops/butte.tif", "r+") as raster:
        x, y = centre_m()
        raster.transform = rasterio.transform.from_origin(x - 302.5, y + 302.5, 5, 5)
    note = "The area is cut off by the edge of the grid, or by a gap in it: it may go on there."
    assert note in asked(outing, MARGIN).notes
    move(outing, 120)
    assert reason(asked(outing, MARGIN)) == (
        "the station is at the edge of the terrain grid or beyond it, and the summit's area goes on there",
        "claims[].geometry.file",
    )


AT_FILE = "pack:my-tops/references.yaml:7:13"
WRONG = {
    "summit outside": (
        "summit: {lat: 39.90412", "summit: {lat: 40.2",
        f"{AT_FILE}: butte.tif: the summit 40.20000, -117.30288 is not in the grid\n"
        "The grid covers about 39.9014 to 39.9068, -117.3064 to -117.2994: name the grid that holds the summit, or "
        "correct `summit:`.",
    ),
    "summit listed too low": (
        "elevation: 1893 m", "elevation: 1880 m",
        "pack:my-tops/references.yaml:9:18: the grid's highest post within 100 m of the summit is at 1893.0 m, 13.0 m "
        "above the listed 1880 m: more than a fifth of the drop (17 m)\n"
        "Correct the elevation or the place of the summit, or name the grid that fits them.",
    ),
    "no summit": (
        "      summit: {lat: 39.90412, lon: -117.30288}\n", "",
        "pack:my-tops/references.yaml:7:7: the geometry does not say where the summit is\n"
        "Write `summit: {lat: 39.91, lon: -117.3}` in the geometry.",
    ),
    "level": (
        "height_level: 95 %", "height_level: 80 %",
        "pack:my-tops/references.yaml:13:21: the level 80 % is not known\nWrite 68 %, 90 % or 95 %.",
    ),
    "no such file": (
        "butte.tif", "bute.tif",
        f'{AT_FILE}: bute.tif: there is no such file\nDid you mean "butte.tif"? Write its path as seen from the folder '
        "of the file that names it.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG)
def test_wrong_input_is_told_whole(outing: Path, name: str) -> None:
    old, new, text = WRONG[name]
    edit(references(outing), old, new)
    assert complaint(outing) == text


def test_a_gap_at_the_summit_is_told_whole(outing: Path) -> None:
    ground = butte()
    ground[60, 60] = np.nan
    write_tif(outing.parent / "my-tops/butte.tif", ground, nodata=np.nan)
    assert complaint(outing) == (
        f"{AT_FILE}: butte.tif: the grid has no data at the summit 39.90412, -117.30288\n"
        "Name a grid without a gap there, or judge by a measured height."
    )


def test_an_area_without_a_file_is_told_whole(outing: Path) -> None:
    edit(references(outing), "kind: summit", "kind: area")
    edit(references(outing), "      file: butte.tif\n", "")
    assert complaint(outing, "place.margin_inside_area") == (
        "pack:my-tops/references.yaml:7:7: the geometry names no file\nOnly a summit can do without: write `file: ...`."
    )


def measured(plan: Path, height: str) -> Measured:
    edit(plan, "  parts:", f"  height: {height}\n  parts:")
    return asked(plan, "summit.height_below")


def test_a_measured_height_needs_no_terrain(outing: Path) -> None:
    edit(references(outing), "      file: butte.tif\n", "")
    found = measured(outing, "{value: 1880 m, by: satellite receiver, accuracy: 4 m, level: 95 %}")
    assert found.value == pytest.approx(13)
    assert found.uncertainty == pytest.approx(sqrt(4**2 + 1**2))
    assert "Height alone does not tell whether the ground is connected to the summit." in found.notes
    assert reason(asked(outing, MARGIN)) == (
        "no terrain grid is named: give the summit's geometry `file:`, or judge by a measured height",
        "claims[].geometry.file",
    )


def test_an_altimeter_is_as_good_as_the_air_pressure_is_known(outing: Path) -> None:
    found = measured(outing, "{value: 1880 m, by: altimeter, pressure_error: 1 hPa}")
    assert found.uncertainty == pytest.approx(sqrt(10.05**2 + 1), abs=0.05)


def test_an_accuracy_without_a_level_is_taken_as_68_percent_and_said(outing: Path) -> None:
    edit(outing, "  parts:", "  height: {value: 1880 m, by: map, accuracy: 5 m}\n  parts:")
    found = asked(outing, "station.height", "trip")
    assert found.uncertainty == pytest.approx(5 * 1.96, abs=0.01)
    assert found.notes == ("An accuracy of heights is stated without a level; it is taken as 68 %.",)


@pytest.mark.parametrize(
    ("height", "settle"),
    [("{value: 1880 m, by: altimeter}", "station.height.pressure_error"),
     ("{value: 1880 m, by: map}", "station.height.accuracy")],
)  # fmt: skip
def test_a_height_of_unknown_worth_is_not_used(outing: Path, height: str, settle: str) -> None:
    assert reason(measured(outing, height)) == ("how good the measured height is, is not stated", settle)


def test_only_an_altimeter_has_a_pressure_error(outing: Path) -> None:
    edit(outing, "  parts:", "  height: {value: 1880 m, by: map, pressure_error: 1 hPa}\n  parts:")
    assert complaint(outing, "summit.height_below") == (
        "trip.yaml:5:52: a height by map has no pressure error\nWrite `accuracy:` in its place."
    )
