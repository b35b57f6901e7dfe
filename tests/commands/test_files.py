"""Files that are too large, odd or hostile."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import Run


def test_a_plan_of_ten_megabytes(base: Path, run: Run) -> None:
    (base / "trip.yaml").write_text("trip: " + "x" * 10_000_000)
    assert run("check", "trip.yaml") == (
        2,
        "",
        "trip.yaml: the file is larger than 1 MiB\n    = Split it, or move long data to a file of its own.\n",
    )


def test_nesting_without_end(base: Path, run: Run) -> None:
    (base / "trip.yaml").write_text("trip: " + "[" * 100_000)
    status, out, err = run("check", "trip.yaml")
    assert (status, out) == (2, "")
    assert err.startswith("trip.yaml:1:46: nested deeper than 40 levels\n")


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32", "cp1252"])
def test_other_encodings(base: Path, run: Run, encoding: str) -> None:
    (base / "trip.yaml").write_bytes("trip: Café\ndate: 2026-06-27\n".encode(encoding))
    status, out, err = run("check", "trip.yaml")
    assert (status, out) == (2, "")
    assert "is not UTF-8\n" in err and err.endswith("    = Save the file as UTF-8.\n")


def test_a_byte_order_mark_and_windows_line_ends_are_no_fault(base: Path, run: Run) -> None:
    plain = run("check", "trip.yaml")
    text = (base / "trip.yaml").read_text()
    (base / "trip.yaml").write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert run("check", "trip.yaml") == plain
    assert plain[0] == 0


def test_a_plan_in_json(base: Path, run: Run) -> None:
    (base / "trip.json").write_text('{"trip": "A day", "date": "2026-06-27", "packs": ["my-list"]}')
    status, out, err = run("check", "trip.json")
    assert (status, err) == (0, "")
    assert out.startswith("A day, 2026-06-27\n")


def test_a_pack_may_not_link_to_files_elsewhere(base: Path, run: Run) -> None:
    (base / "my-road" / "rules.yaml").unlink()
    (base / "my-road" / "rules.yaml").symlink_to("/etc/hostname")
    assert run("check", "trip.yaml") == (
        2,
        "",
        "pack:my-road/rules.yaml: this is a symbolic link; a pack holds its own files\n"
        "    = Put the file itself there.\n",
    )


def test_nor_its_geometry(base: Path, run: Run) -> None:
    (base / "my-road" / "road.geojson").unlink()
    (base / "my-road" / "road.geojson").symlink_to("/etc/hostname")
    assert run("check", "trip.yaml") == (
        2,
        "",
        "pack:my-road/references.yaml:7:13: road.geojson lies outside the pack's folder\n"
        "    |       file: road.geojson\n"
        "    = Keep the file inside the pack.\n",
    )


def test_a_shapefile_without_a_reference_system(base: Path, run: Run) -> None:
    data = Path(__file__).parents[1] / "data" / "nyc_boroughs"
    for ending in ("shp", "shx", "dbf"):
        (base / "my-basin" / f"nybb.{ending}").write_bytes((data / f"nybb.{ending}").read_bytes())
    references = base / "my-basin" / "references.yaml"
    references.write_text(references.read_text().replace("basin.geojson", "nybb.shp\n      name: Bronx"))
    status, out, err = run("check", "trip.yaml")
    assert (status, out) == (2, "")
    assert err.splitlines()[0] == (
        "pack:my-basin/references.yaml:7:13: nybb.shp: the file does not say in which "
        "coordinate reference system (CRS) it is"
    )
