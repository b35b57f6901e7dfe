"""`afield catalogue`: what is built, what it shows, and claims by it."""

from __future__ import annotations

import contextlib
import hashlib
import json
import sys
from pathlib import Path
from typing import Any

import pytest

from afield.plugins.geometry.catalogue import rows

from .conftest import Run


def square(lon: float, lat: float, half: float) -> list[list[list[float]]]:
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
    return [[[round(lon + half * east, 6), round(lat + half * north, 6)] for east, north in corners]]


def parks() -> str:
    """Three areas, a line and a point of three programs around the base plan's station."""
    shapes: list[tuple[str, str, str, Any]] = [
        ("upper-wash", "my-basin", "Polygon", square(-117.302, 39.904, 0.002)),
        ("slope", "my-basin", "Polygon", square(-117.302, 39.904, 0.0011)),
        ("edge", "my-basin", "Polygon", square(-117.302, 39.904, 0.00095)),
        ("track", "my-road", "LineString", [[-117.31, 39.90422], [-117.29, 39.90422]]),
        ("peak", "other-award", "Point", [-117.30288, 39.90412]),
    ]
    made = [
        {
            "type": "Feature",
            "properties": {"name": name, "program": program},
            "geometry": {"type": kind, "coordinates": at},
        }
        for name, program, kind, at in shapes
    ]
    return json.dumps({"type": "FeatureCollection", "features": made})


@pytest.fixture
def folder(base: Path) -> Path:
    (base / "parks.geojson").write_text(parks(), encoding="utf-8")
    return base


def test_it_says_what_it_has_written_and_shows_it(run: Run, folder: Path) -> None:
    (folder / "peaks.csv").write_text("name,lat,lon\nbutte,39.9,-117.3\n,39.8,-117.3\n", encoding="utf-8")
    assert run(
        "catalogue",
        "build",
        "parks.geojson",
        "peaks.csv",
        "--skip-unnamed",
        "--source",
        "survey",
        "--source",
        "club",
        "--licence",
        "open",
        "--map-accuracy",
        "5 m",
    ) == (
        0,
        "refs.sqlite is written: 3 areas, 1 line, 2 points from 2 layers.\n1 feature has no name and was left out.\n",
        "",
    )
    digests = [hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in ("parks.geojson", "peaks.csv")]
    assert run("catalogue", "show", "refs.sqlite") == (
        0,
        "parks.geojson#parks: area 3, line 1, point 1\n"
        "  WGS 84 (OGC:CRS84), lonlat edges; step to WGS 84: 0 m\n"
        "  accuracy of the map: 5 m (68 %, taken so)\n"
        "  source: survey; licence: open; date: not stated\n"
        f"  sha256 {digests[0]}\n"
        "peaks.csv#peaks: point 1\n"
        "  WGS 84 (OGC:CRS84), geodesic edges; step to WGS 84: 0 m\n"
        "  accuracy of the map: 5 m (68 %, taken so)\n"
        "  source: club; licence: open; date: not stated\n"
        f"  sha256 {digests[1]}\n",
        "",
    )


def test_what_was_mended_is_told(run: Run, folder: Path) -> None:
    text = parks().replace("Point", "LineString").replace("[-117.30288, 39.90412]", "[[1.0, 2.0]]")
    (folder / "parks.geojson").write_text(text, encoding="utf-8")
    out = run("catalogue", "build", "parks.geojson")[1]
    assert out.endswith("note: parks.geojson: 1 line of fewer than two points was left out.\n")


def test_a_build_that_is_stopped_leaves_the_old_one(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run("catalogue", "build", "parks.geojson")[0] == 0
    before = (folder / "refs.sqlite").read_bytes()

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(rows.Writer, "_write_layer", stopped)
    # The command line itself decides what a stop is answered with.
    with contextlib.suppress(KeyboardInterrupt):
        run("catalogue", "build", "parks.geojson", "--force")
    assert (folder / "refs.sqlite").read_bytes() == before
    assert not list(folder.glob(".afield-*"))


def test_a_file_without_rights_has_its_own_message(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = Path.open

    def refused(path: Path, *arguments: Any, **more: Any) -> Any:
        if path.name == "parks.geojson":
            raise PermissionError(13, "Permission denied")
        return opened(path, *arguments, **more)

    monkeypatch.setattr(Path, "open", refused)
    assert run("catalogue", "build", "parks.geojson") == (
        2,
        "",
        "parks.geojson: the file cannot be read (permission denied)\n    = Check its permissions.\n",
    )


def test_progress_is_shown_on_a_terminal_alone(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run("catalogue", "build", "parks.geojson")[2] == ""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("FORCE_COLOR", "1")
    status, out, err = run("catalogue", "build", "parks.geojson", "--force")
    assert (status, out) == (0, "refs.sqlite is written: 3 areas, 1 line, 1 point from 1 layer.\n")
    assert "parks.geojson" in err
    assert "5 features" in err


def claim(folder: Path, geometry: str, reference: str = "upper-wash", program: str = "my-basin") -> None:
    """The base plan with one claim alone."""
    text = (folder / "trip.yaml").read_text(encoding="utf-8")
    first, _, rest = text.partition("claims:\n")
    rest = rest[rest.index("packs:") :]
    made = f"claims:\n  - {{program: {program}, reference: {reference}, geometry: {geometry}}}\n"
    (folder / "trip.yaml").write_text(first + made + rest.partition("variants:")[0], encoding="utf-8")


def verdict(run: Run) -> dict[str, Any]:
    """The report's verdict on the claim."""
    made = json.loads(run("check", "trip.yaml", "--format", "json")[1])
    found = next(each for each in made["verdicts"] if each["rule"] in ("my-basin/inside", "my-road/in-corridor"))
    return dict(found)


STATED = ("--map-accuracy", "5 m", "--level", "95%", "--source", "county survey")


def test_a_claim_by_the_catalogue_is_judged_as_by_the_file(run: Run, folder: Path) -> None:
    assert run("catalogue", "build", "parks.geojson", *STATED)[0] == 0
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash}")
    by_catalogue = verdict(run)
    claim(
        folder,
        "{kind: area, file: parks.geojson, name: upper-wash, source: county survey, map_accuracy: 5 m, level: 95 %}",
    )
    by_file = verdict(run)
    assert by_catalogue["outcome"] == by_file["outcome"] == "passed"
    assert by_catalogue["margin"] == by_file["margin"]


def test_what_the_plan_states_of_the_map_goes_before(run: Run, folder: Path) -> None:
    assert run("catalogue", "build", "parks.geojson", *STATED)[0] == 0
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash}")
    narrow = verdict(run)["margin"]["uncertainty"]
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash, map_accuracy: 30 m}")
    assert verdict(run)["margin"]["uncertainty"] > 3 * narrow


def test_a_level_that_nobody_states_is_taken_as_68_percent(run: Run, folder: Path) -> None:
    assert run("catalogue", "build", "parks.geojson", "--map-accuracy", "5 m")[0] == 0
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash}")
    unsaid = verdict(run)["margin"]
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash, map_accuracy: 5 m, level: 68 %}")
    assert verdict(run)["margin"] == unsaid


def test_a_catalogue_that_states_no_accuracy_settles_nothing(run: Run, folder: Path) -> None:
    assert run("catalogue", "build", "parks.geojson")[0] == 0
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash}")
    found = verdict(run)
    assert found["outcome"] == "cannot tell"
    assert "the accuracy of the map is not stated" in json.dumps(found)


def test_the_line_of_a_catalogue(run: Run, folder: Path) -> None:
    assert run("catalogue", "build", "parks.geojson", *STATED)[0] == 0
    claim(folder, "{kind: line, file: refs.sqlite, name: track}", "track", "my-road")
    by_catalogue = verdict(run)["margin"]
    claim(folder, "{kind: line, file: parks.geojson, name: track, map_accuracy: 5 m, level: 95 %}", "track", "my-road")
    assert by_catalogue == verdict(run)["margin"]


NEAREST = "`afield near` lists those near a position."
WRONG = [
    (
        "{kind: area, file: refs.sqlite}",
        "this is a catalogue, and no name is given",
        f"Write the reference's name: `name: ...`; {NEAREST}",
    ),
    (
        "{kind: area, file: refs.sqlite, name: upper-wsh}",
        'there is no reference of the name "upper-wsh" in it',
        f'Did you mean "upper-wash"? {NEAREST}',
    ),
    ("{kind: area, file: refs.sqlite, name: zz}", 'there is no reference of the name "zz" in it', NEAREST),
    (
        "{kind: area, file: refs.sqlite, name: peak, layer: my-basin}",
        '"peak" is not in it for the program "my-basin"',
        'It is there for "other-award".',
    ),
    ("{kind: area, file: refs.sqlite, id: 5}", "a catalogue has no ids", "Write the reference's name: `name: ...`."),
]


@pytest.mark.parametrize(("geometry", "what", "advice"), WRONG)
def test_a_claim_that_the_catalogue_does_not_hold(
    run: Run, folder: Path, geometry: str, what: str, advice: str
) -> None:
    assert run("catalogue", "build", "parks.geojson", *STATED)[0] == 0
    claim(folder, geometry)
    status, out, err = run("check", "trip.yaml")
    assert (status, out) == (2, "")
    line = next(line for line in (folder / "trip.yaml").read_text().splitlines() if "refs.sqlite" in line)
    column = line.index("refs.sqlite") + 1
    number = (folder / "trip.yaml").read_text().splitlines().index(line) + 1
    assert err == f"trip.yaml:{number}:{column}: refs.sqlite: {what}\n    | {line}\n    = {advice}\n"


def test_a_name_of_two_programs_needs_the_program(run: Run, folder: Path) -> None:
    (folder / "more.geojson").write_text(parks().replace("my-basin", "my-road"), encoding="utf-8")
    text = json.loads((folder / "more.geojson").read_text())
    text["features"] = text["features"][:1]
    (folder / "more.geojson").write_text(json.dumps(text), encoding="utf-8")
    assert run("catalogue", "build", "parks.geojson", "more.geojson", *STATED)[0] == 0
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash}")
    err = run("check", "trip.yaml")[2]
    assert 'refs.sqlite: there are 2 references of the name "upper-wash" in it\n' in err
    assert err.endswith('    = Write the program that is meant as `layer:`: "my-basin", "my-road".\n')
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash, layer: my-basin}")
    assert verdict(run)["outcome"] == "passed"


def test_a_catalogue_of_another_version_is_refused_in_a_plan(run: Run, folder: Path) -> None:
    assert run("catalogue", "build", "parks.geojson", *STATED)[0] == 0
    data = bytearray((folder / "refs.sqlite").read_bytes())
    data[60:64] = (9).to_bytes(4, "big")
    (folder / "refs.sqlite").write_bytes(data)
    claim(folder, "{kind: area, file: refs.sqlite, name: upper-wash}")
    err = run("check", "trip.yaml")[2]
    assert "refs.sqlite: this catalogue is of version 9; version 1 is read\n" in err
    assert err.endswith("    = Build it again: `afield catalogue build FILES... -o refs.sqlite --force`.\n")
